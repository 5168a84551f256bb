// The boat to be turned by hand. The panel "solid" brings the mesh and the list of its parts, the panel "still" the
// picture for who has no WebGL2; the canvas stands outside of both and stays. A frame is drawn where something changed,
// and none else.
import { Drawing } from "./ink";
import type { Colour, Ink, Sight } from "./ink";
import { Marks } from "./marks";
import type { Balloon } from "./marks";

const STEP = 10; // degrees of a press of an arrow key
const TURNING = 350; // ms that it takes to go to a named view
const FLAT = 84; // the steepest look down, degrees
const TOUCH = 5; // px that a finger may move and still points

// While the boat is turned, its canvas is as fine as keeps up with the screen; at rest as fine as the screen, up to two
// pixels of a canvas for one of the page.
const FINEST = 2;
const COARSEST = 0.6;
const PRINT = [2000, 1000] as const; // px: some 280 to an inch on A4
const CELLS = 96; // across, in which is looked what is seen of each part

export class Solid {
  private readonly stage = document.getElementById("stage");
  private canvas: HTMLCanvasElement | undefined;
  private drawing: Drawing | undefined;
  private readonly sight: Sight = { yaw: -148, pitch: 17, zoom: 1 };
  private shown = ""; // the mesh that is drawn, as it came
  private unread = false; // it is not in the drawing yet
  private frame = 0; // asked for; 0 for none
  private fineness = Math.min(devicePixelRatio, FINEST);
  private asked = 0; // when
  private turning = false;
  private rest = 0; // timer after which it is drawn fine
  private over = -1; // the part that is pointed at
  private marks: Marks | undefined;
  private words = new Map<string, string>(); // what each slot held, as the list of parts has it
  private pens: Ink | undefined; // of the theme; unknown where that has changed
  private length = ""; // the ends of the hull, by which another one is told
  private course: { from: Sight; to: Sight; begun: number } | undefined;

  constructor(private readonly go: (id: string) => void, private readonly needStill: () => void) {
    if (!this.stage) return;
    this.begin();
    this.stage.addEventListener("click", (e) => this.pressed(e));
    for (const [event, on] of [["focusin", true], ["focusout", false]] as const) {
      this.stage.addEventListener(event, (e) => this.pointAt(on ? partOf(e.target) : -1));
    }
    addEventListener("beforeprint", () => this.print());
    addEventListener("afterprint", () => this.stage?.querySelector(".printed")?.remove());
    for (const query of ["(prefers-color-scheme: dark)", "(forced-colors: active)"]) {
      matchMedia(query).addEventListener("change", () => {
        this.pens = undefined;
        this.draw();
      });
    }
  }

  // refresh takes the mesh that the page has now. It is read before the next frame: what was touched answers first.
  refresh(): void {
    const data = document.querySelector<HTMLElement>("#solid [data-mesh]")?.dataset.mesh ?? "";
    if (!this.drawing || !this.stage || data === this.shown) return;
    this.shown = data;
    this.stage.hidden = data === "";
    this.unread = data !== "";
    if (data) this.draw();
  }

  private read(): void {
    this.unread = false;
    const bytes = Uint8Array.from(atob(this.shown), (c) => c.charCodeAt(0));
    this.drawing?.load(bytes, this.entries().map((e) => e.dataset.name ?? ""));
    this.revise();
    this.over = -1;
  }

  // name has the canvas called in the language of the page, and takes the parts as they are called now for unchanged.
  name(): void {
    this.words = this.held();
    const { label, help } = this.stage?.dataset ?? {};
    this.canvas?.setAttribute("aria-label", label ?? "");
    this.canvas?.setAttribute("aria-description", help ?? "");
  }

  private begin(): void {
    const canvas = document.createElement("canvas");
    const gl = canvas.getContext("webgl2", { antialias: true, alpha: true, powerPreference: "low-power" });
    if (!gl || !this.stage || !this.prepare(gl)) return;
    canvas.id = "solid-canvas";
    canvas.tabIndex = 0;
    canvas.setAttribute("role", "application");
    canvas.addEventListener("webglcontextlost", (e) => {
      e.preventDefault(); // so that it may come back
      this.drawing = undefined;
      this.course = undefined;
      this.marks?.clear(); // they point at the boat as it was turned
      this.stage?.classList.remove("live", "drawn");
      this.needStill(); // it is seen now
    });
    // The canvas stays, with the focus that it may have; what was in the memory of the graphics card is made anew.
    canvas.addEventListener("webglcontextrestored", () => {
      if (!this.prepare(gl)) return;
      this.shown = "";
      this.refresh();
    });
    this.listen(canvas);
    this.canvas = canvas;
    this.name();
    this.stage.prepend(canvas);
    this.marks ??= new Marks(this.stage, this.go);
    new ResizeObserver(() => this.draw()).observe(canvas);
    this.refresh();
  }

  // prepare makes what a context draws with. A driver that cannot compile what the standard asks for leaves the still
  // picture.
  private prepare(gl: WebGL2RenderingContext): boolean {
    try {
      this.drawing = new Drawing(gl);
    } catch {
      return false;
    }
    this.stage?.classList.add("live");
    return true;
  }

  // held is what each slot with a part holds, in words.
  private held(): Map<string, string> {
    const parts = this.entries().filter((e) => e.dataset.key && !e.hidden);
    return new Map(parts.map((e) => [e.dataset.key!, e.textContent ?? ""]));
  }

  // revise marks what is another than before. A new hull is a new drawing, and no revision.
  private revise(): void {
    const before = this.words, length = this.length;
    this.length = String(this.drawing?.mesh?.ends);
    this.words = this.held();
    if (!before.size || length !== this.length) return this.marks?.revise([], "");
    const changed = [...this.words].filter(([key, words]) => before.get(key) !== words).map(([key]) => key);
    const letter = document.querySelector("#revisions .letter")?.textContent ?? "";
    this.marks?.revise(changed, letter);
  }

  // balloons are one for each slot that parts lead to.
  private balloons(): Balloon[] {
    const list = new Map<string, Balloon>();
    for (const e of this.entries()) {
      const { key, item, part } = e.dataset;
      if (!key || !item) continue;
      const b = list.get(key) ?? { key, item, parts: [] };
      b.parts.push(Number(part));
      list.set(key, b);
    }
    return [...list.values()];
  }

  private entries(): HTMLElement[] {
    return [...document.querySelectorAll<HTMLElement>("#solid [data-part]")];
  }

  private entry(part: number): HTMLElement | undefined {
    return this.entries().find((e) => e.dataset.part === String(part));
  }

  private listen(canvas: HTMLCanvasElement): void {
    let down: { x: number; y: number; yaw: number; pitch: number; moved: boolean } | undefined;
    canvas.addEventListener("pointerdown", (e) => {
      if (e.button) return;
      canvas.setPointerCapture(e.pointerId);
      down = { x: e.clientX, y: e.clientY, yaw: this.sight.yaw, pitch: this.sight.pitch, moved: false };
      this.course = undefined;
    });
    canvas.addEventListener("pointermove", (e) => {
      if (!down) {
        if (e.pointerType !== "touch") this.pointAt(this.partAt(e));
        return;
      }
      const dx = e.clientX - down.x, dy = e.clientY - down.y;
      down.moved ||= Math.hypot(dx, dy) > TOUCH;
      if (down.moved) this.turn(down.yaw + 0.4 * dx, down.pitch + 0.3 * dy);
    });
    canvas.addEventListener("pointerup", (e) => {
      if (down && !down.moved) this.open(this.partAt(e));
      down = undefined;
    });
    canvas.addEventListener("pointercancel", () => { down = undefined; });
    canvas.addEventListener("pointerleave", () => this.pointAt(-1));
    canvas.addEventListener("keydown", (e) => {
      if (e.ctrlKey || e.metaKey || e.altKey) return;
      const { yaw, pitch, zoom } = this.sight;
      switch (e.key) {
        case "ArrowLeft": this.turn(yaw - STEP, pitch); break;
        case "ArrowRight": this.turn(yaw + STEP, pitch); break;
        case "ArrowUp": this.turn(yaw, pitch - STEP / 2); break;
        case "ArrowDown": this.turn(yaw, pitch + STEP / 2); break;
        case "+": case "=": this.sight.zoom = Math.min(4, zoom * 1.2); break;
        case "-": this.sight.zoom = Math.max(0.7, zoom / 1.2); break;
        case "Home": this.sight.zoom = 1; break;
        default: return;
      }
      e.preventDefault();
      this.moving();
    });
  }

  private turn(yaw: number, pitch: number): void {
    this.sight.yaw = yaw;
    this.sight.pitch = Math.max(-4, Math.min(FLAT, pitch));
    this.course = undefined;
    this.moving();
  }

  // pressed takes the buttons of the named views.
  private pressed(e: Event): void {
    const button = (e.target as HTMLElement).closest<HTMLElement>("[data-yaw]");
    if (!button) return;
    const to = { yaw: Number(button.dataset.yaw), pitch: Number(button.dataset.pitch), zoom: 1 };
    // the short way round
    to.yaw += 360 * Math.round((this.sight.yaw - to.yaw) / 360);
    if (matchMedia("(prefers-reduced-motion: reduce)").matches) {
      Object.assign(this.sight, to);
      this.draw();
      return;
    }
    this.course = { from: { ...this.sight }, to, begun: performance.now() };
    this.moving();
  }

  private partAt(e: PointerEvent): number {
    const box = this.canvas!.getBoundingClientRect();
    const x = (2 * (e.clientX - box.left)) / box.width - 1, y = 1 - (2 * (e.clientY - box.top)) / box.height;
    return this.drawing?.pick(x, y, this.sight, box.width, box.height) ?? -1;
  }

  private open(part: number): void {
    const slot = this.entry(part)?.dataset.key;
    if (slot) this.go(slot);
  }

  private pointAt(part: number): void {
    if (part === this.over || !this.canvas) return;
    this.over = part;
    const name = document.getElementById("solid-name");
    const entry = this.entry(part);
    if (name) name.textContent = entry?.textContent ?? "";
    this.canvas.style.cursor = entry?.dataset.key ? "pointer" : "";
    this.draw();
  }

  // moving draws a frame now, and a fine one once it is over.
  private moving(): void {
    this.turning = true;
    clearTimeout(this.rest);
    this.rest = setTimeout(() => {
      this.turning = false;
      this.draw();
    }, 140);
    this.draw();
  }

  // draw asks for one frame.
  private draw(): void {
    if (this.frame || !this.drawing) return;
    this.asked = performance.now();
    this.frame = requestAnimationFrame((now) => {
      this.frame = 0;
      if (this.turning) this.keepUp(now - this.asked);
      this.paint(now);
    });
  }

  private paint(now: number): void {
    const { canvas, course, drawing } = this;
    if (!canvas || !drawing || !canvas.checkVisibility()) return;
    if (this.unread) this.read();
    if (!drawing.mesh) return;
    if (course) {
      const t = Math.min(1, (now - course.begun) / TURNING), ease = t * t * (3 - 2 * t);
      for (const k of ["yaw", "pitch", "zoom"] as const) {
        this.sight[k] = course.from[k] + (course.to[k] - course.from[k]) * ease;
      }
      if (t < 1) this.moving();
      else this.course = undefined;
    }
    const fine = this.turning ? this.fineness : Math.min(devicePixelRatio, FINEST);
    const width = Math.round(canvas.clientWidth * fine), height = Math.round(canvas.clientHeight * fine);
    if (!width || !height) return;
    if (canvas.width !== width || canvas.height !== height) [canvas.width, canvas.height] = [width, height];
    drawing.draw(this.sight, this.pens ??= ink(canvas), fine, this.over);
    this.stage?.classList.add("drawn"); // until then the still picture is what is seen
    if (this.turning) this.marks?.clear();
    else this.marks?.place(drawing.seen(this.sight, width, height, CELLS), this.balloons(), canvas.clientWidth,
      canvas.clientHeight);
    const turns = document.querySelectorAll<HTMLElement>("#stage [data-yaw]");
    for (const b of turns) b.setAttribute("aria-pressed", String(!course && near(this.sight, b.dataset)));
  }

  // print puts the boat, from where it is looked at, where the printer finds it: a browser prints the canvas itself
  // blank. It is drawn in the colours of paper, whatever those of the screen.
  private print(): void {
    const { canvas, drawing, stage } = this;
    if (!canvas || !drawing || !this.shown || !stage) return;
    if (this.unread) this.read();
    const sheet = document.createElement("canvas");
    sheet.className = "printed";
    stage.prepend(sheet);
    [canvas.width, canvas.height] = [sheet.width, sheet.height] = PRINT;
    drawing.draw(this.sight, ink(sheet), FINEST, -1);
    sheet.getContext("2d")?.drawImage(canvas, 0, 0);
    this.draw(); // as it was: what is copied has another size
  }

  // keepUp makes the canvas coarser where a frame kept waiting, and slowly finer where none does.
  private keepUp(waited: number): void {
    if (waited > 22) this.fineness = Math.max(COARSEST, this.fineness * 0.85);
    else this.fineness = Math.min(devicePixelRatio, FINEST, this.fineness * 1.01);
  }
}

function partOf(target: EventTarget | null): number {
  const part = (target as HTMLElement).closest<HTMLElement>("[data-part]")?.dataset.part;
  return part === undefined ? -1 : Number(part);
}

function near(s: Sight, view: DOMStringMap): boolean {
  const turns = (s.yaw - Number(view.yaw)) / 360;
  return Math.abs(turns - Math.round(turns)) < 0.001 && Math.abs(s.pitch - Number(view.pitch)) < 0.1;
}

// ink takes the colours of the page, as the style sheet has them now. They are asked for by way of a property that
// takes a colour: one of the reader's system has a name, and what that is only the browser knows.
function ink(canvas: HTMLCanvasElement): Ink {
  const style = getComputedStyle(canvas);
  const of = (name: string): Colour => {
    canvas.style.color = `var(${name})`;
    return style.color.match(/[\d.]+/g)!.slice(0, 3).map((c) => Number(c) / 255) as Colour;
  };
  const outline = of("--ink");
  return { outline, water: of("--water"), accent: of("--wood"), lightness: outline[0] > 0.5 ? 0.86 : 1 };
}

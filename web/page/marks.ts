// What a drawing office puts on a drawing: balloons, which number parts as the specification does (ISO 6433, from
// memory), and a cloud round what was changed last, with the letter of the revision (common practice, no source). They
// are for the eye alone: who hears the page has the list of parts and the table of revisions.
import type { Seen } from "./ink";

// Balloon is a part that has a slot: its number in the specification, and the slot that it leads to.
export interface Balloon {
  item: string;
  key: string;
  parts: number[];
}

const RADIUS = 13; // px, so that a finger hits it
const APART = 31; // px between the middles of two
const EDGE = 20; // px from the side of the drawing
const TOP = 58, BOTTOM = 72; // px that belong to the buttons above and to the title below
const ROOM = 560; // px: on a narrower drawing balloons would hide the boat, whose parts can be touched as well
const FEWEST = 3; // cells of a part in view, below which nobody would see what a line points at
const CLOUD = 4000; // ms that the cloud stays
const SVG = "http://www.w3.org/2000/svg";

export class Marks {
  private readonly svg = document.createElementNS(SVG, "svg");
  private timer = 0;
  private changed = new Set<string>();
  private letter = "";

  constructor(stage: HTMLElement, go: (key: string) => void) {
    this.svg.id = "marks";
    this.svg.setAttribute("aria-hidden", "true");
    stage.append(this.svg);
    this.svg.addEventListener("click", (e) => {
      const key = (e.target as Element).closest<SVGElement>("[data-key]")?.dataset.key;
      if (key) go(key);
    });
  }

  // revise has a cloud drawn round the parts of some slots, for a while.
  revise(keys: Iterable<string>, letter: string): void {
    this.changed = new Set(keys);
    this.letter = letter;
    clearTimeout(this.timer);
    this.timer = setTimeout(() => {
      this.changed.clear();
      this.svg.querySelector(".cloud")?.remove();
    }, CLOUD);
  }

  // clear takes all away while the boat is turned.
  clear(): void {
    this.svg.replaceChildren();
  }

  // place draws them over the boat as it is seen.
  place(seen: Seen, balloons: Balloon[], width: number, height: number): void {
    this.clear();
    // in the pixels of text of the usual size, so that numbers grow with the reader's
    const scale = parseFloat(getComputedStyle(document.documentElement).fontSize) / 16;
    width /= scale;
    height /= scale;
    this.svg.setAttribute("viewBox", `0 0 ${width} ${height}`);
    const changed = balloons.filter((b) => this.changed.has(b.key)).flatMap((b) => b.parts);
    if (changed.length) this.cloud(seen, changed, width, height);
    if (width < ROOM) return;
    const sides: [Placed[], Placed[]] = [[], []];
    for (const b of balloons) {
      const at = anchor(seen, b.parts, width, height);
      if (at) sides[at.x < width / 2 ? 0 : 1].push({ ...b, ...at });
    }
    sides.forEach((side, right) => this.column(side, right ? width - EDGE : EDGE, height));
  }

  // column sets balloons below each other in the order of what they point at, so that no two lines cross much.
  private column(list: Placed[], x: number, height: number): void {
    const most = Math.floor((height - TOP - BOTTOM) / APART);
    // the largest parts first, where not all have room
    const kept = list.sort((a, b) => b.cells - a.cells).slice(0, most).sort((a, b) => a.y - b.y);
    let y = TOP - APART;
    const ys = kept.map((b) => y = Math.max(b.y, y + APART));
    let lowest = height - BOTTOM;
    for (let i = ys.length - 1; i >= 0; i--) lowest = (ys[i] = Math.min(ys[i]!, lowest)) - APART;
    kept.forEach((b, i) => this.balloon(b, x, ys[i]!));
  }

  private balloon(b: Placed, x: number, y: number): void {
    const g = this.add(this.svg, "g", { class: "balloon", "data-key": b.key });
    const [dx, dy] = [b.x - x, b.y - y], far = Math.hypot(dx, dy) || 1;
    this.add(g, "line", { x1: x + (dx / far) * RADIUS, y1: y + (dy / far) * RADIUS, x2: b.x, y2: b.y });
    this.add(g, "circle", { class: "point", cx: b.x, cy: b.y, r: 2 });
    this.add(g, "circle", { class: "ring", cx: x, cy: y, r: RADIUS });
    this.add(g, "text", { x, y, dy: "0.35em" }).textContent = b.item;
  }

  private cloud(seen: Seen, parts: number[], width: number, height: number): void {
    let [left, right, top, bottom] = [Infinity, -Infinity, Infinity, -Infinity];
    each(seen, parts, (column, row) => {
      [left, right] = [Math.min(left, column), Math.max(right, column + 1)];
      [top, bottom] = [Math.min(top, row), Math.max(bottom, row + 1)];
    });
    if (left > right) return; // all of it is hidden
    const [w, h] = [width / seen.columns, height / seen.rows], air = 8;
    const box = { x: left * w - air, y: top * h - air, w: (right - left) * w + 2 * air,
      h: (bottom - top) * h + 2 * air };
    const g = this.add(this.svg, "g", { class: "cloud" });
    this.add(g, "path", { d: scallops(box) });
    if (!this.letter) return;
    const [x, y] = [box.x + box.w, box.y];
    this.add(g, "path", { class: "letter", d: `M${x - 12} ${y + 8}h24l-12 -21z` });
    this.add(g, "text", { x, y: y + 5 }).textContent = this.letter;
  }

  private add(to: Element, name: string, attributes: Record<string, string | number>): Element {
    const e = document.createElementNS(SVG, name);
    for (const [k, v] of Object.entries(attributes)) e.setAttribute(k, typeof v === "number" ? v.toFixed(1) : v);
    to.append(e);
    return e;
  }
}

interface Placed extends Balloon {
  x: number;
  y: number;
  cells: number;
}

// each cell in which one of some parts is seen.
function each(seen: Seen, parts: number[], take: (column: number, row: number) => void): void {
  seen.part.forEach((p, i) => {
    if (parts.includes(p)) take(i % seen.columns, Math.floor(i / seen.columns));
  });
}

// anchor is where a line points at parts: the cell of theirs nearest to the middle of all, since the middle itself may
// lie on another part, as that of a coaming does. Undefined where too little of them is seen.
function anchor(seen: Seen, parts: number[], width: number, height: number): { x: number; y: number; cells: number } |
  undefined {
  const cells: [number, number][] = [];
  each(seen, parts, (column, row) => cells.push([column + 0.5, row + 0.5]));
  if (cells.length < FEWEST) return undefined;
  const middle = [0, 1].map((k) => cells.reduce((sum, c) => sum + c[k]!, 0) / cells.length);
  const far = (c: [number, number]): number => Math.hypot(c[0] - middle[0]!, c[1] - middle[1]!);
  const best = cells.reduce((a, b) => (far(b) < far(a) ? b : a));
  return { x: (best[0] * width) / seen.columns, y: (best[1] * height) / seen.rows, cells: cells.length };
}

// scallops are arcs along a rectangle, which bulge outwards.
function scallops(box: { x: number; y: number; w: number; h: number }): string {
  let d = `M${box.x.toFixed(1)} ${box.y.toFixed(1)}`;
  for (const [dx, dy] of [[box.w, 0], [0, box.h], [-box.w, 0], [0, -box.h]] as const) {
    const n = Math.max(1, Math.round(Math.hypot(dx, dy) / 18)), step = Math.hypot(dx, dy) / n;
    for (let i = 0; i < n; i++) {
      d += `a${(step / 1.8).toFixed(1)} ${(step / 1.8).toFixed(1)} 0 0 1 ${(dx / n).toFixed(1)} ${(dy / n).toFixed(1)}`;
    }
  }
  return d + "z";
}

// Drawing a mesh in ink and wash with WebGL2: flat tones by the angle to the light, and lines whose breadth is in
// pixels (lines.ts). An edge is drawn where it is a fold, or the outline: one of its faces looks at the eye and the
// other does not.
import { CORNER, Lines, OUTSIDE } from "./lines";
import { FIGURE, decode, dot, minus, shape, xyz } from "./mesh";
import type { Mesh, Shape } from "./mesh";

export type Colour = [number, number, number];

// What a theme decides on.
export interface Ink {
  outline: Colour;
  water: Colour;
  accent: Colour;
  lightness: number; // of the boat: less on a dark page
}

// From where the boat is looked at: the direction of sight, degrees, as View of core/drawing/solid; zoom 1 shows all.
export interface Sight {
  yaw: number;
  pitch: number;
  zoom: number;
}

const LENGTHS = 2.1; // of the boat between it and the eye
const FITS: [number, number][] = [[-148, 17], [-90, 5], [-33, 20], [-90, 72]]; // the views that have a name

const COMMON = `#version 300 es
precision highp float;
uniform vec3 middle, target, right, up, ahead;
uniform vec2 trim, lens;
uniform float away;
// afloat turns a place of the boat by its trim, so that the water is level
vec3 turned(vec3 d) { return vec3(d.x * trim.y - d.z * trim.x, d.y, d.x * trim.x + d.z * trim.y); }
vec3 afloat(vec3 p) { return turned(p - middle); }
vec4 seen(vec3 p) {
  vec3 d = p - target;
  float depth = away + dot(d, ahead);
  // what is seen lies between 0.3 and 2 of the eye's distance
  return vec4(dot(d, right) * lens.x, dot(d, up) * lens.y, (2.3 * depth - 1.2 * away) / 1.7, depth);
}
`;

const WASH = `${COMMON}
layout(location = 0) in vec3 place;
layout(location = 1) in vec3 normal;
layout(location = 2) in float part;
uniform sampler2D looks;
out vec3 n, p, boat;
flat out vec4 look;
void main() {
  boat = place;
  p = afloat(place);
  n = turned(normal);
  look = texelFetch(looks, ivec2(int(part + 0.5), 0), 0);
  gl_Position = seen(p);
}`;

const WASH_TONES = `#version 300 es
precision highp float;
in vec3 n, p, boat;
flat in vec4 look;
uniform vec3 light, eye;
uniform float lightness, floats;
out vec4 colour;
void main() {
  int finish = int(look.a * 255.0 + 0.5);
  bool clear = (finish & 2) != 0;
  vec3 towards = normalize(n);
  if (clear && dot(towards, eye - p) < 0.0) towards = -towards;
  float l = dot(towards, light);
  float tone = l < 0.08 ? 0.68 : l < 0.36 ? 0.82 : l < 0.66 ? 0.92 : 1.0;
  vec3 c = look.rgb;
  if ((finish & 1) != 0) { // timber has a grain along the boat
    float streak = fract(sin(floor(boat.y * 70.0) * 12.9898 + floor(boat.z * 70.0) * 78.233) * 43758.5453);
    c *= 0.95 + 0.05 * streak;
  }
  c = mix(vec3(0.078, 0.133, 0.18), c, tone);
  if ((finish & 32) != 0 && floats > 0.0 && p.z < 0.0) c = mix(vec3(0.706, 0.784, 0.8), c, 0.4);
  c *= lightness;
  float a = clear ? 0.32 : 1.0;
  colour = vec4(c * a, a);
}`;

const LINES = `#version 300 es
layout(location = 0) in vec4 place;
layout(location = 1) in vec4 ink;
flat out vec4 look;
void main() { gl_Position = place; look = ink; }`;

const LINES_INK = `#version 300 es
precision highp float;
flat in vec4 look;
out vec4 colour;
void main() { colour = look; }`;

const POND = `${COMMON}
layout(location = 0) in vec4 place;
void main() { gl_Position = seen(place.xyz); }`;

const POND_WASH = `#version 300 es
precision highp float;
uniform vec4 wash;
out vec4 colour;
void main() { colour = vec4(wash.rgb * wash.a, wash.a); }`;

const outside = new Set(["hull", "bottom", "boot-top", "stripe", "drive", "thruster"]);

interface Program {
  id: WebGLProgram;
  at(name: string): WebGLUniformLocation | null;
}

export class Drawing {
  mesh: Mesh | undefined;
  private made: Shape | undefined;
  private edges: Lines | undefined;
  private readonly wash: Program;
  private readonly lines: Program;
  private readonly pond: Program;
  private readonly looks: WebGLTexture;
  private readonly buffers: WebGLBuffer[];
  private readonly arrays: WebGLVertexArrayObject[];
  private strokes = 0; // corners of the water's wash, before those of its strokes
  private target = [0, 0, 0]; // the middle of all, afloat
  private all: number[][] = []; // places from there
  private reach: [number, number] = [1, 1]; // the farthest of the named views

  constructor(private readonly gl: WebGL2RenderingContext) {
    this.wash = program(gl, WASH, WASH_TONES);
    this.lines = program(gl, LINES, LINES_INK);
    this.pond = program(gl, POND, POND_WASH);
    this.looks = gl.createTexture();
    this.buffers = [0, 1, 2].map(() => gl.createBuffer());
    this.arrays = [0, 1, 2].map(() => gl.createVertexArray());
    const layout = (i: number, sizes: number[]): void => {
      gl.bindVertexArray(this.arrays[i]!);
      gl.bindBuffer(gl.ARRAY_BUFFER, this.buffers[i]!);
      const stride = 4 * sizes.reduce((a, b) => a + b);
      let offset = 0;
      sizes.forEach((size, k) => {
        gl.enableVertexAttribArray(k);
        gl.vertexAttribPointer(k, size, gl.FLOAT, false, stride, offset);
        offset += 4 * size;
      });
    };
    layout(0, [3, 3, 1]);
    layout(1, [4, 4]);
    gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, gl.createBuffer());
    layout(2, [4]);
  }

  // load takes a mesh, and the names of its parts.
  load(bytes: Uint8Array, names: string[]): void {
    const { gl } = this;
    const mesh = decode(bytes);
    this.mesh = mesh;
    this.made = shape(mesh);
    const looks = new Uint8Array(4 * mesh.parts.length);
    const finishes = mesh.parts.map((p, i) => p.finish | (outside.has(names[i] ?? "") ? OUTSIDE : 0));
    mesh.parts.forEach((p, i) => looks.set([...p.colour.map((c) => Math.round(c * 255)), finishes[i]!], 4 * i));
    gl.bindTexture(gl.TEXTURE_2D, this.looks);
    gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA, mesh.parts.length, 1, 0, gl.RGBA, gl.UNSIGNED_BYTE, looks);
    for (const name of [gl.TEXTURE_MIN_FILTER, gl.TEXTURE_MAG_FILTER]) {
      gl.texParameteri(gl.TEXTURE_2D, name, gl.NEAREST);
    }
    this.fill(0, this.made.triangles);
    this.edges = new Lines(mesh, this.made.edges, finishes);
    gl.bindVertexArray(this.arrays[1]!);
    gl.bufferData(gl.ELEMENT_ARRAY_BUFFER, this.edges.order(), gl.STATIC_DRAW);
    this.bounds();
    this.fill(2, new Float32Array(this.shore()));
  }

  private fill(i: number, data: Float32Array, use: number = this.gl.STATIC_DRAW): void {
    this.gl.bindBuffer(this.gl.ARRAY_BUFFER, this.buffers[i]!);
    this.gl.bufferData(this.gl.ARRAY_BUFFER, data, use);
  }

  // afloat is a place in the axes of the water.
  private afloat(p: number[]): [number, number, number] {
    const { sin, cos, middle } = this.trim();
    const dx = p[0]! - middle[0]!, dz = p[2]! - middle[2]!;
    return [dx * cos - dz * sin, p[1]!, dx * sin + dz * cos];
  }

  private trim(): { sin: number; cos: number; middle: number[] } {
    const { ends, draughts, afloat } = this.mesh!;
    const angle = afloat ? Math.atan2(draughts[0] - draughts[1], ends[1] - ends[0]) : 0;
    return { sin: Math.sin(angle), cos: Math.cos(angle),
      middle: [(ends[0] + ends[1]) / 2, 0, (draughts[0] + draughts[1]) / 2] };
  }

  private bounds(): void {
    const { places, ends } = this.mesh!;
    const all: number[][] = [];
    const low = [Infinity, Infinity, Infinity], high = [-Infinity, -Infinity, -Infinity];
    for (let i = 0; i < places.length / 3; i++) {
      const p = this.afloat(xyz(places, i));
      all.push(p);
      p.forEach((v, k) => {
        low[k] = Math.min(low[k]!, v);
        high[k] = Math.max(high[k]!, v);
      });
    }
    this.target = low.map((v, i) => (v + high[i]!) / 2);
    this.all = all.map((p) => minus(p, this.target));
    this.reach = [0, 0];
    for (const [yaw, pitch] of FITS) {
      this.reachOf(look(yaw, pitch), LENGTHS * (ends[1] - ends[0])).forEach((r, i) => {
        this.reach[i] = Math.max(this.reach[i]!, r);
      });
    }
  }

  // reachOf is how far all of the boat reaches to either side and up or down, at a distance of 1.
  private reachOf(v: Look, away: number): [number, number] {
    let [wide, high] = [0, 0];
    for (const d of this.all) {
      const depth = away + dot(d, v.ahead);
      wide = Math.max(wide, Math.abs(dot(d, v.right)) / depth);
      high = Math.max(high, Math.abs(dot(d, v.up)) / depth);
    }
    return [wide, high];
  }

  // shore is the water round the boat, as a strip between its waterline and an ellipse, and strokes on it.
  private shore(): number[] {
    const { ends, waterline, afloat } = this.mesh!;
    this.strokes = 0;
    if (!afloat || waterline.length < 6) return [];
    const length = ends[1] - ends[0], out: number[] = [];
    const side: number[][] = [];
    for (let i = 0; i < waterline.length; i += 3) side.push(this.afloat(waterline.slice(i, i + 3)));
    const around = [...side, ...[...side].reverse().map(([x, y]) => [x!, -y!, 0])];
    for (let i = 0; i <= around.length; i++) {
      const [x, y] = around[i % around.length]! as [number, number];
      const angle = Math.atan2(y / 0.27, x / 0.58);
      out.push(x, y, 0, 1, length * 0.58 * Math.cos(angle), length * 0.27 * Math.sin(angle), 0, 1);
    }
    this.strokes = out.length / 4;
    for (const near of [1, -1]) {
      for (let k = 0; k < 5; k++) {
        const y = near * (0.17 + 0.021 * k) * length, from = (-0.38 + 0.14 * ((k * 3) % 5)) * length;
        const to = from + length * (0.1 + 0.03 * ((k * 2) % 3));
        out.push(from, y, 0, 1, to, y, 0, 1);
      }
    }
    return out;
  }

  // sight is what both drawing and picking need: directions, where the eye stands, and how far a metre reaches at a
  // distance of one, as shares of half the canvas.
  private sight(s: Sight, width: number, height: number) {
    const { target } = this;
    const away = LENGTHS * (this.mesh!.ends[1] - this.mesh!.ends[0]);
    const v = look(s.yaw, s.pitch);
    // It fills the canvas from wherever it is looked at, but swells by no more than a third while it is turned.
    const [wide, high] = this.reachOf(v, away).map((r, i) => Math.max(r, 0.75 * this.reach[i]!));
    const scale = s.zoom * 0.95 * Math.min(width / wide!, height / high!);
    return { ...v, target, away, lens: [scale / width, scale / height],
      eye: target.map((t, i) => t - v.ahead[i]! * away) };
  }

  draw(s: Sight, ink: Ink, pixels: number, chosen: number): void {
    const { gl, mesh, made } = this;
    const { width, height } = gl.canvas;
    gl.viewport(0, 0, width, height);
    gl.clearColor(0, 0, 0, 0);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    if (!mesh || !made || !this.edges) return;
    const v = this.sight(s, width, height), t = this.trim();
    const light = v.up.map((u, i) => 0.7 * u - 0.4 * v.right[i]! - 0.6 * v.ahead[i]!);
    const use = (p: Program): void => {
      gl.useProgram(p.id);
      for (const [name, value] of Object.entries({ middle: t.middle, target: v.target, right: v.right, up: v.up,
        ahead: v.ahead, eye: v.eye,
        light: light.map((l) => l / Math.hypot(...light)) })) gl.uniform3fv(p.at(name), value);
      gl.uniform2f(p.at("trim"), t.sin, t.cos);
      gl.uniform2fv(p.at("lens"), v.lens);
      gl.uniform1f(p.at("away"), v.away);
      gl.uniform1f(p.at("lightness"), ink.lightness);
      gl.uniform1f(p.at("floats"), mesh.afloat ? 1 : 0);
    };
    gl.enable(gl.DEPTH_TEST);
    gl.enable(gl.BLEND);
    gl.blendFunc(gl.ONE, gl.ONE_MINUS_SRC_ALPHA);
    gl.bindTexture(gl.TEXTURE_2D, this.looks);
    use(this.wash);
    gl.bindVertexArray(this.arrays[0]!);
    gl.drawArrays(gl.TRIANGLES, 0, made.solid);
    // what can be seen through does not hide what lies behind
    gl.depthMask(false);
    this.drawPond(use, ink);
    const pens = { ...ink, chosen, pixel: pixels / 2, size: [width / 2, height / 2] as [number, number] };
    const lines = this.edges.drawn({ ...v, ...t }, pens);
    gl.useProgram(this.lines.id);
    gl.bindVertexArray(this.arrays[1]!);
    this.fill(1, lines, gl.DYNAMIC_DRAW);
    gl.drawElements(gl.TRIANGLES, (lines.length / CORNER / 4) * 6, gl.UNSIGNED_INT, 0);
    use(this.wash);
    gl.bindVertexArray(this.arrays[0]!);
    gl.drawArrays(gl.TRIANGLES, made.solid, made.triangles.length / 7 - made.solid);
    gl.depthMask(true);
  }

  private drawPond(use: (p: Program) => void, ink: Ink): void {
    const { gl } = this;
    if (!this.strokes) return;
    use(this.pond);
    gl.bindVertexArray(this.arrays[2]!);
    gl.uniform4f(this.pond.at("wash"), ...ink.water, 0.16);
    gl.drawArrays(gl.TRIANGLE_STRIP, 0, this.strokes);
    gl.uniform4f(this.pond.at("wash"), ...ink.water, 0.5);
    gl.drawArrays(gl.LINES, this.strokes, 20);
  }

  // pick is the part that is seen at a place of the canvas, both as -1 to 1 to the right and up; -1 for none.
  pick(x: number, y: number, s: Sight, width: number, height: number): number {
    let [found, nearest] = [-1, 0];
    this.triangles(s, width, height, (part, a, b, c) => {
      const near = nearness(a, b, c, x, y);
      if (near > nearest) [found, nearest] = [part, near];
    });
    return found;
  }

  // seen is which part is seen in each cell of a grid over the canvas.
  seen(s: Sight, width: number, height: number, columns: number): Seen {
    const rows = Math.max(1, Math.round((columns * height) / width));
    const part = new Int16Array(columns * rows).fill(-1), nearest = new Float32Array(columns * rows);
    this.triangles(s, width, height, (p, a, b, c) => {
      const [left, right] = reach(a[0], b[0], c[0], columns), [low, high] = reach(-a[1], -b[1], -c[1], rows);
      for (let row = low; row <= high; row++) {
        for (let column = left; column <= right; column++) {
          const x = (2 * column + 1) / columns - 1, y = 1 - (2 * row + 1) / rows;
          const near = nearness(a, b, c, x, y), i = row * columns + column;
          if (near > nearest[i]!) [part[i], nearest[i]] = [p, near];
        }
      }
    });
    return { columns, rows, part };
  }

  // triangles gives those of all faces with their corners on the canvas. People are looked through: what they sit on
  // is meant.
  private triangles(s: Sight, width: number, height: number, take: (part: number, a: Corner, b: Corner,
    c: Corner) => void): void {
    const { mesh } = this;
    if (!mesh) return;
    const v = this.sight(s, width, height);
    const corners: Corner[] = [];
    for (let i = 0; i < mesh.places.length / 3; i++) {
      const d = this.afloat(xyz(mesh.places, i)).map((c, k) => c - v.target[k]!);
      const depth = v.away + dot(d, v.ahead);
      corners.push([(dot(d, v.right) * v.lens[0]!) / depth, (dot(d, v.up) * v.lens[1]!) / depth, 1 / depth]);
    }
    for (const f of mesh.faces) {
      if (mesh.parts[f.part]!.finish & (FIGURE | 4)) continue;
      for (let k = 2; k < f.at.length; k++) {
        take(f.part, corners[f.at[0]!]!, corners[f.at[k - 1]!]!, corners[f.at[k]!]!);
      }
    }
  }
}

// Corner is a place on the canvas, -1 to 1 to the right and up, and one over its distance.
type Corner = [number, number, number];

// Seen is a grid over the canvas, rows from above, with the number of the part that is seen in each cell; -1 for none.
export interface Seen {
  columns: number;
  rows: number;
  part: Int16Array;
}

// nearness is one over the distance at which a triangle is seen at a place; 0 where it is not.
function nearness(a: Corner, b: Corner, c: Corner, x: number, y: number): number {
  const [ax, ay, bx, by, cx, cy] = [a[0] - x, a[1] - y, b[0] - x, b[1] - y, c[0] - x, c[1] - y];
  const u = bx * cy - cx * by, w = cx * ay - ax * cy, r = ax * by - bx * ay;
  if ((u < 0 || w < 0 || r < 0) && (u > 0 || w > 0 || r > 0) || u + w + r === 0) return 0;
  return (u * a[2] + w * b[2] + r * c[2]) / (u + w + r);
}

// reach are the first and the last of n cells from -1 to 1 whose middle may lie between three places.
function reach(a: number, b: number, c: number, n: number): [number, number] {
  const cell = (v: number): number => ((v + 1) * n - 1) / 2;
  return [Math.max(0, Math.ceil(cell(Math.min(a, b, c)))), Math.min(n - 1, Math.floor(cell(Math.max(a, b, c))))];
}

// Look are the directions of a sight.
interface Look {
  ahead: number[];
  right: number[];
  up: number[];
}

function look(yaw: number, pitch: number): Look {
  const [a, p] = [(yaw * Math.PI) / 180, (pitch * Math.PI) / 180];
  return { ahead: [Math.cos(p) * Math.cos(a), Math.cos(p) * Math.sin(a), -Math.sin(p)],
    right: [-Math.sin(a), Math.cos(a), 0],
    up: [Math.sin(p) * Math.cos(a), Math.sin(p) * Math.sin(a), Math.cos(p)] };
}

function program(gl: WebGL2RenderingContext, vertex: string, fragment: string): Program {
  const id = gl.createProgram();
  for (const [kind, text] of [[gl.VERTEX_SHADER, vertex], [gl.FRAGMENT_SHADER, fragment]] as const) {
    const s = gl.createShader(kind);
    if (!s) throw new Error("no shader");
    gl.shaderSource(s, text);
    gl.compileShader(s);
    gl.attachShader(id, s);
  }
  gl.linkProgram(id);
  if (!gl.getProgramParameter(id, gl.LINK_STATUS) && !gl.isContextLost()) {
    const logs = (gl.getAttachedShaders(id) ?? []).map((s) => gl.getShaderInfoLog(s));
    throw new Error([gl.getProgramInfoLog(id), ...logs].join(" "));
  }
  const places = new Map<string, WebGLUniformLocation | null>();
  return { id, at: (name) => {
    let l = places.get(name);
    if (l === undefined) places.set(name, l = gl.getUniformLocation(id, name));
    return l;
  } };
}

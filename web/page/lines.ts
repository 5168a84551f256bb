// The lines of the drawing: which edges are drawn from where the eye stands, how broad, and in which ink. Each is a
// quad between two places. It is worked out here and not by the graphics card: a processor that stands in for one takes
// several microseconds for each edge that it is given by itself, drawn or not.
import { CLEAR, EDGE, FOLD, HIDDEN, ROUND, SEAM, THIN } from "./mesh";
import type { Mesh } from "./mesh";

export const OUTSIDE = 32; // a bit of a finish: of what stands in the water, where it is afloat

const DARK = [0.106, 0.165, 0.188];
export const CORNER = 8; // numbers of a corner: where it is seen, x y z w, and its ink, red green blue and strength

// Lens is how a place of the boat comes onto the canvas: in the axes of the water, but for the middle.
export interface Lens {
  sin: number; // of the trim
  cos: number;
  middle: number[]; // of the boat, in its own axes
  target: number[];
  right: number[];
  up: number[];
  ahead: number[];
  away: number;
  lens: number[];
  eye: number[];
}

// Pens are what lines are drawn with.
export interface Pens {
  outline: number[];
  water: number[];
  accent: number[];
  lightness: number;
  chosen: number; // the part that is pointed at; -1 for none
  pixel: number; // half the breadth of a line of 1, in pixels of the canvas
  size: [number, number]; // half the canvas, in its pixels
}

export class Lines {
  private readonly corners: Float32Array;
  private end = 0;

  constructor(
    private readonly mesh: Mesh,
    private readonly edges: Float32Array,
    private readonly finishes: number[], // of parts, with OUTSIDE
  ) {
    this.corners = new Float32Array((edges.length / EDGE) * 4 * CORNER);
  }

  // order is that of the corners of all quads, as two triangles each.
  order(): Uint32Array {
    const n = this.edges.length / EDGE;
    const order = new Uint32Array(6 * n);
    for (let i = 0; i < n; i++) order.set([0, 1, 2, 0, 2, 3].map((k) => 4 * i + k), 6 * i);
    return order;
  }

  // drawn are the corners of the quads that are seen, four each.
  drawn(v: Lens, pens: Pens): Float32Array {
    const { edges } = this;
    const { sin, cos, middle, eye } = v;
    // the eye in the axes of the boat
    const x = eye[0]! * cos + eye[2]! * sin + middle[0]!, y = eye[1]!;
    const z = eye[2]! * cos - eye[0]! * sin + middle[2]!;
    const faces = (i: number, n: number): boolean =>
      (x - (edges[i]! + edges[i + 3]!) / 2) * edges[n]! + (y - (edges[i + 1]! + edges[i + 4]!) / 2) * edges[n + 1]! +
        (z - (edges[i + 2]! + edges[i + 5]!) / 2) * edges[n + 2]! > 0;
    const dark = DARK.map((c) => c * pens.lightness);
    this.end = 0;
    for (let i = 0; i < edges.length; i += EDGE) {
      const kind = edges[i + 12]!, part = edges[i + 13]!, finish = this.finishes[part]!;
      const hidden = (finish & HIDDEN) !== 0, picked = part === pens.chosen;
      if (hidden && !picked) continue;
      let width = 0, colour = dark, strength = 0.75;
      if (kind > SEAM) [width, colour, strength] = [1.7, pens.water, 1];
      else if (kind > ROUND) [width, strength] = [0.55, 0.32];
      else if (finish & CLEAR) [width, strength] = [0.8, 0.5];
      else {
        const one = faces(i, i + 6);
        if (one !== faces(i, i + 9)) {
          if (finish & THIN) [width, strength] = [0.5, 0.6];
          else [width, colour, strength] = [1.3, pens.outline, 1];
        } else if (kind === FOLD && one) width = 0.75;
      }
      if (kind <= ROUND && finish & OUTSIDE && this.wet(i, v)) [width, strength] = [Math.min(width, 0.8), 0.3];
      if (picked && kind <= ROUND && (hidden ? kind === FOLD : width > 0)) {
        [width, colour, strength] = [Math.max(width, 1) + 0.9, pens.accent, 1];
      }
      if (width > 0) this.quad(i, v, pens, width, colour, strength, picked && hidden ? 1 : 0.0011);
    }
    return this.corners.subarray(0, this.end);
  }

  // wet says whether an edge lies under water.
  private wet(i: number, { sin, cos, middle }: Lens): boolean {
    const { edges } = this;
    const x = edges[i]! + edges[i + 3]! - 2 * middle[0]!, z = edges[i + 2]! + edges[i + 5]! - 2 * middle[2]!;
    return this.mesh.afloat && x * sin + z * cos < -0.004;
  }

  // quad adds an edge, half a breadth longer at both ends, so that lines that meet leave no notch. It stands nearer to
  // the eye than the faces that it is the edge of.
  private quad(i: number, v: Lens, pens: Pens, width: number, colour: number[], strength: number, near: number): void {
    const { edges } = this, [wide, high] = pens.size;
    const p = seen(v, edges[i]!, edges[i + 1]!, edges[i + 2]!);
    const q = seen(v, edges[i + 3]!, edges[i + 4]!, edges[i + 5]!);
    const x = (p[0] / p[3]) * wide, y = (p[1] / p[3]) * high;
    let dx = (q[0] / q[3]) * wide - x, dy = (q[1] / q[3]) * high - y;
    const length = Math.hypot(dx, dy), half = width * pens.pixel;
    if (length < 1e-4) return;
    [dx, dy] = [(dx / length) * half, (dy / length) * half];
    const add = (end: boolean, side: number): void => {
      const r = end ? q : p, along = end ? length / half + 0.4 : -0.4;
      const out = this.corners, at = this.end;
      out[at] = ((x + along * dx - side * dy) / wide) * r[3];
      out[at + 1] = ((y + along * dy + side * dx) / high) * r[3];
      out[at + 2] = r[2] - near * r[3];
      out[at + 3] = r[3];
      for (let k = 0; k < 3; k++) out[at + 4 + k] = colour[k]! * strength;
      out[at + 7] = strength;
      this.end += CORNER;
    };
    add(false, -1);
    add(true, -1);
    add(true, 1);
    add(false, 1);
  }
}

// seen is a place of the boat as the graphics card takes it; the shaders of faces do the same (COMMON in ink.ts).
function seen(v: Lens, x: number, y: number, z: number): [number, number, number, number] {
  const dx = x - v.middle[0]!, dz = z - v.middle[2]!;
  const a = dx * v.cos - dz * v.sin - v.target[0]!, b = y - v.target[1]!, c = dx * v.sin + dz * v.cos - v.target[2]!;
  const depth = v.away + a * v.ahead[0]! + b * v.ahead[1]! + c * v.ahead[2]!;
  return [(a * v.right[0]! + b * v.right[1]! + c * v.right[2]!) * v.lens[0]!,
    (a * v.up[0]! + b * v.up[1]! + c * v.up[2]!) * v.lens[1]!, (2.3 * depth - 1.2 * v.away) / 1.7, depth];
}

// The boat as triangles and edges, from the form in which core/drawing/solid/wire.go sends it. Faces are its twin
// Mesh.Faces; a test compares the two.

export const GRAIN = 1;
export const CLEAR = 2;
export const HIDDEN = 4;
export const FIGURE = 8;
export const THIN = 16;

const LOOP = 1;
const RING = 2;
const CAPPED = 4;
const MIRROR = 8;

export interface Part {
  colour: [number, number, number];
  finish: number;
}

export interface Face {
  part: number;
  at: number[]; // corners, as numbers of places
}

export interface Mesh {
  parts: Part[];
  places: number[]; // x, y, z in m, each place once
  faces: Face[];
  lines: { part: number; at: number[] }[]; // x, y, z in m
  waterline: number[];
  ends: [number, number];
  draughts: [number, number];
  afloat: boolean;
}

class Reader {
  private i = 0;
  constructor(private readonly bytes: Uint8Array) {}

  byte(): number {
    const b = this.bytes[this.i++];
    if (b === undefined) throw new RangeError("the mesh ends early");
    return b;
  }

  count(): number {
    let n = 0;
    for (let scale = 1; ; scale *= 128) {
      const b = this.byte();
      n += (b & 127) * scale;
      if (b < 128) return n;
    }
  }

  signed(): number {
    const n = this.count();
    return n % 2 ? -(n + 1) / 2 : n / 2;
  }

  line(): number[] {
    const at: number[] = [];
    for (let n = 3 * this.count(), i = 0; i < n; i++) at.push(this.signed() + (i < 3 ? 0 : at[i - 3]!));
    return at;
  }
}

export function decode(bytes: Uint8Array): Mesh {
  const r = new Reader(bytes);
  if (r.byte() !== 1) throw new RangeError("the mesh is of another version");
  const [aft, fore, low, high] = [r.signed(), r.signed(), r.signed(), r.signed()].map((mm) => mm / 1000);
  const mesh: Mesh = { parts: [], places: [], faces: [], lines: [], waterline: [], ends: [aft!, fore!],
    draughts: [low!, high!], afloat: r.byte() === 1 };
  for (let n = r.count(); n > 0; n--) {
    mesh.parts.push({ colour: [r.byte() / 255, r.byte() / 255, r.byte() / 255], finish: r.byte() });
  }
  const known = new Map<number, number>();
  // place gives a place its number; the same one has the same number in all patches, so that neighbours are found
  const place = (x: number, y: number, z: number): number => {
    const key = ((x + 65536) * 131072 + y + 65536) * 131072 + z + 65536;
    let n = known.get(key);
    if (n === undefined) {
      n = mesh.places.length / 3;
      known.set(key, n);
      mesh.places.push(x / 1000, y / 1000, z / 1000);
    }
    return n;
  };
  for (let n = r.count(); n > 0; n--) patch(r, mesh.faces, place);
  const metres = (at: number[]): number[] => at.map((mm) => mm / 1000);
  for (let n = r.count(); n > 0; n--) mesh.lines.push({ part: r.count(), at: metres(r.line()) });
  mesh.waterline = metres(r.line());
  return mesh;
}

function patch(r: Reader, faces: Face[], place: (x: number, y: number, z: number) => number): void {
  const part = r.count(), rows = r.count(), cols = r.count(), shape = r.count();
  const mm: number[] = [];
  for (let k = 0; k < rows * cols; k++) {
    for (let i = 0; i < 3; i++) {
      const left = k % cols ? mm[3 * (k - 1) + i]! : 0;
      const above = k >= cols ? mm[3 * (k - cols) + i]! : 0;
      const both = k % cols && k >= cols ? mm[3 * (k - cols - 1) + i]! : 0;
      mm.push(r.signed() + left + above - both);
    }
  }
  for (const side of shape & MIRROR ? [1, -1] : [1]) {
    const number: number[] = [];
    for (let k = 0; k < mm.length; k += 3) number.push(place(mm[k]!, side * mm[k + 1]!, mm[k + 2]!));
    const at = (i: number, j: number): number => number[(i % rows) * cols + (j % cols)]!;
    const add = (...corners: number[]): void => {
      const kept: number[] = [];
      for (const q of corners) if (q !== kept[kept.length - 1] && q !== kept[0]) kept.push(q);
      if (kept.length > 2) faces.push({ part, at: side > 0 ? kept : kept.reverse() });
    };
    const down = rows - (shape & RING ? 0 : 1), across = cols - (shape & LOOP ? 0 : 1);
    for (let i = 0; i < down; i++) {
      for (let j = 0; j < across; j++) add(at(i, j), at(i + 1, j), at(i + 1, j + 1), at(i, j + 1));
    }
    if (!(shape & CAPPED)) continue;
    for (let j = 0, last = rows - 1; j < cols - 1 - j; j++) {
      const k = cols - 1 - j, next = Math.max(k - 1, j + 1);
      add(at(0, j), at(0, j + 1), at(0, next), at(0, k));
      add(at(last, k), at(last, next), at(last, j + 1), at(last, j));
    }
  }
}

// What is drawn: triangles of places with normals, and edges with the normals of the faces on either side.
export interface Shape {
  triangles: Float32Array; // of each corner x, y, z, its normal, its part
  solid: number; // corners that are not clear; these come first
  edges: Float32Array; // EDGE numbers of each: both ends, both normals, its kind, its part
}

export const EDGE = 14; // numbers of an edge in a shape

// Kinds of edges. A fold is drawn where it is seen, a round one where it is the outline.
export const FOLD = 0;
export const ROUND = 1;
export const SEAM = 2;
export const WATERLINE = 3;

const SHARP = 0.77; // the cosine of the least angle at a fold, as in core/drawing/solid

export function shape(mesh: Mesh): Shape {
  const { places, faces } = mesh;
  const normals = faces.map((f) => normal(places, f.at));
  const around: number[][] = [];
  faces.forEach((f, i) => f.at.forEach((q) => (around[q] ??= []).push(i)));
  const clear = (f: Face): boolean => (mesh.parts[f.part]!.finish & CLEAR) !== 0;
  const corners: number[] = [];
  let solid = 0;
  for (const pass of [false, true]) {
    faces.forEach((f, i) => {
      if (clear(f) !== pass || mesh.parts[f.part]!.finish & HIDDEN) return;
      const n = normals[i]!;
      const smooth = f.at.map((q) => {
        const sum = [0, 0, 0];
        for (const k of around[q]!) {
          if (faces[k]!.part === f.part && dot(normals[k]!, n) > SHARP) add(sum, normals[k]!);
        }
        return unit(sum);
      });
      for (let k = 2; k < f.at.length; k++) {
        for (const c of [0, k - 1, k]) corners.push(...xyz(places, f.at[c]!), ...smooth[c]!, f.part);
      }
    });
    if (!pass) solid = corners.length / 7;
  }
  return { triangles: new Float32Array(corners), solid, edges: edges(mesh, normals) };
}

function edges(mesh: Mesh, normals: number[][]): Float32Array {
  const { places, faces, parts } = mesh;
  const at = new Map<number, number[]>();
  const n = places.length;
  faces.forEach((f, i) => f.at.forEach((a, k) => {
    const b = f.at[(k + 1) % f.at.length]!;
    const key = Math.min(a, b) * n + Math.max(a, b);
    const list = at.get(key);
    if (list) list.push(i);
    else at.set(key, [i]);
  }));
  const out: number[] = [];
  for (const [key, list] of at) {
    const ends = [...xyz(places, Math.floor(key / n)), ...xyz(places, key % n)];
    const first = normals[list[0]!]!, part = faces[list[0]!]!.part;
    let second = list.length > 1 ? normals[list[1]!]! : first;
    for (const i of list) if (dot(normals[i]!, first) < dot(second, first)) second = normals[i]!;
    const angle = dot(first, second);
    const { finish } = parts[part]!;
    if (list.length > 1 && angle > 0.9999) continue; // flat: never an outline
    const fold = list.length === 1 || angle < SHARP && !(finish & FIGURE);
    out.push(...ends, ...first, ...second, fold ? FOLD : ROUND, part);
  }
  const line = (points: number[], kind: number, part: number): void => {
    for (const side of [1, -1]) {
      for (let i = 3; i + 2 < points.length; i += 3) {
        out.push(points[i - 3]!, side * points[i - 2]!, points[i - 1]!, points[i]!, side * points[i + 1]!,
          points[i + 2]!, 0, 0, 1, 0, 0, 1, kind, part);
      }
    }
  };
  for (const l of mesh.lines) line(l.at, SEAM, l.part);
  line(mesh.waterline, WATERLINE, 0);
  return new Float32Array(out);
}

export function xyz(places: number[], i: number): [number, number, number] {
  return [places[3 * i]!, places[3 * i + 1]!, places[3 * i + 2]!];
}

function normal(places: number[], at: number[]): number[] {
  const p = at.map((q) => xyz(places, q));
  return p.length === 3
    ? unit(cross(minus(p[1]!, p[0]!), minus(p[2]!, p[0]!)))
    : unit(cross(minus(p[2]!, p[0]!), minus(p[3]!, p[1]!)));
}

export function minus(a: number[], b: number[]): number[] {
  return [a[0]! - b[0]!, a[1]! - b[1]!, a[2]! - b[2]!];
}

export function cross(a: number[], b: number[]): number[] {
  return [a[1]! * b[2]! - a[2]! * b[1]!, a[2]! * b[0]! - a[0]! * b[2]!, a[0]! * b[1]! - a[1]! * b[0]!];
}

export function dot(a: number[], b: number[]): number {
  return a[0]! * b[0]! + a[1]! * b[1]! + a[2]! * b[2]!;
}

function add(sum: number[], b: number[]): void {
  for (let i = 0; i < 3; i++) sum[i]! += b[i]!;
}

function unit(a: number[]): number[] {
  const l = Math.hypot(a[0]!, a[1]!, a[2]!);
  return l > 0 ? a.map((v) => v / l) : [0, 0, 1];
}

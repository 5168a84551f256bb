// The reader of what web/wire writes for the line: it gives the engine back, to the bit. The functions are told by the
// same model as there (web/wire/model.go, web/wire/code.go), which say why; the names are those of the twin.
import { unlzma } from "./unlzma";

// Line is what has come so far. It asks for more by itself.
export class Line {
  bytes = new Uint8Array(1 << 20);
  at = 0;
  end = 0;
  private over = false;

  constructor(
    private readonly reader: ReadableStreamDefaultReader<Uint8Array>,
    private readonly came: (bytes: number) => void,
  ) {}

  // want waits until there are n more bytes, or no more come.
  async want(n: number): Promise<void> {
    while (!this.over && this.end - this.at < n) {
      const { done, value } = await this.reader.read();
      if (done) this.over = true;
      if (!value) continue;
      if (this.end + value.length > this.bytes.length) {
        const wider = new Uint8Array(2 * this.end + value.length);
        wider.set(this.bytes.subarray(0, this.end));
        this.bytes = wider;
      }
      this.bytes.set(value, this.end);
      this.end += value.length;
      this.came(this.end);
    }
  }

  byte(): number {
    return this.bytes[this.at++] ?? 0;
  }

  uint(): number {
    let v = 0;
    let x;
    let scale = 1;
    do {
      x = this.byte();
      v += (x & 127) * scale;
      scale *= 128;
    } while (x > 127);
    return v;
  }

  // int is a signed LEB128, by its bytes: constants are written as they come.
  int(): Uint8Array {
    const from = this.at;
    while (this.byte() > 127);
    return this.bytes.slice(from, this.at);
  }
}

const MOST_OF_FUNCTION = 1 << 16;
const GOLDEN = 0x9e3779b1 | 0;
const TABLE_BITS = 21;
const CONTEXTS = 4;
const FLAG_OF_SYMBOL = 256;
const FIRST_SET = 1024;
const STEP_SET = 12;
const FLAG_SET = 112;
const MATCH_TRUST = 8;
const FIRST_TRUST = 48;
const MATCH_LEAST = 6;
const MATCH_MOST = 31;
const MATCH_BITS = 18;
const SHORT_BITS = 18;
const GUESS_BITS = 16;
const MOST_RIGHT = 15;
const KNOTS = [
  1, 2, 4, 6, 10, 17, 27, 45, 74, 120, 194, 311, 488, 747, 1102, 1546, 2048, 2550, 2994, 3349, 3608, 3785,
  3902, 3976, 4022, 4051, 4069, 4079, 4086, 4090, 4092, 4094, 4095,
];
const INDEX = 1, LABEL = 2, COUNT = 3, TABLE = 4, CALL = 5, OFFSET = 6, CONSTANT = 7, PLACE = 8, BYTE = 9, CLASSES = 10;
const GUESSES = [0, 0, 1, 1, 0, 2, 2, 2, 0, 0];

function mix(h: number, v: number): number {
  h = Math.imul(h ^ v, GOLDEN);
  return h ^ (h >>> 15);
}

// What stands behind an instruction (web/wire/instructions.go).
const NOTHING = 0, TYPE = 1, VARIABLE = 2, TARGET = 3, TARGETS = 4, FUNCTION = 5, INDIRECT = 6, ACCESS = 7, VALUE = 8,
  FLOAT = 9, DOUBLE = 10, MEMORY = 11, PREFIXED = 12, ANY_PLACE = 13, NEXT_PLACE = 14;
const behind = new Uint8Array(256);
behind.fill(TYPE, 0x02, 0x05);
behind.set([TARGET, TARGET, TARGETS], 0x0c);
behind.set([FUNCTION, INDIRECT], 0x10);
behind.set([NEXT_PLACE, ANY_PLACE], 0x16);
behind.fill(VARIABLE, 0x20, 0x25);
behind.fill(ACCESS, 0x28, 0x3f);
behind.set([MEMORY, MEMORY, VALUE, VALUE, FLOAT, DOUBLE], 0x3f);
behind[0xfc] = PREFIXED;

// functions reads the code section, of so many bytes, out of as many packed ones.
async function functions(line: Line, length: number, packed: number): Promise<Uint8Array> {
  const squashed = new Int32Array(4096);
  const stretched = new Int32Array(4096).fill(2047);
  let from = 0;
  for (let x = 0; x < 4096; x++) {
    const w = x & 127;
    const p = (KNOTS[x >> 7]! * (128 - w) + KNOTS[(x >> 7) + 1]! * w + 64) >> 7;
    squashed[x] = Math.min(4095, Math.max(1, p));
    for (; from <= squashed[x]!; from++) stretched[from] = x - 2048;
  }
  const rates = Int32Array.from({ length: 8 }, (_, n) => Math.floor(131072 / (2 * n + 3)));
  const table = new Uint16Array(CONTEXTS << TABLE_BITS).fill(32768);
  const w = new Int32Array(4096 * (CONTEXTS + 1)).fill(20_000);
  const trusts = new Int32Array(256).fill(32768);
  const shorts = new Uint8Array(1 << SHORT_BITS);
  const shortsRight = new Uint8Array(1 << SHORT_BITS);
  const guesses = new Int32Array((2 * CLASSES) << GUESS_BITS);
  const guessesRight = new Uint8Array((2 * CLASSES) << GUESS_BITS);

  // the alphabet: kind, instruction, and the two symbols or the bytes of the operand
  const count = line.uint();
  const kinds = new Uint8Array(count);
  const ops = new Uint8Array(count);
  const firsts = new Int32Array(count);
  const seconds = new Int32Array(count);
  const fixed: Uint8Array[] = [];
  for (let s = 0; s < count; s++) {
    kinds[s] = line.byte();
    if (kinds[s] === 2) {
      firsts[s] = line.uint();
      seconds[s] = line.uint();
    } else {
      ops[s] = line.byte();
      if (kinds[s] === 0) fixed[s] = line.int();
    }
  }
  const align = new Uint8Array(256);
  for (let op = 0x28; op <= 0x3e; op++) align[op] = line.byte();
  const total = line.uint();

  // The range decoder, as in LZMA. What changes at every bit lies in an array: of numbers of 32 bits in variables of a
  // closure a browser makes objects.
  let bytes = line.bytes;
  const behindAll = line.at + packed;
  const s = new Int32Array(11);
  const RANGE = 0, CODE = 1, AT = 2, H = 3, B = 7; // H: hashes of the contexts, B: places with the bits before
  s[RANGE] = -1;
  s[AT] = line.at + 1;
  for (let i = 0; i < 4; i++) s[CODE] = (s[CODE]! << 8) | bytes[s[AT]!++]!;

  const SHIFT = 32 - TABLE_BITS, T1 = 1 << TABLE_BITS, T2 = 2 << TABLE_BITS, T3 = 3 << TABLE_BITS;
  const below = (prefix: number): void => {
    let h = Math.imul(s[H]! ^ prefix, GOLDEN);
    s[B] = Math.imul(h ^ (h >>> 15), GOLDEN) >>> SHIFT;
    h = Math.imul(s[H + 1]! ^ prefix, GOLDEN);
    s[B + 1] = (Math.imul(h ^ (h >>> 15), GOLDEN) >>> SHIFT) | T1;
    h = Math.imul(s[H + 2]! ^ prefix, GOLDEN);
    s[B + 2] = (Math.imul(h ^ (h >>> 15), GOLDEN) >>> SHIFT) | T2;
    h = Math.imul(s[H + 3]! ^ prefix, GOLDEN);
    s[B + 3] = (Math.imul(h ^ (h >>> 15), GOLDEN) >>> SHIFT) | T3;
  };
  // bits reads n bits below a node, and gives the node that they lead to. With a trust one bit is told by it, too.
  const bits = (node: number, n: number, set: number, trust: number): number => {
    let range = s[RANGE]!, code = s[CODE]!;
    const k0 = s[B]!, k1 = s[B + 1]!, k2 = s[B + 2]!, k3 = s[B + 3]!;
    for (; n > 0; n--) {
      const i0 = k0 ^ node, i1 = k1 ^ node, i2 = k2 ^ node, i3 = k3 ^ node, o = Math.imul(set + node, CONTEXTS + 1);
      const e0 = table[i0]!, e1 = table[i1]!, e2 = table[i2]!, e3 = table[i3]!;
      const s0 = stretched[e0 >> 4]!, s1 = stretched[e1 >> 4]!;
      const s2 = stretched[e2 >> 4]!, s3 = stretched[e3 >> 4]!;
      const w0 = w[o]!, w1 = w[o + 1]!, w2 = w[o + 2]!, w3 = w[o + 3]!;
      let sum = ((Math.imul(w0, s0) >> 8) + (Math.imul(w1, s1) >> 8) + (Math.imul(w2, s2) >> 8) +
        (Math.imul(w3, s3) >> 8)) | 0;
      let s4 = 0;
      if (trust >= 0) {
        s4 = stretched[trusts[trust]! >> 4]!;
        sum = (sum + (Math.imul(w[o + 4]!, s4) >> 8)) | 0;
      }
      sum >>= 8;
      const p = squashed[(sum > 2047 ? 2047 : sum < -2048 ? -2048 : sum) + 2048]!;
      const bound = Math.imul(range >>> 12, p);
      let y = 0;
      if (code >>> 0 < bound >>> 0) {
        range = bound;
        y = 1;
      } else {
        range = (range - bound) | 0;
        code = (code - bound) | 0;
      }
      while (range >>> 0 < 16777216) {
        range <<= 8;
        code = (code << 8) | bytes[s[AT]!++]!;
      }
      const fault = Math.imul((y << 12) - p, 7), aim = -y & 0x1fff;
      w[o] = w0 + ((Math.imul(s0, fault) + 0x2000) >> 14);
      w[o + 1] = w1 + ((Math.imul(s1, fault) + 0x2000) >> 14);
      w[o + 2] = w2 + ((Math.imul(s2, fault) + 0x2000) >> 14);
      w[o + 3] = w3 + ((Math.imul(s3, fault) + 0x2000) >> 14);
      // an entry has its probability above, and how many bits it has seen below, up to 7
      let v = e0 >> 3, c = e0 & 7;
      table[i0] = ((v + ((Math.imul(aim - v, rates[c]!) + 0x8000) >> 16)) << 3) | (c < 7 ? c + 1 : c);
      v = e1 >> 3, c = e1 & 7;
      table[i1] = ((v + ((Math.imul(aim - v, rates[c]!) + 0x8000) >> 16)) << 3) | (c < 7 ? c + 1 : c);
      v = e2 >> 3, c = e2 & 7;
      table[i2] = ((v + ((Math.imul(aim - v, rates[c]!) + 0x8000) >> 16)) << 3) | (c < 7 ? c + 1 : c);
      v = e3 >> 3, c = e3 & 7;
      table[i3] = ((v + ((Math.imul(aim - v, rates[c]!) + 0x8000) >> 16)) << 3) | (c < 7 ? c + 1 : c);
      if (trust >= 0) {
        w[o + 4]! += (Math.imul(s4, fault) + 0x2000) >> 14;
        trusts[trust]! += ((-y & 0xffff) - trusts[trust]!) >> 6;
      }
      node = (node << 1) | y;
    }
    s[RANGE] = range;
    s[CODE] = code;
    return node;
  };
  const number = (n: number, set: number, prefix: number): number => {
    let v = 0;
    while (n > 0) {
      const step = ((n - 1) & 3) + 1;
      below(prefix);
      const node = bits(1, step, set, -1);
      v = (v << step) | (node - (1 << step));
      n -= step;
      prefix = mix(prefix, node);
      set += 16;
    }
    return v;
  };
  const contextsOf = (kind: number, c0: number, c1: number, c2: number, c3: number): void => {
    s[H] = mix(c0, kind);
    s[H + 1] = mix(c1, kind);
    s[H + 2] = mix(c2, kind);
    s[H + 3] = mix(c3, kind);
  };

  let out = new Uint8Array(length + 16);
  let to = 0;
  const last = new Int32Array(10);
  const before = new Int32Array(10);
  const isRight = (kind: number, set: number, k: number, which: number): boolean => {
    const right = guessesRight[k]!;
    below((guesses[k]! | (1 << 31)) ^ which);
    return (bits(1, 1, set + FLAG_SET + right - 1, FIRST_TRUST + kind * (MOST_RIGHT + 1) + right) & 1) === 1;
  };
  const learn = (k: number, value: number): void => {
    const right = guessesRight[k]!;
    if (guesses[k] === value) guessesRight[k] = Math.min(right + 1, MOST_RIGHT);
    else if (right > 3) guessesRight[k] = 1;
    else {
      guesses[k] = value;
      guessesRight[k] = 0;
    }
  };
  // leb reads a number into the output, and gives its last 32 bits. The guess is of it, or of what it is less than.
  const leb = (kind: number, signed: boolean, c0: number, c1: number, c2: number, c3: number, from = 0): number => {
    contextsOf(kind, c0, c1, c2, c3);
    const set = FIRST_SET + kind * 128;
    const k0 = (kind << GUESS_BITS) | (s[H + 1]! >>> (32 - GUESS_BITS));
    const k1 = ((CLASSES + kind) << GUESS_BITS) | (s[H]! >>> (32 - GUESS_BITS));
    const n = GUESSES[kind]!;
    let value = guesses[k0]!;
    let told = n > 0 && isRight(kind, set, k0, 0);
    if (!told && n > 1 && guesses[k1] !== value) {
      value = guesses[k1]!;
      told = isRight(kind, set, k1, 1 << 30);
    }
    if (!told) value = spelled(set, signed, from, kind === LABEL);
    else if (signed) putSigned(value);
    else put(kind === LABEL ? from - value : value >>> 0);
    if (n > 0) learn(k0, value);
    if (n > 1) learn(k1, value);
    return value;
  };
  // spelled reads a number by its bytes.
  const spelled = (set: number, signed: boolean, from: number, less: boolean): number => {
    below(0);
    let n = 1;
    while (n < 10 && bits(n, 1, set, -1) & 1) n++;
    let prefix = n;
    let value = 0;
    for (let i = n - 1; i >= 0; i--) {
      const v = number(7, set + 16 + 32 * Math.min(n - 1 - i, 2), prefix);
      prefix = mix(prefix, v);
      if (i === n - 1 && signed && v & 0x40) value = -1;
      value = (value << 7) | v;
      out[to + i] = i < n - 1 ? v | 0x80 : v;
    }
    to += n;
    return less ? (from - value) | 0 : value;
  };
  const note = (kind: number, value: number): void => {
    before[kind] = last[kind]!;
    last[kind] = value;
  };
  const byte = (c0: number, c1: number, c2: number, c3: number): number => {
    contextsOf(BYTE, c0, c1, c2, c3);
    return (out[to++] = number(8, FIRST_SET + BYTE * 128, 0));
  };
  const put = (n: number): void => {
    for (; n > 127; n = Math.floor(n / 128)) out[to++] = (n & 127) | 128;
    out[to++] = n;
  };
  const putSigned = (n: number): void => {
    for (; n > 63 || n < -64; n >>= 7) out[to++] = (n & 127) | 128;
    out[to++] = n & 127;
  };

  let history = new Uint8Array(1 << 21);
  let known = 0;
  const places = new Int32Array(1 << MATCH_BITS);
  let match = 0, long = 0;
  let r0 = 0, r1 = 0, r2 = 0, r3 = 0, r4 = 0, r5 = 0; // the symbols before
  const symbol = (): number => {
    let h = mix(mix(1, r0), r1);
    s[H] = mix(0, r0);
    s[H + 1] = h;
    s[H + 2] = h = mix(h, r2);
    h = mix(h, r3);
    s[H + 3] = mix(mix(3, r0), r2);
    const found = mix(mix(h, r4), r5) >>> (32 - MATCH_BITS);
    if (long === 0) {
      const place = (match = places[found]!);
      while (long < MATCH_MOST && long < place && history[place - 1 - long] === history[known - 1 - long]) long++;
      if (long < MATCH_LEAST) long = 0;
    }
    places[found] = known;
    const short = h >>> (32 - SHORT_BITS);
    const right = shortsRight[short]!;
    const told = long > 0 ? history[match]! : shorts[short]!;
    const trust = long > 0 ? MATCH_TRUST + long : Math.min(right, MATCH_TRUST - 1);
    let x = told;
    below(told | 0x100);
    if (!(bits(1, 1, FLAG_OF_SYMBOL + trust - 1, trust) & 1)) {
      below(0);
      const high = bits(1, 4, 0, -1);
      below(high);
      x = ((high << 4) | (bits(1, 4, high << 4, -1) & 15)) & 255;
    }
    if (shorts[short] === x) shortsRight[short] = Math.min(right + 1, MOST_RIGHT);
    else if (right > 3) shortsRight[short] = 1;
    else {
      shorts[short] = x;
      shortsRight[short] = 0;
    }
    if (long > 0) {
      match++;
      long = x === told ? Math.min(long + 1, MATCH_MOST) : 0;
    }
    if (known === history.length) {
      const wider = new Uint8Array(2 * known);
      wider.set(history);
      history = wider;
    }
    history[known++] = x;
    r5 = r4;
    r4 = r3;
    r3 = r2;
    r2 = r1;
    r1 = r0;
    r0 = x;
    return x;
  };

  let depth = 0, counter = 0, inSymbol = 0, fn = 0;
  const operand = (op: number, kind: number): void => {
    const site = mix(r0, inSymbol++);
    const near = mix(site, r1);
    const far = mix(mix(near, r2), r3);
    switch (kind) {
      case VARIABLE:
        note(INDEX, leb(INDEX, false, site, near, far, mix(mix(op, last[INDEX]!), before[INDEX]!)));
        return;
      case TARGET: {
        const before = last[LABEL]!;
        note(LABEL, leb(LABEL, false, depth, mix(depth, near), before - depth, mix(depth, op), depth));
        return;
      }
      case TARGETS: {
        const n = leb(COUNT, false, site, depth, 1, 1) + 1;
        note(COUNT, n - 1);
        let v = 0;
        last[TABLE] = before[TABLE] = 0;
        for (let i = 0; i < n; i++) {
          if (to > length) throw new Error("it is damaged");
          const where = i === 0 ? 0 : i === n - 1 ? 2 : 1;
          const was = last[TABLE]!;
          const c1 = mix(was, where), c2 = mix(mix(was, before[TABLE]!), where), c3 = mix(v, where);
          s[H] = where;
          s[H + 1] = c1;
          s[H + 2] = c2;
          s[H + 3] = c3;
          let d = number(2, FIRST_SET + TABLE * 128 + STEP_SET, 0);
          if (d === 3) {
            const here = to;
            d = leb(TABLE, true, where, c1, c2, c3);
            to = here;
          }
          note(TABLE, d);
          put((v += d));
        }
        return;
      }
      case FUNCTION:
        note(CALL, leb(CALL, false, near, far, last[CALL]!, mix(last[CALL]!, before[CALL]!)));
        return;
      case INDIRECT:
        note(COUNT, leb(COUNT, false, site, near, 0, op));
        out[to++] = 0;
        return;
      case ACCESS: {
        const l = last[OFFSET]!;
        out[to++] = align[op]!;
        note(OFFSET, leb(OFFSET, false, site, far, mix(site, l), mix(mix(op, l), before[OFFSET]!)));
        return;
      }
      case VALUE:
        note(CONSTANT, leb(CONSTANT, true, site, near, far, mix(mix(op, last[CONSTANT]!), last[OFFSET]!)));
        return;
      case TYPE:
        byte(site, near, far, op);
        return;
      case PREFIXED: {
        const sub = byte(site, near, far, op);
        for (let n = sub === 10 ? 2 : sub === 11 ? 1 : 0; n > 0; n--) out[to++] = 0;
        return;
      }
      case FLOAT:
      case DOUBLE: {
        let was = 0;
        for (let i = 0; i < (kind === FLOAT ? 4 : 8); i++) was = byte(mix(op, i), mix(mix(op, i), was), site, was);
        return;
      }
      case ANY_PLACE: {
        const here = to;
        const d = leb(PLACE, true, site, mix(site, last[PLACE]!), near, far);
        to = here;
        note(PLACE, d);
        counterAt(counter + d);
      }
    }
  };
  // counterAt writes the counter of a place in this function, a constant of 64 bits.
  const counterAt = (place: number): void => {
    counter = place;
    let v = (fn + 4096) * 65536 + place;
    for (; v > 63; v = Math.floor(v / 128)) out[to++] = (v & 127) | 128;
    out[to++] = v;
  };
  const expand = (x: number): void => {
    if (kinds[x] === 2) {
      expand(firsts[x]!);
      expand(seconds[x]!);
      return;
    }
    const op = ops[x]!;
    const kind = behind[op]!;
    out[to++] = kind === ANY_PLACE || kind === NEXT_PLACE ? 0x42 : op;
    if (kinds[x] === 0) {
      out.set(fixed[x]!, to);
      to += fixed[x]!.length;
    } else if (kind === NEXT_PLACE) {
      counterAt(counter + 1);
    } else if (kind === MEMORY) {
      out[to++] = 0;
    } else if (kind !== NOTHING) {
      operand(op, kind);
    }
    if (op >= 2 && op <= 4) depth++;
    else if (op === 0x0b) depth--;
  };

  put(total);
  let rested = performance.now();
  for (fn = 0; fn < total; fn++) {
    const at = (line.at = s[AT]!);
    // what was damaged on its way gives anything, but ends
    if (to > length || at > behindAll + 8) throw new Error("it is damaged");
    // pings are answered between two functions, or the page would take a slow processor for a dead worker
    if (performance.now() - rested > 200) {
      await new Promise((rest) => setTimeout(rest));
      rested = performance.now();
    }
    if (line.end - at < MOST_OF_FUNCTION) {
      await line.want(MOST_OF_FUNCTION);
      bytes = line.bytes;
    }
    const start = to;
    to += 3; // for the length, which is known at the end
    if (to + (1 << 20) > out.length && out.length < length + (1 << 20)) {
      const wider = new Uint8Array(length + (2 << 20));
      wider.set(out.subarray(0, to));
      out = wider;
    }
    // the variables that it declares: groups, and of each a number and a type
    let was = 0, groups = -1, first = 0;
    for (let i = 0; groups < 0 || i <= 2 * groups; i++) {
      const place = Math.min(i, 9);
      was = byte(place, mix(place, was), mix(was, i === 0 ? 0 : first), last[BYTE]!);
      if (groups < 0) groups = first = was;
    }
    last[BYTE] = first;
    depth = 1;
    counter = 0;
    while (depth > 0 && to <= length) {
      const x = symbol();
      inSymbol = 0;
      expand(x);
    }
    const size = to - start - 3;
    const width = size < 128 ? 1 : size < 16384 ? 2 : 3;
    out.copyWithin(start + width, start + 3, to);
    to = start;
    put(size);
    to += size;
  }
  line.at = behindAll;
  if (to !== length) throw new Error(`the code has ${to} bytes and not ${length}`);
  return out.subarray(0, length);
}

// Plain reads values out of the other sections.
class Plain {
  at = 0;
  constructor(readonly bytes: Uint8Array) {}
  byte = (): number => this.bytes[this.at++] ?? 0;
  uint(): number {
    let v = 0, scale = 1, x;
    do {
      x = this.byte();
      v += (x & 127) * scale;
      scale *= 128;
    } while (x > 127);
    return v;
  }
  take(n: number): Uint8Array {
    this.at += n;
    return this.bytes.subarray(this.at - n, this.at);
  }
}

function lebOf(n: number): number[] {
  const list = [];
  for (; n > 127; n = Math.floor(n / 128)) list.push((n & 127) | 128);
  return [...list, n];
}

function signedLebOf(n: number): number[] {
  const list = [];
  for (; n > 63; n >>= 7) list.push((n & 127) | 128);
  return [...list, n];
}

// sections are those before the code, with the table of functions as it was.
function sections(r: Plain): Uint8Array[] {
  const parts = [];
  for (let n = r.uint(); n > 0; n--) {
    const kind = r.byte();
    const body = new Plain(r.take(r.uint()));
    let text: Uint8Array = body.bytes;
    if (kind > 127) {
      const list = [...body.take(body.uint())];
      const first = body.uint();
      for (let i = 0, n = body.uint(); i < n; i++) list.push(...lebOf(first + i));
      text = Uint8Array.from(list);
    }
    parts.push(Uint8Array.from([kind & 127, ...lebOf(text.length)]), text);
  }
  return parts;
}

const FIELDS = 11;
const OWN_TABLES = 5;
const OWN_DATA = 10;

// data puts the columns of the tables of functions back among the bytes of memory (web/wire/data.go).
function data(r: Plain): Uint8Array[] {
  const places: [number, number][] = [];
  for (let n = r.uint(); n > 0; n--) places.push([r.uint(), r.uint()]);
  const records = r.uint(), count = r.uint(), finder = r.uint(), regular = r.uint();
  const heads = Array.from({ length: FIELDS + OWN_TABLES + OWN_DATA + 1 }, () => [r.byte(), r.uint()] as const);
  const columns = heads.map(([way, n]) => {
    const text = r.take(4 * n);
    const words = new Uint32Array(n);
    const step = way === 0 ? 1 : n;
    for (let i = 0, last = 0; i < n; i++) {
      const k = way === 0 ? 4 * i : i;
      let v = text[k]! | (text[k + step]! << 8) | (text[k + 2 * step]! << 16) | (text[k + 3 * step]! << 24);
      if (way === 2) v = last = (last + ((v >>> 1) ^ -(v & 1))) | 0;
      words[i] = v;
    }
    return words;
  });
  const memory = new Uint8Array(places.reduce((top, [at, n]) => Math.max(top, at + n), 0));
  for (const [at, n] of places) memory.set(r.take(n), at);
  const view = new DataView(memory.buffer);
  const next = new Uint32Array(columns.length);
  const put = (column: number, at: number): void => view.setUint32(at, columns[column]![next[column]!++]!, true);
  for (let i = 0; i < count; i++) {
    put(columns.length - 1, records + 8 * i + 4);
    let at = records + view.getUint32(records + 8 * i + 4, true);
    const tables = at + 28, kinds = at + 43;
    for (let k = 0; k < FIELDS; k++, at += 4) put(k, at);
    const own = view.getUint32(tables, true);
    for (let k = 0; k < own; k++, at += 4) put(FIELDS + Math.min(k, OWN_TABLES - 1), at);
    const more = memory[kinds]!;
    for (let k = 0; k < more; k++, at += 4) put(FIELDS + OWN_TABLES + Math.min(k, OWN_DATA - 1), at);
  }
  for (let i = 48; i < regular; i++) view.setUint32(finder + 20 * i, i >> 4, true);
  const parts = [Uint8Array.from(lebOf(places.length))];
  for (const [at, n] of places) {
    const head = [0, 0x41, ...signedLebOf(at), 0x0b, ...lebOf(n)];
    parts.push(Uint8Array.from(head), memory.subarray(at, at + n));
  }
  const length = parts.reduce((n, p) => n + p.length, 0);
  return [Uint8Array.from([11, ...lebOf(length)]), ...parts];
}

// isPacked says whether bytes begin as a packed engine does.
export const isPacked = (b: Uint8Array): boolean => b[0] === 0x72 && b[1] === 0x77 && b[2] === 0x70 && b[3] === 1;

// unpack reads an engine as it comes.
export async function unpack(line: Line): Promise<Uint8Array<ArrayBuffer>> {
  await line.want(MOST_OF_FUNCTION);
  if (!isPacked(line.bytes)) throw new Error("it is no packed engine");
  line.at = 4;
  const length = line.uint(), codeLength = line.uint(), packed = line.uint(), rest = line.uint();
  const code = await functions(line, codeLength, packed);
  await line.want(Infinity);
  const r = new Plain(unlzma(line.bytes.subarray(line.at, line.end), rest));
  const parts = [Uint8Array.from([0, 97, 115, 109, 1, 0, 0, 0]), ...sections(r)];
  parts.push(Uint8Array.from([10, ...lebOf(codeLength)]), code, ...data(r));
  const out = new Uint8Array(length);
  let at = 0;
  for (const part of parts) {
    out.set(part, at);
    at += part.length;
  }
  if (at !== length) throw new Error(`it has ${at} bytes and not ${length}`);
  return out;
}

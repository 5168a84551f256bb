// LZMA, read whole. The stream begins with the 13 bytes of a .lzma file: properties, size of the dictionary, length.
//
// Source: I. Pavlov, LZMA specification (2015); the names of the probabilities are those there.
export function unlzma(bytes: Uint8Array, length: number): Uint8Array {
  const properties = bytes[0]!;
  const lc = properties % 9, lp = Math.floor(properties / 9) % 5, pb = Math.floor(properties / 45);
  const lpMask = (1 << lp) - 1, pbMask = (1 << pb) - 1;
  const IS_MATCH = 0, IS_REP = 192, IS_REP_G0 = 204, IS_REP_G1 = 216, IS_REP_G2 = 228, IS_REP0_LONG = 240;
  const POS_SLOT = 432, POS_DECODERS = 688, ALIGN = 802, LENGTH = 818, REP_LENGTH = 1332, LITERAL = 1846;
  const probs = new Uint16Array(LITERAL + (768 << (lc + lp))).fill(1024);
  const out = new Uint8Array(length);
  let at = 18, range = -1 >>> 0, code = 0;
  for (let i = 14; i < 18; i++) code = ((code << 8) | bytes[i]!) >>> 0;
  const normalize = (): void => {
    if (range < 16777216) {
      range *= 256;
      code = ((code << 8) | bytes[at++]!) >>> 0;
    }
  };
  const bit = (k: number): number => {
    const p = probs[k]!;
    const bound = (range >>> 11) * p;
    let y = 0;
    if (code < bound) {
      range = bound;
      probs[k] = p + ((2048 - p) >> 5);
    } else {
      range -= bound;
      code -= bound;
      probs[k] = p - (p >> 5);
      y = 1;
    }
    normalize();
    return y;
  };
  const tree = (k: number, n: number): number => {
    let m = 1;
    for (let i = 0; i < n; i++) m = (m << 1) | bit(k + m);
    return m - (1 << n);
  };
  const reverse = (k: number, n: number): number => {
    let m = 1, v = 0;
    for (let i = 0; i < n; i++) {
      const y = bit(k + m);
      m = (m << 1) | y;
      v |= y << i;
    }
    return v;
  };
  const lengthOf = (k: number, ps: number): number => {
    if (!bit(k)) return tree(k + 2 + ps * 8, 3);
    return bit(k + 1) ? 16 + tree(k + 258, 8) : 8 + tree(k + 130 + ps * 8, 3);
  };
  // distance reads how far back a match lies, less one.
  const distance = (n: number): number => {
    const slot = tree(POS_SLOT + (Math.min(n, 3) << 6), 6);
    if (slot < 4) return slot;
    const bits = (slot >> 1) - 1;
    const d = (2 | (slot & 1)) * 2 ** bits;
    if (slot < 14) return d + reverse(POS_DECODERS + d - slot, bits);
    let x = 0;
    for (let i = bits - 4; i > 0; i--) {
      range >>>= 1;
      const y = code >= range ? 1 : 0;
      if (y) code -= range;
      x = (x << 1) | y;
      normalize();
    }
    return d + x * 16 + reverse(ALIGN, 4);
  };
  let w = 0, state = 0, rep0 = 0, rep1 = 0, rep2 = 0, rep3 = 0;
  while (w < length) {
    const ps = w & pbMask;
    if (!bit(IS_MATCH + (state << 4) + ps)) {
      const k = LITERAL + 768 * (((w & lpMask) << lc) + ((w ? out[w - 1]! : 0) >> (8 - lc)));
      let m = 1;
      if (state > 6) {
        let matched = out[w - rep0 - 1]!;
        do {
          const x = (matched >> 7) & 1;
          matched <<= 1;
          const y = bit(k + ((1 + x) << 8) + m);
          m = (m << 1) | y;
          if (x !== y) break;
        } while (m < 256);
      }
      while (m < 256) m = (m << 1) | bit(k + m);
      out[w++] = m;
      state = state < 4 ? 0 : state < 10 ? state - 3 : state - 6;
      continue;
    }
    let n;
    if (bit(IS_REP + state)) {
      if (!bit(IS_REP_G0 + state)) {
        if (!bit(IS_REP0_LONG + (state << 4) + ps)) {
          state = state < 7 ? 9 : 11;
          out[w] = out[w - rep0 - 1]!;
          w++;
          continue;
        }
      } else {
        let d = rep1;
        if (bit(IS_REP_G1 + state)) {
          d = rep2;
          if (bit(IS_REP_G2 + state)) {
            d = rep3;
            rep3 = rep2;
          }
          rep2 = rep1;
        }
        rep1 = rep0;
        rep0 = d;
      }
      n = lengthOf(REP_LENGTH, ps);
      state = state < 7 ? 8 : 11;
    } else {
      rep3 = rep2;
      rep2 = rep1;
      rep1 = rep0;
      n = lengthOf(LENGTH, ps);
      state = state < 7 ? 7 : 10;
      rep0 = distance(n);
    }
    if (rep0 >= w) throw new Error("it refers to what was before its begin");
    for (n += 2; n > 0 && w < length; n--, w++) out[w] = out[w - rep0 - 1]!;
  }
  return out;
}

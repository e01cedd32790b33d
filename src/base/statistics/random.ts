/**
 * Seeded random numbers for every simulated figure, so that the same inputs give the same results to the last byte. Only 32-bit integer arithmetic, `Math.sqrt`, `Math.log` and `Math.exp` are used.
 *
 * @see D. Blackman, S. Vigna, "Scrambled linear pseudorandom number generators", ACM TOMS 47 (2021),
 *   generator xoshiro128**, period 2^128 − 1. It is seeded, as its authors advise, by another kind of
 *   generator: SplitMix, G. Steele et al., OOPSLA 2014, here with the 32-bit finaliser of MurmurHash3.
 * @see G. Marsaglia, W. W. Tsang, "The ziggurat method for generating random variables", J. Stat. Softw. 5 (2000) 8,
 *   in the form of J. A. Doornik, "An improved ziggurat method to generate normal random samples" (2005): the layer
 *   and the place within it come from different bits. The two constants are Doornik's, for 128 layers.
 */
export interface RandomGenerator {
  /** The next integer, uniform on 0 … 2^32 − 1. */
  nextUint32(): number;
  /** The next number, uniform on [0, 1), a multiple of 2^-53. */
  nextUniform(): number;
  /** The next standard normal deviate (mean 0, variance 1). */
  nextNormal(): number;
  /** Writes the next deviates, in the same order, to indices `from` … `to` − 1. */
  fillNormals(out: Float64Array, from: number, to: number): void;
}

/**
 * A generator that starts from a 32-bit seed.
 *
 * @param seed An integer; taken modulo 2^32.
 * @throws {RangeError} when the seed is not an integer.
 */
export function createGenerator(seed: number): RandomGenerator {
  if (!Number.isInteger(seed)) throw new RangeError(`a seed is an integer, not ${seed}`);
  let weyl = seed >>> 0;
  const splitMix = (): number => {
    weyl = (weyl + 0x9e3779b9) >>> 0;
    let z = weyl;
    z = Math.imul(z ^ (z >>> 16), 0x85ebca6b);
    z = Math.imul(z ^ (z >>> 13), 0xc2b2ae35);
    return (z ^ (z >>> 16)) >>> 0;
  };
  // SplitMix visits each value once, so at most one of four successive words is zero.
  return xoshiro128(splitMix(), splitMix(), splitMix(), splitMix());
}

/** xoshiro128** from a state of four 32-bit words, not all zero. */
export const xoshiro128 = (w0: number, w1: number, w2: number, w3: number): RandomGenerator =>
  new Xoshiro128(w0, w1, w2, w3);

class Xoshiro128 implements RandomGenerator {
  private a: number;
  private b: number;
  private c: number;
  private d: number;

  constructor(w0: number, w1: number, w2: number, w3: number) {
    this.a = w0 | 0;
    this.b = w1 | 0;
    this.c = w2 | 0;
    this.d = w3 | 0;
    if ((this.a | this.b | this.c | this.d) === 0)
      throw new RangeError('xoshiro128 cannot leave the all-zero state');
  }

  nextUint32(): number {
    const times5 = Math.imul(this.b, 5);
    const result = Math.imul((times5 << 7) | (times5 >>> 25), 9);
    const t = this.b << 9;
    this.c ^= this.a;
    this.d ^= this.b;
    this.b ^= this.c;
    this.a ^= this.d;
    this.c ^= t;
    this.d = (this.d << 11) | (this.d >>> 21);
    return result >>> 0;
  }

  nextUniform(): number {
    const high = this.nextUint32() >>> 5; // 27 bits
    const low = this.nextUint32() >>> 6; // 26 bits
    return (high * 67108864 + low) / 9007199254740992;
  }

  nextNormal(): number {
    const one = new Float64Array(1);
    this.fillNormals(one, 0, 1);
    return one[0]!;
  }

  /** The state is in local variables and `nextUint32` is inlined: 6 ns per deviate, with calls 8 to 15 ns. */
  fillNormals(out: Float64Array, from: number, to: number): void {
    const { inner, edge } = LAYERS;
    let { a, b, c, d } = this;
    for (let i = from; i < to; i++) {
      let times5 = Math.imul(b, 5);
      const high = Math.imul((times5 << 7) | (times5 >>> 25), 9);
      let t = b << 9;
      c ^= a;
      d ^= b;
      b ^= c;
      a ^= d;
      c ^= t;
      d = (d << 11) | (d >>> 21);
      times5 = Math.imul(b, 5);
      const low = Math.imul((times5 << 7) | (times5 >>> 25), 9);
      t = b << 9;
      c ^= a;
      d ^= b;
      b ^= c;
      a ^= d;
      c ^= t;
      d = (d << 11) | (d >>> 21);
      const place = 2 * (((high >>> 5) * 67108864 + (low >>> 6)) / 9007199254740992) - 1; // 53 of the 64 bits
      const layer = ((high & 1) << 6) | (low & 63); // and seven of the other eleven
      if (Math.abs(place) < inner[layer]!) {
        // Nearly always: in the part of the layer that is completely below the curve.
        out[i] = place * edge[layer]!;
        continue;
      }
      this.a = a;
      this.b = b;
      this.c = c;
      this.d = d;
      out[i] = this.atTheEdge(place, layer);
      ({ a, b, c, d } = this);
    }
    this.a = a;
    this.b = b;
    this.c = c;
    this.d = d;
  }

  /** A place in the part of a layer that the curve cuts. */
  private atTheEdge(place: number, layer: number): number {
    const { edge } = LAYERS;
    if (layer === 0) return place < 0 ? -this.tail() : this.tail();
    const x = place * edge[layer]!;
    const lower = Math.exp(-0.5 * (edge[layer]! ** 2 - x * x));
    const upper = Math.exp(-0.5 * (edge[layer + 1]! ** 2 - x * x));
    return upper + this.nextUniform() * (lower - upper) < 1 ? x : this.nextNormal();
  }

  /** A deviate beyond the lowest layer. */
  private tail(): number {
    for (;;) {
      const x = Math.log(1 - this.nextUniform()) / TAIL_FROM;
      const y = Math.log(1 - this.nextUniform());
      if (-2 * y >= x * x) return TAIL_FROM - x;
    }
  }
}

const TAIL_FROM = 3.442619855899;
const LAYER_AREA = 9.91256303526217e-3;
const LAYER_COUNT = 128;

/** Right edges of layers of equal area under exp(−x²/2), from the lowest up, and the share of each that is completely below the curve. */
const LAYERS = ((): { edge: Float64Array; inner: Float64Array } => {
  const edge = new Float64Array(LAYER_COUNT + 1);
  edge[0] = LAYER_AREA / Math.exp(-0.5 * TAIL_FROM ** 2);
  edge[1] = TAIL_FROM;
  for (let k = 2; k < LAYER_COUNT; k++) {
    const below = edge[k - 1]!;
    edge[k] = Math.sqrt(-2 * Math.log(LAYER_AREA / below + Math.exp(-0.5 * below ** 2)));
  }
  return { edge, inner: Float64Array.from({ length: LAYER_COUNT }, (_, k) => edge[k + 1]! / edge[k]!) };
})();

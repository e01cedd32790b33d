/**
 * The seeded random numbers behind every simulated figure, so that the same inputs give the same
 * results to the last byte. Only 32-bit integer arithmetic, `Math.sqrt`, `Math.log` and `Math.exp` are used.
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
export function xoshiro128(w0: number, w1: number, w2: number, w3: number): RandomGenerator {
  let a = w0 | 0;
  let b = w1 | 0;
  let c = w2 | 0;
  let d = w3 | 0;
  if ((a | b | c | d) === 0) throw new RangeError('xoshiro128 cannot leave the all-zero state');

  function nextUint32(): number {
    const times5 = Math.imul(b, 5);
    const result = Math.imul((times5 << 7) | (times5 >>> 25), 9);
    const t = b << 9;
    c ^= a;
    d ^= b;
    b ^= c;
    a ^= d;
    c ^= t;
    d = (d << 11) | (d >>> 21);
    return result >>> 0;
  }

  function nextUniform(): number {
    const high = nextUint32() >>> 5; // 27 bits
    const low = nextUint32() >>> 6; // 26 bits
    return (high * 67108864 + low) / 9007199254740992;
  }

  function nextNormal(): number {
    for (;;) {
      const high = nextUint32();
      const low = nextUint32();
      const place = 2 * (((high >>> 5) * 67108864 + (low >>> 6)) / 9007199254740992) - 1; // 53 of the 64 bits
      const layer = ((high & 1) << 6) | (low & 63); // and seven of the other eleven
      // Nearly always: within the part of the layer that lies below the curve whole.
      if (Math.abs(place) < LAYERS.inner[layer]!) return place * LAYERS.edge[layer]!;
      if (layer === 0) return place < 0 ? -tail() : tail();
      const x = place * LAYERS.edge[layer]!;
      const lower = Math.exp(-0.5 * (LAYERS.edge[layer]! ** 2 - x * x));
      const upper = Math.exp(-0.5 * (LAYERS.edge[layer + 1]! ** 2 - x * x));
      if (upper + nextUniform() * (lower - upper) < 1) return x;
    }
  }

  /** Beyond the lowest layer. */
  function tail(): number {
    for (;;) {
      const x = Math.log(1 - nextUniform()) / TAIL_FROM;
      const y = Math.log(1 - nextUniform());
      if (-2 * y >= x * x) return TAIL_FROM - x;
    }
  }

  return { nextUint32, nextUniform, nextNormal };
}

const TAIL_FROM = 3.442619855899;
const LAYER_AREA = 9.91256303526217e-3;
const LAYER_COUNT = 128;

/** Right edges of layers of equal area under exp(−x²/2), from the lowest up, and the share of each below the curve whole. */
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

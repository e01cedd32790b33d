/**
 * The seeded random numbers behind every simulated figure, so that the same inputs give the same
 * results to the last byte. Only 32-bit integer arithmetic, `Math.sqrt` and `Math.log` are used.
 *
 * @see D. Blackman, S. Vigna, "Scrambled linear pseudorandom number generators", ACM TOMS 47 (2021),
 *   generator xoshiro128**, period 2^128 − 1. It is seeded, as its authors advise, by another kind of
 *   generator: SplitMix, G. Steele et al., OOPSLA 2014, here with the 32-bit finaliser of MurmurHash3.
 * @see G. Marsaglia, T. A. Bray, SIAM Review 6 (1964) 260, polar method for normal deviates.
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
  let spare = 0;
  let hasSpare = false;

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
    if (hasSpare) {
      hasSpare = false;
      return spare;
    }
    for (;;) {
      const u = 2 * nextUniform() - 1;
      const v = 2 * nextUniform() - 1;
      const s = u * u + v * v;
      if (s >= 1 || s === 0) continue;
      const factor = Math.sqrt((-2 * Math.log(s)) / s);
      spare = v * factor;
      hasSpare = true;
      return u * factor;
    }
  }

  return { nextUint32, nextUniform, nextNormal };
}

import type { ProfileFunctional } from './profile-sample.js';

/**
 * Reads a functional T of rows of n numbers that stand one after the other in an array, and of sums of such rows. All
 * rows go through `prepare` first.
 */
export interface RowReader {
  prepare(rows: Float64Array): Float64Array;
  of(rows: Float64Array, at: number): number;
  /** T(factor·s + t·e). */
  ofSum(factor: number, s: Float64Array, sAt: number, t: number, e: Float64Array, eAt: number): number;
  /** T(factor·s + l + t·r); l and r stand at the same place. */
  ofParts(
    factor: number,
    s: Float64Array,
    sAt: number,
    l: Float64Array,
    t: number,
    r: Float64Array,
    at: number,
  ): number;
}

/**
 * The readers are classes, not closures: of a function that is made anew for each characteristic the engine would throw
 * its machine code away each time that another one comes along, which took a quarter of all time.
 *
 * @param n Length of a row.
 */
export const rowReader = (T: ProfileFunctional, n: number): RowReader =>
  T.takeOut === undefined ? new PlainReader(T, n) : new RangeReader(T.takeOut, n);

/** T of each row, shape (count). */
export const valuesOf = (reader: RowReader, rows: Float64Array, count: number): Float64Array =>
  Float64Array.from({ length: count }, (_, b) => reader.of(rows, (b * rows.length) / count));

/** Greatest less least of n numbers from `at` on. */
export function rangeOf(values: Float64Array, at: number, n: number): number {
  let most = -Infinity;
  let least = Infinity;
  for (let i = at; i < at + n; i++) {
    const v = values[i]!;
    if (v > most) most = v;
    if (v < least) least = v;
  }
  return most - least;
}

class PlainReader implements RowReader {
  private readonly trial: Float64Array;

  constructor(
    private readonly T: ProfileFunctional,
    private readonly n: number,
  ) {
    this.trial = new Float64Array(n);
  }

  prepare(rows: Float64Array): Float64Array {
    return rows;
  }

  of(rows: Float64Array, at: number): number {
    return this.T(rows.subarray(at, at + this.n));
  }

  ofSum(factor: number, s: Float64Array, sAt: number, t: number, e: Float64Array, eAt: number): number {
    const { n, trial } = this;
    for (let i = 0; i < n; i++) trial[i] = factor * s[sAt + i]! + t * e[eAt + i]!;
    return this.T(trial);
  }

  ofParts(
    factor: number,
    s: Float64Array,
    sAt: number,
    l: Float64Array,
    t: number,
    r: Float64Array,
    at: number,
  ): number {
    const { n, trial } = this;
    for (let i = 0; i < n; i++) trial[i] = factor * s[sAt + i]! + l[at + i]! + t * r[at + i]!;
    return this.T(trial);
  }
}

/**
 * Taking the reference out is linear, so it is done once for each row and not for each sum: what is left to do for a
 * sum is to find its greatest and its least.
 */
class RangeReader implements RowReader {
  constructor(
    private readonly takeOut: (profile: Float64Array) => void,
    private readonly n: number,
  ) {}

  prepare(rows: Float64Array): Float64Array {
    const { n } = this;
    const out = rows.slice();
    for (let at = 0; at < out.length; at += n) this.takeOut(out.subarray(at, at + n));
    return out;
  }

  of(rows: Float64Array, at: number): number {
    return rangeOf(rows, at, this.n);
  }

  ofSum(factor: number, s: Float64Array, sAt: number, t: number, e: Float64Array, eAt: number): number {
    const { n } = this;
    let most = -Infinity;
    let least = Infinity;
    for (let i = 0; i < n; i++) {
      const v = factor * s[sAt + i]! + t * e[eAt + i]!;
      if (v > most) most = v;
      if (v < least) least = v;
    }
    return most - least;
  }

  ofParts(
    factor: number,
    s: Float64Array,
    sAt: number,
    l: Float64Array,
    t: number,
    r: Float64Array,
    at: number,
  ): number {
    const { n } = this;
    let most = -Infinity;
    let least = Infinity;
    for (let i = 0; i < n; i++) {
      const v = factor * s[sAt + i]! + l[at + i]! + t * r[at + i]!;
      if (v > most) most = v;
      if (v < least) least = v;
    }
    return most - least;
  }
}

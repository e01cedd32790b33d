import type { ProfileFunctional } from './profile-sample.js';

/**
 * Reads a functional T of rows of n numbers that stand one after the other in an array, and of sums of such rows. All
 * rows go through `prepare` first.
 */
export interface RowReader {
  readonly prepare: (rows: Float64Array) => Float64Array;
  readonly of: (rows: Float64Array, at: number) => number;
  /** T(factor·s + t·e). */
  readonly ofSum: (
    factor: number,
    s: Float64Array,
    sAt: number,
    t: number,
    e: Float64Array,
    eAt: number,
  ) => number;
  /** T(factor·s + l + t·r); l and r stand at the same place. */
  readonly ofParts: (
    factor: number,
    s: Float64Array,
    sAt: number,
    l: Float64Array,
    t: number,
    r: Float64Array,
    at: number,
  ) => number;
}

/** @param n Length of a row. */
export const rowReader = (T: ProfileFunctional, n: number): RowReader =>
  T.takeOut === undefined ? plainReader(T, n) : rangeReader(T.takeOut, n);

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

function plainReader(T: ProfileFunctional, n: number): RowReader {
  const trial = new Float64Array(n);
  return {
    prepare: (rows) => rows,
    of: (rows, at) => T(rows.subarray(at, at + n)),
    ofSum: (factor, s, sAt, t, e, eAt) => {
      for (let i = 0; i < n; i++) trial[i] = factor * s[sAt + i]! + t * e[eAt + i]!;
      return T(trial);
    },
    ofParts: (factor, s, sAt, l, t, r, at) => {
      for (let i = 0; i < n; i++) trial[i] = factor * s[sAt + i]! + l[at + i]! + t * r[at + i]!;
      return T(trial);
    },
  };
}

/**
 * Taking the reference out is linear, so it is done once for each row and not for each sum: what is left to do for a
 * sum is to find its greatest and its least.
 */
function rangeReader(takeOut: (profile: Float64Array) => void, n: number): RowReader {
  return {
    prepare: (rows) => {
      const out = rows.slice();
      for (let at = 0; at < out.length; at += n) takeOut(out.subarray(at, at + n));
      return out;
    },
    of: (rows, at) => rangeOf(rows, at, n),
    ofSum: (factor, s, sAt, t, e, eAt) => {
      let most = -Infinity;
      let least = Infinity;
      for (let i = 0; i < n; i++) {
        const v = factor * s[sAt + i]! + t * e[eAt + i]!;
        if (v > most) most = v;
        if (v < least) least = v;
      }
      return most - least;
    },
    ofParts: (factor, s, sAt, l, t, r, at) => {
      let most = -Infinity;
      let least = Infinity;
      for (let i = 0; i < n; i++) {
        const v = factor * s[sAt + i]! + l[at + i]! + t * r[at + i]!;
        if (v > most) most = v;
        if (v < least) least = v;
      }
      return most - least;
    },
  };
}

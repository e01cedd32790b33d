import { copyRow, type ProfileFunctional } from './profile-sample.js';
import type { Memory } from './working-memory.js';

/**
 * Reads a functional T of rows of n numbers that stand one after the other in an array, and of sums of such rows. All
 * rows go through `prepare` first: where T is the range about a reference, taking that out is linear, so it is done once
 * for each row and not for each sum, and what is left to do for a sum is to find its greatest and its least.
 *
 * A class and not closures: of functions that are made anew for each characteristic the engine throws the machine code
 * away each time that another one comes along.
 */
export class RowReader {
  private readonly trial: Float64Array;
  private readonly takeOut: ProfileFunctional['takeOut'];

  /** @param n Length of a row. */
  constructor(
    private readonly T: ProfileFunctional,
    private readonly n: number,
  ) {
    this.trial = new Float64Array(n);
    this.takeOut = T.takeOut;
  }

  prepare(rows: Float64Array, memory: Memory): Float64Array {
    const { n, trial, takeOut } = this;
    if (takeOut === undefined) return rows;
    const out = memory.floats(rows.length);
    for (let at = 0; at < rows.length; at += n) {
      copyRow(rows, at, trial);
      takeOut(trial);
      out.set(trial, at);
    }
    return out;
  }

  of(rows: Float64Array, at: number): number {
    const { n, T, trial, takeOut } = this;
    if (takeOut !== undefined) return rangeOf(rows, at, n);
    copyRow(rows, at, trial);
    return T(trial);
  }

  /** T(factor·s + t·e). */
  ofSum(factor: number, s: Float64Array, sAt: number, t: number, e: Float64Array, eAt: number): number {
    const { n, trial } = this;
    for (let i = 0; i < n; i++) trial[i] = factor * s[sAt + i]! + t * e[eAt + i]!;
    return this.ofTrial();
  }

  /** T(factor·s + l + t·r); l and r stand at the same place. */
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
    return this.ofTrial();
  }

  private ofTrial(): number {
    const { n, T, trial, takeOut } = this;
    return takeOut === undefined ? T(trial) : rangeOf(trial, 0, n);
  }
}

/** T of each row, shape (count). */
export function valuesOf(reader: RowReader, rows: Float64Array, count: number, memory: Memory): Float64Array {
  const values = memory.floats(count);
  for (let b = 0; b < count; b++) values[b] = reader.of(rows, (b * rows.length) / count);
  return values;
}

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

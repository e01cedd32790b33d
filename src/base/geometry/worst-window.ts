/**
 * The worst window of a profile: of all stretches up to a given length, the one with the greatest range about its own line.
 * A window grows point by point, and its line turns a little with each point. The range about a line of another slope is
 * known and limits the range about its own line, so only windows that could be the worst are examined point by point.
 */

import { lineBasis } from './line.js';

/** A window's own line. */
export type WindowLine = 'least-squares' | 'end-points';

/** Windows over a row of positions. */
export interface WindowPlan {
  /** Positions, shape (n), m, strictly ascending. */
  readonly x: Float64Array;
  /** last[i]: index of the last point of the longest window that begins at point i. */
  readonly last: Int32Array;
}

export interface Window {
  readonly range: number;
  /** Indices of its first and last point. */
  readonly from: number;
  readonly to: number;
}

/**
 * @param reach Greatest length of a window, m, with a tolerance of 1e-9, so that 3 × 333.3 mm is within 999.9 mm.
 * @param fewest Points of a window.
 * @returns null: no window has as many points.
 */
export function planWindows(x: Float64Array, reach: number, fewest = 3): WindowPlan | null {
  const last = new Int32Array(x.length);
  let holds = false;
  for (let from = 0, to = 0; from < x.length; from++) {
    to = Math.max(to, from);
    while (to + 1 < x.length && x[to + 1]! - x[from]! <= reach * (1 + 1e-9)) to++;
    last[from] = to;
    holds ||= to >= from + fewest - 1;
  }
  return holds ? { x, last } : null;
}

/** For many profiles d, shape (n), over one plan. */
export interface WorstWindow {
  /** The range alone; fast for similar profiles. */
  readonly rangeOf: (d: Float64Array) => number;
  /** If ranges differ by at most `slack` (µm), the first window is taken. */
  readonly find: (d: Float64Array, slack: number) => Window;
}

/** @param line The line from which deviations in a window are measured. */
export function worstWindow(plan: WindowPlan, line: WindowLine): WorstWindow {
  const longest = longestWindows(plan, line);
  return {
    // The range of the longest windows is a bound that most other windows do not reach.
    rangeOf: (d) => search(plan, line, d, { ...NOTHING, range: longest(d) }, 0).range,
    find: (d, slack) => search(plan, line, d, NOTHING, slack),
  };
}

const NOTHING: Window = { range: -Infinity, from: 0, to: 0 };

/** @param mark A window, or NOTHING, whose range others must exceed by more than `slack`. */
function search(
  { x, last }: WindowPlan,
  line: WindowLine,
  d: Float64Array,
  mark: Window,
  slack: number,
): Window {
  let { range, from: at, to: end } = mark;
  for (let from = 0; from + 2 < x.length; from++) {
    const until = last[from]!;
    const x0 = x[from]!;
    const d0 = d[from]!;
    let sx = 0;
    let sd = 0;
    let sxx = 0;
    let sxd = 0;
    // Greatest and least of the window about a line of slope `turned`, which goes through its first point.
    let turned = 0;
    let most = 0;
    let least = 0;
    for (let i = from + 1; i <= until; i++) {
      const dx = x[i]! - x0;
      const dd = d[i]! - d0;
      sx += dx;
      sd += dd;
      sxx += dx * dx;
      sxd += dx * dd;
      const about = dd - turned * dx;
      if (about > most) most = about;
      if (about < least) least = about;
      if (i < from + 2) continue;
      const n = i - from + 1;
      const slope = line === 'least-squares' ? (n * sxd - sx * sd) / (n * sxx - sx * sx) : dd / dx;
      // The change of slope changes the range over dx by at most |slope − turned|·dx.
      if (most - least + Math.abs(slope - turned) * dx <= range + slack) continue;
      turned = slope;
      most = 0;
      least = 0;
      for (let p = from + 1; p <= i; p++) {
        const v = d[p]! - d0 - slope * (x[p]! - x0);
        if (v > most) most = v;
        if (v < least) least = v;
      }
      if (most - least <= range + slack) continue;
      range = most - least;
      at = from;
      end = i;
    }
  }
  return { range, from: at, to: end };
}

/** The worst of the longest windows from each station, for many profiles. */
function longestWindows({ x, last }: WindowPlan, line: WindowLine): (d: Float64Array) => number {
  const from: number[] = [];
  for (let i = 0; i < x.length; i++)
    if (last[i]! >= i + 2 && (i === 0 || last[i]! > last[i - 1]!)) from.push(i);
  const bases = from.map((i) => lineBasis(x.subarray(i, last[i]! + 1)));
  return (d) => {
    let worst = 0;
    for (let w = 0; w < from.length; w++) {
      const first = from[w]!;
      const end = last[first]!;
      const { mean, sxx } = bases[w]!;
      let slope = 0;
      if (line === 'end-points') slope = (d[end]! - d[first]!) / (x[end]! - x[first]!);
      else {
        for (let i = first; i <= end; i++) slope += (x[i]! - mean) * d[i]!;
        slope /= sxx;
      }
      let most = -Infinity;
      let least = Infinity;
      for (let i = first; i <= end; i++) {
        const v = d[i]! - slope * (x[i]! - mean);
        if (v > most) most = v;
        if (v < least) least = v;
      }
      if (most - least > worst) worst = most - least;
    }
    return worst;
  };
}

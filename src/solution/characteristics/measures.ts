/**
 * Functions from a profile to one number: a range about a line, a zone, the worst window, the greatest magnitude. Each also
 * returns which points determine the number, and its gradient, which the law of propagation of uncertainty (JCGM 100, 5.1.2)
 * needs.
 */
import type { ReferenceName } from '../../survey/job/job-schema.js';
import {
  endPointLine,
  leastSquaresLine,
  lineBasis,
  rangeAbout,
  type Line,
  type LineBasis,
} from '../../base/geometry/line.js';
import { lineZoneWidths, minimumZoneLine, type MinimumZone } from '../../base/geometry/minimum-zone-line.js';
import { zoneFinder } from '../../base/geometry/minimum-zone-plane.js';
import {
  leastSquaresPlane,
  normalFactor,
  planeBasis,
  type Plane,
  type PlanPoints,
} from '../../base/geometry/plane.js';
import {
  planWindows,
  worstWindow,
  type Window,
  type WindowPlan,
  type WorstWindow,
} from '../../base/geometry/worst-window.js';
import { mapped, type Errors } from '../verdict/errors.js';
import type { GreatestOf } from '../verdict/greatest.js';
import { greatestMagnitude } from '../verdict/greatest-magnitude.js';
import { greatestRange } from '../verdict/greatest-range.js';
import { greatestWindow } from '../verdict/greatest-window.js';
import { greatestWithin, worstPair } from '../verdict/greatest-within.js';
import {
  boundByPairs,
  excessesOfLine,
  greatestZone,
  upperOfTriples,
  upperOfTwoRails,
  withParts,
  type ZoneOf,
} from '../verdict/greatest-zone.js';

export interface Weighted {
  readonly index: number;
  readonly weight: number;
}

export interface Measured {
  readonly value: number;
  /** value = Σ weight·d near this profile. */
  readonly gradient: readonly Weighted[];
  /** Points that determine the value: greatest before least, or the ends of the worst window. */
  readonly at: readonly number[];
}

export interface Measure {
  readonly explain: (profile: Float64Array) => Measured;
  /** The measure as the greatest of linear functionals, for its interval. */
  readonly greatest: (profile: Float64Array, errors: Errors) => GreatestOf;
  /** The points that are measured, from the reference that is used; absent: the profile as it is. */
  readonly seen?: (profile: Float64Array) => readonly Seen[];
}

export interface Seen {
  readonly index: number;
  readonly value: number;
}

/** A profile from a line, µm. @param first Index of its first point in the whole profile. */
const seenFrom = ({ intercept, slope }: Line, x: Float64Array, d: Float64Array, first = 0): Seen[] =>
  Array.from(x, (v, i) => ({ index: first + i, value: d[i]! - intercept - slope * v }));

const referenceLine: Record<ReferenceName, (x: Float64Array, d: Float64Array) => Line> = {
  'least-squares': (x, d) => leastSquaresLine(lineBasis(x), d),
  'end-points': endPointLine,
  'minimum-zone': (x, d) => minimumZoneLine(x, d).line,
};

/** A profile from its own reference line, µm: what straightness about that line is the range of. @param x, d As for `straightness`. */
export const deviationsFrom = (reference: ReferenceName, x: Float64Array, d: Float64Array): number[] =>
  seenFrom(referenceLine[reference](x, d), x, d).map(({ value }) => value);

/** Greatest minus least, without subtracting a line. */
export const range: Measure = {
  explain: (d) => {
    const high = firstExtreme(d, 1);
    const low = firstExtreme(d, -1);
    return { value: d[high]! - d[low]!, gradient: difference(high, low), at: [high, low] };
  },
  greatest: greatestRange,
};

/**
 * The range after `takeOut` has subtracted a reference that is linear in the profile.
 *
 * @param name Name of the reference, with the positions on which it depends.
 */
const rangeAfter =
  (name: string, takeOut: (profile: Float64Array) => unknown): Measure['greatest'] =>
  (profile, errors) => {
    const d = profile.slice();
    takeOut(d);
    return greatestRange(
      d,
      errors.once(name, () => mapped(errors, takeOut)),
    );
  };

/** Greatest magnitude; `explain` gives the signed value there, the first if several are equal. */
export const magnitude: Measure = {
  explain: (d) => {
    const at = firstExtreme(d.map(Math.abs), 1);
    return { value: d[at]!, gradient: [{ index: at, weight: 1 }], at: [at] };
  },
  greatest: greatestMagnitude,
};

/**
 * Straightness: the range about the named reference line.
 *
 * @param x Positions, shape (n), m, ascending, n ≥ 3.
 * @see ISO 230-1 (straightness deviation), ISO 12780-1 (reference lines).
 */
export function straightness(reference: ReferenceName, x: Float64Array): Measure {
  switch (reference) {
    case 'least-squares': {
      const basis = lineBasis(x);
      return {
        // The profile is about its own least-squares line already (ownDeviations).
        greatest: greatestRange,
        explain: (d) => explainLeastSquares(basis, d),
      };
    }
    case 'end-points':
      return {
        greatest: rangeAfter(`end points ${x.join()}`, (d) => takeOutLine(endPointLine(x, d), x, d)),
        seen: (d) => seenFrom(referenceLine[reference](x, d), x, d),
        explain: (d) => {
          const { range: value, high, low } = rangeAbout(endPointLine(x, d), x, d);
          const n = x.length;
          const tilt = (x[high]! - x[low]!) / (x[n - 1]! - x[0]!);
          const gradient = [
            ...difference(high, low),
            { index: n - 1, weight: -tilt },
            { index: 0, weight: tilt },
          ];
          return { value, gradient, at: [high, low] };
        },
      };
    case 'minimum-zone': {
      const explain = (d: Float64Array): Measured => {
        const zone = minimumZoneLine(x, d);
        return {
          value: zone.width,
          gradient: supportOfLine(x, zone),
          at: zone.side === 1 ? [zone.lone, zone.first] : [zone.first, zone.lone],
        };
      };
      return {
        explain,
        seen: (d) => seenFrom(referenceLine[reference](x, d), x, d),
        greatest: (d, errors) => {
          const zone = lineZone(x);
          const value = zone.widthOf(d);
          return greatestZone(d, errors, zone, {
            upper: upperOfTriples(x, d, errors, value),
            excesses: (reach, plain) => excessesOfLine(x, d, errors, value, reach, plain),
          });
        },
      };
    }
  }
}

/** The width of the zone as a sum over the points that determine it. */
function supportOfLine(x: Float64Array, { lone, first, last, side }: MinimumZone): Weighted[] {
  const share = (x[lone]! - x[first]!) / (x[last]! - x[first]!);
  return [
    { index: lone, weight: side },
    { index: first, weight: -side * (1 - share) },
    { index: last, weight: -side * share },
  ];
}

const lineZone = (x: Float64Array): ZoneOf => ({
  name: `zone ${x.join()}`,
  widthOf: lineZoneWidths(x),
  supportOf: (d) => supportOfLine(x, minimumZoneLine(x, d)),
});

/** Greatest less least within the worst window of at most `overM`, without a line of its own. Null: no window has two points. */
export function rangeWithin(x: Float64Array, overM: number): Measure | null {
  const plan = planWindows(x, overM, 2);
  if (plan === null) return null;
  const pairOf = (d: Float64Array) => {
    const [i, j] = worstPair(d, plan);
    return worstPair(d, plan, EQUAL_EXTREMES * (1 + Math.abs(d[j]! - d[i]!)));
  };
  return {
    explain: (d) => {
      const [i, j] = pairOf(d);
      const gradient = d[j]! >= d[i]! ? difference(j, i) : difference(i, j);
      return { value: Math.abs(d[j]! - d[i]!), gradient, at: [i, j] };
    },
    seen: (d) => {
      const [i, j] = pairOf(d);
      return Array.from(d.subarray(i, j + 1), (value, k) => ({ index: i + k, value }));
    },
    greatest: (d, errors) => greatestWithin(d, errors, plan),
  };
}

/**
 * Local straightness: the worst of all windows of at most `overM` with at least three stations, each about its own line. Null:
 * there is no such window.
 */
export function localStraightness(reference: ReferenceName, x: Float64Array, overM: number): Measure | null {
  const plan = planWindows(x, overM);
  if (plan === null) return null;
  const worst = reference === 'minimum-zone' ? worstZone(plan) : worstWindow(plan, reference);
  const { rangeOf, find } = worst;
  const explain = (d: Float64Array): Measured => {
    const { range: most } = find(d, 0);
    const { from, to } = find(d, EQUAL_EXTREMES * (1 + most));
    const { value, gradient } = straightness(reference, x.subarray(from, to + 1)).explain(
      d.subarray(from, to + 1),
    );
    return {
      value,
      gradient: gradient.map(({ index, weight }) => ({ index: index + from, weight })),
      at: [from, to],
    };
  };
  return {
    explain,
    seen: (d) => {
      const [from, to] = explain(d).at as readonly [number, number];
      const [window, values] = [x.subarray(from, to + 1), d.subarray(from, to + 1)];
      return seenFrom(referenceLine[reference](window, values), window, values, from);
    },
    greatest: (d, errors) => {
      if (reference !== 'minimum-zone') return greatestWindow(d, errors, plan, reference, worst);
      const name = `zones within ${overM} ${x.join()}`;
      const zone = {
        name,
        widthOf: rangeOf,
        supportOf: (profile: Float64Array) => explain(profile).gradient,
      };
      const upper = boundByPairs(rangeOf(d), errors, (i, j) => j <= plan.last[i]!);
      return greatestZone(d, errors, zone, { upper, excesses: null });
    },
  };
}

/** With the minimum zone a window is never worse than a window that contains it, so the longest from each station are enough. */
function worstZone({ x, last }: WindowPlan): WorstWindow {
  const windows = Array.from(last.keys())
    .filter((from) => last[from]! >= from + 2 && (from === 0 || last[from]! > last[from - 1]!))
    .map((from) => ({ from, to: last[from]!, widthOf: lineZoneWidths(x.subarray(from, last[from]! + 1)) }));
  const find = (d: Float64Array, slack: number): Window => {
    let worst: Window = { range: -Infinity, from: 0, to: 0 };
    for (const { from, to, widthOf } of windows) {
      const range = widthOf(d.subarray(from, to + 1));
      if (range > worst.range + slack) worst = { range, from, to };
    }
    return worst;
  };
  return { rangeOf: (d) => find(d, 0).range, find };
}

/**
 * Coplanarity: the zone of all points about the reference plane, normal to it. Null: the points do not span a plane, or there
 * are fewer than four.
 *
 * @param plan Points of two rails or more. @param rails Positions of the points along each rail, ascending, m.
 * @param areParallel No cross rail is among them.
 */
export function coplanarity(
  reference: 'least-squares' | 'minimum-zone',
  plan: PlanPoints,
  rails: readonly Float64Array[],
  areParallel: boolean,
): Measure | null {
  const basis = planeBasis(plan.x, plan.y);
  if (basis === null || plan.x.length < 4) return null;
  // About the mean, so that a common offset in x or y costs no digits.
  const centred: PlanPoints = {
    x: plan.x.map((v) => v - basis.xMean),
    y: plan.y.map((v) => v - basis.yMean),
  };
  const { x, y } = centred;
  if (reference === 'minimum-zone') {
    const finder = zoneFinder(centred)!; // there is a plane: checked above
    return {
      greatest: (z, errors) => {
        const zone = {
          name: 'zone of the plane',
          widthOf: (profile: Float64Array) => finder.normalWidth(profile),
          supportOf: (profile: Float64Array) =>
            finder.find(profile).support.map(({ point, weight }) => ({ index: point, weight })),
        };
        const value = zone.widthOf(z);
        const upper =
          rails.length === 2 && areParallel
            ? upperOfTwoRails(x, z, errors, rails[0]!.length, value)
            : boundByPairs(value, errors);
        const whole = greatestZone(z, errors, zone, { upper, excesses: null });
        let end = 0;
        const parts = rails
          .map((positions) => ({ positions, from: end, to: (end += positions.length) }))
          .filter(({ positions }) => positions.length >= 3)
          .map(({ positions, ...ends }) => ({ ...ends, ...lineZone(positions) }));
        return withParts(whole, zone, z, errors, parts);
      },
      seen: (z) => {
        const { plane } = zoneFinder(centred)!.find(z);
        return Array.from(z, (v, i) => ({
          index: i,
          value: (v - plane.c - plane.a * x[i]! - plane.b * y[i]!) * normalFactor(plane),
        }));
      },
      explain: (z) => {
        const zone = zoneFinder(centred)!.find(z);
        const factor = normalFactor(zone.plane);
        const support = zone.support.filter(({ weight }) => weight !== 0);
        const at = [...support].sort((a, b) => b.weight - a.weight).map(({ point }) => point);
        return {
          value: zone.width * factor,
          gradient: support.map(({ point, weight }) => ({ index: point, weight: weight * factor })),
          at,
        };
      },
    };
  }
  const centredBasis = planeBasis(x, y)!;
  const takeOutPlane = (z: Float64Array): Plane => {
    const plane = leastSquaresPlane(centredBasis, z);
    const { c, a, b } = plane;
    for (let i = 0; i < z.length; i++) z[i] = z[i]! - c - a * x[i]! - b * y[i]!;
    return plane;
  };
  return {
    // The heights are from their own plane already (aboutPlane). The factor from height to distance normal to the plane is
    // 1 − 5e-9 at a slope of 100 µm/m, which an interval does not show.
    greatest: greatestRange,
    explain: (z) => {
      const rest = z.slice();
      const factor = normalFactor(takeOutPlane(rest));
      const { value, at } = range.explain(rest);
      return { value: value * factor, gradient: planeGradient(centred, at[0]!, at[1]!, factor), at };
    },
  };
}

/** Gradient of the difference of two residuals about the least-squares plane with respect to every height. */
function planeGradient({ x, y }: PlanPoints, high: number, low: number, factor: number): Weighted[] {
  const dx = x[high]! - x[low]!;
  const dy = y[high]! - y[low]!;
  const basis = planeBasis(x, y)!;
  const determinant = basis.sxx * basis.syy - basis.sxy ** 2;
  const a = (dx * basis.syy - dy * basis.sxy) / determinant;
  const b = (dy * basis.sxx - dx * basis.sxy) / determinant;
  const gradient = Array.from(x, (_, i) => ({ index: i, weight: -factor * (a * x[i]! + b * y[i]!) }));
  return [
    ...gradient,
    ...difference(high, low).map(({ index, weight }) => ({ index, weight: weight * factor })),
  ];
}

function takeOutLine({ intercept, slope }: Line, x: Float64Array, d: Float64Array): void {
  for (let i = 0; i < d.length; i++) d[i] = d[i]! - intercept - slope * x[i]!;
}

function explainLeastSquares(basis: LineBasis, d: Float64Array): Measured {
  const { x, mean, sxx } = basis;
  const { range: value, high, low } = rangeAbout(leastSquaresLine(basis, d), x, d);
  const tilt = (x[high]! - x[low]!) / sxx;
  const gradient = [
    ...Array.from(x, (v, i) => ({ index: i, weight: -tilt * (v - mean) })),
    ...difference(high, low),
  ];
  return { value, gradient, at: [high, low] };
}

const difference = (high: number, low: number): Weighted[] => [
  { index: high, weight: 1 },
  { index: low, weight: -1 },
];

/** Two extremes that differ by less than this (µm, and as a share) are equal: the difference is rounding. */
const EQUAL_EXTREMES = 1e-9;

/** The first along of equal extremes. */
export function firstExtreme(d: Float64Array, side: 1 | -1): number {
  let at = 0;
  for (let i = 1; i < d.length; i++)
    if (side * d[i]! > side * d[at]! + EQUAL_EXTREMES * (1 + Math.abs(d[at]!))) at = i;
  return at;
}

import { solveBand } from './banded-cholesky.js';
import type { RoughnessPenalty } from './roughness-penalty.js';
import {
  factorCell,
  weighCell,
  type ShapeCell,
  type ShapeModel,
  type ShapeWorkspace,
} from './shape-model.js';

/** A station apart from its neighbours, or one difference far above the rest: a step (order 1), a kink (order 2). */
export type Release =
  | { readonly kind: 'bump'; readonly station: number }
  | { readonly kind: 'jump'; readonly order: number; readonly row: number };

/** The smooth cells again, with the releases given a large variance of their own. */
export function releaseCells(
  model: ShapeModel,
  smooth: readonly ShapeCell[],
  releases: readonly Release[],
  logPrior: number,
  work: ShapeWorkspace,
): ShapeCell[] {
  const { n, spread } = model;
  const tau2 = new Float64Array(n);
  const jumps: { order: number; row: number }[] = [];
  for (const r of releases) {
    if (r.kind === 'bump') tau2[r.station] = 9 * spread * spread;
    else jumps.push(r);
  }
  return smooth
    .filter((cell) => jumps.every((j) => j.order === cell.penalty.order))
    .map(({ penalty, q }) => {
      const kinks = jumps.length > 0 ? new Float64Array(penalty.rows) : null;
      for (const j of jumps) kinks![j.row] = jumpVariance(penalty, n, 3 * spread);
      return weighCell(model, { penalty, q, tau2, kinks }, logPrior, work);
    });
}

/** Of a difference that by itself makes a step of the height given, or a peak of it in mid-segment. */
function jumpVariance({ order, unitVariance }: RoughnessPenalty, n: number, height: number): number {
  const span = unitVariance ** (1 / (2 * order - 1));
  const jump = order === 1 ? height : (4 * height) / span;
  return (jump * jump * n) / span; // a difference is divided by √step
}

/**
 * The release that would raise the likelihood most, judged by its squared deletion residual: what
 * the station (or difference) departs by from the value that all others predict, over its variance.
 *
 * @returns null where there is nothing left to release.
 * @see R. D. Cook, S. Weisberg, Residuals and Influence in Regression (1982), 2.2.
 */
export function findRelease(
  model: ShapeModel,
  cells: readonly ShapeCell[],
  done: readonly Release[],
  work: ShapeWorkspace,
): Release | null {
  let found: Release | null = null;
  let most = -Infinity;
  for (const cell of cells) {
    if (cell.logWeight === -Infinity) continue;
    factorCell(model, cell, work);
    for (const candidate of [
      worstStation(model, cell, done, work),
      worstDifference(model, cell, done, work),
    ]) {
      if (candidate === null || cell.logWeight + candidate.gain <= most) continue;
      most = cell.logWeight + candidate.gain;
      found = candidate.release;
    }
  }
  return found;
}

interface Candidate {
  readonly release: Release;
  readonly gain: number;
}

/** Leaves the smooth curve in work.x, for `worstDifference`. */
function worstStation(
  model: ShapeModel,
  cell: ShapeCell,
  done: readonly Release[],
  work: ShapeWorkspace,
): Candidate | null {
  const { n } = model;
  const { weight, x, unit, band } = work;
  const { order } = cell.penalty;
  const y = model.detrended(cell.penalty);
  for (let i = 0; i < n; i++) x[i] = weight[i]! * y[i]!;
  solveBand(band, n, order, x);
  const isFree = (i: number): boolean => !done.some((r) => r.kind === 'bump' && r.station === i);
  const station = indexOfMost(n, (i) => (isFree(i) ? (y[i]! - x[i]!) ** 2 * weight[i]! : 0));
  if (station < 0) return null;
  unit.fill(0);
  unit[station] = 1;
  solveBand(band, n, order, unit);
  const leverage = unit[station]! * weight[station]!;
  const gain = (0.5 * (y[station]! - x[station]!) ** 2 * weight[station]!) / Math.max(1e-9, 1 - leverage);
  return { release: { kind: 'bump', station }, gain };
}

function worstDifference(
  model: ShapeModel,
  cell: ShapeCell,
  done: readonly Release[],
  work: ShapeWorkspace,
): Candidate | null {
  const { order, rows, starts, coefficients } = cell.penalty;
  if (order > 2) return null;
  const { x, unit, band } = work;
  const difference = (v: Float64Array, r: number): number => {
    let sum = 0;
    for (let a = 0; a <= order; a++) sum += coefficients[r * (order + 1) + a]! * v[starts[r]! + a]!;
    return sum;
  };
  const isFree = (r: number): boolean =>
    !done.some((d) => d.kind === 'jump' && d.order === order && d.row === r);
  const row = indexOfMost(rows, (r) => (isFree(r) ? difference(x, r) ** 2 : 0));
  if (row < 0) return null;
  unit.fill(0);
  for (let a = 0; a <= order; a++) unit[starts[row]! + a] = coefficients[row * (order + 1) + a]!;
  solveBand(band, model.n, order, unit);
  const variance = cell.q - difference(unit, row);
  const gain = (0.5 * difference(x, row) ** 2) / Math.max(1e-9 * cell.q, variance);
  return { release: { kind: 'jump', order, row }, gain };
}

function indexOfMost(count: number, value: (index: number) => number): number {
  let at = -1;
  let most = 0;
  for (let i = 0; i < count; i++) {
    const v = value(i);
    if (v > most) {
      most = v;
      at = i;
    }
  }
  return at;
}

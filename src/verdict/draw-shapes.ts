import { solveBand } from './banded-cholesky.js';
import { drawOf, type Draws, type ProfileSample } from './profile-sample.js';
import type { RandomGenerator } from './random.js';
import { factorCell, shapeModel, shapeWorkspace, weighCell } from './shape-model.js';
import type { ShapeCell, ShapeModel, ShapeWorkspace } from './shape-model.js';
import { findRelease, releaseCells, type Release } from './shape-release.js';
import { freshMemory, type Memory } from './working-memory.js';

/**
 * Plausible true profiles, given the readings: draws from the posterior of δ = f + w in
 *
 *   d = f + w + e
 *
 * f is smooth: its differences of order 1, 2 or 3 are independent N(0, q), its mean (and slope, and curvature)
 * free; w is independent from station to station, N(0, τ²). Up to two stations or differences may stand far out
 * (an isolated bump, a step, a kink). How much of each there is, is drawn by marginal likelihood from a grid that
 * reaches from well below the noise to well above the data, so that a smooth rail yields smooth draws and a
 * rough one rough draws.
 *
 * The gain takes e as independent from station to station, with the variance its draws show about each
 * segment's line. Offset and trend in e fall into the free mean and slope, and enter through the
 * draws of e themselves: draw b is conditioned with noise draw b + 1, so it is independent of noise draw b.
 *
 * @param sample n ≥ 1 stations.
 * @param generator Source of the normal deviates.
 * @param memory Where the result is to stand.
 * @returns Half as many profiles as there are noise draws, but 500 where there are so many noise draws; unit of the
 *   sample. Each then meets two noise draws: how the noise falls matters more than which likely shape it falls on.
 * @throws {RangeError} positions that do not ascend within a segment.
 * @see J.-P. Chilès, P. Delfiner, Geostatistics (2012), 7.3.1: conditioning a simulation by kriging.
 * @see G. Wahba, Spline Models for Observational Data (1990), 1.5 (smoothing spline as a posterior mean), 4.8.
 */
export function drawShapes(
  sample: ProfileSample,
  generator: RandomGenerator,
  memory: Memory = freshMemory,
): Draws {
  const { noise } = sample;
  const model = shapeModel(sample);
  const { n } = model;
  const count = Math.min(noise.count, Math.max(FEWEST_SHAPES, Math.ceil(noise.count / 2)));
  const values = memory.floats(count * n);
  const noiseFor = (b: number): Float64Array => drawOf(noise, (b + 1) % noise.count);
  const drawAt = (b: number): Float64Array => values.subarray(b * n, (b + 1) * n);
  const work = shapeWorkspace(n);
  const cells = model.sigma > 0 ? likelyCells(model, work) : [];
  if (cells.length === 0) {
    // No noise but offset and trend, or none that the readings' size lets show: readings less noise it is.
    for (let b = 0; b < count; b++) subtract(sample.observed, noiseFor(b), drawAt(b));
    return { count, values };
  }
  // Systematic sampling: each cell gets its share of the draws, to within one.
  const start = generator.nextUniform();
  let cumulative = 0;
  let b = 0;
  cells.forEach(({ cell, share }, k) => {
    cumulative += share;
    const end = k === cells.length - 1 ? count : Math.min(count, Math.ceil(cumulative * count - start));
    if (b >= end) return;
    factorCell(model, cell, work);
    const draw = conditioning(model, cell, work, generator);
    for (; b < end; b++) draw(noiseFor(b), drawAt(b));
  });
  return { count, values };
}

const FEWEST_SHAPES = 500;
/** At most this many bumps, steps and kinks are looked for. */
const MOST_RELEASES = 2;
/** Prior odds against each release: this much for there being one at all, times the stations it might be at. */
const ODDS_AGAINST_RELEASE = 5;

/** The grid's cells with their shares; those below one in ten thousand of the best are left out. */
function likelyCells(model: ShapeModel, work: ShapeWorkspace): { cell: ShapeCell; share: number }[] {
  const smooth = smoothCells(model, work);
  const cells = [...smooth];
  let best = Math.max(...cells.map((c) => c.logWeight));
  const add = (more: readonly ShapeCell[]): void => {
    for (const c of more) {
      best = Math.max(best, c.logWeight);
      if (c.logWeight > best - 9.2) cells.push(c);
    }
  };
  add(roughCells(model, smooth, 0, work));
  const releases: Release[] = [];
  let bases: readonly ShapeCell[] = smooth;
  while (releases.length < MOST_RELEASES) {
    const next = findRelease(model, bases, releases, work);
    if (next === null) break;
    releases.push(next);
    const logPrior = -releases.length * Math.log(ODDS_AGAINST_RELEASE * model.n);
    bases = releaseCells(model, smooth, releases, logPrior, work);
    if (bases.length === 0 || Math.max(...bases.map((c) => c.logWeight)) < best - 4) break;
    add(bases);
    add(roughCells(model, bases, logPrior, work));
  }
  const kept = cells.filter((c) => c.logWeight > best - 9.2);
  const weights = kept.map((c) => Math.exp(c.logWeight - best));
  const total = weights.reduce((sum, w) => sum + w, 0);
  return kept.map((cell, k) => ({ cell, share: weights[k]! / total }));
}

/** No w at all; the amplitude of f in steps of three. */
function smoothCells(model: ShapeModel, work: ShapeWorkspace): ShapeCell[] {
  const { n, sigma, spread, penalties } = model;
  const tau2 = new Float64Array(n);
  return penalties.flatMap((penalty) => {
    const { order, unitVariance, largest } = penalty;
    // A random profile of this amplitude bends within six stations or so; and below 1e-12 the band
    // matrix is no longer positive definite to rounding.
    const most = 10 * spread * Math.max(1, n / 6) ** (order - 0.5);
    const least = sigma * Math.max(order === 1 ? 0.15 : 0.5, Math.sqrt(1e-12 * unitVariance * largest));
    const cells: ShapeCell[] = [];
    for (let a = least; a < most || cells.length === 0; a *= 3) {
      cells.push(weighCell(model, { penalty, q: (a * a) / unitVariance, tau2, kinks: null }, 0, work));
    }
    return cells;
  });
}

/** Each base with w added, its τ in steps of two. */
function roughCells(
  model: ShapeModel,
  bases: readonly ShapeCell[],
  logPrior: number,
  work: ShapeWorkspace,
): ShapeCell[] {
  const { sigma, spread } = model;
  const cells: ShapeCell[] = [];
  for (let tau = 0.35 * sigma; tau < 2 * spread; tau *= 2) {
    const levels = new Map<Float64Array, Float64Array>();
    for (const { penalty, q, tau2, kinks } of bases) {
      const raised = levels.get(tau2) ?? tau2.map((v) => v + tau * tau);
      levels.set(tau2, raised);
      cells.push(weighCell(model, { penalty, q, tau2: raised, kinks }, logPrior, work));
    }
  }
  return cells;
}

/**
 * Posterior draws of f + w: draw w, e and the differences z of f from their priors, then
 * f = A⁻¹(W(d − e − w) + RᵀQ^(−½)z) and w corrected by its own gain. `work` holds the cell's factor.
 *
 * @returns Writes one profile to `out`, from e.
 */
function conditioning(
  model: ShapeModel,
  cell: ShapeCell,
  work: ShapeWorkspace,
  generator: RandomGenerator,
): (e: Float64Array, out: Float64Array) => void {
  const { n } = model;
  const { weight, x, band } = work;
  const { penalty, q, tau2, kinks } = cell;
  const { order, rows, starts, coefficients } = penalty;
  const y = model.detrended(penalty);
  const trend = model.trend(penalty);
  const tau = new Float64Array(n);
  const gain = new Float64Array(n);
  let rough = 0;
  for (let i = 0; i < n; i++) {
    tau[i] = Math.sqrt(tau2[i]!);
    gain[i] = tau2[i]! * weight[i]!;
    if (tau[i]! > 0) rough++;
  }
  const stiffness = new Float64Array(rows);
  for (let r = 0; r < rows; r++) stiffness[r] = 1 / Math.sqrt(q + (kinks?.[r] ?? 0));
  const normals = new Float64Array(rough + rows);
  return (e, out) => {
    generator.fillNormals(normals, 0, normals.length);
    let next = 0;
    for (let i = 0; i < n; i++) {
      const w = tau[i]! > 0 ? tau[i]! * normals[next++]! : 0;
      out[i] = w;
      x[i] = weight[i]! * (y[i]! - e[i]! - w);
    }
    for (let r = 0; r < rows; r++) {
      const z = normals[next++]! * stiffness[r]!;
      const first = starts[r]!;
      for (let a = 0; a <= order; a++) x[first + a] = x[first + a]! + z * coefficients[r * (order + 1) + a]!;
    }
    solveBand(band, n, order, x);
    for (let i = 0; i < n; i++) {
      const w = out[i]!;
      out[i] = trend[i]! + x[i]! + w + gain[i]! * (y[i]! - e[i]! - w - x[i]!);
    }
  };
}

function subtract(a: Float64Array, c: Float64Array, out: Float64Array): void {
  for (let i = 0; i < a.length; i++) out[i] = a[i]! - c[i]!;
}

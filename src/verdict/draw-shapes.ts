import { factorBand, solveBand } from './banded-cholesky.js';
import { removeMean, removeTrend } from './remove-trend.js';
import { roughnessPenalty, type RoughnessPenalty } from './roughness-penalty.js';
import type { RandomGenerator } from './random.js';
import { drawOf, type Draws, type ProfileSample } from './profile-sample.js';

/**
 * Plausible true profiles, given the readings: draws from the posterior of
 *
 *   d = f + w + e
 *
 * f smooth: its (order)-th divided differences are independent, N(0, q), so that intercept, slope (and, at
 * order 3, curvature) are free; w independent from station to station, N(0, τ²), a few stations perhaps
 * with a far larger variance (an isolated bump); e the noise. The amount of each, (order, q, τ, bumps), is
 * drawn by its marginal likelihood on a grid that spans from well below the noise to well above the data.
 * The gain is computed as if e were independent from station to station, with the variance that the
 * draws show about their own lines; offset and trend in e fall into the free intercept and slope, and
 * are carried by the draws themselves.
 *
 * @param sample n ≥ 2 stations, at least two draws of the noise.
 * @param generator Source of the normal deviates.
 * @returns As many profiles as there are noise draws. Draw b was conditioned with noise draw b + 1, so it is
 *   independent of noise draw b.
 * @see A. G. Journel, C. J. Huijbregts, Mining Geostatistics (1978), VII.A: conditioning by kriging.
 * @see G. Wahba, Spline Models for Observational Data (1990), 1.5 and 4.8: the smoothing spline as a
 *   posterior mean, generalised (here marginal) likelihood for its parameters.
 */
export function drawShapes(sample: ProfileSample, generator: RandomGenerator): Draws {
  const { observed, noise } = sample;
  const n = observed.length;
  const model = prepare(sample);
  const cells = weighCells(model);
  const values = new Float64Array(noise.count * n);
  const work = makeWorkspace(n);
  let b = 0;
  let cumulative = 0;
  const start = generator.nextUniform();
  cells.forEach((cell, k) => {
    cumulative += cell.weight;
    const isLast = k === cells.length - 1;
    const isMine = (index: number): boolean =>
      index < noise.count && (isLast || (index + start) / noise.count < cumulative);
    if (!isMine(b)) return;
    factorCell(model, cell, work);
    for (; isMine(b); b++) {
      const e = drawOf(noise, (b + 1) % noise.count);
      conditionOn(observed, e, cell, work, generator, values.subarray(b * n, (b + 1) * n));
    }
  });
  return { count: noise.count, values };
}

/** One point of the grid: smoothness order, variance of the differences, variance of w at each station. */
interface Cell {
  readonly penalty: RoughnessPenalty;
  readonly q: number;
  readonly rough: Float64Array; // τ² at each station, shape (n)
  readonly kinks: Float64Array | null; // what is added to q at each difference, shape (rows)
  logLikelihood: number;
  weight: number;
}

interface Model {
  readonly n: number;
  readonly level: Float64Array; // observed, less each segment's mean: what order 1 is fitted to
  readonly y: Float64Array; // observed, less each segment's line: orders 2 and 3 do not see the difference
  readonly variance: Float64Array; // of e about its lines
  readonly sigma: number; // its root mean square
  readonly spread: number; // root mean square of y, at least sigma
  readonly penalties: readonly RoughnessPenalty[];
}

function prepare(sample: ProfileSample): Model {
  const { observed, positions } = sample;
  const n = observed.length;
  const segments = sample.segments ?? [0];
  const variance = varianceAboutLines(sample, segments);
  let sumVariance = 0;
  for (const v of variance) sumVariance += v;
  const sigma = Math.sqrt(sumVariance / n);
  const y = removeTrend(observed, positions, segments);
  const spread = Math.max(sigma, rootMeanSquare(y));
  const level = removeMean(observed, segments);
  const rise = 3 * Math.max(spread, rootMeanSquare(level));
  const penalties = [1, 2, 3].map((order) => roughnessPenalty(positions, segments, order, rise, 3 * spread));
  return { n, level, y, variance, sigma, spread, penalties };
}

const rootMeanSquare = (values: Float64Array): number =>
  Math.sqrt(values.reduce((sum, v) => sum + v * v, 0) / values.length);

/** Variance of the noise at each station about the line of its own segment, from the draws. */
function varianceAboutLines(sample: ProfileSample, segments: readonly number[]): Float64Array {
  const { noise, positions } = sample;
  const n = positions.length;
  const variance = new Float64Array(n);
  const used = Math.min(noise.count, 500);
  for (let b = 0; b < used; b++) {
    const r = removeTrend(drawOf(noise, b), positions, segments);
    for (let i = 0; i < n; i++) variance[i] = variance[i]! + (r[i]! * r[i]!) / used;
  }
  let mean = 0;
  segments.forEach((first, k) => {
    const end = segments[k + 1] ?? n;
    const m = end - first;
    for (let i = first; i < end; i++) {
      variance[i] = variance[i]! * (m > 2 ? m / (m - 2) : 1); // two degrees of freedom went into the line
      mean += variance[i]! / n;
    }
  });
  // At the ends of a short segment little is left about the line; no station is taken as near perfect.
  const floor = Math.max(0.2 * mean, Number.MIN_VALUE * 1e20);
  for (let i = 0; i < n; i++) variance[i] = Math.max(variance[i]!, floor);
  return variance;
}

/** The grid, each cell with its share of the marginal likelihood; shares below 1e-4 are left out. */
function weighCells(model: Model): Cell[] {
  const { n, sigma, spread, penalties } = model;
  const work = makeWorkspace(n);
  const smooth: Cell[] = [];
  for (const penalty of penalties) {
    const top = 10 * spread * Math.max(1, n / 6) ** (penalty.order - 0.5);
    const least = Math.max(0.5 * sigma, Math.sqrt(penalty.unitVariance * penalty.largest * 1e-12) * sigma);
    for (let a = least; a < top; a *= 3) {
      smooth.push(evaluate(model, penalty, (a * a) / penalty.unitVariance, new Float64Array(n), null, 0, work));
    }
  }
  const taus: number[] = [];
  for (let tau = 0.35 * sigma; tau < 2 * spread; tau *= 2) taus.push(tau);
  const cells = [...smooth];
  let bases = smooth;
  const released: Release[] = [];
  for (let count = 0; count <= MOST_RELEASED; count++) {
    const logPrior = -count * Math.log(RELEASE_ODDS * n);
    if (count > 0) {
      const next = findRelease(model, bases, released, work);
      if (next === null) break;
      released.push(next);
      bases = releaseAll(model, smooth, released, logPrior, work);
      const best = Math.max(...cells.map((c) => c.logLikelihood));
      if (Math.max(...bases.map((c) => c.logLikelihood)) < best - 4) break;
      cells.push(...bases);
    }
    for (const base of bases) {
      for (const tau of taus) {
        const rough = base.rough.map((v) => v + tau * tau);
        cells.push(evaluate(model, base.penalty, base.q, rough, base.kinks, logPrior, work));
      }
    }
  }
  const best = Math.max(...cells.map((c) => c.logLikelihood));
  let total = 0;
  for (const c of cells) total += c.weight = Math.exp(c.logLikelihood - best);
  const kept = cells.filter((c) => c.weight > 1e-4 * total);
  const keptTotal = kept.reduce((sum, c) => sum + c.weight, 0);
  for (const c of kept) c.weight /= keptTotal;
  return kept;
}

/** A station that may stand apart from its neighbours, or a difference that may be far larger than the rest. */
interface Release {
  readonly kind: 'bump' | 'kink';
  readonly index: number;
}
const MOST_RELEASED = 2;
const RELEASE_ODDS = 5;

/** The smooth cells again, with the stations and differences that were released. Kinks are of order 2. */
function releaseAll(
  model: Model,
  smooth: readonly Cell[],
  released: readonly Release[],
  logPrior: number,
  work: Workspace,
): Cell[] {
  const { n, spread } = model;
  const hasKink = released.some((r) => r.kind === 'kink');
  const rough = new Float64Array(n);
  for (const r of released) if (r.kind === 'bump') rough[r.index] = 9 * spread * spread;
  return smooth
    .filter((c) => !hasKink || c.penalty.order === 2)
    .map((c) => {
      let kinks: Float64Array | null = null;
      if (hasKink) {
        kinks = new Float64Array(c.penalty.rows);
        for (const r of released) if (r.kind === 'kink') kinks[r.index] = c.penalty.kinkVariance * 9 * spread * spread;
      }
      return evaluate(model, c.penalty, c.q, rough, kinks, logPrior, work);
    });
}

/** What would raise the likelihood most if it were released, by its deletion residual; null where nothing stands out. */
function findRelease(
  model: Model,
  bases: readonly Cell[],
  released: readonly Release[],
  work: Workspace,
): Release | null {
  const { n } = model;
  let found: Release | null = null;
  let most = -Infinity;
  const isFree = (kind: Release['kind'], index: number): boolean =>
    !released.some((r) => r.kind === kind && r.index === index);
  for (const base of bases) {
    const y = base.penalty.order === 1 ? model.level : model.y;
    factorCell(model, base, work);
    const { weight, x, y: unit, band, halfWidth } = work;
    for (let i = 0; i < n; i++) x[i] = weight[i]! * y[i]!;
    solveBand(band, n, halfWidth, x);
    let at = -1;
    let worst = 0;
    for (let i = 0; i < n; i++) {
      const ratio = (y[i]! - x[i]!) ** 2 * weight[i]!;
      if (ratio > worst && isFree('bump', i)) {
        at = i;
        worst = ratio;
      }
    }
    if (at >= 0) {
      unit.fill(0);
      unit[at] = 1;
      solveBand(band, n, halfWidth, unit);
      const gain = base.logLikelihood + (0.5 * worst) / Math.max(1e-9, 1 - unit[at]! * weight[at]!);
      if (gain > most) {
        most = gain;
        found = { kind: 'bump', index: at };
      }
    }
    const { order, rows, starts, coefficients } = base.penalty;
    if (order !== 2) continue;
    at = -1;
    worst = 0;
    for (let r = 0; r < rows; r++) {
      let difference = 0;
      for (let a = 0; a <= 2; a++) difference += coefficients[r * 3 + a]! * x[starts[r]! + a]!;
      if (difference ** 2 > worst && isFree('kink', r)) {
        at = r;
        worst = difference ** 2;
      }
    }
    if (at < 0) continue;
    unit.fill(0);
    for (let a = 0; a <= 2; a++) unit[starts[at]! + a] = coefficients[at * 3 + a]!;
    solveBand(band, n, halfWidth, unit);
    let variance = 0;
    for (let a = 0; a <= 2; a++) variance += coefficients[at * 3 + a]! * unit[starts[at]! + a]!;
    const gain = base.logLikelihood + (0.5 * worst) / Math.max(1e-9 * base.q, base.q - variance);
    if (gain > most) {
      most = gain;
      found = { kind: 'kink', index: at };
    }
  }
  return found;
}

interface Workspace {
  band: Float64Array;
  halfWidth: number;
  readonly weight: Float64Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
}

const makeWorkspace = (n: number): Workspace => ({
  band: new Float64Array(4 * n),
  halfWidth: 0,
  weight: new Float64Array(n),
  x: new Float64Array(n),
  y: new Float64Array(n),
});

/** Factors W + RᵀQ⁻¹R, W = 1/(σ² + τ²); returns its log determinant plus that of Q. */
function factorCell(model: Model, cell: Cell, work: Workspace): number {
  const { n, variance } = model;
  const { order, rows, starts, coefficients } = cell.penalty;
  const stride = order + 1;
  const band = work.band;
  band.fill(0, 0, n * stride);
  for (let r = 0; r < rows; r++) {
    const inverse = 1 / (cell.q + (cell.kinks?.[r] ?? 0));
    for (let a = 0; a < stride; a++) {
      const scaled = coefficients[r * stride + a]! * inverse;
      const at = (starts[r]! + a) * stride + a;
      for (let c = 0; c <= a; c++) band[at - c] = band[at - c]! + scaled * coefficients[r * stride + c]!;
    }
  }
  for (let i = 0; i < n; i++) {
    work.weight[i] = 1 / (variance[i]! + cell.rough[i]!);
    work.band[i * stride] = work.band[i * stride]! + work.weight[i]!;
  }
  work.halfWidth = order;
  let logDeterminant = factorBand(band, n, order);
  for (let r = 0; r < rows; r++) logDeterminant += Math.log(cell.q + (cell.kinks?.[r] ?? 0));
  return logDeterminant;
}

/** Log marginal likelihood of y, the free polynomial integrated out. */
function evaluate(
  model: Model,
  penalty: RoughnessPenalty,
  q: number,
  rough: Float64Array,
  kinks: Float64Array | null,
  logPrior: number,
  work: Workspace,
): Cell {
  const { n } = model;
  const y = penalty.order === 1 ? model.level : model.y;
  const cell: Cell = { penalty, q, rough, kinks, logLikelihood: 0, weight: 0 };
  let sum = factorCell(model, cell, work) - 2 * penalty.logConstant;
  for (let i = 0; i < n; i++) {
    const wy = work.weight[i]! * y[i]!;
    work.x[i] = wy;
    sum += wy * y[i]! - Math.log(work.weight[i]!);
  }
  solveBand(work.band, n, work.halfWidth, work.x);
  for (let i = 0; i < n; i++) sum -= work.x[i]! * work.weight[i]! * y[i]!;
  cell.logLikelihood = logPrior - 0.5 * sum;
  return cell;
}

/** One posterior draw of f + w, from observed − e, a draw of w and a draw of the differences of f. */
function conditionOn(
  observed: Float64Array,
  e: Float64Array,
  cell: Cell,
  work: Workspace,
  generator: RandomGenerator,
  out: Float64Array,
): void {
  const n = observed.length;
  const { weight, x, band, halfWidth } = work;
  const { rough, penalty, q, kinks } = cell;
  for (let i = 0; i < n; i++) {
    const w = rough[i]! > 0 ? Math.sqrt(rough[i]!) * generator.nextNormal() : 0;
    out[i] = w;
    x[i] = weight[i]! * (observed[i]! - e[i]! - w);
  }
  const { rows, starts, coefficients, order } = penalty;
  for (let r = 0; r < rows; r++) {
    const z = generator.nextNormal() / Math.sqrt(q + (kinks?.[r] ?? 0));
    for (let a = 0; a <= order; a++) x[starts[r]! + a] = x[starts[r]! + a]! + z * coefficients[r * (order + 1) + a]!;
  }
  solveBand(band, n, halfWidth, x);
  for (let i = 0; i < n; i++) {
    const left = observed[i]! - e[i]! - out[i]! - x[i]!;
    out[i] = x[i]! + out[i]! + rough[i]! * weight[i]! * left;
  }
}

/**
 * Finds readings that the others contradict. Data snooping: the observation with the greatest standardised residual is a
 * suspect if that exceeds the critical value; it is set aside, and the rest is tested again. The solution still has all
 * readings: only a person leaves one out, with `use` = no.
 *
 * @see W. Baarda, A testing procedure for use in geodetic networks, 1968; the level: base/statistics/normal.ts.
 */
import { adjust, rowOf, rowProducts, UNCHECKED, type Adjustment } from './adjustment.js';
import { linearised } from './linearised.js';
import { factorOfAll, SURVEY_LEVEL } from '../../base/statistics/normal.js';
import { covarianceWith } from './substitution.js';
import type { Observation } from './network.js';

/** A standardised residual is a suspect beyond this: the level holds for all observations that others check, together. */
export const criticalOf = ({ redundancyNumber }: Adjustment): number =>
  factorOfAll(
    redundancyNumber.reduce((n, r) => (r > UNCHECKED ? n + 1 : n), 0),
    1 - SURVEY_LEVEL,
  );

/** If two standardised residuals differ by less than this, the two readings cannot be distinguished. */
const EQUAL_RESIDUALS = 1e-6;

/** If there are more suspects than this, the survey as a whole is wrong. */
const MAX_SUSPECTS = 50;

export interface Suspicion {
  readonly observation: number;
  /** The residual when it was found, with all worse suspects set aside. */
  readonly residual: number;
  readonly standardised: number;
}

/** Suspects, worst first. */
export function findSuspects(solved: Adjustment): Suspicion[] {
  const tested = linearised(solved.network);
  const adjustment = tested === solved.network ? solved : adjust(tested);
  const { network } = adjustment;
  const n = network.observed.length;
  const whitened = adjustment.residual.map((v, i) => v / network.sigma[i]!);
  const redundancy = adjustment.redundancyNumber.slice();
  const critical = criticalOf(adjustment);
  const tiebreak = canonicalOrder(network.observations);
  const removed: Float64Array[] = [];
  const listed = new Set<number>();
  const found: Suspicion[] = [];

  const standardised = (i: number) =>
    redundancy[i]! > UNCHECKED ? whitened[i]! / Math.sqrt(redundancy[i]!) : 0;
  while (removed.length < Math.min(MAX_SUSPECTS, adjustment.redundancy)) {
    let worst = 0;
    for (let i = 0; i < n; i++) worst = Math.max(worst, Math.abs(standardised(i)));
    if (worst <= critical) break;
    const tied: number[] = [];
    for (let i = 0; i < n; i++) if (worst - Math.abs(standardised(i)) <= EQUAL_RESIDUALS) tied.push(i);
    tied.sort((a, b) => tiebreak[a]! - tiebreak[b]!);
    for (const i of tied) {
      if (listed.has(i)) continue;
      listed.add(i);
      found.push({
        observation: i,
        residual: whitened[i]! * network.sigma[i]!,
        standardised: standardised(i),
      });
    }
    setAside(tied[0]!, adjustment, removed, whitened, redundancy);
  }
  return found;
}

/**
 * Removes observation k from the (whitened) residuals and redundancy numbers of all others, exactly: with P the
 * residual projector, P′ = P − p_k p_kᵀ / P_kk. With b_i the whitened row of i, p_k = e_k − B γ, so for each
 * observation that is set aside only γ / √P_kk is kept in `removed`: a vector over the unknowns, not over the readings.
 */
function setAside(
  k: number,
  adjustment: Adjustment,
  removed: Float64Array[],
  whitened: Float64Array,
  redundancy: Float64Array,
): void {
  const { network, factor } = adjustment;
  const row = rowOf(network, k);
  const c = new Float64Array(factor.size);
  for (let j = 0; j < row.index.length; j++)
    c[factor.position[row.index[j]!]!]! += row.weight[j]! / network.sigma[k]!;
  const gamma = covarianceWith(factor, c);
  for (const earlier of removed) {
    let share = 0;
    for (let j = 0; j < row.index.length; j++)
      share += (row.weight[j]! / network.sigma[k]!) * earlier[factor.position[row.index[j]!]!]!;
    for (let j = 0; j < gamma.length; j++) gamma[j]! += share * earlier[j]!;
  }
  const root = Math.sqrt(redundancy[k]!);
  const step = whitened[k]! / redundancy[k]!;
  const products = rowProducts(network, factor.position, gamma);
  for (let i = 0; i < products.length; i++) {
    if (redundancy[i] === 0) continue; // set aside earlier, or unchecked: its p is 0
    const p = -products[i]! / network.sigma[i]!;
    whitened[i]! -= p * step;
    redundancy[i] = Math.max(0, redundancy[i]! - (p / root) ** 2);
  }
  redundancy[k] = 0;
  whitened[k] = 0;
  removed.push(gamma.map((v) => v / root));
}

/** Rank of each observation by file, row and axis, so that the order in which files are read makes no difference. */
function canonicalOrder(observations: readonly Observation[]): Int32Array {
  const key = (o: Observation) =>
    o.kind === 'prior'
      ? { file: '\uffff', row: 0, axis: `${o.setup ?? ''}${o.of}` }
      : { file: o.source.file, row: o.source.row, axis: o.kind === 'span' ? '' : o.axis };
  const keys = observations.map(key);
  const order = Array.from(observations.keys()).sort((a, b) => {
    const p = keys[a]!;
    const q = keys[b]!;
    if (p.file !== q.file) return p.file < q.file ? -1 : 1;
    return p.row - q.row || (p.axis < q.axis ? -1 : p.axis > q.axis ? 1 : 0);
  });
  const rank = new Int32Array(observations.length);
  order.forEach((i, place) => (rank[i] = place));
  return rank;
}

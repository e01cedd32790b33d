/**
 * Which readings the others do not bear out. Data snooping: the observation with the greatest standardised
 * residual is suspected when that exceeds the critical value; it is set aside, and the rest is tested again.
 * Nothing is left out of the solution by this: only a person does that, with `use` = no.
 *
 * @see W. Baarda, A testing procedure for use in geodetic networks, 1968: α = 0.001, critical value 3.29.
 */
import { rowOf, UNCHECKED, type Adjustment } from './adjustment.js';
import { covarianceWith } from './substitution.js';
import { rowProducts } from './adjustment.js';
import type { Observation } from './network.js';

/** Two-sided 0.001 point of the normal distribution. */
export const BAARDA_CRITICAL = 3.2905267314919255;

/** Closer than this, two standardised residuals cannot be told apart, and neither can the readings. */
const INDISTINGUISHABLE = 1e-6;

/** More suspects than this say that the survey is wrong as a whole. */
const MOST_SUSPECTS = 50;

export interface Suspicion {
  readonly observation: number;
  /** When it was found: with all worse suspects set aside. */
  readonly residual: number;
  readonly standardised: number;
}

/** Suspects, worst first. */
export function findSuspects(adjustment: Adjustment): Suspicion[] {
  const { network } = adjustment;
  const n = network.observed.length;
  const whitened = adjustment.residual.map((v, i) => v / network.sigma[i]!);
  const redundancy = adjustment.redundancyNumber.slice();
  const tiebreak = canonicalOrder(network.observations);
  const removed: Float64Array[] = [];
  const listed = new Set<number>();
  const found: Suspicion[] = [];

  const standardised = (i: number) =>
    redundancy[i]! > UNCHECKED ? whitened[i]! / Math.sqrt(redundancy[i]!) : 0;
  while (removed.length < Math.min(MOST_SUSPECTS, adjustment.redundancy)) {
    let worst = 0;
    for (let i = 0; i < n; i++) worst = Math.max(worst, Math.abs(standardised(i)));
    if (worst <= BAARDA_CRITICAL) break;
    const tied: number[] = [];
    for (let i = 0; i < n; i++) if (worst - Math.abs(standardised(i)) <= INDISTINGUISHABLE) tied.push(i);
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
 * Takes observation k out of the (whitened) residuals and redundancy numbers of all others, exactly:
 * with P the residual projector, P′ = P − p_k p_kᵀ / P_kk. `removed` holds the p_k / √P_kk of earlier ones.
 */
function setAside(
  k: number,
  adjustment: Adjustment,
  removed: Float64Array[],
  whitened: Float64Array,
  redundancy: Float64Array,
): void {
  const { network, factor } = adjustment;
  const c = new Float64Array(factor.size);
  const row = rowOf(network, k);
  for (let j = 0; j < row.index.length; j++)
    c[factor.position[row.index[j]!]!]! += row.weight[j]! / network.sigma[k]!;
  const products = rowProducts(network, factor.position, covarianceWith(factor, c));
  const p = products.map((v, i) => (i === k ? 1 : 0) - v / network.sigma[i]!);
  for (const earlier of removed) for (let i = 0; i < p.length; i++) p[i]! -= earlier[i]! * earlier[k]!;
  const root = Math.sqrt(redundancy[k]!);
  const step = whitened[k]! / redundancy[k]!;
  for (let i = 0; i < p.length; i++) {
    whitened[i]! -= p[i]! * step;
    p[i]! /= root;
    redundancy[i] = Math.max(0, redundancy[i]! - p[i]! ** 2);
  }
  redundancy[k] = 0;
  whitened[k] = 0;
  removed.push(p);
}

/** Rank of each observation by file, row and axis, so that the order of reading changes nothing. */
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

/**
 * Errors of what ties set-ups together: a monument as read from a set-up, the height of a rail from one. Each is a pattern over the
 * readings; with b the pattern, σ the uncertainties and P the projector onto the space of the residuals, |Pb| (whitened) is how much
 * of it the residuals show. What causes a misfit is found elsewhere (solution/causes).
 *
 * @see W. Baarda, A testing procedure for use in geodetic networks, 1968: internal reliability ∇₀ = δ₀/|Pb| with δ₀ = 4.13 for α = 0.001
 *   and a power of 0.80.
 */
import type { Job } from '../../survey/job/job.js';
import { rowProducts, type Adjustment } from './adjustment.js';

export interface Tie {
  /** In words: "monument M2 as read from S2". */
  readonly what: string;
  /** Its observations. */
  readonly members: readonly number[];
  /** Effect of 1 µm on each reading as read, shape (members). */
  readonly pattern: readonly number[];
}

/** δ₀ for α = 0.001 and a power of 0.80. */
export const NON_CENTRALITY = 4.13;
/** A pattern is not visible if the unknowns absorb all of it except this share. */
const MIN_VISIBLE_SHARE = 1e-6;
/** More ties than this are not looked at. */
const MAX_TIES = 400;

/** Each monument from each set-up, and the height of each of several rails that are read from one set-up at two places or more. */
export function tiesOf(job: Job, { network: { observations } }: Adjustment): Tie[] {
  const setups = new Map(job.setups.map((s) => [s.id, s]));
  const heights = new Map<string, Set<string>>();
  for (const o of observations)
    if (o.kind === 'offset' && o.axis === 'vertical' && o.point.kind === 'station')
      heights.set(o.setup, (heights.get(o.setup) ?? new Set()).add(o.point.rail));
  const found = new Map<string, { isMonument: boolean; members: number[]; pattern: number[] }>();
  observations.forEach((o, i) => {
    if (o.kind !== 'offset') return;
    const isMonument = o.point.kind === 'monument';
    if (!isMonument && (o.axis !== 'vertical' || heights.get(o.setup)!.size < 2)) return;
    const what =
      o.point.kind === 'monument'
        ? `monument ${o.point.monument} as read from ${o.setup}`
        : `the height of rail ${o.point.rail} from ${o.setup}`;
    let known = found.get(what);
    if (known === undefined) found.set(what, (known = { isMonument, members: [], pattern: [] }));
    known.members.push(i);
    known.pattern.push(setups.get(o.setup)!.sign[o.axis]);
  });
  return [...found]
    .filter(([, { isMonument, members }]) => isMonument || members.length > 1)
    .slice(0, MAX_TIES)
    .map(([what, { members, pattern }]) => ({ what, members, pattern }));
}

/** The visible part of a pattern in the residuals. */
export interface Shown {
  /** Square length of P·b, whitened. */
  readonly square: number;
  /** Change of every unknown for size 1. */
  readonly response: Float64Array;
  /** false: the unknowns absorb it. */
  readonly isSeen: boolean;
}

export function shownBy({ members, pattern }: Omit<Tie, 'what'>, adjustment: Adjustment): Shown {
  const { network } = adjustment;
  const change = new Float64Array(network.observed.length);
  members.forEach((i, k) => (change[i] = pattern[k]!));
  const response = adjustment.respond(change);
  const computed = rowProducts(network, Int32Array.from(response.keys()), response);
  let [square, whole] = [0, 0];
  for (let row = 0; row < change.length; row++) {
    square += ((change[row]! - computed[row]!) / network.sigma[row]!) ** 2;
    whole += (change[row]! / network.sigma[row]!) ** 2;
  }
  return { square, response, isSeen: square > MIN_VISIBLE_SHARE * whole };
}

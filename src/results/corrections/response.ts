/** Response and scatter of moves: stated in the job, estimated from earlier moves, or usual. */
import type { CorrectionPlan, DoneMove } from '../results-schema.js';
import type { GainOf } from './levers.js';
import type { Scatter } from './limits.js';

export type Response = CorrectionPlan['response'] & object;

/** Scatter if neither the job nor earlier moves give it: a tenth of each move (common practice, no source). */
export const ASSUMED: Response = { u: 0.1, learntFrom: null, assumed: true };

/**
 * Degrees of freedom of the assumed scatter: ν ≈ ½·(Δu/u)⁻² with a relative uncertainty of 40 % (JCGM 100, G.4.2). A scatter
 * of 15 % also occurs (common practice, no source).
 */
const DEGREES_ASSUMED = 3;

/** Least number of moves from which the response is estimated. */
const FEWEST_LEARNT = 3;
/** Moves smaller than this number of standard uncertainties are not used (common practice, no source). */
const SHOWS = 3;
/** An adjuster has its own response if it differs by more than this number of standard uncertainties (common practice, no source). */
const OF_ITS_OWN = 3;
/** If more than this share of adjusters would have their own response, all have the same one. */
const MOST_OWN = 1 / 3;
/** Least response that is compensated by larger moves. */
const LEAST_GAIN = 0.25;

/**
 * Response (movement of the rail divided by the move) and its scatter. Most adjusters have a common response; an adjuster that
 * differs from the others (a support that yields, a screw with another pitch) has its own.
 *
 * @returns null: too few moves can be used.
 */
export function learntResponse(done: readonly DoneMove[]): Response | null {
  const told = done.flatMap(({ adjuster, axis, asked, did, says }) =>
    Math.abs(asked) > SHOWS * did.u && ['as-asked', 'too-little', 'too-much'].includes(says)
      ? [{ adjuster, axis, gain: did.value / asked, u: Math.hypot(did.u / asked, ASSUMED.u) }]
      : [],
  );
  const middle = told.length === 0 ? 1 : median(told.map(({ gain }) => gain));
  const departs = told.filter(({ gain, u }) => Math.abs(gain - middle) > OF_ITS_OWN * u);
  const others = departs.length > MOST_OWN * told.length ? [] : departs;
  const shared = told.filter((one) => !others.includes(one)).map(({ gain }) => gain);
  if (shared.length < FEWEST_LEARNT) return null;
  const gain = shared.reduce((sum, one) => sum + one / shared.length, 0);
  const variance = shared.reduce((sum, one) => sum + (one - gain) ** 2, 0) / (shared.length - 1);
  const own = others
    .filter((one) => one.gain >= LEAST_GAIN)
    .map(({ adjuster, axis, gain: part }) => ({ adjuster, axis, gain: part }));
  return {
    u: Math.sqrt(variance) / gain,
    learntFrom: shared.length,
    gain,
    ...(own.length > 0 && { own }),
  };
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
}

export const gainOf =
  ({ gain = 1, own = [] }: Response): GainOf =>
  (adjuster, plane) =>
    own.find((one) => one.adjuster === adjuster.id && one.axis === plane)?.gain ?? gain;

export function scatterOf({ u, learntFrom, assumed }: Response): Scatter {
  if (learntFrom !== null) return { u, degrees: learntFrom - 1, common: u / Math.sqrt(learntFrom) };
  return { u, degrees: assumed === true ? DEGREES_ASSUMED : null, common: 0 };
}

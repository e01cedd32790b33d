/**
 * A rail while it is adjusted: the moves that were planned from the survey before, and what the last readings say of each.
 * The instrument stays where it was; a reading minus the reading of before, from the same set-up with the same target, is
 * what the rail did there.
 */
import type { Job } from '../survey/job/job.js';
import { inOrder } from '../survey/readings/in-order.js';
import { sightLengths } from '../solution/solve/sight-lengths.js';
import type { OffsetReading, Reading } from '../survey/readings/readings.js';
import type { CorrectionPlan } from './results-schema.js';

export interface AdjustStep {
  readonly adjuster: string;
  readonly rail: string;
  readonly axis: 'vertical' | 'horizontal';
  /** The station whose reading is taken. */
  readonly station: number;
  /** + up or left, µm. */
  readonly asked: number;
  /** How far the rail moved there so far; null: not read again from a set-up that read it before. */
  readonly did: number | null;
  /** asked − did; null: not known. */
  readonly left: number | null;
  /** Within this it is done, µm. */
  readonly band: number;
  readonly isDone: boolean;
  /** It moved to the other side than it was asked to, by more than the band. */
  readonly isTurned: boolean;
}

export interface Adjusting {
  readonly steps: readonly AdjustStep[];
  /** Index of the step at work: that of the last reading if it is not done, else the first that is not. null: all are done. */
  readonly current: number | null;
  /** Share of what was asked that the moves did so far, from those that were begun; null: none was. */
  readonly response: number | null;
}

/** A difference of two readings is within so many standard uncertainties in 95 of 100 cases. */
const K = 1.96;

/**
 * @param before All readings of the survey from which the plan was made.
 * @param since Those since then.
 * @returns null: nothing is to be moved, or the readings since then are of another day: then the instrument was levelled
 *   anew, and they are another survey.
 */
export function adjustingOf(
  job: Job,
  plan: Pick<CorrectionPlan, 'moves' | 'leastUm'>,
  before: readonly Reading[],
  since: readonly Reading[],
): Adjusting | null {
  const days = new Set(before.flatMap(({ time }) => (time === null ? [] : [time.slice(0, 10)])));
  const after = since.filter(({ time }) => time === null || days.size === 0 || days.has(time.slice(0, 10)));
  if (since.length > 0 && after.length === 0) return null;
  const steps = plan.moves.flatMap((move): AdjustStep[] => {
    const rail = job.rails.find(({ id }) => id === move.rail);
    const [nearest] = [...(rail?.stations ?? [])].sort(
      (a, b) => Math.abs(a.alongMm - move.along) - Math.abs(b.alongMm - move.along),
    );
    if (nearest === undefined) return [];
    const { number: station } = nearest;
    const of = (list: readonly Reading[]) => looksAt(list, move.rail, station, move.axis);
    const { did, u } = movedBy(job, of(before), of(after));
    const band = Math.max(plan.leastUm ?? 0, K * u);
    const left = did === null ? null : move.move - did;
    return [
      {
        ...{ adjuster: move.adjuster, rail: move.rail, axis: move.axis, station, asked: move.move },
        ...{ did, left, band },
        isDone: left !== null && Math.abs(left) <= band,
        isTurned: did !== null && did * move.move < 0 && Math.abs(did) > band,
      },
    ];
  });
  if (steps.length === 0) return null;
  const last = inOrder(
    after.filter((r): r is OffsetReading => r.kind === 'offset'),
    (r) => r,
  ).at(-1);
  const isOfLast = (step: AdjustStep) =>
    last !== undefined &&
    last.point.kind === 'station' &&
    last.point.rail === step.rail &&
    last.point.station === step.station &&
    !step.isDone;
  const atLast = steps.findIndex(isOfLast);
  const open = atLast >= 0 ? atLast : steps.findIndex(({ isDone }) => !isDone);
  const begun = steps.filter(({ did, band }) => did !== null && Math.abs(did) > band);
  const asked = begun.reduce((sum, step) => sum + step.asked ** 2, 0);
  return {
    steps,
    current: open < 0 ? null : open,
    // Least squares through zero: did = response · asked.
    response: asked === 0 ? null : begun.reduce((sum, step) => sum + step.did! * step.asked, 0) / asked,
  };
}

const looksAt = (list: readonly Reading[], rail: string, station: number, axis: string): OffsetReading[] =>
  list.filter(
    (r): r is OffsetReading =>
      r.kind === 'offset' &&
      r.axis === axis &&
      r.point.kind === 'station' &&
      r.point.rail === rail &&
      r.point.station === station,
  );

/** The last reading minus the mean of those of before, from the same set-up with the same target, µm; u of that difference. */
function movedBy(
  job: Job,
  before: readonly OffsetReading[],
  after: readonly OffsetReading[],
): { did: number | null; u: number } {
  const last = inOrder(after, (r) => r).at(-1);
  const like = (last ?? before[0]) as OffsetReading | undefined;
  const own = before.filter((r) => r.setup === like?.setup && r.target === like?.target);
  const setup = job.setups.find(({ id }) => id === like?.setup);
  if (like === undefined || setup === undefined || own.length === 0) return { did: null, u: 0 };
  const instrument = job.instruments.find(({ id }) => id === setup.instrument)!;
  const distanceM = sightLengths(job)(like);
  const u = Math.hypot(instrument.readingU, instrument.perMetreU * distanceM) * Math.sqrt(1 + 1 / own.length);
  if (last === undefined) return { did: null, u };
  const mean = own.reduce((sum, { um }) => sum + um / own.length, 0);
  return { did: setup.sign[last.axis] * (last.um - mean), u };
}

/**
 * A rail during its adjustment: the planned moves from the survey before, and what the last readings show about each.
 * The instrument is not moved. A reading minus the earlier reading, from the same set-up with the same target, is the
 * movement of the rail there.
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
  /** The station that is read. */
  readonly station: number;
  /** + up or left, µm. */
  readonly asked: number;
  /** Movement of the rail there so far; null: not read again from the same set-up. */
  readonly did: number | null;
  /** asked − did; null: not known. */
  readonly left: number | null;
  /** The move is done if the remaining distance is less than this, µm. */
  readonly band: number;
  readonly isDone: boolean;
  /** true: it moved in the opposite direction, by more than the band. */
  readonly isTurned: boolean;
}

export interface Adjusting {
  readonly steps: readonly AdjustStep[];
  /** Index of the present step: the one of the last reading if it is not done, else the first that is not done. null: all are done. */
  readonly current: number | null;
  /** Response of the moves that were begun: movement divided by planned movement; null: none was begun. */
  readonly response: number | null;
}

/** Coverage factor at 95 % for a difference of two readings. */
const K = 1.96;

/**
 * @param before All readings of the survey from which the plan was made.
 * @param since The readings after that survey.
 * @returns null: no move is planned, or the later readings are of another day. Then the instrument was levelled anew, and
 *   they belong to another survey.
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

/** The last reading minus the mean of the earlier readings, from the same set-up with the same target, µm; u of that difference. */
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

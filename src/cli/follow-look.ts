/** One look at the job: its page, and what a line of the terminal says of it. */
import { basename, resolve } from 'node:path';
import { planOf } from '../pages/report/correction-sheet.js';
import { wordsOf } from '../pages/words/languages.js';
import { english } from '../pages/words/words.js';
import { followPage, type Followed } from '../pages/report/follow-page.js';
import { drawCharts, judge, solve } from '../pipeline.js';
import { adjustingOf, type Adjusting } from '../results/adjusting.js';
import { leaveOf } from '../results/leave.js';
import type { CorrectionPlan, Verdict } from '../results/results-schema.js';
import { inspectJob, type Inspection } from '../solution/intake/load-job.js';
import { DEFAULT_LIMIT_S } from '../solution/intake/size.js';
import { inOrder } from '../survey/readings/in-order.js';
import type { Reading } from '../survey/readings/readings.js';

export interface LookedAt {
  readonly page: string;
  readonly line: {
    readonly job: string;
    readonly mayGo: boolean;
    readonly verdict: Verdict | null;
    readonly errors: number;
    readonly notes: number;
  };
  /** The moves of the phase before are not known yet; the search for them takes some seconds. */
  readonly isPlanWanted: boolean;
}

/** @param withPlan Searches for the moves of the phase before, first. */
export async function lookedAt(folder: string, saved: string, withPlan = false): Promise<LookedAt> {
  if (withPlan) await findPlan(folder);
  const followed = await look(folder, saved);
  return { page: followPage(followed), line: lineOf(followed), isPlanWanted: followed.isPlanWanted };
}

const lineOf = ({ job, results, diagnostics, leave }: Followed) => ({
  job,
  mayGo: leave.mayGo,
  verdict: results?.verdict ?? null,
  errors: diagnostics.filter(({ severity }) => severity !== 'warning').length,
  notes: diagnostics.filter(({ severity }) => severity === 'warning').length,
});

/** A file may be half-written when it is looked at: the next look finds it whole. */
export async function look(
  folder: string,
  saved: string,
): Promise<Followed & { readonly isPlanWanted: boolean }> {
  const inspection = await inspectJob(folder, null, { limit: DEFAULT_LIMIT_S });
  const { id, soFar, diagnostics } = inspection;
  const job = id ?? basename(resolve(folder));
  const { adjusting, isPlanWanted } = adjustingIn(inspection);
  const style = inspection.usable?.job ?? null;
  const about = { job, saved, diagnostics, style, adjusting, isPlanWanted };
  if (soFar === null) return { ...about, results: null, charts: [], leave: leaveOf(inspection) };
  const phases = new Map([...soFar.readings.phases].slice(-1));
  const { results } = await judge({ ...soFar, readings: { ...soFar.readings, phases } }, diagnostics);
  const leave = leaveOf(inspection, Object.values(results.phases).at(-1));
  const drawn = (await drawCharts(results, style === null ? english : wordsOf(style.language))).filter(
    ({ section }) => ['straightness', 'parallelism', 'cross-level'].includes(section),
  );
  const rail = lastRail([...soFar.readings.phases.values()].at(-1) ?? []);
  const own = drawn.filter((chart) => chart.rail === rail);
  return { ...about, results, charts: own.length > 0 ? own : drawn, leave };
}

/** The rail of the last reading. */
function lastRail(readings: readonly Reading[]): string | null {
  const last = inOrder(readings, (r) => r).at(-1);
  return last?.kind === 'offset' && last.point.kind === 'station' ? last.point.rail : null;
}

/** Plans of moves, by the readings that they were made from: a plan does not change while a rail is adjusted. */
const plans = new Map<string, CorrectionPlan | null>();

const keyOfPlan = ({ usable }: Inspection, before: readonly Reading[]): string =>
  JSON.stringify([usable?.digests ?? null, before]);

/** The moves that the phase before asked for, while those after them are read. `isPlanWanted`: they must be searched for. */
function adjustingIn(inspection: Inspection): { adjusting: Adjusting | null; isPlanWanted: boolean } {
  const { usable, readings } = inspection;
  const [before, after] = [...(readings?.phases.values() ?? [])].slice(-2);
  if (usable === null || before === undefined || after === undefined)
    return { adjusting: null, isPlanWanted: false };
  // Once the rail is read as a whole, its figures count, not its moves.
  if (isReadWhole(inspection)) return { adjusting: null, isPlanWanted: false };
  const plan = plans.get(keyOfPlan(inspection, before));
  return {
    adjusting: plan ? adjustingOf(usable.job, plan, before, after) : null,
    isPlanWanted: plan === undefined,
  };
}

/** Whether the last phase has a reading in each planned row and at each declared station. */
function isReadWhole({ read, readings }: Inspection): boolean {
  const [phase, own] = [...(read ?? [])].at(-1) ?? [];
  return (
    own !== undefined &&
    own.rails.every(({ unread }) => unread.length === 0) &&
    !(readings?.blank ?? []).some((row) => row.phase === phase)
  );
}

/** Searches for the moves that the phase before asks for, and keeps them. */
async function findPlan(folder: string): Promise<void> {
  const inspection = await inspectJob(folder, null, { limit: DEFAULT_LIMIT_S });
  const { usable, readings } = inspection;
  const [before] = [...(readings?.phases ?? [])].slice(-2);
  if (usable === null || before === undefined) return;
  const [name, list] = before;
  const { solved, ...rest } = usable;
  const adjustment = solved?.get(name);
  const loaded = {
    ...rest,
    readings: { ...usable.readings, phases: new Map([[name, list]]) },
    ...(adjustment !== undefined && { solved: new Map([[name, adjustment]]) }),
  };
  const plan = planOf(await solve(loaded, []));
  plans.clear();
  plans.set(keyOfPlan(inspection, list), plan);
}

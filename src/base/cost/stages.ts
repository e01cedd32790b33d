/**
 * Processor time by stage of the work, for the bench: where WAYSHEET_STAGES names a folder, each process writes its sums into
 * it when it ends. Stages follow one another within a process, so a batch gives its workers one job at a time then.
 */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';

/** 'causes': what else than noise explains a misfit. 'moves': the search for a plan. 'rest': starting, loading, messages, register. */
export type Stage =
  | ('read' | 'solve' | 'causes' | 'judge' | 'moves')
  | ('charts' | 'page' | 'print' | 'finish' | 'hash' | 'write')
  | 'rest';

const folder = process.env['WAYSHEET_STAGES'];
export const areStagesMeasured = folder !== undefined;

/** Seconds. */
const sums: Partial<Record<Stage, number>> = {};
let current: Stage = 'rest';
let since = 0;

function enter(stage: Stage): void {
  const { user, system } = process.cpuUsage();
  const now = (user + system) / 1e6;
  sums[current] = (sums[current] ?? 0) + now - since;
  [current, since] = [stage, now];
}

/** Does the work, and puts its processor time down to the stage; a stage within it is not counted twice. */
export async function inStage<T>(stage: Stage, work: () => T | Promise<T>): Promise<T> {
  if (!areStagesMeasured) return work();
  const outer = current;
  enter(stage);
  try {
    return await work();
  } finally {
    enter(outer);
  }
}

if (folder !== undefined)
  process.on('exit', () => {
    enter(current);
    writeFileSync(join(folder, `${process.pid}.json`), JSON.stringify(sums));
  });

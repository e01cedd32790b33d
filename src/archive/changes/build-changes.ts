/** The changes of an archive, from the changes of its jobs. */
import { problemWords } from '../register/problem-words.js';
import type { RegisterRow } from '../register/register.js';
import type { Verdict } from '../../results/results-schema.js';
import {
  causes,
  changesSchema,
  type Changes,
  type CharacteristicChange,
  type JobChange,
} from './changes-schema.js';
import { blankChange } from './compare-job.js';
import { RULE } from './moved.js';
import { readOldReport } from './old-reports.js';

/**
 * The jobs that have an earlier report and no report of this run.
 *
 * @param old The folders of the earlier reports, by job. @param rows This run's register.
 */
export async function unreportedChanges(
  old: ReadonlyMap<string, string>,
  rows: readonly RegisterRow[],
): Promise<JobChange[]> {
  const byJob = new Map(rows.flatMap((row) => (row.job === null ? [] : [[row.job, row] as const])));
  const changes: JobChange[] = [];
  for (const [job, path] of old) {
    const row = byJob.get(job);
    if (row?.status === 'reported') continue;
    const change = blankChange(job, await readOldReport(path, job), null);
    changes.push(
      row === undefined
        ? { ...change, status: 'vanished' }
        : { ...change, status: 'not-reported', note: noteOf(row) },
    );
  }
  return changes;
}

function noteOf(row: Exclude<RegisterRow, { status: 'reported' }>): string {
  if (row.status === 'not-done') return 'not reached: the run was stopped before';
  if (row.status === 'failed') return `failed: ${row.message}`;
  const [first] = row.problems;
  const more = row.problemCount > 1 ? ` (and ${row.problemCount - 1} more)` : '';
  return `refused: ${first === undefined ? 'no reason is known' : problemWords(first)}${more}`;
}

export function buildChanges(
  about: Pick<Changes, 'software' | 'against' | 'whatIf' | 'language' | 'isComplete'>,
  jobs: readonly JobChange[],
): Changes {
  const count = (...wanted: JobChange['status'][]) => jobs.filter((j) => wanted.includes(j.status)).length;
  return changesSchema.parse({
    format: 'waysheet-changes/1',
    ...about,
    rule: RULE,
    counts: {
      compared: count('changed', 'redrawn', 'same'),
      flipped: jobs.filter(isFlipped).length,
      changed: count('changed'),
      redrawn: count('redrawn'),
      same: count('same'),
      appeared: count('appeared'),
      vanished: count('vanished'),
      notReported: count('not-reported'),
      notCompared: count('not-compared'),
      damaged: jobs.filter(({ damage }) => damage.length > 0).length,
    },
    byCause: byCause(jobs),
    jobs: jobs
      .filter(({ status, damage }) => status !== 'same' || damage.length > 0)
      .sort((a, b) => (a.job < b.job ? -1 : a.job > b.job ? 1 : 0)),
  });
}

/** true: the verdict changed. If one side has no tolerance, it has no verdict that could change. */
const isFlip = (before: Verdict | null | undefined, after: Verdict | null | undefined): boolean =>
  before !== after && [before, after].every((verdict) => (verdict ?? 'reported') !== 'reported');

export const isFlipped = ({ status, verdict }: JobChange): boolean =>
  status === 'changed' && isFlip(verdict.before, verdict.after);

/** Characteristics whose verdict changed in the last phase, which decides the job's verdict. */
export const flippedIn = ({ about, characteristics }: JobChange): CharacteristicChange[] =>
  characteristics.filter(
    ({ phase, before, after }) =>
      isFlip(before?.verdict, after?.verdict) && (about === null || phase === about.phase),
  );

/** A change with several causes is counted under each of them. */
function byCause(jobs: readonly JobChange[]): Changes['byCause'] {
  return causes
    .map((cause) => {
      const of = jobs.filter((job) => job.causes.includes(cause));
      const characteristics = of.flatMap((job) => job.characteristics);
      const count = <T>(list: readonly T[], causesOf: (item: T) => readonly string[]) =>
        list.filter((item) => causesOf(item).includes(cause)).length;
      return {
        cause,
        jobs: of.length,
        jobVerdicts: count(of, (job) => job.verdictCauses),
        characteristicVerdicts: count(of.flatMap(flippedIn), (c) => c.verdictCauses),
        characteristics: count(characteristics, (c) => c.causes),
        figures: of.reduce(
          (sum, { figures }) => sum + (figures.causes.includes(cause) ? figures.count : 0),
          0,
        ),
      };
    })
    .filter(({ jobs: n }) => n > 0);
}

/** Finds the reports of a batch that are still valid, before any worker process starts. */
import { join, resolve } from 'node:path';
import { inParallel } from '../in-parallel.js';
import { standingReports } from '../report-places.js';
import { earlierRows } from '../register/write-register.js';
import { aboutReport } from '../register/register-row.js';
import type { ReportedEntry } from './entry.js';
import type { MakeSettings } from './make-one.js';
import type { Task } from './plan.js';
import { claimOf } from './unchanged.js';
import type { Verifiers } from './verifiers.js';

/**
 * @param onValid Called for each valid report as soon as it is found.
 * @returns The tasks whose reports must be made. Tasks with an old report are marked, so that it is not checked again.
 */
export async function findValid(
  tasks: readonly Task[],
  settings: MakeSettings,
  verifiers: Verifiers,
  onValid: (entry: ReportedEntry) => void,
): Promise<Task[]> {
  const { root, out } = settings;
  const rows = await earlierRows(out);
  const found = await inParallel(tasks, async (task): Promise<Task | null> => {
    const standing = task.job === null ? [] : await standingReports(out, task.job);
    if (standing.length === 0) return task;
    const { folder } = task;
    const claims = standing.flatMap((report) => {
      const claim = claimOf(resolve(root, folder), join(out, report.place), report.manifest, settings);
      return claim === null ? [] : [{ ...report, claim }];
    });
    if (claims.length === 0) return { ...task, isStale: true };
    const { place, manifest, claim } = claims[0]!;
    const { key = '', verdict } = manifest;
    // The key says from what the results were made; the thread checks that they are the ones that were made.
    const known = rows.get(manifest.job);
    const isKnown = known?.key === key && known.folder === folder && known.issue?.number === manifest.issue;
    const earlier = isKnown ? known : null;
    const unknown = earlier === null ? aboutReport(folder, manifest, place) : null;
    const verified = await verifiers.ask({ claim, row: unknown });
    const row = verified.row ?? earlier;
    if (!verified.stands || row === null) return { ...task, isStale: true };
    onValid({ status: 'reported', folder, row, made: false, before: verdict, change: null });
    return null;
  });
  return found.filter((task) => task !== null);
}

/** The jobs of a batch: found, named by their ids. Jobs with the same id are refused. */
import { groupBy } from '../../base/lists.js';
import { join } from 'node:path';
import { MAX_JSON_BYTES, readInputFile } from '../../survey/job/input-file.js';
import { JOB_FILE } from '../../survey/job/job-paths.js';
import { valueAt } from '../../survey/job/key-path.js';
import { decodeText } from '../../base/input/decode.js';
import { inParallel } from '../in-parallel.js';
import { isRegisterName } from '../register/register.js';
import { refusedFor, type RefusedEntry } from './entry.js';
import type { FoundJobs } from './find-jobs.js';
import { shardOf, type Shard } from '../shard.js';

export interface Task {
  /** Relative to the folder of the batch, or absolute. */
  readonly folder: string;
  /** null: job.json has none; the job will be refused. */
  readonly job: string | null;
  /** Folder of the report to compare with; null: there is none; left out: nothing is compared. */
  readonly old?: string | null;
  /** Its report was checked, and is not valid any more. */
  readonly isStale?: boolean;
}

export interface Plan {
  readonly tasks: readonly Task[];
  readonly refused: readonly RefusedEntry[];
}

/** @param foldCase Whether ids that differ in their capitals would be one folder. */
export async function planBatch(
  root: string,
  found: FoundJobs,
  shard: Shard | null,
  foldCase: boolean,
): Promise<Plan> {
  const ids = await inParallel(found.folders, (folder) => readJobId(join(root, folder)));
  const all = found.folders.map((folder, i): Task => ({ folder, job: ids[i]! }));
  const same = (id: string) => (foldCase ? id.normalize('NFC').toLowerCase() : id.normalize('NFC'));
  const byId = groupBy(all, ({ job }) => job && same(job));
  const isMine = ({ folder, job }: Task) =>
    shard === null || shardOf(job === null ? folder : job.normalize('NFC'), shard.of) === shard.index;
  const refused = found.unreadable
    .filter(({ folder }) => isMine({ folder, job: null }))
    .map(({ folder, reason }) =>
      refusedFor(folder, null, 'FOLDER_UNREADABLE', `The folder cannot be read: ${reason}.`),
    );
  const tasks: Task[] = [];
  for (const task of all.filter(isMine)) {
    const others = task.job === null ? [] : byId.get(same(task.job))!.filter((one) => one !== task);
    if (others.length > 0) refused.push(refusedForId(task, others));
    else if (task.job !== null && isRegisterName(task.job))
      refused.push(
        refusedFor(task.folder, task.job, 'JOB_ID_TAKEN', `The register itself is called "${task.job}".`),
      );
    else tasks.push(task);
  }
  return { tasks, refused };
}

function refusedForId({ folder, job }: Task, others: readonly Task[]): RefusedEntry {
  const named = others.slice(0, 3).map((other) => other.folder);
  const listed = named.join(', ') + (others.length > 3 ? `, and ${others.length - 3} more` : '');
  const message = `The job id "${job}" is also that of ${listed}. None of them is reported: give each job its own id.`;
  return refusedFor(folder, job, 'JOB_ID_REPEATED', message);
}

/** The id as the loader will read it; null: job.json cannot be read, is not JSON or has no id. */
export async function readJobId(folder: string): Promise<string | null> {
  const file = await readInputFile(folder, JOB_FILE, '', MAX_JSON_BYTES, { file: JOB_FILE }).catch(
    () => null,
  );
  if (file === null || !file.ok) return null;
  const text = decodeText(file.value.bytes, JOB_FILE);
  if (!text.ok) return null;
  try {
    const id = valueAt(JSON.parse(text.value.text), ['id']);
    return typeof id === 'string' ? id : null;
  } catch {
    return null;
  }
}

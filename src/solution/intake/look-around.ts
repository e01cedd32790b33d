/** What stands around a job that can be used: files that nothing names or that are the same, rows left out without a reason. */
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import type { Diagnostic } from '../../base/diagnostics/diagnostic.js';
import { normalPath } from '../../survey/job/job-paths.js';
import type { Job } from '../../survey/job/job.js';
import { phaseWords } from '../../survey/readings/phase-words.js';
import type { Readings } from '../../survey/readings/readings.js';
import type { InputFile } from '../../base/input/input-file.js';
import { leastOf } from '../../base/statistics/extent.js';

/** Two files of two phases that are the same. Asks: FILES_IDENTICAL. */
export function identicalFiles(job: Job, inputs: readonly InputFile[]): Diagnostic[] {
  const seen = new Map<string, { path: string; phase: string }>();
  return job.readingsFiles.flatMap(({ file, phase }): Diagnostic[] => {
    const sha256 = inputs.find(({ path }) => path === file)?.sha256;
    if (sha256 === undefined) return [];
    const one = seen.get(sha256);
    if (one === undefined) seen.set(sha256, { path: file, phase });
    if (one === undefined || one.phase === phase) return [];
    const data = { one: one.path, other: file, phase: phaseWords(one.phase), otherPhase: phaseWords(phase) };
    return [{ code: 'FILES_IDENTICAL', severity: 'confirm', data, at: { file } }];
  });
}

/** CSV files in `readings/` that no entry names. Warns: FILE_UNNAMED. */
export async function unnamedFiles(folder: string, job: Job): Promise<Diagnostic[]> {
  const named = new Set(job.readingsFiles.map(({ file }) => normalPath(file)));
  const entries = await readdir(join(folder, 'readings'), { recursive: true }).catch(() => [] as string[]);
  return entries
    .map((name) => `readings/${name.replaceAll('\\', '/')}`)
    .filter((path) => /\.(?:csv|txt|tsv)$/i.test(path) && !named.has(normalPath(path)))
    .sort()
    .map((path) => ({ code: 'FILE_UNNAMED', severity: 'warning', data: { path }, at: { file: path } }));
}

/** Warns: LEFT_OUT_WITHOUT_NOTE, once a file. */
export function leftOutWithoutNote({ excluded }: Readings): Diagnostic[] {
  const rows = excluded.filter(({ note }) => note.trim() === '');
  const files = [...new Set(rows.map(({ source }) => source.file))];
  return files.map((file): Diagnostic => {
    const own = rows.filter(({ source }) => source.file === file);
    const row = leastOf(own.map(({ source }) => source.row));
    return {
      code: 'LEFT_OUT_WITHOUT_NOTE',
      severity: 'warning',
      data: { count: own.length },
      at: { file, row },
    };
  });
}

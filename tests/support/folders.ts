/** Job folders on disk for tests: copies of the samples, changed as a test likes. */
import { cp, mkdtemp, readFile, writeFile } from 'node:fs/promises';
import { readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { loadJob } from '../../src/solution/intake/load-job.js';
import { judge, solve } from '../../src/pipeline.js';
import type { Results } from '../../src/results/results-schema.js';

export const root = fileURLToPath(new URL('../../', import.meta.url));
export const sample = (id: string): string => join(root, 'samples', id);

export const temporary = (): Promise<string> => mkdtemp(join(tmpdir(), 'waysheet-test-'));

/** A copy of a sample in a new temporary folder. */
export async function copyOf(id: string): Promise<string> {
  const folder = join(await temporary(), id);
  await cp(sample(id), folder, { recursive: true });
  return folder;
}

/* eslint-disable @typescript-eslint/no-explicit-any -- tests change job files at will */
export async function changeJob(folder: string, change: (job: any) => void): Promise<void> {
  const path = join(folder, 'job.json');
  const job: unknown = JSON.parse(await readFile(path, 'utf8'));
  change(job);
  await writeFile(path, JSON.stringify(job, null, 2));
}

export async function changeRows(
  folder: string,
  file: string,
  change: (header: string[], rows: string[][]) => string[][],
): Promise<void> {
  const path = join(folder, file);
  const [header, ...rows] = (await readFile(path, 'utf8'))
    .trimEnd()
    .split('\n')
    .map((line) => line.split(','));
  const changed = change(header!, rows);
  await writeFile(path, [header!, ...changed].map((cells) => cells.join(',')).join('\n') + '\n');
}

/**
 * A job of a test that invents its rails, limits or gaps: what is to be confirmed of it, the test confirms. What it confirms is
 * written into its job.json.
 */
export async function loadConfirmed(folder: string): ReturnType<typeof loadJob> {
  const loaded = await loadJob(folder);
  const asked = loaded.diagnostics.filter(({ severity }) => severity === 'confirm');
  if (loaded.ok || asked.length === 0 || loaded.diagnostics.some(({ severity }) => severity === 'error'))
    return loaded;
  await changeJob(folder, (job) => {
    job.confirmed = [
      ...(job.confirmed ?? []),
      ...asked.map(({ code, at }) => ({
        what: code,
        ...(at !== undefined && { in: at.file }),
        by: 'the test',
        because: 'it invents its survey',
      })),
    ];
  });
  return loadJob(folder);
}

/** @returns The caller's own to change. Of a sample as it is: solved once for all tests of a process. */
export const resultsOf = onceOfSample(async (folder): Promise<Results> => {
  const loaded = await loadOrThrow(folder);
  return solve(loaded.value, loaded.diagnostics);
});

/** The same without a search for moves, which takes up to 20 s. */
export const judgedOf = onceOfSample(async (folder): Promise<Results> => {
  const loaded = await loadOrThrow(folder);
  return (await judge(loaded.value, loaded.diagnostics)).results;
});

function onceOfSample<T>(make: (folder: string) => Promise<T>): (folder: string) => Promise<T> {
  const known = new Map<string, Promise<T>>();
  return async (folder) => {
    if (!folder.startsWith(sample(''))) return make(folder);
    const found = known.get(folder) ?? make(folder);
    known.set(folder, found);
    return structuredClone(await found);
  };
}

async function loadOrThrow(folder: string) {
  const loaded = await loadConfirmed(folder);
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.diagnostics, null, 1));
  return loaded;
}

/** A job folder made from scratch; what a job needs and `parts` lacks is filled in. */
export async function makeJob(
  parts: Record<string, unknown>,
  files: Record<string, string>,
): Promise<string> {
  const folder = await temporary();
  const { mkdir } = await import('node:fs/promises');
  const job = {
    format: 'waysheet-job/1',
    id: 'T-1',
    units: { length: 'mm', reading: 'um' },
    instruments: [{ id: 'E1', reading: { u: 1, unit: 'um/m' } }],
    ...parts,
  };
  await writeFile(join(folder, 'job.json'), JSON.stringify(job, null, 2));
  for (const [path, text] of Object.entries(files)) {
    await mkdir(join(folder, path, '..'), { recursive: true });
    await writeFile(join(folder, path), text);
  }
  return folder;
}

/** The parts of a job whose rails are all read in r.csv from one levelled set-up S1. Its rails are invented: rougher than any. */
export const levelledShot = (phase: 'as-found' | 'as-left', readingU: number, levelU: number) => ({
  units: { length: 'mm', reading: 'um' },
  instruments: [{ id: 'L1', reading: { u: readingU, unit: 'um' }, level: { u: levelU, unit: 'um/m' } }],
  setups: [
    {
      id: 'S1',
      instrument: 'L1',
      along: -500,
      across: 0,
      levelled: true,
      plus: { vertical: 'up', horizontal: 'left' },
    },
  ],
  readings: [{ file: 'r.csv', phase }],
  confirmed: [{ what: 'UNIT_IMPLAUSIBLE', in: 'r.csv', by: 'the test', because: 'it invents its rails' }],
});

/** '' for a file that is not there, or no longer. */
export const textOf = (path: string): string => {
  try {
    return readFileSync(path, 'utf8');
  } catch {
    return '';
  }
};

/**
 * Whole job folders, spoiled: loading and solving end with results or with diagnostics, and never throw;
 * `waysheet report` ends with its files and status 0, or with words, status 3 and nothing written.
 * Rewritten without a change of meaning, they end with the same results. The count of cases is printed.
 *
 * Intervals are simulated only for some of the spoiled folders: they take most of a second each.
 */
import fc from 'fast-check';
import { existsSync } from 'node:fs';
import { readdir, readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { writeWhole } from '../../src/archive/write-whole.js';
import { reportOne } from '../../src/cli/report-one.js';
import { formatDiagnostics } from '../../src/base/diagnostics/format.js';
import { exitCodes } from '../../src/cli/exit-codes.js';
import { answer } from '../../src/cli/new/answer.js';
import { makeFolder } from '../../src/cli/new/make-folder.js';
import { solve } from '../../src/pipeline.js';
import { loadJob } from '../../src/solution/intake/load-job.js';
import { resultsSchema, type Results } from '../../src/results/results-schema.js';
import type * as Greatest from '../../src/solution/verdict/greatest.js';
import type * as Magnitude from '../../src/solution/verdict/greatest-magnitude.js';
import { fillIn } from '../cli/new/fill.js';
import { sample, temporary } from '../support/folders.js';
import { readFolder, rewriting, spoiling, writeFolder, type Folder } from './mutate.js';

const simulation = vi.hoisted(() => ({ isOn: true }));
const nought = { reads: 0, factor: 0, u: 0 };
const cheap: Greatest.CoverageResult = {
  interval: [0, 0],
  ends: [nought, nought],
  reach: {
    value: 0,
    interval: [0, 0],
    upperAt: () => 0,
    lowerAt: () => 0,
    acceptanceRisk: () => 0.5,
    rejectionRisk: () => 0.5,
  },
  probabilityAtMost: () => 0.5,
};

vi.mock('../../src/solution/verdict/greatest.js', async (original) => {
  const real = await original<typeof Greatest>();
  const greatestInterval: typeof real.greatestInterval = (...args) =>
    simulation.isOn ? real.greatestInterval(...args) : cheap;
  return { ...real, greatestInterval };
});
vi.mock('../../src/solution/verdict/greatest-magnitude.js', async (original) => {
  const real = await original<typeof Magnitude>();
  const signedInterval: typeof real.signedInterval = (...args) =>
    simulation.isOn ? real.signedInterval(...args) : cheap;
  return { ...real, signedInterval };
});

const counts = { spoiled: 0, refused: 0, solved: 0, simulated: 0, reported: 0, notReported: 0, rewritten: 0 };
afterAll(() => {
  console.log(
    `fuzz of job folders: ${counts.spoiled} spoiled (${counts.refused} refused, ${counts.solved} solved, ` +
      `${counts.simulated} with intervals), ${counts.reported + counts.notReported} through the command ` +
      `(${counts.notReported} refused), ${counts.rewritten} rewritten`,
  );
});

const bases = new Map<string, Folder>();
let place: string;
let cases = 0;

async function planned(name: string, given: Record<string, string>): Promise<string> {
  const answered = await answer({ given, folderName: name, ask: null });
  if (!answered.ok) throw new Error(answered.wrong.join('\n'));
  const folder = await writeWhole(place, name, await makeFolder(answered.plan, 'waysheet', null));
  await fillIn(folder);
  return folder;
}

beforeAll(async () => {
  place = await temporary();
  const small = { length: '1000', count: '3', passes: '1' };
  bases.set('one', readFolder(await planned('one', { ...small, spans: '1' })));
  bases.set('two', readFolder(await planned('two', { ...small, setups: 'two', phases: 'both', spans: '0' })));
  bases.set(
    'inches',
    readFolder(await planned('inches', { ...small, length: '40', units: 'in', rails: '1' })),
  );
  for (const id of ['TH-0412', 'TH-2031', 'TH-1175', 'TH-3318']) bases.set(id, readFolder(sample(id)));
});

/** What a case must end with: sound results, or an error in plain words. */
async function outcomeOf(folder: Folder): Promise<Results | null> {
  // A folder of its own: a case that a property's time limit cut off may still be at work in the last one.
  const path = join(place, `case ${++cases}`);
  try {
    await writeFolder(path, folder);
    return await outcomeIn(path);
  } finally {
    await rm(path, { recursive: true, force: true });
  }
}

async function outcomeIn(path: string): Promise<Results | null> {
  const loaded = await loadJob(path);
  const words = formatDiagnostics(loaded.diagnostics, { root: path });
  expect(words).not.toMatch(/undefined|\[object|\n\s+at /);
  if (!loaded.ok) {
    expect(loaded.diagnostics.some(({ severity }) => severity !== 'warning')).toBe(true);
    return null;
  }
  const results = await solve(loaded.value, loaded.diagnostics);
  // The schema knows neither NaN nor infinity.
  const parsed = resultsSchema.safeParse(results);
  if (!parsed.success) expect.fail(parsed.error.message);
  return results;
}

/** For the message of a case that fails: the lines that were changed, as far as they can be shown. */
function differences(before: Folder, after: Folder): string {
  const linesOf = (file: string, bytes: Buffer | null | undefined): string[] => {
    if (!bytes) return [bytes === null ? 'a folder' : 'gone'];
    if (file.endsWith('.csv')) return bytes.toString().split('\n');
    try {
      return JSON.stringify(JSON.parse(bytes.toString()), null, 1).split('\n');
    } catch {
      return bytes.toString().split('\n');
    }
  };
  return [...before]
    .flatMap(([file, bytes]) => {
      const [old, fresh] = [linesOf(file, bytes), linesOf(file, after.get(file))];
      const changed = [...fresh.keys()].filter((i) => fresh[i] !== old[i]);
      return changed
        .slice(0, 4)
        .map((i) => `${file}:${i + 1}: ${old[i]?.trim()} -> ${fresh[i]!.trim()}`.slice(0, 300));
    })
    .join('\n');
}

/** Without what may differ: the bytes of the files, and rows that are left out, which are quoted as they stand. */
const meaningOf = ({ inputs, excluded, ...rest }: Results): unknown => ({
  ...rest,
  inputs: inputs.map(({ path }) => path),
  excluded: excluded.map((row) => ({ ...row, what: '' })),
});

/** WAYSHEET_FUZZ=50 tries fifty times as many. */
const TIMES = Number(process.env['WAYSHEET_FUZZ'] ?? 1);

const spoil = (
  names: string[],
  runs: number,
  changes: number,
  seen: (folder: Folder) => Promise<void>,
): Promise<void> => {
  const list = fc.array(spoiling, { minLength: 1, maxLength: changes });
  return fc.assert(
    fc.asyncProperty(fc.constantFrom(...names), list, async (name, mutations) => {
      const changed = mutations.reduce<Folder>((folder, mutation) => {
        // After an earlier change a file may no longer be what the next one takes it for.
        try {
          return mutation(folder);
        } catch {
          return folder;
        }
      }, bases.get(name)!);
      await seen(changed).catch((error: Error) => {
        throw new Error(`${differences(bases.get(name)!, changed)}\n${error.message}`, { cause: error });
      });
    }),
    { numRuns: runs * TIMES },
  );
};

const solving =
  (isOn: boolean) =>
  async (folder: Folder): Promise<void> => {
    simulation.isOn = isOn;
    const results = await outcomeOf(folder);
    counts.spoiled++;
    if (results === null) counts.refused++;
    else counts[isOn ? 'simulated' : 'solved']++;
  };

/** `waysheet report --no-pdf`: charts and page too. */
async function reporting(folder: Folder): Promise<void> {
  simulation.isOn = false;
  const path = join(place, `case ${++cases}`);
  const out = `${path} out`;
  try {
    await writeFolder(path, folder);
    const noPrinter = () => Promise.reject(new Error('no PDF was asked for'));
    const reported = await reportOne(
      path,
      { out, pdf: false, given: null, brand: null, limit: 300, calledAs: 'waysheet' },
      noPrinter,
    );
    const { status } = reported;
    const said = reported.err + reported.out;
    expect(said).not.toMatch(/undefined|\[object|\n\s+at /);
    if (status === exitCodes.refused) {
      expect(said).toContain('refused, nothing was written');
      expect(existsSync(out) ? await readdir(out) : []).toEqual([]);
      counts.notReported++;
      return;
    }
    expect(status).toBe(exitCodes.done);
    const [id, ...others] = await readdir(out);
    expect(others).toEqual([]);
    const page = await readFile(join(out, id!, 'report.html'), 'utf8');
    expect(page).toMatch(/^<!doctype html>[^]*<\/html>\s*$/i);
    expect(page.replace(/<(script|style)[^]*?<\/\1>/g, '')).not.toMatch(/>[^<]*(\bNaN\b|undefined|\[object)/);
    counts.reported++;
  } finally {
    await rm(path, { recursive: true, force: true });
    await rm(out, { recursive: true, force: true });
  }
}

describe('spoiled: results or diagnostics, never a crash', () => {
  const small = ['one', 'two', 'inches'];
  const samples = ['TH-0412', 'TH-2031', 'TH-1175', 'TH-3318'];
  const limit = 240_000 * TIMES;
  test('small jobs, one change', () => spoil(small, 100, 1, solving(false)), limit);
  test('small jobs, several changes', () => spoil(small, 60, 4, solving(false)), limit);
  test('the samples', () => spoil(samples, 4, 2, solving(false)), limit);
  test('with intervals', () => spoil(small, 12, 1, solving(true)), limit);
  test('through the command', () => spoil([...small, 'TH-0412'], 25, 2, reporting), limit);
});

test('rewritten: the same results', async () => {
  simulation.isOn = false;
  for (const name of ['one', 'two', 'inches', 'TH-0412']) {
    const plain = meaningOf((await outcomeOf(bases.get(name)!))!);
    for (const [how, rewrite] of rewriting) {
      const results = await outcomeOf(rewrite(bases.get(name)!));
      counts.rewritten++;
      if (results === null) expect.fail(`${name}, ${how}: refused`);
      expect(meaningOf(results), `${name}, ${how}`).toEqual(plain);
    }
  }
});

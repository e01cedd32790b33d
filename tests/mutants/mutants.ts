/**
 * `npm run mutants [count] [seed]`: do the tests notice small bugs? So many are drawn from the rooms that make numbers and
 * are put, one at a time, into a copy of the project, together with those that were once planted by hand
 * (planted.json). What lives is printed, with its place.
 *
 * Pages and numbers that are kept as files (tests/pinned) do not count: `npm run pin` would write them anew. The few files of
 * tests that take most of the time are left out as well, so the printed share is a lower bound.
 *
 * The well-kept tester for TypeScript puts all bugs of a file in at once and runs every test for each of them: some
 * thousands here, a night and a day. A sample says the same share within a few per cent in an hour.
 */
import { spawn } from 'node:child_process';
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { dirname, join, relative } from 'node:path';
import { root } from '../support/folders.js';
import { seeded } from '../support/jobs.js';
import { mutantsOf, type Mutant } from './mutate.js';

/** What makes numbers. */
const ROOMS = [
  'src/solution/solve',
  'src/base/geometry',
  'src/solution/characteristics',
  'src/solution/verdict',
  'src/base/statistics',
  'src/results',
  'src/base/units/units.ts',
  'src/survey/readings/number.ts',
  'src/results/words/format-quantity.ts',
];

/** The tests that may notice them. None starts the program, which would refuse to run: its sources differ from what was built. */
const TESTED = [
  'tests/base',
  'tests/survey',
  'tests/solution',
  'tests/results',
  'tests/pages/report/view-model.test.ts',
];

/** Files of tests are used, the cheapest first, until they take this share of the time of all. */
const QUICK_SHARE = 0.25;

/** Processor time of one process for one bug, s: a loop without an end is noticed too. */
const LIMIT_S = 600;

interface Planted {
  readonly name: string;
  readonly file: string;
  readonly was: string;
  readonly is: string;
}

function sources(path: string): string[] {
  if (path.endsWith('.ts')) return [path];
  return readdirSync(join(root, path), { recursive: true })
    .map(String)
    .filter((name) => name.endsWith('.ts'))
    .map((name) => join(path, name));
}

function plantedOnes(): (Mutant & { readonly name: string })[] {
  const list = JSON.parse(readFileSync(new URL('planted.json', import.meta.url), 'utf8')) as Planted[];
  return list.map(({ name, file, was, is }) => {
    const source = readFileSync(join(root, file), 'utf8');
    const at = source.indexOf(was);
    if (at < 0) throw new Error(`planted.json: '${was}' does not stand in ${file} any more`);
    const line = source.slice(0, at).split('\n').length;
    return { name, file, line, was, is, text: source.slice(0, at) + is + source.slice(at + was.length) };
  });
}

/** Looked at by a person: what lives, and why nothing can notice it. */
const HARMLESS = JSON.parse(readFileSync(new URL('harmless.json', import.meta.url), 'utf8')) as {
  file: string;
  line: string;
  was: string;
  is: string;
  why: string;
}[];

function whyHarmless({ file, line, was, is }: Mutant): string | null {
  const text = readFileSync(join(root, file), 'utf8').split('\n')[line - 1]!.trim();
  const known = HARMLESS.find((h) => h.file === file && h.line === text && h.was === was && h.is === is);
  return known?.why ?? null;
}

function drawn(count: number, seed: number): Mutant[] {
  const next = seeded(seed);
  const all = ROOMS.flatMap(sources).flatMap((file) =>
    mutantsOf(file, readFileSync(join(root, file), 'utf8')),
  );
  console.log(`${all.length} bugs could be put in; ${count} are drawn with seed ${seed}`);
  for (let k = 0; k < Math.min(count, all.length); k++) {
    const other = k + Math.floor(next() * (all.length - k));
    [all[k], all[other]] = [all[other]!, all[k]!];
  }
  return all.slice(0, count);
}

/** Runs tests in a copy. @returns true: all pass. */
const passes = (copy: string, files: readonly string[], more: readonly string[] = []): Promise<boolean> =>
  new Promise((resolve) => {
    const vitest = join(root, 'node_modules/vitest/vitest.mjs');
    const command = [process.execPath, vitest, 'run', '--bail', '1', '--maxWorkers', '1', ...more, ...files];
    const limited = ['-c', `ulimit -t ${LIMIT_S}; exec "$@"`, 'sh', ...command];
    const child = spawn('sh', limited, { cwd: copy, stdio: 'ignore' });
    child.on('exit', (status) => resolve(status === 0));
  });

interface Timed {
  readonly testResults: readonly {
    readonly name: string;
    readonly startTime: number;
    readonly endTime: number;
  }[];
}

/** The cheapest files of tests, timed without a bug. @throws {Error} one fails: then every bug would seem to be noticed. */
async function quickTests(copy: string): Promise<string[]> {
  const timed = join(copy, 'timed.json');
  if (!(await passes(copy, TESTED, ['--reporter', 'json', '--outputFile', timed])))
    throw new Error('the tests fail without any bug');
  const { testResults } = JSON.parse(readFileSync(timed, 'utf8')) as Timed;
  const files = testResults
    .map(({ name, startTime, endTime }) => ({ name: relative(copy, name), took: endTime - startTime }))
    .sort((a, b) => a.took - b.took);
  let left = QUICK_SHARE * files.reduce((sum, { took }) => sum + took, 0);
  return files.filter(({ took }) => (left -= took) >= 0).map(({ name }) => name);
}

/** @returns What noticed it; null: it lives. */
async function noticedBy(
  copy: string,
  { file, text }: Mutant,
  tests: readonly string[],
): Promise<string | null> {
  const place = join(copy, file);
  const sound = readFileSync(place, 'utf8');
  const own = dirname(file).replace(/^src/, 'tests');
  const [near, far] = [true, false].map((is) => tests.filter((name) => name.startsWith(`${own}/`) === is));
  writeFileSync(place, text);
  try {
    if (near!.length > 0 && !(await passes(copy, near!))) return own;
    return (await passes(copy, far!)) ? null : 'others';
  } finally {
    writeFileSync(place, sound);
  }
}

function copyOfProject(): string {
  const copy = mkdtempSync(join(tmpdir(), 'waysheet-mutants-'));
  // dist without the bug: it is there for the tests that run a command.
  const settings = ['package.json', 'tsconfig.json', 'vitest.config.ts'];
  for (const name of ['src', 'tests', 'templates', 'samples', 'dist', ...settings])
    cpSync(join(root, name), join(copy, name), { recursive: true });
  symlinkSync(join(root, 'node_modules'), join(copy, 'node_modules'));
  return copy;
}

const [count = '100', seed = '1'] = process.argv.slice(2);
const copies = Array.from({ length: availableParallelism() }, copyOfProject);
try {
  const tests = await quickTests(copies[0]!);
  const planted = plantedOnes();
  const list: Mutant[] = [...planted, ...drawn(Number(count), Number(seed))];
  const alive: Mutant[] = [];
  let next = 0;
  const work = async (copy: string): Promise<void> => {
    for (let i = next++; i < list.length; i = next++) {
      const { file, line, was, is } = list[i]!;
      const by = await noticedBy(copy, list[i]!, tests);
      if (by === null) alive.push(list[i]!);
      console.log(
        `${i + 1} of ${list.length}: ${by === null ? 'LIVES' : `dies (${by})`} ${file}:${line} ${was.slice(0, 60)} -> ${is.slice(0, 60)}`,
      );
    }
  };
  await Promise.all(copies.map(work));
  const noticed = list.length - alive.length;
  const harmless = alive.filter((mutant) => whyHarmless(mutant) !== null).length;
  const share = (100 * noticed) / (list.length - harmless);
  console.log(
    `${noticed} of ${list.length} noticed by ${tests.length} files of tests, ${harmless} known to be harmless (${share.toFixed(1)} % of the others); alive:`,
  );
  for (const mutant of alive) {
    const { file, line, was, is } = mutant;
    console.log(`  ${file}:${line}  ${was}  ->  ${is}  ${whyHarmless(mutant) ?? ''}`);
  }
  process.exitCode = alive.some((mutant) => planted.some((p) => p === mutant)) ? 1 : 0;
} finally {
  for (const copy of copies) rmSync(copy, { recursive: true, force: true });
}

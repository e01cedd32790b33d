/**
 * `npm run mutants [count] [seed]`: do the tests notice small bugs? So many are drawn from the rooms that make numbers and
 * are put, one at a time, into a copy of the project, together with those that were once planted by hand
 * (planted.json). What lives is printed, with its place.
 *
 * The well-kept tester for TypeScript puts all bugs of a file in at once and runs every test for each of them: some
 * thousands here, a night and a day. A sample says the same share within a few per cent in an hour.
 */
import { spawnSync } from 'node:child_process';
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative } from 'node:path';
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

/** Quick and sharp ones first: most bugs die there. */
const STAGES: readonly (readonly string[])[] = [
  ['tests/pinned'],
  [
    'tests/solution/solve',
    'tests/base/geometry',
    'tests/solution/verdict',
    'tests/survey/job',
    'tests/results',
    'tests/survey/readings/number.test.ts',
  ],
  [
    'tests/results/corrections',
    'tests/results/planned',
    'tests/base/diagnostics',
    'tests/survey/readings',
    'tests/results/words/format-quantity.test.ts',
    'tests/pages/report/view-model.test.ts',
    'tests/pages/charts',
    'tests/solution/intake',
    'tests/study',
  ],
];

/** One stage for one bug, ms: an endless loop is noticed too. */
const LIMIT_MS = 400_000;

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

/** @returns The stage of tests that fails in the copy as it is, by its number; null: none does. */
function firstFailure(copy: string): string | null {
  for (const [stage, tests] of STAGES.entries()) {
    const ran = spawnSync(
      process.execPath,
      [join(root, 'node_modules/vitest/vitest.mjs'), 'run', '--bail', '1', '--reporter', 'dot', ...tests],
      { cwd: copy, timeout: LIMIT_MS, killSignal: 'SIGKILL', stdio: 'ignore' },
    );
    if (ran.status !== 0) return ran.error === undefined ? `stage ${stage + 1}` : 'no end';
  }
  return null;
}

/** @returns What noticed it; null: it lives. */
function noticedBy(copy: string, mutant: Mutant): string | null {
  const place = join(copy, mutant.file);
  const sound = readFileSync(place, 'utf8');
  writeFileSync(place, mutant.text);
  try {
    return firstFailure(copy);
  } finally {
    writeFileSync(place, sound);
  }
}

const [count = '100', seed = '1'] = process.argv.slice(2);
const copy = mkdtempSync(join(tmpdir(), 'waysheet-mutants-'));
try {
  for (const name of [
    'src',
    'tests',
    'templates',
    'samples',
    // Without the bug: it is there for the tests that run a command.
    'dist',
    'package.json',
    'tsconfig.json',
    'vitest.config.ts',
  ])
    cpSync(join(root, name), join(copy, name), { recursive: true });
  symlinkSync(join(root, 'node_modules'), join(copy, 'node_modules'));
  // Where tests fail already, every bug would seem to be noticed.
  const sound = firstFailure(copy);
  if (sound !== null) throw new Error(`the tests fail without any bug: ${sound}`);
  const planted = plantedOnes();
  const list: Mutant[] = [...planted, ...drawn(Number(count), Number(seed))];
  const alive: Mutant[] = [];
  list.forEach((mutant, i) => {
    const by = noticedBy(copy, mutant);
    if (by === null) alive.push(mutant);
    const { file, line, was, is } = mutant;
    console.log(
      `${i + 1} of ${list.length}: ${by === null ? 'LIVES' : `dies (${by})`} ${relative('.', file)}:${line} ${was.slice(0, 60)} -> ${is.slice(0, 60)}`,
    );
  });
  const noticed = list.length - alive.length;
  const harmless = alive.filter((mutant) => whyHarmless(mutant) !== null).length;
  const share = (100 * noticed) / (list.length - harmless);
  console.log(
    `${noticed} of ${list.length} noticed, ${harmless} known to be harmless (${share.toFixed(1)} % of the others); alive:`,
  );
  for (const mutant of alive) {
    const { file, line, was, is } = mutant;
    console.log(`  ${file}:${line}  ${was}  ->  ${is}  ${whyHarmless(mutant) ?? ''}`);
  }
  process.exitCode = alive.some((mutant) => planted.some((p) => p === mutant)) ? 1 : 0;
} finally {
  rmSync(copy, { recursive: true, force: true });
}

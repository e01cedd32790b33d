/**
 * No verdict on what was not read, and none on what cannot be: every mistake of the list is asked or told; honest surveys are
 * not asked; and whoever says what is wrong, says the same. `SILENT_SURVEYS=1000` for a full run, `SILENT_SEED` for other seeds.
 */
import { expect, test } from 'vitest';
import { inspectJob, loadJob } from '../../../src/solution/intake/load-job.js';
import { judge } from '../../../src/pipeline.js';
import { OF_THE_FOLDER, warningLines } from '../../../src/results/warning-lines.js';
import { folderOf } from '../../survey/job/made-up-job.js';
import { csvOf, honestFolder, roundMistakes, silentMistakes, type Folder } from './silent-mistakes.js';

const SURVEYS = Number(process.env['SILENT_SURVEYS'] ?? 12);
/** Surveys for each mistake. */
const EACH = SURVEYS < 100 ? 1 : 2;
const SEED = Number(process.env['SILENT_SEED'] ?? 31_000);

const write = ({ job, rows }: Folder): Promise<string> =>
  folderOf({
    'job.json': JSON.stringify(job),
    ...Object.fromEntries([...rows].map(([file, list]) => [file, csvOf(list)])),
  });

test.each([...silentMistakes, ...roundMistakes])('$mistake: $ends', async ({ make, ends }) => {
  const [grade, ...codes] = ends;
  for (let seed = 1; seed <= EACH; seed++) {
    const folder = honestFolder(SEED + seed);
    make(folder);
    const { diagnostics, loaded } = await inspectJob(await write(folder));
    const named = diagnostics.filter(({ code }) => codes.includes(code));
    const all = diagnostics.map(({ severity, code }) => `${severity} ${code}`).join('; ');
    expect(named.length, all).toBeGreaterThan(0);
    expect(
      named.some(({ severity }) => severity === (grade === 'asked' ? 'confirm' : 'warning')),
      all,
    ).toBe(true);
    if (grade === 'asked') expect(loaded).toBeNull();
  }
});

test(
  `of ${SURVEYS} honest surveys, forth and back, seated, with an outlier left out, next to none is asked`,
  {
    timeout: 600_000,
  },
  async () => {
    const asked: string[] = [];
    for (let k = 0; k < SURVEYS; k++) {
      const { diagnostics } = await inspectJob(await write(honestFolder(SEED + 1000 + k)));
      const found = diagnostics.filter(({ severity }) => severity !== 'warning').map(({ code }) => code);
      if (found.length > 0) asked.push(`${SEED + 1000 + k}: ${found.join(', ')}`);
    }
    console.log(`honest surveys asked: ${asked.length} of ${SURVEYS} ${asked.join('; ')}`);
    expect(asked.length).toBeLessThanOrEqual(Math.max(1, 0.002 * SURVEYS));
  },
);

test('a misfit whose causes are asked for is said once: its other signs come when it is confirmed', async () => {
  const folder = honestFolder(SEED + 1);
  for (const r of folder.rows.get('readings/as-left.csv')!)
    if (r.pass === 2 && r.setup === 'S1' && r.vertical !== '') r.vertical += 120;
  const codesOf = async (f: Folder) =>
    (await inspectJob(await write(f))).diagnostics.map(({ severity, code }) => `${severity} ${code}`);
  const asked = await codesOf(folder);
  expect(asked).toContain('confirm MISFIT_EXPLAINED');
  expect(asked.join()).not.toMatch(/NOISE_ABOVE_CLAIM|PRIOR_SUSPECT|CLOSURE_EXCEEDED/);
  folder.job.confirmed = [{ what: 'MISFIT_EXPLAINED', by: 'the test', because: 'known' }];
  expect(await codesOf(folder)).toEqual(
    expect.arrayContaining(['warning MISFIT_EXPLAINED', 'warning NOISE_ABOVE_CLAIM']),
  );
});

test.each([
  'spacing 50 for 500',
  'spacing 5000 for 500',
  'surveyed in 2062',
  'as left dated before as found',
])('%s: nothing else is said until it is answered', async (name) => {
  const folder = honestFolder(SEED + 2);
  silentMistakes.find(({ mistake }) => mistake === name)!.make(folder);
  const { diagnostics } = await inspectJob(await write(folder));
  expect(new Set(diagnostics.map(({ code }) => code)).size).toBe(1);
});

test('a pass of zeros that somebody confirms still contradicts the others, which is asked next', async () => {
  const folder = honestFolder(64_007);
  silentMistakes.find(({ mistake }) => mistake.startsWith('a pass of zeros'))!.make(folder);
  folder.job.confirmed = [{ what: 'READINGS_CONSTANT', by: 'J. Mill', because: 'it was so' }];
  const { diagnostics } = await inspectJob(await write(folder));
  const asked = diagnostics.filter(({ severity }) => severity === 'confirm').map(({ code }) => code);
  expect(asked).toEqual([expect.stringMatching(/^(?:MISFIT_EXPLAINED|NOISE_FAR_ABOVE_CLAIM)$/)]);
});

test('what is found at the door is what a report and its results say', { timeout: 600_000 }, async () => {
  const made: Folder[] = Array.from({ length: SURVEYS / 2 }, (_, k) => honestFolder(SEED + 5000 + k));
  for (const { make } of [...silentMistakes, ...roundMistakes]) {
    const folder = honestFolder(SEED + 4);
    make(folder);
    made.push(folder);
  }
  for (const folder of made) {
    const path = await write(folder);
    // Both `check` and a report take their findings from this one function.
    const loaded = await loadJob(path, null, 300);
    if (!loaded.ok) continue;
    const { results } = await judge(loaded.value, loaded.diagnostics);
    expect(results.warnings).toEqual(
      warningLines(loaded.diagnostics.filter(({ code }) => !OF_THE_FOLDER.has(code))),
    );
    // The same words, and the counts that they are of.
    const { rails } = Object.values(results.phases).at(-1)!.read!;
    expect(results.survey.rails.map((rail) => rail.read)).toEqual(
      rails.map(({ declared, read, unread }) => ({ declared, read, unread })),
    );
  }
});

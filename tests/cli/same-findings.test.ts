/** Whoever says what is wrong with a job says the same: check, report, a batch's register, the page of watch, results.json. */
import { readFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { expect, test, vi } from 'vitest';
import { makeOne } from '../../src/archive/batch/make-one.js';
import { pageOfJobs } from '../../src/archive/watch/refusal-page.js';
import { diagnosticsToJson, type JsonDiagnostic } from '../../src/base/diagnostics/format.js';
import { explain, wordsOf } from '../../src/base/diagnostics/messages.js';
import { english } from '../../src/pages/words/words.js';
import { withNames } from '../../src/pages/words/phrases.js';
import { look } from '../../src/cli/follow-look.js';
import { askedOf } from '../../src/cli/form.js';
import { runCheck } from '../../src/cli/check.js';
import { reportOne } from '../../src/cli/report-one.js';
import { OF_THE_FOLDER, warningLines } from '../../src/results/warning-lines.js';
import type { Results } from '../../src/results/results-schema.js';
import { inspectJob, isOfTheWhole } from '../../src/solution/intake/load-job.js';
import { honestSurvey } from '../solution/intake/honest-surveys.js';
import { createGenerator } from '../../src/base/statistics/random.js';
import { csvOf, honestFolder, silentMistakes, type Folder } from '../solution/intake/silent-mistakes.js';
import { temporary } from '../support/folders.js';
import { folderOf } from '../survey/job/made-up-job.js';

vi.setConfig({ testTimeout: 120_000 });

const noPrinter = () => Promise.reject(new Error('nothing is printed'));

const rodReset = (f: Folder) => {
  for (const r of f.rows.get('readings/as-left.csv')!)
    if (r.pass === 2 && r.setup === 'S1' && r.vertical !== '') r.vertical += 120;
};
const unknownRail = (f: Folder) => (f.rows.get('readings/as-left.csv')![5]!.rail = 'Q');
const named = (mistake: string): readonly [string, (f: Folder) => void] => [
  mistake,
  silentMistakes.find((one) => one.mistake === mistake)!.make,
];
const traps: readonly (readonly [string, (f: Folder) => void])[] = [
  ['a rod re-set between passes', rodReset],
  ['a rail that is not declared', unknownRail],
  named('rail B read at 3 of its 13 stations'),
  named('limit 0.04 µm for 40 µm'),
  named('as left dated before as found'),
  named('a station twice in one pass with another value'),
  named('all rows of M2 lost in S2'),
  named('pass 2 of B broken off after 5 stations'),
  named('a row left out without a reason'),
];

const escaped = (text: string) =>
  text.replace(
    /[&<>"']/g,
    (c) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&#39;' })[c]!,
  );

/** Text of a page, and of a message, without what pages set between words. */
const plain = (text: string) => text.replace(/<[^>]*>|[\s\u00a0\u202f\u2060]|&nbsp;/g, '');

/** All that shows findings of a job shows the same ones. @returns How many there are. */
async function sayTheSame(folder: string): Promise<number> {
  const { diagnostics, id, loaded } = await inspectJob(folder, null, { limit: 300 });
  const found = diagnosticsToJson(diagnostics);

  const followed = await look(folder, '');
  expect(diagnosticsToJson(followed.diagnostics)).toEqual(found);
  expect(followed.results === null).toBe(
    !diagnostics.every(({ severity, code }) => severity === 'warning' || isOfTheWhole(code)),
  );
  const toAsk = diagnostics.filter((d) => d.severity === 'confirm' || d.confirmed !== undefined);
  expect((await askedOf(folder)).flatMap(({ messages }) => messages).sort()).toEqual(
    toAsk.map(wordsOf).sort(),
  );

  let text = '';
  const sink = { write: (part: string) => (text += part) };
  await runCheck([folder], { json: true, stdout: sink, stderr: { write: () => undefined } });
  expect((JSON.parse(text) as { diagnostics: JsonDiagnostic[] }[])[0]!.diagnostics).toEqual(found);

  const out = await temporary();
  const settings = { out, pdf: false, given: null, brand: null, limit: 300, calledAs: 'waysheet' };
  const { outcome } = await reportOne(folder, settings, noPrinter);
  expect(outcome.diagnostics).toEqual(found);
  expect(outcome.ok).toBe(loaded !== null);

  const entry = await makeOne(
    { folder: basename(folder), job: id },
    {
      root: dirname(folder),
      out: await temporary(),
      pdf: false,
      anew: true,
      limit: 300,
      given: null,
      brand: null,
    },
    noPrinter,
  );
  if (entry.status === 'reported') {
    const results = JSON.parse(await readFile(join(out, id!, 'results.json'), 'utf8')) as Results;
    expect(results.warnings).toEqual(warningLines(diagnostics));
    expect(entry.row.warnings).toBe(diagnostics.filter(({ code }) => !OF_THE_FOLDER.has(code)).length);
    expect(loaded).not.toBeNull();
    const html = (await readFile(join(out, id!, 'report.html'), 'utf8')).replaceAll('&#x3D;', '=');
    for (const { message } of results.warnings)
      expect(plain(html)).toContain(plain(escaped(withNames(message, english))));
    return found.length;
  }
  if (entry.status !== 'refused') throw new Error(JSON.stringify(entry));
  const problems = diagnostics.filter(({ severity }) => severity !== 'warning');
  expect(entry.problemCount).toBe(problems.length);
  const kept = diagnosticsToJson(problems.slice(0, 5));
  expect(entry.problems).toEqual(
    kept.map(({ code, file, row, column, message }) => ({ code, file, row, column, message })),
  );
  const written = await pageOfJobs('drop', [{ folder, inside: '', entry }], {});
  // A template writes some characters as entities that need not be.
  const page = written.replaceAll('&#x3D;', '=').replaceAll('&#x27;', '&#39;').replaceAll('&#x60;', '`');
  for (const d of diagnostics) {
    const { what, fix, causes } = explain(d);
    for (const part of [what, fix, ...(causes?.list ?? []).flatMap((one) => [one.what, one.fix])])
      if (part !== null) expect(page).toContain(escaped(part));
  }
  return found.length;
}

const asFolder = (made: Folder) =>
  folderOf({
    'job.json': JSON.stringify(made.job),
    ...Object.fromEntries([...made.rows].map(([file, list]) => [file, csvOf(list)])),
  });

test.each(traps)('%s', async (_, make) => {
  const made = honestFolder(64_007);
  make(made);
  expect(await sayTheSame(await asFolder(made))).toBeGreaterThan(0);
});

/** Jobs of all kinds, most of them with some mistake: `SAME_JOBS=200` for a full run, `SAME_SEED` for others. */
const JOBS = Number(process.env['SAME_JOBS'] ?? 3);
const FIRST = Number(process.env['SAME_SEED'] ?? 65_000);

test(`${JOBS} random jobs`, { timeout: 3_600_000 }, async () => {
  const random = createGenerator(FIRST);
  const pick = <T>(list: readonly T[]): T => list[Math.floor(list.length * random.nextUniform())]!;
  let problems = 0;
  for (let k = 0; k < JOBS; k++) {
    const seed = FIRST + k;
    if (k % 3 === 0) {
      problems += await sayTheSame(await folderOf(honestSurvey(seed).files));
      continue;
    }
    const made = honestFolder(seed);
    const { mistake, make } = pick(silentMistakes);
    make(made);
    if (k % 3 === 2) pick(traps)[1](made);
    problems += await sayTheSame(await asFolder(made)).catch((cause: unknown) => {
      throw new Error(`seed ${seed}, ${mistake}`, { cause });
    });
  }
  console.log(`findings of ${JOBS} random jobs that all say alike: ${problems}`);
  expect(problems).toBeGreaterThanOrEqual(JOBS / 3);
});

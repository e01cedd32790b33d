import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { runCheck } from '../../src/cli/check.js';
import { CSV, jobFolder } from '../survey/job/made-up-job.js';

async function check(folders: string[], json = false, all = false) {
  const written: string[] = [];
  const sink = { write: (text: string) => written.push(text) };
  const status = await runCheck(folders, {
    json,
    all,
    stdout: sink,
    stderr: { write: (text: string) => expect.fail(text) },
  });
  return { status, text: written.join('') };
}

test('a sound job: what was found, exit status 0', async () => {
  const folder = await jobFolder(`${CSV}S1,A,4,,,,,9,,,no,bumped\n`);
  const { status, text } = await check([folder]);
  expect(status).toBe(0);
  expect(text).toContain(`${folder}: T-1, accepted: 6 warnings`);
  expect(text).toContain('rail C (cross rail): 5 stations from 0 to 3200 mm');
  expect(text).toContain('6 readings used, 1 row left out');
  expect(text).toContain('read 1 of 21 stations of A: not stations 2 to 21');
  expect(text).toContain('M1 and M2 not read from S2');
  expect(text).toContain('no sign check at S1 and S2');
  // What report would find out.
  expect(text).toContain('(TOLERANCE_WITHOUT_VALUE)');
  expect(text).toContain('(READINGS_UNCHECKED)');
});

test('warnings alone are exit status 0, and are shown', async () => {
  const { status, text } = await check([await jobFolder(`${CSV}S1,A,4,,,,,,,,,\n`)]);
  expect(status).toBe(0);
  expect(text).toContain('warning: readings/as-left.csv, row 6: The row names a point but has no reading.');
  expect(text).toContain('accepted: 7 warnings');
});

test('one refused job of several: exit status 3, every problem, and the others all the same', async () => {
  const bad = await jobFolder(`${CSV}S1,A,22,,,,,x,,,,\n`);
  const { status, text } = await check([bad, await jobFolder()]);
  expect(status).toBe(3);
  expect(text).toContain(`${bad}: T-1, refused: 2 errors`);
  expect(text).toContain('error: readings/as-left.csv, row 6, station: There is no station "22"');
  expect(text).toContain('error: readings/as-left.csv, row 6, vertical: "x" is not a number');
  expect(text).toContain('accepted: 6 warnings');
});

test('--json is one list, also for a folder that holds nothing', async () => {
  const { status, text } = await check([await jobFolder(), '/nowhere'], true);
  expect(status).toBe(3);
  const reports = JSON.parse(text) as Record<string, unknown>[];
  expect(reports).toMatchObject([
    {
      job: 'T-1',
      ok: true,
      phases: [{ phase: 'as-left', readings: 6, excluded: 0 }],
    },
    {
      folder: '/nowhere',
      job: null,
      ok: false,
      diagnostics: [{ code: 'FILE_MISSING', severity: 'error', file: 'job.json', row: null, column: null }],
    },
  ]);
});

test('for columns that are not known, a draft of the entry that maps them', async () => {
  const folder = await jobFolder('Stn No.,A P1,A P2,Operator\n1,3.1,3.2,JM\n');
  const { status, text } = await check([folder]);
  expect(status).toBe(3);
  expect(text).toContain(
    [
      'readings/as-left.csv: its columns have other names than those that are read. Write this in place of its entry under "readings" in job.json:',
      '  {',
      '    "file": "readings/as-left.csv",',
      '    "phase": "as-left",',
      '    "columns": { "station": "Stn No." },',
      '    "values": { "setup": "?", "axis": "?" },',
      '    "rows": [',
      '      { "columns": { "reading": "A P1" }, "values": { "rail": "A", "pass": "1" } },',
      '      { "columns": { "reading": "A P2" }, "values": { "rail": "A", "pass": "2" } }',
      '    ],',
      '    "ignore": ["Operator"]',
      '  }',
      '  Still to be filled in: setup: one of S1, S2.',
      '  Still to be filled in: axis: one of vertical, horizontal, along.',
      '  Left out, because they are no readings by their names or cells: Operator. Map those that are.',
      '',
    ].join('\n'),
  );
  const json = JSON.parse((await check([folder], true)).text) as object[];
  expect(json).toMatchObject([
    { ok: false, suggestions: [{ file: 'readings/as-left.csv', row: 1, unplaced: ['Operator'] }] },
  ]);
});

test('--page writes a page for the crew, of one job', async () => {
  const folder = await jobFolder(`${CSV}S1,A,22,,,,,x,,,,\n`);
  const page = join(folder, 'problems.html');
  const written: string[] = [];
  const sink = { write: (text: string) => written.push(text) };
  expect(await runCheck([folder], { json: true, page, stdout: sink, stderr: sink })).toBe(3);
  const html = await readFile(page, 'utf8');
  expect(html).toContain('<h1>T-1</h1>');
  expect(html).toContain('S1,A,<mark>22</mark>,,,,,<mark>x</mark>,,,,');
  expect(written.join('')).toContain('problems.html written');
  const missing = { json: false, page: join(folder, 'no', 'such.html'), stdout: sink, stderr: sink };
  await expect(runCheck([folder], missing)).rejects.toThrow('cannot be written');
  await expect(runCheck([folder, folder], { ...missing, page })).rejects.toThrow(RangeError);
});

test('a job with a mistake in every row fits on a screen; --all lists each with its line', async () => {
  const rows = Array.from({ length: 60 }, (_, k) => `S1,A,${k + 30},,,,,x${k},,,,\n`).join('');
  const folder = await jobFolder(`${CSV}${rows}`);
  const { text } = await check([folder]);
  expect(text.trimEnd().split('\n').length).toBeLessThanOrEqual(10);
  expect(text).toContain('59 more of this kind in rows 7 to 65');
  const all = (await check([folder], false, true)).text;
  for (let row = 6; row < 66; row++) expect(all).toContain(`row ${row}, station: There is no station`);
  expect(all).toContain('    65 | S1,A,89,,,,,x59,,,,');
});

test('a terminal that does not know its width gets whole lines', async () => {
  const folder = await jobFolder();
  let text = '';
  const sink = { columns: 0, write: (more: string) => (text += more) };
  await runCheck([folder], { json: false, stdout: sink, stderr: sink });
  expect(text).toBe((await check([folder])).text);
});

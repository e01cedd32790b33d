import { expect, test } from 'vitest';
import { runCheck } from '../../src/commands/check.js';
import { CSV, jobFolder } from '../job/made-up-job.js';

async function check(folders: string[], json = false) {
  const written: string[] = [];
  const sink = { write: (text: string) => written.push(text) };
  const status = await runCheck(folders, {
    json,
    stdout: sink,
    stderr: { write: (text: string) => expect.fail(text) },
  });
  return { status, text: written.join('') };
}

test('a sound job: what was found, exit status 0', async () => {
  const folder = await jobFolder(`${CSV}S1,A,4,,,,,9,,,no,bumped\n`);
  const { status, text } = await check([folder]);
  expect(status).toBe(0);
  expect(text).toBe(
    [
      `${folder}: T-1, accepted: no problems`,
      '  rail A (datum): 21 stations from 0 to 10000 mm',
      '  rail B: 4 stations from 0 to 1500 mm',
      '  rail C (cross rail): 5 stations from 0 to 3200 mm',
      '  set-ups: S1, S2',
      '  monuments: M1, M2',
      '  instruments: L1, E1, T1',
      '  as-left: 6 readings used, 1 row left out',
      '  job.json: UTF-8',
      '  readings/as-left.csv: UTF-8, comma, decimal point',
      '',
      '',
    ].join('\n'),
  );
});

test('warnings alone are exit status 0, and are shown', async () => {
  const { status, text } = await check([await jobFolder(`${CSV}S1,A,4,,,,,,,,,\n`)]);
  expect(status).toBe(0);
  expect(text).toContain('as-left.csv:6: warning: The row names a point and holds no reading.');
  expect(text).toContain('accepted: 1 warning');
});

test('one refused job of several: exit status 3, every problem, and the others all the same', async () => {
  const bad = await jobFolder(`${CSV}S1,A,22,,,,,x,,,,\n`);
  const { status, text } = await check([bad, await jobFolder()]);
  expect(status).toBe(3);
  expect(text).toContain(`${bad}: T-1, refused: 2 errors`);
  expect(text).toContain(`${bad}/readings/as-left.csv:6: station: error: There is no station "22"`);
  expect(text).toContain(`${bad}/readings/as-left.csv:6: vertical: error: "x" is not a number`);
  expect(text).toContain('accepted: no problems');
});

test('--json is one list, also for a folder that holds nothing', async () => {
  const { status, text } = await check([await jobFolder(), '/nowhere'], true);
  expect(status).toBe(3);
  const reports = JSON.parse(text) as Record<string, unknown>[];
  expect(reports).toMatchObject([
    { job: 'T-1', ok: true, diagnostics: [], phases: [{ phase: 'as-left', readings: 6, excluded: 0 }] },
    {
      folder: '/nowhere',
      job: null,
      ok: false,
      diagnostics: [{ code: 'FILE_MISSING', severity: 'error', file: 'job.json', row: null, column: null }],
    },
  ]);
});

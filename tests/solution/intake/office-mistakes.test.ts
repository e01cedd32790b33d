/** What goes wrong in an office ends as a person would want it. */
import { rm } from 'node:fs/promises';
import { expect, test } from 'vitest';
import { describe as words } from '../../../src/base/diagnostics/messages.js';
import { inspectJob } from '../../../src/solution/intake/load-job.js';
import { folderOf } from '../../survey/job/made-up-job.js';
import { filesWith, officeMistakes, times, type End } from './office-mistakes.js';

const SEVERITY = { error: 'refused', confirm: 'asked', warning: 'told' } as const;
const RANK: readonly End[] = ['fine', 'told', 'asked', 'refused'];

test.each(officeMistakes)('%s', async (_, change, end, said) => {
  const path = await folderOf(filesWith(change));
  const { diagnostics } = await inspectJob(path);
  await rm(path, { recursive: true });
  const all = diagnostics.map((d) => `${d.severity} ${d.code} ${words(d)}`);
  const worst = RANK[Math.max(0, ...diagnostics.map(({ severity }) => RANK.indexOf(SEVERITY[severity])))];
  const own = all.filter((line) => said.test(line));
  expect({ worst, said: own.length > 0 || end === 'fine' }, all.join('\n')).toEqual({
    worst: end,
    said: true,
  });
});

test('a fix is offered also where something else of the job is asked about', async () => {
  const files = filesWith((folder) => {
    folder.job.surveyed.on = '2062-03-16';
    for (const r of folder.rows.get('readings/as-left.csv')!) {
      r.vertical = times(r.vertical, 1e-3);
      r.horizontal = times(r.horizontal, 1e-3);
      r.along = times(r.along, 1e-3);
    }
  });
  const { diagnostics, causeFixes } = await inspectJob(await folderOf(files));
  expect(diagnostics.map(({ code }) => code)).toContain('DATE_IMPLAUSIBLE');
  expect(causeFixes.map(({ fix }) => fix.text).join()).toContain('"unit": "mm" in place of "um"');
});

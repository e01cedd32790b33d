/** The library as another program uses it: opened, solved, reported, audited. */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { audit, formatDiagnostics, makeReport, openJob, solve } from '../src/index.js';
import { changeJob, copyOf, sample, temporary } from './support/folders.js';

test('a job is opened, solved, reported with its PDF, and its report audited', async () => {
  const opened = await openJob(sample('TH-0412'));
  if (!opened.ok) throw new Error(formatDiagnostics(opened.diagnostics));
  const results = await solve(opened.value);
  const report = await makeReport(opened.value, { out: await temporary() });
  expect(report.results.verdict).toBe(results.verdict);
  expect(existsSync(join(report.folder, 'report.pdf'))).toBe(true);
  expect(await audit(report.folder)).toMatchObject({ figures: 'proven', pages: 'proven', issue: null });
});

test('what is wrong with a job comes as a value, not as an exception', async () => {
  const folder = await copyOf('TH-0412');
  await changeJob(folder, (job) => (job.unis = job.units));
  const opened = await openJob(folder);
  expect(opened.ok).toBe(false);
  expect(formatDiagnostics(opened.diagnostics)).toContain('unis');
});

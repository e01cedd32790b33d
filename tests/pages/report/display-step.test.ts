import { expect, test } from 'vitest';
import { drawCharts, writePage } from '../../../src/pipeline.js';
import { changeJob, copyOf, judgedOf } from '../../support/folders.js';

test('an instrument whose display counts in whole micrometres: every u is wider, and the report says what is in it', async () => {
  const folder = await copyOf('TH-0412');
  const before = await judgedOf(folder);
  await changeJob(folder, (job) => {
    const [instrument] = job.instruments;
    instrument!.reading.resolution = 5;
  });
  const results = await judgedOf(folder);
  const [instrument] = results.survey.instruments;
  expect(instrument!.resolution).toBe(5);
  expect(instrument!.readingU).toBeCloseTo(
    Math.hypot(before.survey.instruments[0]!.readingU, 5 / Math.sqrt(12)),
    9,
  );
  const page = (await writePage(results, await drawCharts(results))).live;
  expect(page.replace(/\s/g, ' ')).toMatch(/its display of 5 µm included/);
  expect(results.phases['as-left']!.characteristics[0]!.u!).toBeGreaterThan(
    before.phases['as-left']!.characteristics[0]!.u!,
  );
});

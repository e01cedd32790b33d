import { expect, test } from 'vitest';
import { trace } from '../../../src/results/trace.js';
import { tracePage } from '../../../src/pages/report/trace-page.js';
import { english } from '../../../src/pages/words/words.js';
import { loadJob } from '../../../src/solution/intake/load-job.js';
import { solve } from '../../../src/pipeline.js';
import { sample } from '../../support/folders.js';

test('the page lists every reading, and its sum is the value', async () => {
  const loaded = await loadJob(sample('TH-2031'));
  if (!loaded.ok) throw new Error('refused');
  const { job, readings } = loaded.value;
  const results = await solve(loaded.value, loaded.diagnostics);
  const c = results.phases['as-left']!.characteristics.find(
    ({ what, rail, limit }) => what === 'straightness-vertical' && rail === 'A' && limit !== null,
  )!;
  // Worked out by hand: these four make 99 % of the variance.
  expect(c.readings!.map(({ row }) => row).sort((a, b) => a - b)).toEqual([18, 23, 38, 43]);
  expect(c.readings!.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(0.99, 2);
  const traced = trace(job, readings.phases.get('as-left')!, 'as-left', c)!;
  const page = tracePage(traced, results, english);
  const rows = [...page.matchAll(/<tr><th scope="row">[^<]+<\/th>(.*?)<\/tr>/g)].map(([, cells]) =>
    [...cells!.matchAll(/<td[^>]*>([^<]*)<\/td>/g)].map(([, text]) => text!),
  );
  expect(rows).toHaveLength(traced.readings.length);
  const adds = rows.reduce((sum, cells) => sum + Number(cells[5]!.replace('\u2212', '-')), 0);
  expect(adds).toBeCloseTo(c.value!, 1);
  expect(page).toMatch(/<th scope="row" colspan="6">The value<\/th><td class="number">16\.7892<\/td>/);
});

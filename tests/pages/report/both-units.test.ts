/** Both units next to each other: limits as the customer wrote them, what is converted by its own uncertainty. */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { resultsTable } from '../../../src/pages/report/sections/results-table.js';
import { judgedRows } from '../../../src/pages/report/sections/judged-rows.js';
import { inUnitsOf, textInBoth } from '../../../src/pages/report/both-units.js';
import { figuresOf } from '../../../src/pages/report/figures.js';
import type { Results } from '../../../src/results/results-schema.js';
import { pairOf } from '../../../src/pages/words/pair.js';
import { waysheet } from '../../support/command.js';
import { writePage } from '../../../src/pipeline.js';
import { changeJob, copyOf, judgedOf, sample, temporary } from '../../support/folders.js';

const jobIn = async (id: string, units: unknown) => {
  const job = await copyOf(id);
  await changeJob(job, (document: { report: unknown }) => (document.report = { units }));
  return job;
};

test('a report in inches prints lengths and slopes in its unit alone, in sentences and tables too', async () => {
  const results = await judgedOf(sample('TH-1175'));
  const { html } = await writePage(results, []);
  expect(html.replace(/<style>[\s\S]*?<\/style>/g, '')).not.toMatch(/\d\s*µm/);
});

test('each figure of a sentence is followed by the same in the second unit, before its full stop', () => {
  expect(
    textInBoth(
      'up to 13.8\u00a0µm; limit 15\u00a0µm (row 4).',
      'up to 0.54\u00a0thou; limit 0.5906\u00a0thou (row 4).',
    ),
  ).toBe('up to 13.8\u00a0µm (0.54\u00a0thou); limit 15\u00a0µm (0.5906\u00a0thou) (row 4).');
  expect(
    textInBoth(
      pairOf('bis 13,8\u00a0µm', 'to 13,8\u00a0µm'),
      pairOf('bis 0,54\u00a0thou', 'to 0,54\u00a0thou'),
    ),
  ).toBe(pairOf('bis 13,8\u00a0µm (0,54\u00a0thou)', 'to 13,8\u00a0µm (0,54\u00a0thou)'));
  expect(textInBoth('↑\u00a0raise\u00a010\u00a0µm', '↑\u00a0raise\u00a00.39\u00a0thou')).toBe(
    '↑\u00a0raise\u00a010\u00a0µm (0.39\u00a0thou)',
  );
  expect(textInBoth('19.4\u00a0°C. Doors shut', '66.9\u00a0°F (19.4\u00a0°C). Doors shut')).toBe(
    '19.4\u00a0°C. Doors shut',
  );
});

test('a report in both units: the limit of the drawing unrounded, ± U to two digits in each unit, proven by an audit', async () => {
  const out = await temporary();
  expect(
    (await waysheet('report', await jobIn('TH-1175', ['mm', 'in']), '--out', out, '--no-pdf')).status,
  ).toBe(0);
  const results = JSON.parse(await readFile(join(out, 'TH-1175/results.json'), 'utf8')) as Results;
  expect(results.style).toMatchObject({
    length: 'mm',
    deviation: 'um',
    also: { length: 'in', deviation: 'thou' },
  });
  const table = inUnitsOf(results, (one) => {
    const figures = figuresOf(one);
    return resultsTable(one, figures, judgedRows(one, figures))!;
  });
  const cells = table.groups.flatMap(({ rows }) => rows.map((row) => row.cells));
  // The job asks for 0.0015 in: 38.1 µm exactly.
  expect([cells[0]![2]!.text, cells[0]![2]!.also]).toEqual(['38.1\u00a0µm', '1.5\u00a0thou']);
  const level = cells.find((row) => row[1]!.text === 'Level along the rail')!;
  expect([level[5]!.text, level[5]!.also]).toEqual(['± 9.7', '± 0.12']);
  const page = await readFile(join(out, 'TH-1175/report.html'), 'utf8');
  expect(page).toMatch(/limit 38\.1\u00a0µm \(1\.5\u00a0thou\)/);
  const said = await waysheet('audit', join(out, 'TH-1175'), '--json');
  expect((JSON.parse(said.out) as { differences: unknown[] }[])[0]!.differences).toEqual([]);
});

test('units that are not both are refused', async () => {
  const { out } = await waysheet('check', await jobIn('TH-0412', ['mm', 'mm']));
  expect(out).toMatch(/both "mm" and "in"/);
});

/** Machines over several surveys: which surveys are one machine's, and what of them is drawn. */
import { beforeAll, describe, expect, test } from 'vitest';
import { english } from '../../src/pages/words/words.js';
import { machinesOf } from '../../src/archive/register/machines.js';
import { registerHtml } from '../../src/archive/register/register-html.js';
import { registerRow } from '../../src/archive/register/register-row.js';
import { buildRegister, type ReportedRow } from '../../src/archive/register/register.js';
import { trendPicture } from '../../src/archive/register/trend-pictures.js';
import { trendsOf } from '../../src/archive/register/trends.js';
import * as fonts from '../../src/pages/fonts/fonts.js';
import type { Results } from '../../src/results/results-schema.js';
import { judgedOf, sample } from '../support/folders.js';

const software = { name: 'waysheet', version: '0', method: 'm' } as const;
let results: Results;
let base: ReportedRow;
beforeAll(async () => {
  results = await judgedOf(sample('TH-0412'));
  base = registerRow(results, { folder: 'x', key: 'key', hasPdf: false, place: results.job });
});

const row = (job: string, surveyed: string | null, more: Partial<ReportedRow> = {}): ReportedRow => ({
  ...base,
  job,
  surveyed,
  readingsTaken: { from: null, to: null },
  machine: { name: 'Press A', serial: 'S-1' },
  ...more,
});

/** The sample's results with all values times a factor. */
function scaled(factor: number): Results {
  const copy = structuredClone(results);
  for (const phase of Object.values(copy.phases))
    for (const c of phase.characteristics)
      if (c.value !== null) {
        c.value *= factor;
        c.interval = c.interval && [c.interval[0] * factor, c.interval[1] * factor];
      }
  return copy;
}

describe('which surveys are one machine’s', () => {
  test('by serial number, whatever its spelling; without one by name and customer; once is no trend', () => {
    const unnumbered = { name: 'Mill', serial: null };
    const machines = machinesOf([
      row('J-1', '2024-05-01'),
      row('J-2', '2022-05-01', { machine: { name: 'press  a', serial: ' s-1 ' } }),
      row('J-3', null, { machine: { name: 'Sold press', serial: 'S-1' }, customer: 'Another' }),
      row('J-4', '2020-01-01', { machine: unnumbered, customer: 'C' }),
      row('J-5', '2021-01-01', { machine: unnumbered, customer: 'c' }),
      row('J-6', '2021-01-01', { machine: unnumbered, customer: 'D' }),
      row('J-7', '2021-01-01', { machine: { name: 'Press A', serial: 'S-2' } }),
      row('J-8', '2021-01-01', { machine: { name: null, serial: null } }),
      row('J-9', '2022-01-01', { machine: { name: null, serial: ' ' } }),
    ]);
    expect(machines.map(({ surveys }) => surveys.map((s) => s.row.job))).toEqual([
      ['J-4', 'J-5'],
      ['J-2', 'J-1', 'J-3'],
    ]);
    expect(machines[1]).toMatchObject({ name: 'Press A', alsoAs: ['Sold press, Another'] });
  });

  test('the day is that of the survey, else that of the last reading', () => {
    const [machine] = machinesOf([
      row('J-1', null, { readingsTaken: { from: '2023-01-01', to: '2023-01-03' } }),
      row('J-2', '2023-01-02'),
    ]);
    expect(machine!.surveys.map(({ day }) => day)).toEqual(['2023-01-02', '2023-01-03']);
  });
});

describe('trends', () => {
  test('nearest to its limit first, and only what was determined on two days', () => {
    const trends = trendsOf([
      { day: '2022-01-01', results: scaled(0.5) },
      { day: '2023-01-01', results },
    ]);
    const last = results.phases['as-left']!.characteristics;
    const margins = trends.map((trend) => {
      const c = last.find(
        (made) =>
          made.what === trend.what &&
          made.rail === trend.rail &&
          made.reference === trend.reference &&
          made.over === trend.over,
      )!;
      expect(trend.points.at(-1)).toMatchObject({ day: '2023-01-01', value: c.value, limit: c.limit });
      expect(trend.points[0]!.value).toBeCloseTo(c.value! / 2, 12);
      return c.limit === null ? Infinity : (c.limit - Math.abs(c.value!)) / c.limit;
    });
    expect(margins.length).toBeGreaterThan(4);
    expect(margins).toEqual([...margins].sort((a, b) => a - b));
    expect(
      trendsOf([
        { day: '2022-01-01', results },
        { day: '2022-01-01', results },
      ]),
    ).toEqual([]);
  });

  test('of many surveys the latest are drawn, and what is left out is said', async () => {
    const rows = Array.from({ length: 70 }, (_, i) => row(`J-${i}`, i === 69 ? null : `${1950 + i}-06-01`));
    const [machine] = machinesOf(rows);
    const read = ({ job }: ReportedRow) =>
      Promise.resolve(job === 'J-60' ? null : scaled(1 + Number(job.slice(2)) / 70));
    const picture = await trendPicture(machine!, 'trend-1', read, { fonts, words: english });
    expect(picture!.notes.join(' ')).toMatch(
      /4 of \d+ characteristics are drawn.*latest 50 of 69 surveys.*without a date.*1 survey.*cannot be read.*1 survey/,
    );
    expect(picture!.alt).toMatch(/^4 charts of values over time, from 1969-06-01 to 2018-06-01\./);
    const again = await trendPicture(machine!, 'trend-1', read, { fonts, words: english });
    expect(again!.svg).toBe(picture!.svg);
  });
});

describe('in the register', () => {
  const read = ({ job }: ReportedRow) => Promise.resolve(scaled(1 + (Number(job.slice(2)) % 7) / 10));
  const registerOf = (machines: number) =>
    buildRegister(
      Array.from({ length: 2 * machines }, (_, i) =>
        row(`J-${i}`, `202${i % 2}-01-01`, {
          machine: { name: 'Press', serial: `S-${i >> 1}` },
          worst: { ...base.worst!, margin: (i >> 1) / 1000 },
        }),
      ),
      software,
      null,
    );

  test('a machine’s surveys link to its picture, which has words of its own', async () => {
    const html = await registerHtml(registerOf(2), { medium: 'page', pdf: true, read });
    expect(html.match(/<a href="#machine-1">/g)).toHaveLength(2);
    expect(html.match(/<section id="machine-/g)).toHaveLength(2);
    const svg = /<section id="machine-2">[\s\S]*?<svg[\s\S]*?<\/svg>/.exec(html)![0];
    expect(svg).toMatch(/<h3>Press, serial S-1/);
    expect(svg).toContain('aria-label="4 charts of values over time');
    expect(svg).not.toContain('@font-face');
    const print = await registerHtml(registerOf(2), { medium: 'print', pdf: true, read });
    expect(print).not.toContain('<script');
    expect(print.match(/<img src="data:image\/svg\+xml;base64,[^"]*" alt="4 charts/g)).toHaveLength(2);
    expect(
      Buffer.from(/svg\+xml;base64,([^"]*)/.exec(print)![1]!, 'base64')
        .toString()
        .slice(0, 4),
    ).toBe('<svg');
  });

  test('of too many machines those with the least margin are drawn, and that is said', async () => {
    const html = await registerHtml(registerOf(43), { medium: 'print', pdf: true, read });
    expect(html.match(/<section id="machine-/g)).toHaveLength(40);
    expect(html).toContain(
      '40 of 43 machines are shown: those whose last survey left the smallest margin to a limit.',
    );
    expect(html).not.toContain('serial S-42:');
    expect(html).toContain('serial S-39:');
  });
});

/**
 * results.json is the one document: every page, chart and table is made of it alone, and each figure that a page shows
 * stands in it, in the report's units and rounded.
 */
import { beforeAll, describe, expect, test } from 'vitest';
import { textOfPages } from '../../support/pdf-text.js';
import { loadJob } from '../../../src/solution/intake/load-job.js';
import { drawCharts, makeDeliverables, writePage, type Made } from '../../../src/pipeline.js';
import { figuresOf as reportFigures } from '../../../src/pages/report/figures.js';
import { openPrinter } from '../../../src/pages/report/pdf.js';
import { stationsCsv } from '../../../src/pages/report/stations-csv.js';
import type { Results } from '../../../src/results/results-schema.js';
import { sample } from '../../support/folders.js';

/** Metric, in inches, with an adjuster's plan, with slopes: the figures of all units are among them. */
const SAMPLES = ['TH-0412', 'TH-1175', 'TH-4520', 'TH-3318'];

const made = new Map<string, Made>();
beforeAll(async () => {
  const printer = await openPrinter();
  for (const id of SAMPLES) {
    const loaded = await loadJob(sample(id));
    if (!loaded.ok) throw new Error('refused');
    made.set(
      id,
      await makeDeliverables(sample(id), loaded.value, loaded.diagnostics, Promise.resolve(printer)),
    );
  }
  await printer.close();
});

const text = (id: string, path: string): string => new TextDecoder().decode(made.get(id)!.files.get(path));

describe.each(SAMPLES)('%s', (id) => {
  test('page, charts and table are made of the document as it was written', async () => {
    const results = JSON.parse(text(id, 'results.json')) as Results;
    const charts = await drawCharts(results);
    for (const { key, svg } of charts) expect(svg, key).toBe(text(id, `charts/${key}.svg`));
    expect((await writePage(results, charts)).live).toBe(text(id, 'report.html'));
    expect(stationsCsv(results)).toBe(text(id, 'stations.csv'));
  });

  test('each figure of the pages stands in it', async () => {
    const stands = searchIn(JSON.parse(text(id, 'results.json')) as Results);
    const figures = await figuresOf(made.get(id)!.files.get('report.pdf')!);
    expect(figures.length).toBeGreaterThan(250);
    expect(
      figures.filter(({ figure }) => !stands(figure)).map(({ figure, line }) => `${figure} in “${line}”`),
    ).toEqual([]);
  });
});

test('a figure that does not stand in it would be noticed, as often as chance allows', async () => {
  const stands = searchIn(JSON.parse(text('TH-0412', 'results.json')) as Results);
  const figures = await figuresOf(made.get('TH-0412')!.files.get('report.pdf')!);
  // Of two digits and less nearly every figure stands somewhere by chance.
  const long = figures.filter(({ figure }) => figure.replace(/^0+|\./g, '').length >= 3);
  const other = long.filter(({ figure }) => {
    const [, decimals = ''] = figure.split('.');
    return stands((Number(figure) + 37.3 * 10 ** -decimals.length).toFixed(decimals.length));
  });
  console.log(`of ${long.length} figures, one unit further ${other.length} would stand there by chance`);
  expect(other.length / long.length).toBeLessThan(0.6);
});

/** What a page shows beside the results: how a picture is drawn, constants of formulas, names of standards. */
const BESIDE: readonly RegExp[] = [
  /rawn about [\d\u202f]+ times larger/u,
  /ISO(?:\/IEC)? [\d-]+(?::\d{4}, [\d.]+)?|JCGM \d+|SHA-256/u,
  // The name of a standard whose line breaks after ISO.
  /^12780-1\b/u,
  // Baarda's test at 0.001.
  /± 3\.29/u,
  /k = 503·\(p\/T²\)·\(0\.0343/u,
  // Marks of an axis.
  /^[\d\u202f]+$/u,
];

/** Figures with a decimal or of three digits and more; shorter ones are counts, pages and stations. */
async function figuresOf(pdf: Uint8Array): Promise<{ figure: string; line: string }[]> {
  return (await textOfPages(pdf))
    .flat()
    .flatMap((line) => {
      const own = BESIDE.reduce((rest, pattern) => rest.replace(pattern, ''), line);
      return [...own.matchAll(/\d[\d\u202f]*(?:\.\d+)?/gu)].map(([figure]) => ({
        figure: figure.replaceAll('\u202f', ''),
        line,
      }));
    })
    .filter(({ figure }) => /\.|\d{3}/.test(figure));
}

/** Every number of a document, in every unit of its report, as percentage and as expanded uncertainty. */
function searchIn(results: Results): (figure: string) => boolean {
  const numbers: number[] = [];
  const walk = (value: unknown): void => {
    if (typeof value === 'number') numbers.push(Math.abs(value));
    else if (typeof value === 'string')
      for (const [number] of value.matchAll(/\d+(?:\.\d+)?/g)) numbers.push(Number(number));
    else if (value !== null && typeof value === 'object') Object.values(value).forEach(walk);
  };
  walk(results);
  // Page 1 draws by share of the limit, and Table 1 has the guard band: each from two figures of `judged`.
  for (const { characteristics } of Object.values(results.phases))
    for (const { judged } of characteristics)
      if (judged !== undefined) {
        const { value, lower, upper, limit } = judged;
        for (const figure of [value, lower, upper]) numbers.push(Math.abs((100 * figure) / limit));
        numbers.push(upper - value);
      }
  // Labels of that scale.
  numbers.push(100, 150, 200);
  const isInches = /in|ft|thou/.test(results.style.deviation);
  // mm to inches, µm to thousandths of an inch and to inches; µm to mm and mm to m.
  const lengths = isInches ? [1, 1 / 25.4, 1 / 25_400] : [1, 1 / 1000];
  const slopes = { arcsec: 0.206265, 'thou/ft': 0.012, 'in/ft': 12e-6 } as Readonly<Record<string, number>>;
  const units = [...lengths, slopes[results.style.slope] ?? 1];
  const { k } = reportFigures(results);
  const { temperatureC } = results.subject;
  if (temperatureC !== null)
    for (const celsius of Object.values(temperatureC)) numbers.push(1.8 * celsius + 32);
  const values = Float64Array.from(numbers.flatMap((n) => [100 * n, ...units.map((f) => f * n)])).sort();
  const expanded = Float64Array.from(numbers.flatMap((n) => units.map((f) => k * f * n))).sort();
  return (figure) => {
    const [, decimals = ''] = figure.split('.');
    const [value, last] = [Number(figure), 10 ** -decimals.length * (1 + 1e-6)];
    // An uncertainty may have been rounded up.
    return (
      isWithin(values, value - last / 2, value + last / 2) ||
      isWithin(expanded, value - last, value + last / 2)
    );
  };
}

function isWithin(sorted: Float64Array, from: number, to: number): boolean {
  let [low, high] = [0, sorted.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle]! < from) low = middle + 1;
    else high = middle;
  }
  return low < sorted.length && sorted[low]! <= to;
}

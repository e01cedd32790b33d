/** stations.csv: everything in it, unrounded, and nothing that a spreadsheet would run. */
import { parse } from 'csv-parse/sync';
import { expect, test } from 'vitest';
import { stationsCsv } from '../../../src/pages/report/stations-csv.js';
import { hostileResults, sparseResults, usualResults } from './view-model-fixtures.js';

const rows = (csv: string) => parse(csv, { columns: true }) as Record<string, string>[];

test('every station of every phase, numbers read back to the last digit', () => {
  const results = usualResults();
  const table = rows(stationsCsv(results));
  const all = Object.entries(results.phases).flatMap(([phase, { stations }]) =>
    stations.map((station) => ({ phase, ...station })),
  );
  expect(table).toHaveLength(all.length);
  all.forEach((station, i) => {
    const line = table[i]!;
    expect(line).toMatchObject({
      phase: station.phase,
      rail: station.rail,
      station: String(station.station),
    });
    expect(Number(line['along_mm'])).toBe(station.along);
    expect(Number(line['height_um'])).toBe(station.height!.value);
    expect(Number(line['deviation_horizontal_u_um'])).toBe((station.deviation.horizontal as { u: number }).u);
    expect(line['difference_height_um']).toBe(
      station.difference ? String(station.difference.height!.value) : '',
    );
  });
});

test('negative numbers are numbers, texts that look like formulas are texts', () => {
  const csv = stationsCsv(hostileResults());
  expect(csv).toMatch(/,-\d/);
  expect(csv).not.toMatch(/'-\d/);
  for (const line of rows(csv)) if (line['rail'] !== 'B') expect(line['rail']).toBe("'=A1");
});

test('what is not determined is blank and says why', () => {
  const [first] = rows(stationsCsv(sparseResults()));
  expect(first).toMatchObject({
    height_um: '',
    height_u_um: '',
    offset_um: '',
    deviation_vertical_um: '-1',
    not_determined: 'height: its tilt is not determined',
  });
});

/**
 * The long sample job again, by other means: the observation equations written out afresh from the rows of the CSV
 * file, solved by the pseudo-inverse of ml-matrix, and the characteristics read off the solution.
 */
import { readFileSync } from 'node:fs';
import { parse } from 'csv-parse/sync';
import { Matrix, pseudoInverse } from 'ml-matrix';
import { beforeAll, describe, expect, test } from 'vitest';
import type { CharacteristicResult, Results } from '../../src/results/results-schema.js';
import { judgedOf, sample } from '../support/folders.js';

const ARCSEC = 4.84813681109536; // µm/m

interface Solution {
  get: (name: string) => number;
  u: (weights: Record<string, number>) => number;
}

/** One equation a reading, in µm and m; names of unknowns are made as they come. */
function solveByHand(file: string): Solution {
  const rows = parse(readFileSync(file, 'utf8'), { columns: true }) as Record<string, string>[];
  const setups = { S1: { x: -0.6, y: 0.4, left: 1 }, S2: { x: -0.6, y: 2.8, left: -1 } } as const;
  const monuments = { M1: { x: 2.4, y: -1.6 }, M2: { x: 2.4, y: 4.8 } } as const;
  const equations: { terms: Record<string, number>; value: number; sigma: number }[] = [];
  for (const row of rows) {
    if (row['use'] === 'no') continue;
    const id = row['setup'] as 'S1' | 'S2';
    const s = setups[id];
    const rail = row['rail']!;
    const at =
      rail !== ''
        ? { x: (Number(row['station']) - 1) * 0.5, y: rail === 'A' ? 0 : 3.2 }
        : monuments[row['monument'] as 'M1' | 'M2'];
    const [dx, dy] = [at.x - s.x, at.y - s.y];
    const sigma = Math.hypot(1.5, 0.3 * Math.hypot(dx, dy));
    const point = rail !== '' ? `${rail}${row['station']}` : row['monument'];
    const k = row['target'];
    if (row['vertical'] !== '') {
      equations.push({
        terms: { [`z${point}`]: 1, [`k${k}`]: 1, [`h${id}`]: -1, [`p${id}`]: -dx, [`q${id}`]: -dy },
        value: Number(row['vertical']),
        sigma,
      });
    }
    if (row['horizontal'] !== '') {
      const l = s.left;
      equations.push({
        terms: { [`y${point}`]: l, [`b${k}`]: l, [`c${id}${rail}`]: -l, [`w${id}`]: -l * dx },
        value: Number(row['horizontal']),
        sigma,
      });
    }
    if (row['along'] !== '') {
      equations.push({
        terms: { [`x${point}`]: 1, [`a${k}`]: 1, [`d${id}`]: -1, [`w${id}`]: dy, e: dy },
        value: Number(row['along']),
        sigma,
      });
    }
  }
  for (const t of ['pS1', 'qS1', 'pS2', 'qS2', 'e'])
    equations.push({ terms: { [t]: 1 }, value: 0, sigma: ARCSEC });
  const names = [...new Set(equations.flatMap((e) => Object.keys(e.terms)))];
  const column = new Map(names.map((n, j) => [n, j]));
  const a = Matrix.zeros(equations.length, names.length);
  equations.forEach((e, i) => {
    for (const [n, w] of Object.entries(e.terms)) a.set(i, column.get(n)!, w / e.sigma);
  });
  const b = Matrix.columnVector(equations.map((e) => e.value / e.sigma));
  const inverse = pseudoInverse(a, 1e-10);
  const x = inverse.mmul(b);
  return {
    get: (name) => x.get(column.get(name)!, 0),
    u: (weights) => {
      const c = Matrix.zeros(1, names.length);
      for (const [n, w] of Object.entries(weights)) c.set(0, column.get(n)!, w);
      return c.mmul(inverse).norm('frobenius');
    },
  };
}

const count = 25;
const stations = Array.from({ length: count }, (_, k) => k + 1);
const position = (k: number) => (k - 1) * 0.5;
const mean = (v: readonly number[]) => v.reduce((s, x) => s + x, 0) / v.length;
const slope = (v: readonly number[]) => {
  const m = mean(stations.map(position));
  return (
    stations.reduce((s, k, i) => s + (position(k) - m) * v[i]!, 0) /
    stations.reduce((s, k) => s + (position(k) - m) ** 2, 0)
  );
};
const detrended = (v: readonly number[]) =>
  v.map((d, i) => d - mean(v) - slope(v) * (position(i + 1) - mean(stations.map(position))));
const spread = (v: readonly number[]) => Math.max(...v) - Math.min(...v);

describe.each(['as-found', 'as-left'] as const)('TH-2031, %s', (phase) => {
  let results: Results;
  let hand: Solution;
  beforeAll(async () => {
    results = await judgedOf(sample('TH-2031'));
    hand = solveByHand(`${sample('TH-2031')}/readings/${phase}.csv`);
  });
  const find = (what: string, rail: string): CharacteristicResult =>
    results.phases[phase]!.characteristics.find(
      (c) => c.what === what && c.rail === rail && (c.reference ?? 'least-squares') === 'least-squares',
    )!;
  const heights = (rail: string) => stations.map((k) => hand.get(`z${rail}${k}`));
  const offsets = (rail: string) => stations.map((k) => hand.get(`y${rail}${k}`));

  test('straightness of both rails in both planes', () => {
    for (const rail of ['A', 'B']) {
      expect(find('straightness-vertical', rail).value).toBeCloseTo(spread(detrended(heights(rail))), 5);
      expect(find('straightness-horizontal', rail).value).toBeCloseTo(spread(detrended(offsets(rail))), 5);
    }
  });

  test('level, parallelism, height difference, cross-level, twist', () => {
    const dz = stations.map((k) => hand.get(`zB${k}`) - hand.get(`zA${k}`));
    const dy = stations.map((k) => hand.get(`yB${k}`) - hand.get(`yA${k}`));
    expect(find('level-along', 'A').value).toBeCloseTo(slope(heights('A')), 5);
    expect(find('level-along', 'B').value).toBeCloseTo(slope(heights('B')), 5);
    expect(find('parallelism-vertical', 'B').value).toBeCloseTo(spread(dz), 5);
    expect(find('parallelism-horizontal', 'B').value).toBeCloseTo(spread(dy), 5);
    const greatest = dz.reduce((w, v) => (Math.abs(v) > Math.abs(w) ? v : w), 0);
    expect(find('height-difference', 'B').value).toBeCloseTo(greatest, 5);
    expect(find('cross-level', 'B').value).toBeCloseTo(greatest / 3.2, 5);
    expect(find('twist', 'B').value).toBeCloseTo(spread(dz) / 3.2, 5);
  });

  test('heights, their uncertainty, and how the set-ups stood', () => {
    const { stations: table, setups } = results.phases[phase]!;
    const datum = mean(heights('A'));
    const meanA = Object.fromEntries(stations.map((k) => [`zA${k}`, -1 / count]));
    for (const s of table) {
      if (s.height === undefined || s.height.value === null) throw new Error('every height is determined');
      const name = `z${s.rail}${s.station}`;
      expect(s.height.value).toBeCloseTo(hand.get(name) - datum, 5);
      expect(s.height.u).toBeCloseTo(hand.u({ ...meanA, [name]: (meanA[name] ?? 0) + 1 }), 5);
    }
    for (const id of ['S1', 'S2']) {
      const setup = setups.find((s) => s.id === id)!;
      expect(setup.pitch).toMatchObject({ value: expect.closeTo(hand.get(`p${id}`), 5) as number });
      const m = mean(stations.map(position));
      const sxx = stations.reduce((s, k) => s + (position(k) - m) ** 2, 0);
      const lineA = Object.fromEntries(stations.map((k) => [`yA${k}`, -(position(k) - m) / sxx]));
      if (setup.yaw.value === null) throw new Error('yaw is determined');
      expect(setup.yaw.value).toBeCloseTo(hand.get(`w${id}`) - slope(offsets('A')), 5);
      expect(setup.yaw.u).toBeCloseTo(hand.u({ [`w${id}`]: 1, ...lineA }), 5);
    }
  });

  test('u of a range is that of the difference of its two extremes', () => {
    const c = find('parallelism-vertical', 'B');
    const [high, low] = [c.at[0]!, c.at[1]!];
    const u = hand.u({
      [`zB${high.station}`]: 1,
      [`zA${high.station}`]: -1,
      [`zB${low.station}`]: -1,
      [`zA${low.station}`]: 1,
    });
    expect(c.u! / results.phases[phase]!.adjustment.scale).toBeCloseTo(u, 5);
  });
});

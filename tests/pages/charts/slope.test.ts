/** Level and squareness, drawn as they are judged: one slope through the middle of the rail. */
import { readdirSync, readFileSync } from 'node:fs';
import { gunzipSync } from 'node:zlib';
import { expect, test } from 'vitest';
import { chartsOf } from '../../../src/pages/charts/charts-of.js';
import type { Results } from '../../../src/results/results-schema.js';

const PINNED = new URL('../../pinned/', import.meta.url);
const file = readdirSync(PINNED).find((name) => name.endsWith('.json.gz'))!;
const jobs = JSON.parse(gunzipSync(readFileSync(new URL(file, PINNED))).toString('utf8')) as {
  readonly id: string;
  readonly results: Results;
}[];
const SLOPES: readonly string[] = ['level-along', 'squareness'];

/** Slope of the least-squares line, in the units of y per x: sums about the means. */
function slopeOf(points: readonly { readonly x: number; readonly y: number }[]): number {
  const mean = (of: 'x' | 'y') => points.reduce((sum, p) => sum + p[of], 0) / points.length;
  const [x, y] = [mean('x'), mean('y')];
  const sum = (of: (p: (typeof points)[number]) => number) => points.reduce((all, p) => all + of(p), 0);
  return sum((p) => (p.x - x) * (p.y - y)) / sum((p) => (p.x - x) * (p.x - x));
}

/** Of the pinned jobs in mm and µm, as if only these had a limit: then their figures are in the body. */
const cases = jobs.flatMap(({ id, results }) => {
  const [name, phase] = Object.entries(results.phases).at(-1)!;
  const characteristics = phase.characteristics.map((c) =>
    SLOPES.includes(c.what) && c.value !== null && c.limit !== null ? c : { ...c, limit: null },
  );
  const drawn = characteristics.filter(({ limit }) => limit !== null);
  return drawn.length === 0 || results.style.length !== 'mm'
    ? []
    : [{ id, drawn, results: { ...results, phases: { [name]: { ...phase, characteristics } } } as Results }];
});

test.each(cases)(
  '$id: the line through the drawn stations has the slope that is judged',
  ({ results, drawn }) => {
    const charts = chartsOf(results).filter(({ key }) => SLOPES.some((what) => key.startsWith(what)));
    expect(charts.length).toBe(drawn.length);
    for (const { of, data } of charts) {
      const c = Object.values(results.phases)[0]!.characteristics[of[0]!.characteristic]!;
      const sense = c.what === 'squareness' ? -1 : 1;
      type Points = { x: number; y: number }[];
      const points = (data['left']!.length > 0 ? data['left'] : data['found']) as unknown as Points;
      // x in mm, y in µm: 1 µm/mm is 1000 µm/m. Positions and heights have all their digits.
      expect(1000 * slopeOf(points)).toBeCloseTo(sense * c.value!, 6);
      expect(1000 * slopeOf(data['zero'] as unknown as Points)).toBeCloseTo(sense * c.value!, 6);
      const limits = (data['limits'] as unknown as (Points[number] & { line: string })[]).reduce(
        (lines, p) => lines.set(p.line, [...(lines.get(p.line) ?? []), p]),
        new Map<string, Points>(),
      );
      const slopes = [...limits.values()].map((line) => 1000 * slopeOf(line)).sort((a, b) => a - b);
      expect(slopes[0]).toBeCloseTo(-c.limit!, 6);
      expect(slopes[1]).toBeCloseTo(c.limit!, 6);
      const ends = (data['caps'] as unknown as Points).slice(0, 2).map(({ y }) => y);
      const half = (Math.max(...points.map(({ x }) => x)) - Math.min(...points.map(({ x }) => x))) / 2000;
      expect(Math.max(...ends.map(Math.abs)) / half).toBeCloseTo(Math.max(...c.interval!.map(Math.abs)), 6);
    }
  },
);

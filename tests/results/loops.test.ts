/**
 * Loops of level steps. Two rails levelled along, with cross-levels: what a loop misses by is worked out by hand from the
 * steps, and its uncertainty from those of the steps alone.
 */
import { expect, test } from 'vitest';
import type { SlopeReading } from '../../src/survey/readings/readings.js';
import { loopsSection } from '../../src/results/loops-section.js';
import { adjust } from '../../src/solution/solve/adjustment.js';
import { buildNetwork } from '../../src/solution/solve/network.js';
import { job, laser, rail } from '../support/jobs.js';

const AT = [0, 500, 1200, 2000];
const survey = job({
  rails: [rail('A', 0, AT, { datum: true }), rail('B', 3000, AT)],
  instruments: [
    laser({ id: 'E1', measures: 'slope', readingU: 4, perMetreU: 0, levelU: null, squareU: null }),
  ],
});
const height = (id: string, station: number): number =>
  (id === 'A' ? 30 : 55) + 7 * Math.sin(station * (id === 'A' ? 1 : 2));
const placeOf = (id: string, station: number) => [AT[station - 1]! / 1000, id === 'A' ? 0 : 3] as const;

function step(from: [string, number], to: [string, number], more: Partial<SlopeReading> = {}): SlopeReading {
  const [[x1, y1], [x2, y2]] = [placeOf(...from), placeOf(...to)];
  return {
    kind: 'slope',
    source: { file: 'level.csv', row: 2 },
    pass: '1',
    time: null,
    note: '',
    from: { rail: from[0], station: from[1] },
    to: { rail: to[0], station: to[1] },
    axis: 'vertical',
    umPerM: (height(...to) - height(...from)) / Math.hypot(x2 - x1, y2 - y1),
    instrument: 'E1',
    sight: null,
    ...more,
  };
}

const along = (id: string): SlopeReading[] => [1, 2, 3].map((k) => step([id, k], [id, k + 1]));
const loopsOf = (list: readonly SlopeReading[]) => loopsSection(adjust(buildNetwork(survey, list)));

test('a loop without errors closes; its uncertainty is the root of the sum of squares of its steps', () => {
  const [loop, ...others] = loopsOf([
    ...along('A'),
    ...along('B'),
    step(['A', 1], ['B', 1]),
    step(['A', 4], ['B', 4]),
  ]);
  expect(others).toEqual([]);
  expect(loop!.misclosure).toBeCloseTo(0, 9);
  expect(loop!.steps).toBe(8);
  expect([...loop!.through].sort()).toEqual(['A:1', 'A:4', 'B:1', 'B:4']);
  // Steps of 0.5, 0.7 and 0.8 m on either rail, 3 m across at either end; 4 µm/m each.
  expect(loop!.u).toBeCloseTo(4 * Math.sqrt(2 * (0.25 + 0.49 + 0.64) + 2 * 9), 9);
  // The two-sided 1 % point of the normal distribution (from memory): one level for the survey.
  expect(loop!.allowed).toBeCloseTo(2.5758293035489 * loop!.u, 9);
  expect(loop!.exceeded).toBe(false);
});

test('an error of 40 µm/m in one cross-level shows as 120 µm, whichever way it was read', () => {
  for (const isTurned of [false, true]) {
    const wrong = isTurned ? step(['B', 4], ['A', 4]) : step(['A', 4], ['B', 4]);
    const list = [
      ...along('A'),
      ...along('B'),
      step(['A', 1], ['B', 1]),
      { ...wrong, umPerM: wrong.umPerM + 40 },
    ];
    const [loop] = loopsOf(list);
    expect(Math.abs(loop!.misclosure)).toBeCloseTo(120, 9);
    expect(loop!.exceeded).toBe(true);
  }
});

test('of several loops the worst is first, and what is allowed is for all of them together', () => {
  const crossing = [1, 2, 3, 4].map((k) => step(['A', k], ['B', k]));
  const loops = loopsOf([
    ...along('A'),
    ...along('B'),
    ...crossing.slice(0, 3),
    { ...crossing[3]!, umPerM: crossing[3]!.umPerM + 30 },
  ]);
  expect(loops).toHaveLength(3);
  expect(Math.abs(loops[0]!.misclosure)).toBeCloseTo(90, 9);
  expect(loops.slice(1).every(({ misclosure }) => Math.abs(misclosure) < 1e-9)).toBe(true);
  // 1 % shared out to three: the two-sided 0.01/3 point of the normal distribution (from memory).
  expect(loops[0]!.allowed / loops[0]!.u).toBeCloseTo(2.935, 3);
});

test('repeats of a step are one step, and surer; a sight line and an open way make no loop', () => {
  const closed = [...along('A'), ...along('B'), step(['A', 1], ['B', 1]), step(['A', 4], ['B', 4])];
  const [once] = loopsOf(closed);
  const [twice] = loopsOf([...closed, ...closed.map((s) => ({ ...s, pass: '2' }))]);
  expect(twice!.u).toBeCloseTo(once!.u / Math.SQRT2, 9);
  expect(twice!.steps).toBe(once!.steps);
  expect(loopsOf(closed.slice(0, -1))).toEqual([]);
  expect(loopsOf(closed.map((s) => ({ ...s, sight: `${s.from.rail} along` })))).toEqual([]);
});

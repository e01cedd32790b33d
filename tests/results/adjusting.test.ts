/** A rail while it is adjusted: worked out by hand for one jack that moves a rail by known amounts. */
import { expect, test } from 'vitest';
import { adjustingView } from '../../src/pages/report/adjusting-words.js';
import { english } from '../../src/pages/words/words.js';
import { adjustingOf } from '../../src/results/adjusting.js';
import type { OffsetReading } from '../../src/survey/readings/readings.js';
import { job, laser, rail, setup } from '../support/jobs.js';

const machine = job({
  rails: [rail('A', 0, [0, 1000, 2000], { datum: true })],
  instruments: [laser({ readingU: 2, perMetreU: 0 })],
  // This instrument reads + where the target is below its plane.
  setups: [setup('S1', -500, 0, { sign: { vertical: -1, horizontal: 1, along: 1 } })],
});

let row = 1;
const look = (
  station: number,
  um: number,
  axis: 'vertical' | 'horizontal' = 'vertical',
  time: string | null = null,
): OffsetReading => ({
  kind: 'offset',
  source: { file: 'r.csv', row: ++row },
  pass: '1',
  time,
  note: '',
  setup: 'S1',
  point: { kind: 'station', rail: 'A', station },
  target: 'T',
  axis,
  um,
});

const move = (adjuster: string, along: number, um: number, axis: 'vertical' | 'horizontal' = 'vertical') =>
  ({ adjuster, rail: 'A', along, axis, move: um, unit: 'um' }) as const;

const before = [look(1, 10), look(2, 40), look(2, 44), look(3, 5), look(1, 0, 'horizontal')];
const plan = {
  leastUm: 5,
  moves: [move('J2', 1050, 60), move('J1', 0, -20), move('J1', 0, 15, 'horizontal')],
};

test('how far a jack has still to go, which way, when it is done, and which comes next', () => {
  const none = adjustingOf(machine, plan, before, [])!;
  expect(none).toMatchObject({ current: 0, response: null });
  expect(none.steps.map(({ left }) => left)).toEqual([null, null, null]);
  // The mean of before is 42; + is down, so 42 − 12 = 30 µm up of 60.
  const half = adjustingOf(machine, plan, before, [look(2, 12)])!;
  expect(half.steps[0]).toMatchObject({ did: 30, left: 30, isDone: false });
  expect(half.response).toBeCloseTo(0.5, 12);
  // u = 2·√(1 + 1/2) = 2.449 µm; 1.96·u = 4.80 µm is below the least move.
  expect(half.steps[0]!.band).toBe(5);
  expect(half.steps[1]!.band).toBeCloseTo(1.96 * 2 * Math.SQRT2, 12);
  const view = adjustingView(half, machine, english);
  expect(view).toMatchObject({ step: 'J2, read at A:2, height', number: '30.0' });
  expect(view.way).toMatch(/^µm to raise; done within 5\sµm$/);
  // −16: 58 of 60 is within the band; the next of the list is at work.
  const done = adjustingOf(machine, plan, before, [look(2, 12), look(2, -16)])!;
  expect(done.steps[0]).toMatchObject({ did: 58, isDone: true });
  expect(done.current).toBe(1);
  const all = [look(2, -16), look(1, 30), look(1, 14.5, 'horizontal')];
  expect(adjustingOf(machine, plan, before, all)!.current).toBeNull();
});

test('a jack that was turned the wrong way is told so', () => {
  const wrong = adjustingOf(machine, plan, before, [look(2, 70)])!;
  expect(wrong.steps[0]).toMatchObject({ did: -28, left: 88, isTurned: true });
  expect(adjustingView(wrong, machine, english).note).toMatch(/It moved the wrong way: lower 28\.0\sµm/);
});

test('readings of another day are another survey: the instrument was levelled anew', () => {
  const day = before.map((r) => ({ ...r, time: '2026-03-12T08:00' }));
  expect(adjustingOf(machine, plan, day, [look(2, 12, 'vertical', '2026-03-14T09:00')])).toBeNull();
  expect(adjustingOf(machine, plan, day, [look(2, 12, 'vertical', '2026-03-12T15:00')])).not.toBeNull();
});

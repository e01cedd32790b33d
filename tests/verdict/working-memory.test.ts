import { expect, test } from 'vitest';
import { coverageInterval } from '../../src/verdict/coverage-interval.js';
import { drawShapes } from '../../src/verdict/draw-shapes.js';
import { createGenerator } from '../../src/verdict/random.js';
import { signedExtremeInterval } from '../../src/verdict/signed-extreme-interval.js';
import { freshMemory, WorkingMemory, type Memory } from '../../src/verdict/working-memory.js';

test('places do not overlap, and are zeros whatever stood there before', () => {
  const memory = new WorkingMemory();
  for (let turn = 0; turn < 3; turn++) {
    memory.release();
    const taken = [3, 400_000, 500_000, 700_000, 1, 2 ** 20, 2 ** 20 + 1].map((n) => memory.floats(n));
    for (const place of taken) expect(place.every((v) => v === 0)).toBe(true);
    taken.forEach((place, k) => place.fill(k + 1));
    taken.forEach((place, k) => expect(place.every((v) => v === k + 1)).toBe(true));
  }
});

test('what was released is handed out again, and a copy is a copy', () => {
  const memory = new WorkingMemory();
  const first = memory.floats(10);
  memory.release();
  const again = memory.copyOf(Float64Array.of(1, 2, 3));
  expect(again.buffer).toBe(first.buffer);
  expect([...again]).toEqual([1, 2, 3]);
});

test('beyond what it holds, memory comes fresh', () => {
  const memory = new WorkingMemory();
  const places = Array.from({ length: 12 }, () => memory.floats(2 ** 20));
  expect(new Set(places.map(({ buffer }) => buffer)).size).toBe(12);
  memory.release();
  const again = Array.from({ length: 12 }, () => memory.floats(2 ** 20));
  expect(again.filter(({ buffer }) => places.some((p) => p.buffer === buffer))).toHaveLength(8);
});

test('intervals are the same to the last digit in memory that was used before', () => {
  const n = 21;
  const positions = Float64Array.from({ length: n }, (_, i) => 0.5 * i);
  const used = new WorkingMemory();
  const intervals = (memory: Memory, seed: number) => {
    const random = createGenerator(seed);
    const values = new Float64Array(200 * n);
    random.fillNormals(values, 0, values.length);
    // An offset common to each draw, so that it has lines apart from the rest.
    for (let b = 0; b < 200; b++)
      for (let i = 0, offset = 3 * random.nextNormal(); i < n; i++)
        values[b * n + i] = values[b * n + i]! + offset;
    const observed = positions.map((x) => 6 * Math.sin(x) + random.nextNormal());
    const sample = { observed, positions, noise: { count: 200, values } };
    const shapes = drawShapes(sample, createGenerator(1), memory);
    const range = (d: Float64Array) => Math.max(...d) - Math.min(...d);
    const whole = coverageInterval(
      Object.assign(range, { takeOut: () => undefined }),
      sample,
      shapes,
      0.95,
      memory,
    );
    const signed = signedExtremeInterval(sample, shapes, 0.95, memory);
    return [whole, signed].flatMap(({ interval, probabilityAtMost }) => [
      ...interval,
      ...[1, 5, 10, 15].map(probabilityAtMost),
    ]);
  };
  for (const seed of [1, 2, 3]) {
    used.release();
    expect(intervals(used, seed)).toEqual(intervals(freshMemory, seed));
  }
});

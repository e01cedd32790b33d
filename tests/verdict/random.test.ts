import { expect, test } from 'vitest';
import reference from '../published/xoshiro128.json' with { type: 'json' };
import { normalCdf } from '../../src/verdict/normal.js';
import { createGenerator, xoshiro128 } from '../../src/verdict/random.js';

test('xoshiro128** as its authors give it', () => {
  const [a, b, c, d] = reference.state;
  const generator = xoshiro128(a!, b!, c!, d!);
  expect(reference.first.map(() => generator.nextUint32())).toEqual(reference.first);
  expect(() => xoshiro128(0, 0, 0, 0)).toThrow(RangeError);
});

test('the same seed gives the same numbers, another seed others', () => {
  const draw = (seed: number): number[] => {
    const generator = createGenerator(seed);
    return Array.from({ length: 5 }, () => generator.nextNormal());
  };
  expect(draw(7)).toEqual(draw(7));
  expect(draw(7)).not.toEqual(draw(8));
  expect(draw(-1)).toEqual(draw(0xffffffff));
  expect(() => createGenerator(0.5)).toThrow(RangeError);
});

test('normal deviates follow Φ: no class of twenty departs by more than five standard deviations', () => {
  const generator = createGenerator(1);
  const classes = new Array<number>(20).fill(0);
  const count = 200_000;
  for (let i = 0; i < count; i++) {
    const k = Math.floor(20 * normalCdf(generator.nextNormal()));
    classes[k] = classes[k]! + 1;
  }
  const expected = count / 20;
  for (const n of classes) expect(Math.abs(n - expected)).toBeLessThan(5 * Math.sqrt(expected * 0.95));
});

test('uniform deviates lie in [0, 1) with mean a half', () => {
  const generator = createGenerator(2);
  const all = Array.from({ length: 100_000 }, () => generator.nextUniform());
  expect(all.every((u) => u >= 0 && u < 1)).toBe(true);
  expect(all.reduce((sum, u) => sum + u, 0) / all.length).toBeCloseTo(0.5, 2);
});

import fc from 'fast-check';
import { expect, test } from 'vitest';
import reference from '../../published/xoshiro128.json' with { type: 'json' };
import { normalCdf } from '../../../src/base/statistics/normal.js';
import { createGenerator, xoshiro128 } from '../../../src/base/statistics/random.js';

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

test('normal deviates beyond 2, 3 and 4: as many as Φ says, and as many on either side', () => {
  const generator = createGenerator(3);
  const count = 2_000_000;
  const beyond = new Map([2, 3, 3.442619855899, 4].map((z) => [z, { below: 0, above: 0 }]));
  let [sum, squares, fourths] = [0, 0, 0];
  for (let i = 0; i < count; i++) {
    const v = generator.nextNormal();
    sum += v;
    squares += v * v;
    fourths += v ** 4;
    if (Math.abs(v) < 2) continue;
    for (const [z, tally] of beyond) {
      if (v > z) tally.above++;
      if (v < -z) tally.below++;
    }
  }
  for (const [z, { below, above }] of beyond) {
    const expected = count * normalCdf(-z);
    expect(Math.abs(below - expected), `below −${z}`).toBeLessThan(5 * Math.sqrt(expected));
    expect(Math.abs(above - expected), `above ${z}`).toBeLessThan(5 * Math.sqrt(expected));
  }
  // Variances of these means for a normal deviate: 1, 2 and 96, over the count.
  expect(Math.abs(sum / count)).toBeLessThan(5 * Math.sqrt(1 / count));
  expect(Math.abs(squares / count - 1)).toBeLessThan(5 * Math.sqrt(2 / count));
  expect(Math.abs(fourths / count - 3)).toBeLessThan(5 * Math.sqrt(96 / count));
});

test('uniform deviates lie in [0, 1) with mean a half', () => {
  const generator = createGenerator(2);
  const all = Array.from({ length: 100_000 }, () => generator.nextUniform());
  expect(all.every((u) => u >= 0 && u < 1)).toBe(true);
  expect(all.reduce((sum, u) => sum + u, 0) / all.length).toBeCloseTo(0.5, 2);
});

test('normal deviates are the same one by one and many at once', () => {
  fc.assert(
    fc.property(fc.integer(), fc.array(fc.nat({ max: 400 }), { maxLength: 8 }), (seed, lengths) => {
      const one = createGenerator(seed);
      const many = createGenerator(seed);
      for (const length of lengths) {
        const out = new Float64Array(length + 2).fill(7);
        many.fillNormals(out, 1, length + 1);
        expect([...out]).toEqual([7, ...Array.from({ length }, () => one.nextNormal()), 7]);
        expect(many.nextUint32()).toBe(one.nextUint32());
      }
    }),
  );
});

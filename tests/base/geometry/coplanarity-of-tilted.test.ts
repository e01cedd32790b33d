import { expect, test } from 'vitest';
import { coplanarity } from '../../../src/solution/characteristics/measures.js';
import { normalFactor } from '../../../src/base/geometry/plane.js';
import { normal, seeded } from '../../support/jobs.js';

test.each(['least-squares', 'minimum-zone'] as const)(
  '%s: a plane under the heights changes nothing but the direction that is normal to it',
  (reference) => {
    const next = seeded(3);
    const x = Float64Array.from({ length: 18 }, (_, i) => i % 9);
    const y = Float64Array.from({ length: 18 }, (_, i) => (i < 9 ? 0 : 3.6));
    const { explain } = coplanarity(reference, { x, y }, [x.subarray(0, 9), x.subarray(9)], true)!;
    const z = x.map(() => 5 * normal(next));
    // Slopes of a fifth: no machine lies so, and the factor shows.
    const [c, a, b] = [70, 2e5, -1e5];
    const tilted = z.map((v, i) => v + c + a * x[i]! + b * y[i]!);
    const [level, slanting] = [explain(z), explain(tilted)];
    expect(slanting.value / level.value).toBeCloseTo(normalFactor({ a, b }), 5);
    expect(slanting.at).toEqual(level.at);
    // Its gradient gives the value back (the plane itself it does not see).
    const sum = slanting.gradient.reduce((most, { index, weight }) => most + weight * tilted[index]!, 0);
    expect(sum).toBeCloseTo(slanting.value, 4);
  },
);

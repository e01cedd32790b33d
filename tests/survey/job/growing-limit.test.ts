/** A limit that grows with length, against a published table of worked values. */
import { expect, test } from 'vitest';
import { limitAt } from '../../../src/survey/job/growing-limit.js';
import tolerances from '../../published/tolerances.json' with { type: 'json' };

// ISO 12488-1, span of a crane track by class; from memory, as the fixture says.
const { worked } = tolerances[0]!.expected;

test.each(Object.entries(worked))('%s m', (name, limits) => {
  const span = Number(name.replace('S=', ''));
  [
    { limit: 3, most: 10 },
    { limit: 5, most: 15 },
    { limit: 8, most: 20 },
  ].forEach(({ limit, most }, k) => {
    const grows = { upTo: 16, limit, more: { each: 1, limit: 0.25 }, most };
    expect(limitAt(grows, span)).toBeCloseTo(limits[k]!, 12);
  });
});

/** A wanted shape is straight from point to point. */
import { expect, test } from 'vitest';
import { shapeAt } from '../../../src/survey/job/job.js';

// Begins away from zero, so that a place is taken from the start of its own piece; rises 8 µm on 2 m, then falls 6 µm on 3 m.
const shape = [
  { atMm: 1000, um: 2 },
  { atMm: 3000, um: 10 },
  { atMm: 6000, um: 4 },
];

test.each([
  [1000, 2],
  [1500, 4],
  [3000, 10],
  [5000, 6],
  [6000, 4],
])('at %d mm the shape wants %d µm', (atMm, um) => {
  expect(shapeAt(shape, atMm)).toBeCloseTo(um, 12);
});

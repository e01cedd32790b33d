import fc from 'fast-check';
import { expect, test } from 'vitest';
import { editDistance, nearest } from '../../../src/base/diagnostics/nearest.js';

test.each([
  ['kitten', 'sitting', 3],
  ['title', 'tittle', 1],
  ['datum', 'datun', 1],
  ['setup', 'setpu', 1],
  ['permetre', 'perMetre', 0],
  ['', 'abc', 3],
])('%s to %s: %d', (one, other, distance) => {
  expect(editDistance(one, other)).toBe(distance);
});

test('a distance: nothing between equals, the same both ways, no shortcut through a third word', () => {
  const word = fc.string({ unit: fc.constantFrom('a', 'b', 'c'), maxLength: 6 });
  fc.assert(
    fc.property(word, word, (a, b) => {
      const distance = editDistance(a, b);
      expect(distance).toBe(editDistance(b, a));
      expect(distance === 0).toBe(a === b);
      expect(distance).toBeLessThanOrEqual(Math.max(a.length, b.length));
    }),
  );
});

test('the nearest known word, or none', () => {
  expect(nearest('tolerence', ['tolerances', 'targets', 'title'])).toBe('tolerances');
  expect(nearest('S22', ['S1', 'S2'])).toBe('S2');
  expect(nearest('left', ['up', 'down'])).toBe('');
  expect(nearest('x', [])).toBe('');
  expect(nearest('y'.repeat(100_000), ['y'])).toBe('');
});

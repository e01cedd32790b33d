/** Text next to the machine: no block covers another, and none moves that need not. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { shiftsOf } from '../../../src/pages/charts/machine.js';

test('names and states of rails that end at one place are below each other', () => {
  // Three lines of 13 px from 60, then the next at 97.
  expect(
    shiftsOf([
      { at: 60, lines: 3 },
      { at: 0, lines: 2 },
      { at: 60, lines: 1 },
      { at: 97, lines: 1 },
    ]),
  ).toEqual([0, 0, 3, (60 + 4 * 13 - 97) / 13]);
  const block = fc.record({ at: fc.integer({ min: 0, max: 200 }), lines: fc.integer({ min: 1, max: 3 }) });
  fc.assert(
    fc.property(fc.array(block, { maxLength: 6 }), (blocks) => {
      const shifts = shiftsOf(blocks);
      const placed = blocks
        .map(({ at, lines }, i) => ({ top: at + 13 * shifts[i]!, height: 13 * lines }))
        .sort((a, b) => a.top - b.top);
      placed.forEach(({ top }, i) => {
        const before = placed[i - 1];
        if (before !== undefined) expect(top).toBeGreaterThan(before.top + before.height - 1e-9);
      });
      for (const shift of shifts) expect(shift).toBeGreaterThanOrEqual(0);
    }),
  );
});

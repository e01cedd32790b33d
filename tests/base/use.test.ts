import { expect, test } from 'vitest';
import { readUse } from '../../src/base/input/use.js';

test.each(['', 'yes', 'Y', ' y ', 'TRUE', '1'])('%j: the row is used', (cell) =>
  expect(readUse(cell)).toBe(true),
);
test.each(['no', 'N', ' n', 'False', '0'])('%j: the row is left out', (cell) =>
  expect(readUse(cell)).toBe(false),
);
test.each(['x', 'X', '✓', '-', 'skip', 'nein?'])('%j may mean either, and is asked about', (cell) =>
  expect(readUse(cell)).toBeNull(),
);

/** Which moves a box of sheets can make; sheets and moves in µm. */
import { expect, test } from 'vitest';
import { sheetsIn, stepOfSheets } from '../../../src/results/corrections/sheets.js';

test('with sheets of 50, 100 and 200 every multiple of 50 can be put in', () => {
  expect(stepOfSheets([50, 100, 200], 0, 1000, 0)).toBe(50);
});

test('sheets of 100 and 250 have the common step 50, but no sheets make 50', () => {
  expect(stepOfSheets([100, 250], 0, 1000, 0)).toBeNull();
});

test('at most twelve sheets of one thickness: with sheets of 50 a place rises by 600 and not by 650', () => {
  expect(stepOfSheets([50], 0, 600, 0)).toBe(50);
  expect(stepOfSheets([50], 0, 650, 0)).toBeNull();
});

test('no more is taken out than is there', () => {
  // 100 are there: one sheet of 50 or two can go, whatever the way down is.
  expect(sheetsIn(100, 50)).toBe(2);
  expect(sheetsIn(100, 200)).toBe(0);
  expect(stepOfSheets([50, 100], 100, 0, 5000)).toBe(50);
});

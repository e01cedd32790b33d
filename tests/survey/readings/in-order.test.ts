/** Readings are put in the order in which they were taken, however the files are read. */
import { expect, test } from 'vitest';
import type { Reading } from '../../../src/survey/readings/readings.js';
import { inOrder } from '../../../src/survey/readings/in-order.js';

const reading = (file: string, row: number, time?: string) => ({ source: { file, row }, time }) as Reading;
const ordered = (...list: Reading[]) =>
  inOrder(list, (one) => one).map(({ source }) => `${source.file} ${source.row}`);

const T = '2026-03-02T';

test('with a time on each reading, the clock decides, not file or row', () => {
  const early = reading('b.csv', 9, `${T}08:00Z`);
  const late = reading('a.csv', 2, `${T}09:00Z`);
  expect(ordered(late, early)).toEqual(['b.csv 9', 'a.csv 2']);
});

test('of one file, the lower row comes first', () => {
  expect(ordered(reading('a.csv', 3), reading('a.csv', 2), reading('a.csv', 12))).toEqual([
    'a.csv 2',
    'a.csv 3',
    'a.csv 12',
  ]);
});

test('of several files, all rows of the first by name come first, whichever was read first', () => {
  const rows = [reading('a.csv', 7), reading('b.csv', 2), reading('a.csv', 3), reading('c.csv', 1)];
  const wanted = ['a.csv 3', 'a.csv 7', 'b.csv 2', 'c.csv 1'];
  expect(ordered(...rows)).toEqual(wanted);
  expect(ordered(...rows.reverse())).toEqual(wanted);
});

test('one reading without a time: the clock cannot order any of them', () => {
  const late = reading('a.csv', 2, `${T}09:00Z`);
  const none = reading('a.csv', 3);
  const early = reading('a.csv', 4, `${T}08:00Z`);
  expect(ordered(early, none, late)).toEqual(['a.csv 2', 'a.csv 3', 'a.csv 4']);
});

import { expect, test } from 'vitest';
import { compareResults } from '../../src/archive/compare-results.js';

test('each leaf that differs is named; rounding is not a difference', () => {
  const issued = { verdict: 'conforms', phases: { 'as-left': { values: [1, 2.5, null], why: 'x' } }, n: 3 };
  const again = {
    verdict: 'undecided',
    phases: { 'as-left': { values: [1 + 1e-13, 2.6, null, 4], why: 'x' } },
    m: 3,
  };
  expect(compareResults(issued, again)).toEqual([
    { place: 'verdict', issued: '"conforms"', recomputed: '"undecided"' },
    { place: 'phases.as-left.values[1]', issued: '2.5', recomputed: '2.6' },
    { place: 'phases.as-left.values[3]', issued: 'nothing', recomputed: '4' },
    { place: 'n', issued: '3', recomputed: 'nothing' },
    { place: 'm', issued: 'nothing', recomputed: '3' },
  ]);
  expect(compareResults(issued, issued)).toEqual([]);
  expect(compareResults(issued, again, (place) => place !== '' && !place.startsWith('verdict'))).toHaveLength(
    1,
  );
});

test('what JSON reads as infinite is near to no figure; a list is no object', () => {
  const issued = JSON.parse('{ "value": 1e999, "moves": { "0": 1 } }') as unknown;
  expect(compareResults(issued, { value: 12.3, moves: [1] }).map(({ place }) => place)).toEqual([
    'value',
    'moves',
  ]);
});

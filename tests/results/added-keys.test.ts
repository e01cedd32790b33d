/** Documents of earlier versions are held against what is made now without what those versions did not write. */
import { expect, test } from 'vitest';
import { compareResults } from '../../src/archive/compare-results.js';
import { addedAfter } from '../../src/results/added-keys.js';

test.each([
  ['0.1.0', 'corrections.points', true],
  ['0.1.0', 'corrections.earthCurvature', false],
  ['0.1.9', 'corrections.moves[0].move', true],
  ['0.2.0', 'corrections.points', false],
  ['0.2.0', 'issue', true],
  ['0.2.0', 'phases.as-left.characteristics[3].readings', true],
  ['0.2.0', 'corrections.predicted[0].readings[1].row', true],
  ['0.2.0', 'phases.as-left.characteristics[3].value', false],
  ['0.3.0', 'issue', false],
  ['0.3.0', 'phases.as-left.characteristics[3].settle', true],
  ['0.4.0', 'phases.as-left.characteristics[3].settle', false],
  ['0.4.0', 'phases.as-left.characteristics[3].settling.code', true],
  ['0.4.0', 'phases.as-left.stations[0].height.reasons[0].code', true],
  ['0.4.0', 'phases.as-left.adjustment.noticedNoise', true],
  ['0.5.0', 'phases.as-left.adjustment.noticedNoise', false],
  ['0.10.0', 'issue', false],
  ['1.0.0', 'corrections.points', false],
])('of version %s, %s: %s', (version, place, isAdded) => expect(addedAfter(version)(place)).toBe(isAdded));

test('a figure that was changed is found all the same', () => {
  const isNew = addedAfter('0.1.0');
  const old = { phases: { a: { characteristics: [{ value: 3 }] } } };
  const made = {
    phases: { a: { characteristics: [{ value: 4, readings: [] }] } },
    issue: { number: 'x' },
  };
  expect(compareResults(old, made, isNew).map(({ place }) => place)).toEqual([
    'phases.a.characteristics[0].value',
  ]);
});

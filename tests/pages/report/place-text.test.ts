/** Where a characteristic is decided, in words. */
import { expect, test } from 'vitest';
import { placeText } from '../../../src/pages/report/place-text.js';
import { english } from '../../../src/pages/words/words.js';

const at = [
  { rail: 'A', station: 18 },
  { rail: 'A', station: 20 },
];

test('two stations that make a range are listed; the ends of a stretch are a stretch', () => {
  expect(placeText({ what: 'straightness-vertical', at }, english)).toBe('A:18, A:20');
  expect(placeText({ what: 'straightness-vertical-local', at }, english)).toBe('A:18 to 20');
  expect(placeText({ what: 'level-along', at: [] }, english)).toBe('');
});

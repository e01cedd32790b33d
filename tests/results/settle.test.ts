/** What would settle an undecided verdict: the sentence fits the reason why it is undecided. */
import { expect, test } from 'vitest';
import { settleWords } from '../../src/solution/reasons/words.js';
import { settlingOf } from '../../src/results/settle.js';

const settleSentence = (
  value: number,
  [lower, upper]: readonly [number, number],
  ...of: [limit: number, budget: Parameters<typeof settlingOf>[2], scale: number]
) => settleWords(settlingOf({ value, lower, upper }, ...of));

test('the interval is twice the margin: four times as many passes', () => {
  expect(settleSentence(30, [20, 40], 35, { readings: 1 }, 1)).toContain('About 4 times as many passes');
});

test('twenty times as many passes are told of, more are not', () => {
  const sentenceFor = (times: number) =>
    settleSentence(30, [20, 40], 30 + 10 / Math.sqrt(times - 0.5), { readings: 1 }, 1);
  expect(sentenceFor(20)).toContain('About 20 times as many passes');
  expect(sentenceFor(21)).toContain('no survey of this kind would decide');
});

test('most comes from a source that passes do not touch', () => {
  const sentence = settleSentence(30, [20, 40], 34, { readings: 0.3, level: 0.7 }, 1);
  expect(sentence).toContain('More passes alone would not decide');
});

test('a wide interval far from the limit is not said to be close to it', () => {
  const sentence = settleSentence(31, [-1513, 1625], 100, { readings: 1 }, 1);
  expect(sentence).toContain('small compared with the uncertainty');
  expect(sentence).not.toContain('close to the limit');
});

test('where the readings disagree and that alone widens the interval, that comes first', () => {
  const sentence = settleSentence(31, [-1513, 1625], 100, { readings: 1 }, 50.9);
  expect(sentence).toContain('disagree 50.9 times more');
  expect(sentence).toContain('suspect readings');
});

/** What a long run says of itself, on a terminal and in a log. */
import { expect, test } from 'vitest';
import { startPace, timeText } from '../../src/cli/pace.js';
import { progressOn } from '../../src/cli/progress.js';

function listening(isInteractive: boolean) {
  const said: string[] = [];
  return {
    said,
    console: { out: () => undefined, err: (text: string) => void said.push(text), isInteractive },
  };
}

test('in a log: whole lines now and then, without control characters', () => {
  const { said, console } = listening(false);
  let time = 0;
  const progress = progressOn(console, () => time);
  for (; time <= 35_000; time += 100) {
    progress.say(`${time / 100} of 1000`);
    progress.clear();
  }
  expect(said).toEqual(['100 of 1000\n', '200 of 1000\n', '300 of 1000\n']);
});

test('on a terminal: one line, rewritten', () => {
  const { said, console } = listening(true);
  const progress = progressOn(console);
  progress.say('1 of 2');
  progress.say('2 of 2');
  progress.clear();
  expect(said).toEqual(['\r\u001b[2K1 of 2', '\r\u001b[2K2 of 2', '\r\u001b[2K']);
});

test('the rate is that of the last half minute, whatever was before', () => {
  let time = 0;
  const pace = startPace(() => time);
  expect(pace.rate(0)).toBeNull();
  let done = 0;
  // A minute at 100 a second, then one at 2 a second.
  for (; time < 60_000; time += 500) pace.rate((done += 50));
  expect(Math.abs(pace.rate(done)! - 100)).toBeLessThan(4);
  for (; time < 120_000; time += 500) pace.rate((done += 1));
  expect(pace.rate(done)).toBeCloseTo(2, 1);
  time += 600_000;
  expect(pace.rate(done)).toBeLessThan(0.1);
});

test('times are told in the unit that fits', () => {
  expect([0, 0.2, 89, 90, 600, 5_400].map(timeText)).toEqual([
    '0 s',
    '1 s',
    '89 s',
    '2 min',
    '10 min',
    '1.5 h',
  ]);
});

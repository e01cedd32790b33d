/** What a job will take is said before it is begun; beyond the time that it has, it is refused at once. */
import { expect, test } from 'vitest';
import { loadJob, inspectJob } from '../../../src/solution/intake/load-job.js';
import { judgeSize, sizeOf, sizeWords } from '../../../src/solution/intake/size.js';
import { sample } from '../../support/folders.js';
import { longSurvey } from '../../support/long-survey.js';

const readingsOf = (list: ReturnType<typeof longSurvey>['readings']) => ({
  phases: new Map([['as-left' as const, list]]),
  excluded: [],
});

test('larger surveys take longer and more memory; an ordinary one is not worth a word', () => {
  const sizes = [41, 400, 4000].map((stations) => {
    const { job, readings } = longSurvey(stations, 2);
    return sizeOf(job, readingsOf(readings));
  });
  expect(sizes[1]!.seconds).toBeGreaterThan(sizes[0]!.seconds);
  expect(sizes[2]!.seconds).toBeGreaterThan(sizes[1]!.seconds);
  expect(sizes[2]!.megabytes).toBeGreaterThan(sizes[0]!.megabytes);
  const { job, readings } = longSurvey(41, 2);
  expect(judgeSize(job, readingsOf(readings), null)).toEqual([]);
});

test('a job beyond its time is refused, with how much to allow', async () => {
  const outcome = await loadJob(sample('TH-0412'), null, 0.1);
  expect(outcome.ok).toBe(false);
  expect(outcome.diagnostics).toMatchObject([{ code: 'JOB_TOO_LARGE', data: { limit: 0.1 } }]);
  expect((await loadJob(sample('TH-0412'), null, 300)).ok).toBe(true);
  expect((await inspectJob(sample('TH-0412'), null)).loaded).not.toBeNull();
});

test.each([
  [{ seconds: 12, megabytes: 180 }, 'about 15 seconds and 200 MB'],
  [{ seconds: 200, megabytes: 1830 }, 'about 4 minutes and 1.8 GB'],
])('%j: %s', (size, words) => expect(sizeWords(size)).toBe(words));

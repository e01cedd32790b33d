/** Workers that die, hang, grow or do not start: what is lost is tried once more, and nothing is left behind. */
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { beforeAll, expect, test } from 'vitest';
import { startPool } from '../../src/archive/batch/pool.js';
import { asProcesses, starters } from '../../src/archive/batch/starters.js';
import { temporary } from '../support/folders.js';
import { program } from '../support/program.js';

// The processes run the build; the pool itself is that of the sources.
beforeAll(() => {
  const entry = pathToFileURL(join(dirname(program()), 'archive/batch/worker-process.js'));
  Object.assign(starters, asProcesses, { entry });
});

const module = new URL('./batch-fake-worker.mjs', import.meta.url);

function run(
  tasks: readonly string[],
  more: {
    workers?: number;
    timeLimitMs?: number;
    settings?: string;
    atOnce?: number;
    hangsOnce?: boolean;
  } = {},
) {
  const done: string[] = [];
  const pids = new Set<string>();
  const givenUp: Record<string, string> = {};
  const pool = startPool<string, string>({
    module,
    settings: more.settings ?? null,
    workers: more.workers ?? 2,
    timeLimitMs: more.timeLimitMs ?? 20_000,
    ...(more.atOnce !== undefined && { atOnce: more.atOnce }),
    ...(more.hangsOnce !== undefined && { hangsOnce: more.hangsOnce }),
    tasks,
    onDone: (task, result) => {
      done.push(task);
      pids.add(result.split(' by ')[1]!);
    },
    onGivenUp: (task, why) => (givenUp[task] = why),
  });
  return { pool, done, pids, givenUp };
}

const isAlive = (pid: string): boolean => {
  try {
    return process.kill(Number(pid), 0);
  } catch {
    return false;
  }
};

test('a task that kills its worker is tried once more, twice is given up, and the rest are done', async () => {
  const mark = join(await temporary(), 'mark');
  const once = `die once ${mark}`;
  const { pool, done, givenUp, pids } = run(['a', 'die', once, 'throw', 'b', 'c']);
  await pool.finished;
  expect(done.sort()).toEqual(['a', 'b', 'c', once].sort());
  expect(Object.keys(givenUp).sort()).toEqual(['die', 'throw']);
  expect(givenUp['die']).toBe('twice, its process was ended by SIGKILL');
  expect(givenUp['throw']).toMatch(/twice, its process ended with status \d+ \(RangeError: a defect\)/);
  expect([...pids].filter(isAlive)).toEqual([]);
});

test('a task that hangs is ended at its limit', async () => {
  const mark = join(await temporary(), 'mark');
  const { pool, done, givenUp } = run(['hang', 'a', `hang once ${mark}`], { timeLimitMs: 1_500 });
  await pool.finished;
  expect(done.sort()).toEqual(['a', `hang once ${mark}`]);
  expect(givenUp).toEqual({ hang: 'twice, it took longer than 1.5 s' });
});

test('where a task may hang only once, it is given up at its limit, and the rest are done', async () => {
  const { pool, done, givenUp } = run(['a', 'hang', 'b'], {
    workers: 1,
    timeLimitMs: 1_000,
    hangsOnce: true,
  });
  await pool.finished;
  expect(done).toEqual(['a', 'b']);
  expect(givenUp).toEqual({ hang: 'it took longer than 1 s' });
});

test('a worker that has grown is replaced between two tasks', async () => {
  const { pool, done, pids } = run(['large', 'large', 'a', 'b'], { workers: 1 });
  await pool.finished;
  expect(done).toEqual(['large', 'large', 'a', 'b']);
  expect(pids.size).toBe(3);
});

test('of two tasks that a worker has at once only the one at fault is given up', async () => {
  const { pool, done, givenUp } = run(['a', 'die', 'b', 'c', 'd', 'e'], { workers: 1, atOnce: 2 });
  await pool.finished;
  expect(done.sort()).toEqual(['a', 'b', 'c', 'd', 'e']);
  expect(Object.keys(givenUp)).toEqual(['die']);

  const hung = run(['a', 'hang', 'b', 'c'], { workers: 1, atOnce: 2, timeLimitMs: 1_500 });
  await hung.pool.finished;
  expect(hung.done.sort()).toEqual(['a', 'b', 'c']);
  expect(hung.givenUp).toEqual({ hang: expect.stringMatching(/it took longer than 1.5 s$/) as string });
});

test('a worker has two tasks at once', async () => {
  const { pool, done, pids } = run(['meet', 'meet'], { workers: 1, atOnce: 2 });
  await pool.finished;
  expect(done).toEqual(['meet', 'meet']);
  expect(pids.size).toBe(1);
});

test('workers that do not start are an error, not an endless try', async () => {
  const { pool } = run(['a', 'b'], { settings: 'cannot start' });
  await expect(pool.finished).rejects.toThrow(/do not start: .*no such library/);
});

test('no more tasks after stop; after abort an end at once', async () => {
  const stopped = run(['a', 'b', 'c', 'd'], { workers: 1 });
  stopped.pool.stop();
  await stopped.pool.finished;
  expect(stopped.done.length).toBeLessThanOrEqual(1);

  const aborted = run(['hang', 'hang', 'a']);
  await new Promise((resolve) => setTimeout(resolve, 500));
  const before = performance.now();
  aborted.pool.abort();
  await aborted.pool.finished;
  expect(performance.now() - before).toBeLessThan(10_000);
  expect(aborted.givenUp).toEqual({});
});

test('nothing to do', async () => {
  await expect(run([]).pool.finished).resolves.toBeUndefined();
});

/** A search for a plan ends by counted work: no clock, fast or slow, enters a plan. */
import { afterEach, expect, test, vi } from 'vitest';
import { SearchTookTooLong, watchSearch } from '../../../src/archive/search-limit.js';
import { Programme, type OnSearch, type Solved } from '../../../src/results/corrections/programme.js';
import { createGenerator } from '../../../src/base/statistics/random.js';

/**
 * A market split programme: feasible by its slacks, and hard to prove best for its size.
 *
 * @see G. Cornuéjols, M. Dawande, A class of hard small 0–1 programs, IPCO 1998.
 */
function marketSplit(rows: number, seed: number): { programme: Programme; cost: Map<string, number> } {
  const programme = new Programme();
  const random = createGenerator(seed);
  const cost = new Map<string, number>();
  const names = Array.from({ length: 10 * (rows - 1) }, (_, j) => programme.variable(`x${j}`, 0, 1, true));
  for (let i = 0; i < rows; i++) {
    const terms = new Map(names.map((name) => [name, Math.floor(100 * random.nextUniform())]));
    const half = Math.floor([...terms.values()].reduce((a, b) => a + b, 0) / 2);
    for (const [name, sign] of [
      [programme.variable(`over${i}`, 0, Infinity), -1],
      [programme.variable(`under${i}`, 0, Infinity), 1],
    ] as const) {
      terms.set(name, sign);
      cost.set(name, 1);
    }
    programme.row(terms, { least: half, most: half });
  }
  return { programme, cost };
}

const search = (mostWork: number, onSearch?: OnSearch): Promise<Solved> => {
  const { programme, cost } = marketSplit(4, 7);
  return programme.solve(cost, { mostWork, onSearch });
};
const plainly = ({ status, gap, work, value }: Solved) => ({
  status,
  gap,
  work,
  x: Array.from({ length: 30 }, (_, j) => value(`x${j}`)),
});

afterEach(() => vi.restoreAllMocks());

test('a search that its work ends is the same on any clock, and says that it was ended', async () => {
  const first = plainly(await search(800));
  expect(first.status).toBe('found');
  expect(first.work).toBeGreaterThanOrEqual(800);
  // A clock on which an hour passes from one look at it to the next: the slowest of all machines.
  let ms = 1e9;
  vi.spyOn(performance, 'now').mockImplementation(() => (ms += 3_600_000));
  vi.spyOn(Date, 'now').mockImplementation(() => (ms += 3_600_000));
  expect(plainly(await search(800))).toEqual(first);
});

test('more work is another end: the count is what ends it', async () => {
  const [little, much] = [await search(300), await search(1_500)];
  expect(much.work).toBeGreaterThan(little.work);
  expect(much.gap!).toBeLessThanOrEqual(little.gap!);
});

test('who watches cannot change the plan, only end the job', async () => {
  let heard = 0;
  const watched = await search(800, () => void heard++);
  expect(heard).toBeGreaterThan(10);
  expect(plainly(watched)).toEqual(plainly(await search(800)));
});

test('a time limit ends the job with an error that says so', async () => {
  let ms = 0;
  const watch = watchSearch(
    2,
    () => undefined,
    () => (ms += 500),
  );
  const ended = search(800, watch);
  await expect(ended).rejects.toThrow(SearchTookTooLong);
  await expect(ended).rejects.toThrow(
    /nothing was written: .* longer than the 2 s of corrections\.timeLimit/,
  );
  // Another search in the same process is not hurt.
  expect((await search(300)).status).toBe('found');
});

test('without a limit no clock ends it, and now and then it says how far it is', async () => {
  let ms = 0;
  const said: string[] = [];
  const watch = watchSearch(
    null,
    (text) => said.push(text),
    () => (ms += 1_000),
  );
  expect((await search(800, watch)).status).toBe('found');
  expect(said[0]).toMatch(/^looking for the moves, 3 s: /);
});

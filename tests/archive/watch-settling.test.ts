/** When a drop has stopped changing: looks, clocks and file times of every kind. */
import { link, mkdir, rm, symlink, truncate, utimes, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { digestOf, listDrop, MAX_ENTRIES } from '../../src/archive/watch/listing.js';
import { checkStability, type Settling } from '../../src/archive/watch/settling.js';
import { startTurns } from '../../src/archive/watch/turns.js';
import { temporary } from '../support/folders.js';

const times = { pollMs: 2_000, settleMs: 10_000 };

interface Glance {
  readonly shape?: string;
  readonly stamps?: string;
  readonly bytes?: string;
  /** Since the last look, ms. */
  readonly after?: number;
}

/** @returns After each look: whether it was settled. */
async function watched(glances: readonly Glance[]): Promise<boolean[]> {
  let state: Settling | null = null;
  let now = 5e6;
  const settled: boolean[] = [];
  for (const { shape = 's', stamps = 't', bytes = 'b', after = times.pollMs } of glances) {
    now += after;
    state = await checkStability(state, { shape, stamps }, now, times, () => Promise.resolve(bytes));
    settled.push(state.isSettled);
  }
  return settled;
}

const still = (n: number, glance: Glance = {}): Glance[] => Array.from({ length: n }, () => glance);
const firstSettled = async (glances: readonly Glance[]) => (await watched(glances)).indexOf(true);

describe('looks', () => {
  test('what does not change has settled after the settling time, and stays so', async () => {
    expect(await watched(still(8))).toEqual([false, false, false, false, false, true, true, true]);
  });

  test('what grows has not, however long it takes', async () => {
    const growing = Array.from({ length: 50 }, (_, k) => ({ shape: `size ${k}` }));
    expect(await firstSettled(growing)).toBe(-1);
    expect(await firstSettled([...growing, ...still(6, { shape: 'whole' })])).toBe(55);
  });

  test('full size from the start, bytes later, times late: the bytes tell', async () => {
    const filling = ['0', '0', 'a0', 'a0', 'ab', 'ab', 'abc'].map((bytes) => ({ bytes }));
    // Digest at the second look, and not the same at the end of the settling time: anew from there.
    expect(await firstSettled([...filling, ...still(10, { bytes: 'abcd' })])).toBeGreaterThan(10);
  });

  test('times that change while the bytes do not (a scan, a backup, a server that rounds) start nothing anew', async () => {
    const flapping = Array.from({ length: 8 }, (_, k) => ({ stamps: k > 1 && k % 2 === 1 ? 'T' : 't' }));
    expect(await firstSettled(flapping)).toBe(5);
  });

  test('a change of time with other bytes does', async () => {
    const glances = [...still(4), ...still(8, { stamps: 'T', bytes: 'B' })];
    expect(await firstSettled(glances)).toBeGreaterThan(8);
  });

  test('a clock that goes backwards or stands still adds nothing; it settles when the clock goes on', async () => {
    const back = [{}, {}, { after: -3_600_000 }, { after: 0 }, { after: -1 }];
    expect(await firstSettled(back)).toBe(-1);
    expect(await firstSettled([...back, ...still(4)])).toBe(8);
  });

  test('a night of sleep between two looks is two looks at most', async () => {
    expect(await watched([{}, {}, { after: 36e6 }])).toEqual([false, false, false]);
  });

  test('never before the settling time has passed without a change, whatever happens', async () => {
    const glance = fc.record({
      shape: fc.constantFrom('s', 's', 's', 'S'),
      stamps: fc.constantFrom('t', 't', 'T'),
      bytes: fc.constantFrom('b', 'b', 'b', 'B'),
      after: fc.integer({ min: -5_000, max: 20_000 }),
    });
    await fc.assert(
      fc.asyncProperty(fc.array(glance, { maxLength: 40 }), async (glances) => {
        const settled = await watched(glances);
        for (const [i, isSettled] of settled.entries()) {
          if (!isSettled) continue;
          let quiet = 0;
          for (let k = i; k > 0 && glances[k]!.shape === glances[k - 1]!.shape; k--)
            quiet += Math.min(Math.max(glances[k]!.after, 0), 2 * times.pollMs);
          expect(quiet).toBeGreaterThanOrEqual(times.settleMs);
        }
      }),
    );
  });
});

describe('what a look sees', () => {
  test('names, sizes and kinds; times of change apart, however wrong they are', async () => {
    const drop = await temporary();
    await writeFile(join(drop, 'a'), 'abc');
    const before = (await listDrop(drop))!;
    await utimes(join(drop, 'a'), new Date('1970-01-01'), new Date('1970-01-01'));
    const older = (await listDrop(drop))!;
    expect(older.shape).toBe(before.shape);
    expect(older.stamps).not.toBe(before.stamps);
    expect(await digestOf(drop, older)).toBe(await digestOf(drop, before));
    await mkdir(join(drop, 'b'));
    expect((await listDrop(drop))!.shape).not.toBe(before.shape);
  });

  test('other bytes of the same size and time are another digest, at the end of a large file too', async () => {
    const path = join(await temporary(), 'large');
    const day = new Date('2026-01-01');
    await writeFile(path, 'head');
    await truncate(path, 20 * 2 ** 20); // a copy that has taken its room
    await utimes(path, day, day);
    const early = (await listDrop(path))!;
    const first = await digestOf(path, early);
    const file = await (await import('node:fs/promises')).open(path, 'r+');
    await file.write('tail', 20 * 2 ** 20 - 4);
    await file.close();
    await utimes(path, day, day);
    const late = (await listDrop(path))!;
    expect(late).toEqual(early);
    expect(await digestOf(path, late)).not.toBe(first);
  });

  test('links are not followed, and nothing that is no file is opened', async () => {
    const drop = await temporary();
    const outside = join(await temporary(), 'outside');
    await writeFile(outside, 'one');
    await symlink(outside, join(drop, 'link'));
    await symlink(drop, join(drop, 'round'));
    await link(outside, join(drop, 'hard'));
    const listing = (await listDrop(drop))!;
    expect(listing.files).toEqual(['hard']);
    await rm(join(drop, 'hard'));
    const before = await digestOf(drop, (await listDrop(drop))!);
    await writeFile(outside, 'two');
    expect(await digestOf(drop, (await listDrop(drop))!)).toBe(before);
  });

  test('gone, and too much', async () => {
    const drop = await temporary();
    expect(await listDrop(join(drop, 'none'))).toBeNull();
    expect(MAX_ENTRIES).toBe(20_000);
  });
});

describe('turns', () => {
  test('in the order of asking; two that want the same keys never wait for each other', async () => {
    const turns = startTurns();
    const order: string[] = [];
    const run = async (name: string, keys: string[], ms: number) => {
      const end = await turns.take(keys);
      order.push(`${name} begins`);
      await new Promise((resolve) => setTimeout(resolve, ms));
      order.push(`${name} ends`);
      end();
    };
    await Promise.all([
      run('a', ['1', '2'], 20),
      run('b', ['2', '1'], 1),
      run('c', ['3'], 1),
      run('d', ['2'], 1),
    ]);
    expect(order.filter((step) => !step.startsWith('c'))).toEqual([
      'a begins',
      'a ends',
      'b begins',
      'b ends',
      'd begins',
      'd ends',
    ]);
    expect(order.indexOf('c ends')).toBeLessThan(order.indexOf('a ends'));
  });
});

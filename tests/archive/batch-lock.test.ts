/** One batch at a time: living holders are respected, dead ones found out, without trust in clocks. */
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { readdir, readFile, utimes, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { FolderLocked, lockFolder } from '../../src/archive/batch/lock.js';
import { temporary } from '../support/folders.js';
import { isLinux } from './batch-support.js';

const NAME = '.waysheet-batch.lock';
const quick = { watchedMs: 300, beatMs: 50 };

async function holderLike(change: Record<string, unknown>): Promise<string> {
  const folder = await temporary();
  const lock = await lockFolder(folder);
  const holder = JSON.parse(await readFile(join(folder, NAME), 'utf8')) as object;
  await lock.release();
  await writeFile(join(folder, NAME), JSON.stringify({ ...holder, token: 'another', ...change }));
  return folder;
}

const takes = async (folder: string): Promise<boolean> => {
  const lock = await lockFolder(folder, quick).catch((error: unknown) => {
    if (error instanceof FolderLocked) return null;
    throw error;
  });
  await lock?.release();
  return lock !== null;
};

test('held once; free again after release, with nothing left', async () => {
  const folder = join(await temporary(), 'made', 'on the way');
  const lock = await lockFolder(folder, quick);
  await expect(lockFolder(folder, quick)).rejects.toThrow(FolderLocked);
  await expect(lockFolder(folder, quick)).rejects.toThrow(`process ${process.pid} on `);
  await lock.release();
  expect(await readdir(folder)).toEqual([]);
  expect(await takes(folder)).toBe(true);
});

test.skipIf(!isLinux)('a dead holder: its number is free, or is another process by now', async () => {
  const { pid } = spawnSync(process.execPath, ['--version']);
  expect(await takes(await holderLike({ pid }))).toBe(true);
  expect(await takes(await holderLike({ started: '1' }))).toBe(true);
  // This very process, as it is.
  expect(await takes(await holderLike({}))).toBe(false);
});

test('a lock that was half-written when the power went', async () => {
  const folder = await temporary();
  await writeFile(join(folder, NAME), '{"token": "ab');
  expect(await takes(folder)).toBe(true);
});

test('of another machine, or of a container with numbers of its own: alive while the file changes', async () => {
  const foreign = { host: 'elsewhere', pid: 1 };
  expect(await takes(await holderLike(foreign))).toBe(true);
  expect(await takes(await holderLike({ space: 'another boot' }))).toBe(true);

  const folder = await holderLike(foreign);
  let beat = 0;
  // A clock that runs backwards.
  const timer = setInterval(() => void utimes(join(folder, NAME), 0, 1e9 - 60 * ++beat), 40);
  expect(await takes(folder)).toBe(false);
  clearInterval(timer);
});

test('the holder shows that it lives, and notices when its lock is gone', async () => {
  const folder = await temporary();
  const lock = await lockFolder(folder, quick);
  await new Promise((resolve) => setTimeout(resolve, 200));
  expect(lock.isHeld()).toBe(true);
  await writeFile(join(folder, NAME), JSON.stringify({ token: 'another', pid: 1 }));
  await new Promise((resolve) => setTimeout(resolve, 300));
  expect(lock.isHeld()).toBe(false);
  await lock.release();
  expect(await readFile(join(folder, NAME), 'utf8')).toContain('another');
});

test('parts of one division share a folder; others do not', async () => {
  const folder = await temporary();
  const first = await lockFolder(folder, { ...quick, shard: { index: 1, of: 2 } });
  const second = await lockFolder(folder, { ...quick, shard: { index: 2, of: 2 } });
  for (const shard of [{ index: 1, of: 2 }, { index: 1, of: 3 }, null])
    await expect(lockFolder(folder, { ...quick, shard })).rejects.toThrow(FolderLocked);
  await second.release();
  await first.release();
  expect(await readdir(folder)).toEqual([]);
});

test('of many that find a dead lock at once, one wins', async () => {
  for (let round = 0; round < 40; round++) {
    const folder = await holderLike({ started: '1' });
    const tries = await Promise.allSettled(Array.from({ length: 8 }, () => lockFolder(folder, quick)));
    expect(tries.filter(({ status }) => status === 'fulfilled')).toHaveLength(1);
  }
});

test('a claim upon a dead lock whose claimant died too is taken over', async () => {
  const folder = await holderLike({ started: '1' });
  const dead = await readFile(join(folder, NAME), 'utf8');
  const { token } = JSON.parse(dead) as { token: string };
  const claim = `${NAME}.${createHash('sha256').update(token).digest('hex').slice(0, 12)}.claim`;
  await writeFile(join(folder, claim), dead);
  const lock = await lockFolder(folder, quick);
  expect(await readdir(folder)).toEqual([NAME]);
  await lock.release();
  expect(await readdir(folder)).toEqual([]);
});

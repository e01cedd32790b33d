import { createHash } from 'node:crypto';
import { constants, createReadStream } from 'node:fs';
import {
  chmod,
  copyFile,
  cp,
  lstat,
  mkdir,
  mkdtemp,
  open,
  readdir,
  readFile,
  rename,
  rm,
  symlink,
  writeFile,
} from 'node:fs/promises';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { brotliDecompressSync, createBrotliDecompress } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { packedChromium } from '../../../src/pages/report/browser/packed-files.js';
import { readTar } from '../../../src/pages/report/browser/read-tar.js';
import type * as Unpack from '../../../src/pages/report/browser/unpack-chromium.js';

const bin = join(dirname(createRequire(import.meta.url).resolve('@sparticuz/chromium')), '..', '..', 'bin');
const { executable } = packedChromium;

/** The module as a new process has it: with nothing checked yet. */
async function inNewProcess(): Promise<typeof Unpack> {
  vi.resetModules();
  return import('../../../src/pages/report/browser/unpack-chromium.js');
}

const unpack = async (cacheFolder: string) => (await inNewProcess()).unpackChromium({ cacheFolder });

/** Overwrites one byte in the middle of a file, whose size stays the same. */
async function tamper(path: string): Promise<void> {
  const file = await open(path, 'r+');
  const { size } = await file.stat();
  await file.write(Buffer.from([0x90]), 0, 1, Math.floor(size / 2));
  await file.close();
}

const sha256 = (content: Buffer) => createHash('sha256').update(content).digest('hex');

test('the pinned table is what the installed package holds', async () => {
  const found: Record<string, { bytes: number; sha256: string }> = {};
  for (const archive of ['al2023', 'fonts']) {
    for (const { name, content } of readTar(
      brotliDecompressSync(await readFile(join(bin, `${archive}.tar.br`))),
    )) {
      found[name] = { bytes: content.length, sha256: sha256(content) };
    }
  }
  const hash = createHash('sha256');
  let bytes = 0;
  for await (const chunk of createReadStream(join(bin, 'chromium.br')).pipe(
    createBrotliDecompress(),
  ) as AsyncIterable<Buffer>) {
    hash.update(chunk);
    bytes += chunk.length;
  }
  found[executable] = { bytes, sha256: hash.digest('hex') };
  const pinned = Object.keys(packedChromium.files);
  expect(Object.fromEntries(pinned.map((name) => [name, found[name]]))).toEqual(packedChromium.files);
  const libraries = Object.keys(found).filter((name) => name.startsWith('lib/'));
  expect(pinned).toEqual(expect.arrayContaining(libraries));
  const { version } = JSON.parse(await readFile(join(bin, '..', 'package.json'), 'utf8')) as {
    version: string;
  };
  expect(version).toBe(packedChromium.packageVersion);
});

describe.runIf(process.platform === 'linux' && process.arch === 'x64')('unpacking', () => {
  let base = '';
  let place = '';
  let folder = '';

  beforeAll(async () => {
    base = await mkdtemp(join(tmpdir(), 'waysheet-test-'));
    place = join(base, 'cache');
    // Two at once, as two processes do it: neither may fail, and both end with the same files.
    const processes = [await inNewProcess(), await inNewProcess()];
    expect(processes[0]).not.toBe(processes[1]);
    const [one, other] = await Promise.all(
      processes.map(({ unpackChromium }) => unpackChromium({ cacheFolder: place })),
    );
    expect(one).toEqual(other);
    folder = one!.folder;
  });
  afterAll(() => rm(base, { recursive: true, force: true }));

  test('leaves one finished folder, which only this user can enter', async () => {
    expect(await readdir(place)).toEqual([folder.slice(place.length + 1)]);
    for (const [path, mode] of [
      [place, 0o700],
      [folder, 0o700],
      [join(folder, executable), 0o700],
      [join(folder, 'lib', 'libnss3.so'), 0o600],
    ] as const) {
      const found = await lstat(path);
      expect([found.mode & 0o777, found.uid]).toEqual([mode, process.getuid!()]);
    }
  });

  test('another process uses what is there', async () => {
    const before = await lstat(join(folder, executable));
    expect((await unpack(place)).folder).toBe(folder);
    expect((await lstat(join(folder, executable))).ino).toBe(before.ino);
  });

  test('a browser that was tampered with is not executed but unpacked again', async () => {
    await tamper(join(folder, executable));
    const before = await lstat(join(folder, executable));
    expect((await unpack(place)).folder).toBe(folder);
    expect((await lstat(join(folder, executable))).ino).not.toBe(before.ino);
    expect(sha256(await readFile(join(folder, executable)))).toBe(packedChromium.files[executable].sha256);
    expect(await readdir(place)).toHaveLength(1);
  });

  /** With nothing to unpack from, a folder that is refused shows itself by an error. */
  async function isRefused(): Promise<boolean> {
    vi.resetModules();
    vi.doMock('../../../src/pages/report/browser/packed-files.js', () => ({
      packedChromium: { ...packedChromium, packageName: 'no-such-package' },
    }));
    const { unpackChromium } = await import('../../../src/pages/report/browser/unpack-chromium.js');
    vi.doUnmock('../../../src/pages/report/browser/packed-files.js');
    return unpackChromium({ cacheFolder: place }).then(
      () => false,
      (error: { code: string }) => error.code === 'BROWSER_PACKAGE_CHANGED',
    );
  }

  test('what is good needs nothing to unpack from', async () => {
    expect(await isRefused()).toBe(false);
  });

  test('a folder that is a link to somewhere else is refused', async () => {
    const elsewhere = join(base, 'elsewhere');
    await rename(folder, elsewhere);
    await symlink(elsewhere, folder);
    expect(await isRefused()).toBe(true);
    await rm(folder);
    await rename(elsewhere, folder);
  });

  test('so is one with a file that others may write to, or a link in place of a file', async () => {
    const library = join(folder, 'lib', 'libnss3.so');
    await chmod(library, 0o666);
    expect(await isRefused()).toBe(true);
    await chmod(library, 0o600);
    await rename(library, join(base, 'libnss3.so'));
    await symlink(join(base, 'libnss3.so'), library);
    expect(await isRefused()).toBe(true);
    await rm(library);
    await rename(join(base, 'libnss3.so'), library);
    expect(await isRefused()).toBe(false);
  });

  test('a library that somebody laid beside ours is gone before the browser starts', async () => {
    await copyFile(
      join(folder, 'lib', 'libplc4.so'),
      join(folder, 'lib', 'libc.so.6'),
      constants.COPYFILE_EXCL,
    );
    const before = await lstat(folder);
    await unpack(place);
    expect(await readdir(join(folder, 'lib'))).not.toContain('libc.so.6');
    expect((await lstat(folder)).ino).toBe(before.ino);
  });

  test('a place that is a link, or that everybody may change, is refused by name', async () => {
    const link = join(base, 'link');
    await symlink(place, link);
    await expect(unpack(link)).rejects.toMatchObject({ code: 'BROWSER_NO_PRIVATE_FOLDER' });
    await expect(unpack(link)).rejects.toThrow(`${link} is a link`);
    const open = join(base, 'open');
    await mkdir(open);
    await chmod(open, 0o777);
    await expect(unpack(join(open, 'cache'))).rejects.toThrow(`everybody may change ${open}`);
  });

  test('a place that is too broken for any folder says so, and what to do', async () => {
    const file = join(base, 'file');
    await writeFile(file, '');
    await expect(unpack(join(file, 'cache'))).rejects.toThrow(
      /cannot be made.*XDG_CACHE_HOME.*WAYSHEET_BROWSER/,
    );
  });

  test('a package with other content is not executed', async () => {
    vi.resetModules();
    const files = { ...packedChromium.files, 'lib/libnss3.so': { bytes: 1287000, sha256: '0'.repeat(64) } };
    vi.doMock('../../../src/pages/report/browser/packed-files.js', () => ({
      packedChromium: { ...packedChromium, files },
    }));
    const changed = await import('../../../src/pages/report/browser/unpack-chromium.js');
    const other = join(base, 'other');
    await expect(changed.unpackChromium({ cacheFolder: other })).rejects.toMatchObject({
      code: 'BROWSER_PACKAGE_CHANGED',
    });
    expect(await readdir(other)).toEqual([]);
    vi.doUnmock('../../../src/pages/report/browser/packed-files.js');
  });

  test('of several places, the first that will do is taken', async () => {
    const { unpackChromium } = await inNewProcess();
    const home = join(base, 'home');
    await cp(place, join(home, '.cache', 'waysheet'), { recursive: true });
    await writeFile(join(base, 'no-folder'), '');
    const found = await unpackChromium({ env: { XDG_CACHE_HOME: join(base, 'no-folder'), HOME: home } });
    expect(dirname(found.folder)).toBe(join(home, '.cache', 'waysheet'));
  });
});

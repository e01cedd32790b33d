import { createHash } from 'node:crypto';
import { constants, createReadStream, createWriteStream } from 'node:fs';
import {
  access,
  lstat,
  mkdir,
  mkdtemp,
  open,
  readdir,
  readFile,
  rename,
  rm,
  statfs,
  writeFile,
} from 'node:fs/promises';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { promisify } from 'node:util';
import { brotliDecompress, createBrotliDecompress } from 'node:zlib';
import { hashFiles } from './hash-files.js';
import { packedChromium } from './packed-files.js';
import { openPrivateFolder, privateFolders, whyNotOwn } from './private-folder.js';
import { readTar } from './read-tar.js';
import { removeTemporaryFolder, temporaryFolder } from './temporary-folder.js';
import { BrowserTrouble, reasonOf } from './trouble.js';

/** Where the unpacked browser lies; every file in it was checked in this process. */
export interface UnpackedChromium {
  readonly folder: string;
  readonly executable: string;
  /** Shared libraries that a bare machine lacks, for LD_LIBRARY_PATH of the browser alone. */
  readonly libraries: string;
  /** The one fallback font; see launch-browser.ts. */
  readonly fonts: string;
}

export interface UnpackOptions {
  /** Keeps the browser here and nowhere else; by default the user's cache folder. */
  readonly cacheFolder?: string;
  readonly env?: NodeJS.ProcessEnv;
}

type PackedFile = keyof typeof packedChromium.files;
const files = Object.entries(packedChromium.files) as [PackedFile, { bytes: number; sha256: string }][];

/** Each before what is in it. Chromium makes the empty folder "locales" when it is missing. */
const folders = ['lib', 'fonts', 'fonts/Open_Sans', 'locales'];

const totalBytes = files.reduce((sum, [, { bytes }]) => sum + bytes, 0);

/** A new version of the package or of the table above gets a folder of its own. */
const folderName = `chromium-${packedChromium.packageVersion}-${createHash('sha256')
  .update(JSON.stringify(packedChromium.files))
  .digest('hex')
  .slice(0, 16)}`;

const unpacked = new Map<string, Promise<UnpackedChromium>>();

/**
 * The Chromium of the npm package, unpacked and checked. Unpacking (1.5 s, 195 MB) happens once a user;
 * the check once a process, in a thread of its own.
 *
 * The package's own executablePath() is not used: it takes a fixed name in the shared temporary folder
 * and trusts what it finds there, so another user of the machine could put a program of theirs in place.
 *
 * @throws {BrowserTrouble} BROWSER_NO_PRIVATE_FOLDER; BROWSER_PACKAGE_CHANGED.
 */
export function unpackChromium({
  cacheFolder,
  env = process.env,
}: UnpackOptions = {}): Promise<UnpackedChromium> {
  const places = cacheFolder === undefined ? privateFolders(env) : [cacheFolder];
  const key = places.join('\n');
  let promise = unpacked.get(key);
  if (promise === undefined) {
    promise = unpackIntoFirst(places, cacheFolder === undefined);
    promise.catch(() => unpacked.delete(key)); // the disk may have room the next time
    unpacked.set(key, promise);
  }
  return promise;
}

async function unpackIntoFirst(places: readonly string[], mayBePassing: boolean): Promise<UnpackedChromium> {
  const refusals: string[] = [];
  for (const place of places) {
    try {
      await openPrivateFolder(place);
      return await unpackInto(place);
    } catch (error) {
      if (error instanceof BrowserTrouble) throw error;
      refusals.push(reasonOf(error));
    }
  }
  if (mayBePassing) {
    // Somebody may have taken our name in the temporary folder; a name nobody can guess still works.
    const place = temporaryFolder();
    try {
      return await unpackInto(place);
    } catch (error) {
      await removeTemporaryFolder(place);
      if (error instanceof BrowserTrouble) throw error;
      refusals.push(reasonOf(error));
    }
  }
  throw new BrowserTrouble(
    'BROWSER_NO_PRIVATE_FOLDER',
    `The packed Chromium needs a private folder with ${megabytes(totalBytes)} of room, and found none: ` +
      `${refusals.join('; ')}. Point XDG_CACHE_HOME at such a folder, or WAYSHEET_BROWSER at an installed browser.`,
    { bytes: totalBytes },
  );
}

async function unpackInto(place: string): Promise<UnpackedChromium> {
  const folder = join(place, folderName);
  if ((await whyNotUsable(folder)) !== undefined) {
    await removeUnfinished(place);
    await assertRoom(place);
    const fresh = await mkdtemp(join(place, '.unpack-'));
    try {
      await assertRunnable(fresh);
      await unpackFiles(fresh);
      await moveIntoPlace(fresh, folder);
    } finally {
      await rm(fresh, { recursive: true, force: true });
    }
  }
  return {
    folder,
    executable: join(folder, packedChromium.executable),
    libraries: join(folder, packedChromium.libraries),
    fonts: join(folder, 'fonts'),
  };
}

/**
 * What is wrong with an unpacked folder: missing, somebody else's, writable by others, a link, or a
 * file whose content is not the expected one. Nothing when it may be executed.
 */
async function whyNotUsable(folder: string): Promise<string | undefined> {
  try {
    for (const name of ['.', ...folders]) {
      const wrong = whyNotOwn(await lstat(join(folder, name)), 'folder');
      if (wrong !== undefined) return `${name} ${wrong}`;
    }
    for (const [name, { bytes }] of files) {
      const found = await lstat(join(folder, name));
      const wrong =
        whyNotOwn(found, 'file') ?? (found.size === bytes ? undefined : `has ${found.size} bytes`);
      if (wrong !== undefined) return `${name} ${wrong}`;
    }
    await removeStrangers(folder);
    const hashes = await hashFiles(files.map(([name]) => join(folder, name)));
    const changed = files.find(([, { sha256 }], i) => hashes[i] !== sha256);
    return changed === undefined ? undefined : `${changed[0]} was changed`;
  } catch (error) {
    return reasonOf(error);
  }
}

/** The loader takes any library that it finds next to ours. */
async function removeStrangers(folder: string): Promise<void> {
  const expected = new Set<string>([...folders, ...files.map(([name]) => name)]);
  for (const name of await readdir(folder, { recursive: true })) {
    if (!expected.has(name)) await rm(join(folder, name), { recursive: true, force: true });
  }
}

async function assertRoom(place: string): Promise<void> {
  const { bavail, bsize } = await statfs(place);
  const room = bavail * bsize;
  if (room < totalBytes * 1.02) throw new Error(`${place} has ${megabytes(room)} of room`);
}

/** On a file system that is mounted "noexec" no file counts as executable, whatever its mode. */
async function assertRunnable(folder: string): Promise<void> {
  const trial = join(folder, packedChromium.executable);
  await writeFile(trial, '', { mode: 0o700 });
  try {
    await access(trial, constants.X_OK);
  } catch (error) {
    throw new Error(`${dirname(folder)} does not let programs run`, { cause: error });
  }
  await rm(trial);
}

/** Decompresses the package's archives, comparing each file with the table before it may be used. */
async function unpackFiles(target: string): Promise<void> {
  const bin = packedFolder();
  for (const name of folders) await mkdir(join(target, name), { mode: 0o700 });
  const small = [
    ...(await unpackTar(join(bin, 'al2023.tar.br'))),
    ...(await unpackTar(join(bin, 'fonts.tar.br'))),
  ];
  const wanted = new Map(
    small.filter(({ name }) => name in packedChromium.files).map((file) => [file.name, file]),
  );
  for (const { name, content } of wanted.values()) {
    const hash = await writeChecked(Readable.from([content]), join(target, name), 0o600);
    assertExpected(name as PackedFile, hash);
  }
  const missing = files.find(([name]) => name !== packedChromium.executable && !wanted.has(name));
  if (missing !== undefined) throw packageChanged(`${missing[0]} is missing`);

  const chromium = createReadStream(join(bin, 'chromium.br'), { highWaterMark: 1 << 20 });
  const plain = createBrotliDecompress({ chunkSize: 1 << 20 });
  chromium.on('error', (error) => plain.destroy(error));
  const hash = await writeChecked(chromium.pipe(plain), join(target, packedChromium.executable), 0o700);
  assertExpected(packedChromium.executable, hash);
  for (const name of ['.', ...folders]) await flushFolder(join(target, name));
}

async function unpackTar(path: string): Promise<{ name: string; content: Buffer }[]> {
  try {
    return [...readTar(await promisify(brotliDecompress)(await readFile(path)))];
  } catch (error) {
    throw packageChanged(reasonOf(error), error);
  }
}

/** Writes to disk (flushed before it is closed) and hashes in one pass. */
async function writeChecked(content: Readable, path: string, mode: number): Promise<string> {
  const hash = createHash('sha256');
  async function* hashed(chunks: AsyncIterable<Buffer>): AsyncGenerator<Buffer> {
    for await (const chunk of chunks) {
      hash.update(chunk);
      yield chunk;
    }
  }
  try {
    await pipeline(content, hashed, createWriteStream(path, { mode, flags: 'wx', flush: true }));
  } catch (error) {
    // Whatever does not come from the file system comes from the archive.
    if ((error as NodeJS.ErrnoException).syscall === undefined) throw packageChanged(reasonOf(error), error);
    throw error;
  }
  return hash.digest('hex');
}

function assertExpected(name: PackedFile, sha256: string): void {
  if (sha256 !== packedChromium.files[name].sha256) throw packageChanged(`${name} has SHA-256 ${sha256}`);
}

function packageChanged(what: string, cause?: unknown): BrowserTrouble {
  const { packageName, packageVersion } = packedChromium;
  return new BrowserTrouble(
    'BROWSER_PACKAGE_CHANGED',
    `The npm package ${packageName} is not the ${packageVersion} that this version was made for (${what}). ` +
      'Run npm ci again, or point WAYSHEET_BROWSER at an installed browser.',
    { package: packageName, version: packageVersion },
    { cause },
  );
}

/**
 * Puts the finished folder under its final name. Of two processes at once, the second finds a good
 * folder there and uses that; a damaged one is set aside first.
 */
async function moveIntoPlace(fresh: string, folder: string): Promise<void> {
  for (let attempt = 1; ; attempt++) {
    try {
      await rename(fresh, folder);
      return await flushFolder(dirname(folder));
    } catch (error) {
      const isTaken = ['ENOTEMPTY', 'EEXIST', 'ENOTDIR'].includes(
        (error as NodeJS.ErrnoException).code ?? '',
      );
      if (!isTaken || attempt === 5) throw error;
    }
    if ((await whyNotUsable(folder)) === undefined) return;
    const aside = await mkdtemp(join(dirname(folder), '.unpack-'));
    await rename(folder, join(aside, 'damaged')).catch(() => undefined); // the other process was quicker
    await rm(aside, { recursive: true, force: true });
  }
}

/** Folders that a killed process left half unpacked; one that still works needs less than an hour. */
async function removeUnfinished(place: string): Promise<void> {
  for (const name of await readdir(place)) {
    if (!name.startsWith('.unpack-')) continue;
    const path = join(place, name);
    const found = await lstat(path).catch(() => undefined);
    if (found !== undefined && Date.now() - found.mtimeMs > 3_600_000)
      await rm(path, { recursive: true, force: true });
  }
}

async function flushFolder(path: string): Promise<void> {
  const handle = await open(path, 'r');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}

/** The folder `bin` of the npm package; its package.json is not exported, its main file is. */
function packedFolder(): string {
  try {
    const main = createRequire(import.meta.url).resolve(packedChromium.packageName);
    const inside = join('node_modules', ...packedChromium.packageName.split('/'));
    return join(main.slice(0, main.lastIndexOf(inside) + inside.length), 'bin');
  } catch (error) {
    throw packageChanged('it is not installed', error);
  }
}

function megabytes(bytes: number): string {
  return `${Math.ceil(bytes / 1e6)} MB`;
}

/** The built program, for tests that call it as a person or a script does. */
import { readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { root } from './folders.js';

const writtenAt = (path: string): number => statSync(path, { throwIfNoEntry: false })?.mtimeMs ?? 0;

/** @throws {Error} a source is newer than the build: the test would prove nothing about the sources. */
function upToDate(path: string): string {
  const built = writtenAt(path);
  const newer = readdirSync(join(root, 'src'), { recursive: true })
    .map((name) => join(root, 'src', String(name)))
    .find((file) => file.endsWith('.ts') && writtenAt(file) > built);
  if (newer !== undefined)
    throw new Error(`dist is older than ${newer}: run npm run build (npm test does) before this test`);
  return path;
}

let found: string | undefined;

/** Path of the program that npm run build made. @throws {Error} it is older than the sources. */
export const program = (): string => (found ??= upToDate(join(root, 'dist/cli.js')));

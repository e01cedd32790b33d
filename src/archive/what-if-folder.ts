/**
 * What-if reports have output folders of their own: a what-if report never replaces an issued one, and is never in a place where
 * it could be mistaken for one. A what-if folder must be new or empty when it is first used, is marked, and takes only
 * the reports of one tolerance set.
 */
import { randomUUID } from 'node:crypto';
import { mkdir, readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import * as z from 'zod';
import type { GivenTolerances } from '../survey/job/given-tolerances.js';
import { createFile } from './create-file.js';

/** The mark. No job may have this name (register.ts). */
export const WHAT_IF_FILE = 'what-if.json';

const markSchema = z.strictObject({
  format: z.literal('waysheet-what-if/1'),
  name: z.string().nullable(),
  source: z.string().nullable(),
  sha256: z.string(),
});
export type WhatIfMark = z.infer<typeof markSchema>;

/** The folder has reports of another sort. */
export class FolderNotFit extends Error {}

/**
 * Checks that a run may write to a folder, and marks the folder of a what-if run.
 *
 * @param out It may not exist yet.
 * @param given null: an ordinary run.
 * @throws {FolderNotFit} {Error} the folder cannot be read or written to.
 */
export async function claimFolder(out: string, given: GivenTolerances | null): Promise<void> {
  const mark = await readMark(out);
  if (given === null) {
    if (mark === null) return;
    throw new FolderNotFit(
      `${out} holds what-if reports${bySet(mark)}: choose another folder for issued ones.`,
    );
  }
  if (mark === null) {
    const empty = await isEmpty(out);
    if (empty && (await writeMark(out, markOf(given)))) return;
    // Another run may have been faster, and may have made its first report.
    if (empty || (await readMark(out)) !== null) return claimFolder(out, given);
    throw new FolderNotFit(
      `${out} is not empty: with --tolerances, reports go into a folder of their own, so that none that was issued is overwritten. Choose a new one with --out.`,
    );
  }
  if (mark.sha256 !== given.input.sha256)
    throw new FolderNotFit(
      `${out} holds what-if reports of another set${bySet(mark)}: choose another folder.`,
    );
}

/** The mark of a folder of what-if reports: the set by which they were judged. */
const markOf = ({ name, origin, input }: GivenTolerances): WhatIfMark => ({
  format: 'waysheet-what-if/1',
  name,
  source: origin,
  sha256: input.sha256,
});

const bySet = ({ name }: WhatIfMark): string => (name === null ? '' : ` (by “${name}”)`);

/** null: the folder is not marked. */
async function readMark(out: string): Promise<WhatIfMark | null> {
  const path = join(out, WHAT_IF_FILE);
  const read = () =>
    readFile(path, 'utf8').catch((error: NodeJS.ErrnoException) => {
      if (error.code === 'ENOENT' || error.code === 'ENOTDIR') return null;
      throw error;
    });
  let text = await read();
  if (text === '') {
    // Without hard links, a mark can be seen before all of it is written.
    await sleep(100);
    text = await read();
  }
  if (text === null) return null;
  try {
    return markSchema.parse(JSON.parse(text));
  } catch (cause) {
    throw new FolderNotFit(`${path} is not a mark that this version reads`, { cause });
  }
}

/** Names that begin with a point are locks, and files that an interrupted run left. */
async function isEmpty(out: string): Promise<boolean> {
  const names = await readdir(out).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return [] as string[];
    throw error;
  });
  return names.every((name) => name.startsWith('.'));
}

/** @returns false: the mark exists already. */
async function writeMark(out: string, mark: WhatIfMark): Promise<boolean> {
  await mkdir(out, { recursive: true });
  const own = join(out, `.${WHAT_IF_FILE}.${randomUUID()}`);
  return createFile(join(out, WHAT_IF_FILE), own, `${JSON.stringify(mark, null, 2)}\n`);
}

/**
 * Output folders of issued reports and of what-if runs are kept apart: a what-if report never takes the place of an
 * issued one, and never lies where it could be taken for one. A what-if folder is new or empty when it is first used,
 * is marked, and takes the reports of that one tolerance set only.
 */
import { randomUUID } from 'node:crypto';
import { mkdir, readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { z } from 'zod';
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

/** The folder holds what the run may not be mixed with. */
export class FolderNotFit extends Error {}

/**
 * Makes sure that a run may write to a folder, and marks it where it is a what-if.
 *
 * @param out Need not be there.
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
    // Another run may have been faster, and have made its first report since.
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

/** What a folder of what-if reports says of the set that they were judged by. */
export const markOf = ({ name, origin, input }: GivenTolerances): WhatIfMark => ({
  format: 'waysheet-what-if/1',
  name,
  source: origin,
  sha256: input.sha256,
});

const bySet = ({ name }: WhatIfMark): string => (name === null ? '' : ` (by “${name}”)`);

/** null: the folder is not marked. */
export async function readMark(out: string): Promise<WhatIfMark | null> {
  const path = join(out, WHAT_IF_FILE);
  const read = () =>
    readFile(path, 'utf8').catch((error: NodeJS.ErrnoException) => {
      if (error.code === 'ENOENT' || error.code === 'ENOTDIR') return null;
      throw error;
    });
  let text = await read();
  if (text === '') {
    // Without hard links a mark is seen before all of it is written.
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

/** Names that begin with a point are locks and what an interrupted run left. */
async function isEmpty(out: string): Promise<boolean> {
  const names = await readdir(out).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return [] as string[];
    throw error;
  });
  return names.every((name) => name.startsWith('.'));
}

/** @returns false: it is there already. */
async function writeMark(out: string, mark: WhatIfMark): Promise<boolean> {
  await mkdir(out, { recursive: true });
  const own = join(out, `.${WHAT_IF_FILE}.${randomUUID()}`);
  return createFile(join(out, WHAT_IF_FILE), own, `${JSON.stringify(mark, null, 2)}\n`);
}

/** Reads a JSON document that an earlier run of waysheet wrote. */
import { readFile } from 'node:fs/promises';
import type * as z from 'zod';
import { jsonOf } from './json-of.js';

/** @returns null: the file does not exist, or this version cannot read it. */
export async function readDocument<S extends z.ZodType>(path: string, schema: S): Promise<z.infer<S> | null> {
  const text = await readFile(path, 'utf8').catch(() => null);
  if (text === null) return null;
  return schema.safeParse(jsonOf(text)).data ?? null;
}

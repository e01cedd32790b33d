/** A document of waysheet's own, read back from where an earlier run wrote it. */
import { readFile } from 'node:fs/promises';
import type { z } from 'zod';
import { jsonOf } from './json-of.js';

/** null: it is not there, or is none that this version reads. */
export async function readDocument<S extends z.ZodType>(path: string, schema: S): Promise<z.infer<S> | null> {
  const text = await readFile(path, 'utf8').catch(() => null);
  if (text === null) return null;
  return schema.safeParse(jsonOf(text)).data ?? null;
}

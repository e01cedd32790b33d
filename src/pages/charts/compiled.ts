/** A kind of picture as vega runs it: made when the program is built; from the sources, once a process. */
import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import type { Runtime } from 'vega';
import type { Part } from './chart.js';

/** In the build alone: what kinds.ts lists, compiled. */
export const compiledFolder = new URL('./compiled/', import.meta.url);

export const nameOf = (shape: Part): string =>
  `${createHash('sha256').update(JSON.stringify(shape)).digest('hex').slice(0, 16)}.json`;

const loaded = new Map<string, Promise<Runtime>>();

export function compiled(shape: Part): Promise<Runtime> {
  const name = nameOf(shape);
  const found = loaded.get(name) ?? load(name, shape);
  loaded.set(name, found);
  return found;
}

async function load(name: string, shape: Part): Promise<Runtime> {
  try {
    return JSON.parse(await readFile(new URL(name, compiledFolder), 'utf8')) as Runtime;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw error;
    return (await import('./compile.js')).compile(shape);
  }
}

import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

/** One thread reads and hashes every file below. @returns Seconds. */
export function hashAll(...below: readonly string[]): number {
  const began = performance.now();
  for (const base of below)
    for (const entry of readdirSync(base, { recursive: true, withFileTypes: true }))
      if (entry.isFile())
        createHash('sha256')
          .update(readFileSync(join(entry.parentPath, entry.name)))
          .digest();
  return (performance.now() - began) / 1000;
}

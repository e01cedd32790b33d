/** --tolerances FILE and --brand DIR: read once, and what is wrong in it said once. */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { formatDiagnostics } from '../base/diagnostics/format.js';
import type { Brand } from '../survey/brand/read-brand.js';
import type { GivenTolerances } from '../survey/job/given-tolerances.js';
import type { Console } from './console.js';

/** @returns null: none was asked for. 'faulty': it cannot be used, which has been said. */
export async function askGiven(
  path: string | undefined,
  console: Console,
): Promise<GivenTolerances | null | 'faulty'> {
  if (path === undefined) return null;
  const { readGivenTolerances } = await import('../survey/job/given-tolerances.js');
  const read = await readGivenTolerances(path);
  if (read.diagnostics.length > 0) console.err(`${formatDiagnostics(read.diagnostics)}\n`);
  if (read.ok) return read.value;
  console.err('waysheet: the tolerance set cannot be used; nothing was written\n');
  return 'faulty';
}

/**
 * @param beside Folder in which a folder `brand` is looked for where none is named.
 * @returns null: there is none. 'faulty': it cannot be used, which has been said.
 */
export async function askBrand(
  named: string | undefined,
  beside: string,
  console: Console,
): Promise<Brand | null | 'faulty'> {
  const found = join(beside, 'brand');
  const folder = named ?? (existsSync(join(found, 'brand.json')) ? found : null);
  if (folder === null) return null;
  const { readBrand } = await import('../survey/brand/read-brand.js');
  const read = await readBrand(folder);
  if (read.diagnostics.length > 0) console.err(`${formatDiagnostics(read.diagnostics)}\n`);
  if (read.ok) return read.value;
  console.err('waysheet: the brand cannot be used; nothing was written\n');
  return 'faulty';
}

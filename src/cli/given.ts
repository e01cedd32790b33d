/** --tolerances FILE and --brand DIR: each is read once, and its problems are reported once. */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { Outcome } from '../base/diagnostics/diagnostic.js';
import { formatDiagnostics } from '../base/diagnostics/format.js';
import type { Brand } from '../survey/brand/read-brand.js';
import type { GivenTolerances } from '../survey/job/given-tolerances.js';
import type { Console } from './console.js';

/** @returns null: none was asked for. 'faulty': it cannot be used, which was reported. */
export async function askGiven(
  path: string | undefined,
  console: Console,
): Promise<GivenTolerances | null | 'faulty'> {
  if (path === undefined) return null;
  const { readGivenTolerances } = await import('../survey/job/given-tolerances.js');
  return usable(await readGivenTolerances(path), 'tolerance set', console);
}

/**
 * @param parent Folder in which a folder `brand` is looked for where none is named.
 * @returns null: there is none. 'faulty': it cannot be used, which was reported.
 */
export async function askBrand(
  named: string | undefined,
  parent: string,
  console: Console,
): Promise<Brand | null | 'faulty'> {
  const found = join(parent, 'brand');
  const folder = named ?? (existsSync(join(found, 'brand.json')) ? found : null);
  if (folder === null) return null;
  const { readBrand } = await import('../survey/brand/read-brand.js');
  return usable(await readBrand(folder), 'brand', console);
}

function usable<T>(read: Outcome<T>, what: string, console: Console): T | 'faulty' {
  if (read.diagnostics.length > 0) console.err(`${formatDiagnostics(read.diagnostics)}\n`);
  if (read.ok) return read.value;
  console.err(`waysheet: the ${what} cannot be used; nothing was written\n`);
  return 'faulty';
}

/** --tolerances FILE: read once, and what is wrong in it said once. */
import { formatDiagnostics } from '../base/diagnostics/format.js';
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

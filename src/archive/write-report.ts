/** One accepted job as a folder of deliverables, written whole or not at all. */
import { join } from 'node:path';
import { inStage } from '../base/cost/stages.js';
import type { Diagnostic } from '../base/diagnostics/diagnostic.js';
import type { Deliverables } from '../pages/deliverables/deliverables.js';
import type { Printer } from '../pages/report/pdf.js';
import { makeDeliverables } from '../pipeline.js';
import type { Results } from '../results/results-schema.js';
import type { LoadedJob } from '../solution/intake/load-job.js';
import { placeForEarlier } from './keep-earlier.js';
import { parentForDraft } from './report-places.js';
import { watchSearch } from './search-limit.js';
import { recover, writeWhole } from './write-whole.js';

export interface Written {
  readonly results: Results;
  readonly files: Deliverables;
  /** Folder that holds the report's own folder: the output folder, or its `drafts` where a report of the job is issued. */
  readonly parent: string;
  /** The report's own folder. */
  readonly folder: string;
  /** Where the earlier report of other inputs is kept; null: there was none. */
  readonly kept: string | null;
}

/**
 * @param folder The job folder.
 * @param out The output folder.
 * @param printer null: no PDF.
 * @param note Told how far the search for moves is.
 * @throws {BrowserTrouble} the print failed. {Error} the disk refused, an input changed, or the search took too long.
 */
export async function writeReport(
  folder: string,
  loaded: LoadedJob,
  diagnostics: readonly Diagnostic[],
  out: string,
  printer: Promise<Printer> | null,
  note?: (text: string) => void,
): Promise<Written> {
  const search = watchSearch(loaded.job.aim.timeLimitS, note);
  const { results, files } = await makeDeliverables(folder, loaded, diagnostics, printer, null, search);
  const parent = await parentForDraft(out, results.job);
  await recover(parent, results.job);
  const kept = await placeForEarlier(parent, results.job, results.inputs);
  await inStage('write', () => writeWhole(parent, results.job, files, kept));
  return { results, files, parent, folder: join(parent, results.job), kept };
}

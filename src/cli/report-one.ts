/** One job reported, and what is to be said of it; within a process of its own (report-worker.ts). */
import { writeReport } from '../archive/write-report.js';
import type { Diagnostic } from '../base/diagnostics/diagnostic.js';
import { countWords, diagnosticsToJson, formatScreen, formatWarnings } from '../base/diagnostics/format.js';
import { describe, visible } from '../base/diagnostics/messages.js';
import { exitCodes } from './exit-codes.js';
import type { Brand } from '../survey/brand/read-brand.js';
import { loadJob, withBrand } from '../solution/intake/load-job.js';
import { judgeSize } from '../solution/intake/size.js';
import type { Languages } from '../survey/job/languages.js';
import type { GivenTolerances } from '../survey/job/given-tolerances.js';
import type { Printer } from '../pages/report/pdf.js';
import { confirmedWords } from '../pages/report/sentence.js';
import { verdictWords } from './verdict-words.js';
import type { Reported } from './reported.js';

export interface ReportSettings {
  readonly out: string;
  readonly pdf: boolean;
  readonly given: GivenTolerances | null;
  /** Absent: that of the job. */
  readonly language?: Languages;
  /** How the reports look; null: as waysheet makes them. */
  readonly brand: Brand | null;
  /** Seconds that a job may take. */
  readonly limit: number;
  /** How the program was called. */
  readonly calledAs: string;
}

/** Lines of findings that are shown of a refused job. */
const MOST_LINES = 8;

function refusedWords(folder: string, diagnostics: readonly Diagnostic[], program: string): string {
  const check = `${program} check ${visible(folder)}`;
  const rest = `${check} --all shows them`;
  const lines = formatScreen(diagnostics, { root: folder, lines: MOST_LINES, width: Infinity, rest });
  const isForeign = diagnostics.some(({ code }) => /^CSV_COLUMN_(?:UNKNOWN|MISSING)$/.test(code));
  const isAsked = diagnostics.some(({ severity }) => severity === 'confirm');
  const hint = isForeign
    ? `${check} proposes what the unknown columns are`
    : isAsked
      ? `${check} --fix asks what is right, and who confirms it`
      : `${check} shows the lines`;
  return `${visible(folder)}: refused, nothing was written: ${countWords(diagnostics)}\n${lines.join('\n')}\n${hint}\n\n`;
}

/** @throws {BrowserTrouble} {Error} the disk refused, or an input changed. */
export async function reportOne(
  folder: string,
  { out: parent, pdf, given, brand, language, limit, calledAs }: ReportSettings,
  openPrinter: () => Promise<Printer>,
  note: (text: string) => void = () => undefined,
): Promise<Reported> {
  const loaded = await loadJob(folder, given, limit);
  const diagnostics = diagnosticsToJson(loaded.diagnostics);
  const about = { folder, diagnostics, failed: null };
  if (!loaded.ok) {
    return {
      status: exitCodes.refused,
      outcome: { ...about, ok: false, job: null, verdict: null, out: null, kept: null },
      err: refusedWords(folder, loaded.diagnostics, calledAs),
      out: '',
    };
  }
  const { job, readings } = loaded.value;
  for (const large of judgeSize(job, readings, null)) note(describe(large));
  // The browser starts while the job is being solved.
  const printer = pdf ? openPrinter() : null;
  printer?.catch(() => undefined);
  const {
    results,
    folder: out,
    parent: place,
    kept,
  } = await writeReport(
    folder,
    { ...withBrand(loaded.value, brand), ...(language !== undefined && { language }) },
    loaded.diagnostics,
    parent,
    printer,
    note,
  );
  const confirmed = confirmedWords({ confirmed: results.confirmations?.length ?? 0 });
  return {
    status: exitCodes.done,
    outcome: {
      ...about,
      ok: true,
      job: job.id,
      verdict: results.verdict,
      out,
      kept,
      diagnostics,
    },
    err: loaded.diagnostics.length === 0 ? '' : `${formatWarnings(diagnostics, folder)}\n`,
    out: `${job.id}: ${verdictWords[results.verdict]}${confirmed}. ${out}/${pdf ? 'report.pdf' : 'report.html'}\n${kept === null ? '' : `  the earlier report, of other inputs, is kept as ${kept}\n`}${place === parent ? '' : `  the issued report in ${parent}/${job.id} stays as it is; this is a draft next to it\n`}`,
  };
}

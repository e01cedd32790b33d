/** `waysheet plan JOB`: what the planned survey will be able to tell. */
import { writeFileAt } from '../archive/write-whole.js';
import { capPerCode } from '../base/diagnostics/cap.js';
import { Findings, sortDiagnostics, type Diagnostic } from '../base/diagnostics/diagnostic.js';
import { formatDiagnostics } from '../base/diagnostics/format.js';
import { visible } from '../base/diagnostics/messages.js';
import { SOFTWARE } from '../base/version.js';
import { exitCodes, type ExitCode } from './exit-codes.js';
import type { PhaseName } from '../survey/job/job-schema.js';
import type { Job } from '../survey/job/job.js';
import { readResolved } from '../survey/job/read-job.js';
import { decodeText } from '../base/input/decode.js';
import { readReadingsFile } from '../survey/readings/read-readings.js';
import { parseReadings } from '../survey/readings/parse-readings.js';
import type { Sink } from '../survey/readings/sink.js';
import { fillBlanks } from '../results/planned/fill-blanks.js';
import { planSurvey, type PlannedSurvey } from '../results/planned/planned-survey.js';
import { wordsOf } from '../pages/words/languages.js';
import { PLAN_SIZES, planPage, planText, planWords, type PlanWords } from '../pages/report/plan-words.js';
import type { Words } from '../pages/words/words.js';
import type { Console } from './console.js';

export interface PlanOptions {
  readonly phase: PhaseName | null;
  /** Where to print the page for an offer; null: nowhere. */
  readonly pdf?: string | null;
  readonly json: boolean;
  readonly console: Console;
}

export async function runPlan(
  folder: string,
  { phase, pdf = null, json, console }: PlanOptions,
): Promise<ExitCode> {
  const planned = await planOf(folder, phase);
  if (!('survey' in planned)) {
    console.err(`${formatDiagnostics(planned.diagnostics, { root: folder })}\n`);
    return exitCodes.refused;
  }
  const { job, survey, isRead } = planned;
  console.out(`${json ? JSON.stringify(survey, null, 2) : planText(planWords(job, survey, isRead))}\n`);
  if (pdf !== null) {
    const words = wordsOf(job.language);
    const plan = planWords(job, survey, isRead, words);
    await writeFileAt(pdf, await printOffer(plan, job, words));
    console.err(`${visible(pdf)} written\n`);
  }
  return exitCodes.done;
}

interface Planned {
  readonly job: Job;
  readonly survey: PlannedSurvey;
  /** Whether the readings are there. */
  readonly isRead: boolean;
}

/** The page as a document, as large as fits on one page; its day is the job's. */
export async function printOffer(plan: PlanWords, job: Job, words: Words): Promise<Uint8Array> {
  const { openPrinter } = await import('../pages/report/pdf.js');
  const { PDFDocument } = await import('@cantoo/pdf-lib');
  const printer = await openPrinter();
  const about = {
    title: plan.title,
    creator: `${SOFTWARE.name} ${SOFTWARE.version}`,
    createdOn: job.prepared.on ?? job.surveyed.on ?? '2000-01-01',
    paper: job.style.paper,
  };
  try {
    let pdf = new Uint8Array();
    for (const size of PLAN_SIZES) {
      pdf = new Uint8Array(await printer.print({ html: planPage(plan, job, words, size), ...about }));
      if ((await PDFDocument.load(pdf, { updateMetadata: false })).getPageCount() === 1) break;
    }
    return pdf;
  } finally {
    await printer.close();
  }
}

async function planOf(
  folder: string,
  wanted: PhaseName | null,
): Promise<Planned | { readonly diagnostics: readonly Diagnostic[] }> {
  const { job, frame, findings } = await readResolved(folder);
  if (job === null || frame === null) return { diagnostics: findings.list };
  const phase = wanted ?? (job.readingsFiles.some((f) => f.phase === 'as-left') ? 'as-left' : 'as-found');
  const sink: Sink = { readings: [], excluded: [], checks: [], setupsSeen: new Set() };
  const found = new Findings();
  let isRead = true;
  for (const entry of frame.files.filter((file) => file.phase === phase)) {
    const file = await readReadingsFile(folder, entry);
    if (!file.ok) {
      found.list.push(...file.diagnostics);
      continue;
    }
    const { bytes } = file.value;
    const text = decodeText(bytes, entry.file);
    const plain = text.ok ? text.value.text : '';
    const filled = text.ok ? fillBlanks(plain, entry, frame) : plain;
    if (filled !== plain) isRead = false;
    parseReadings(filled === plain ? bytes : new TextEncoder().encode(filled), entry, frame, sink, found);
  }
  // Planned rows are all alike; only what keeps them from being read matters here.
  const errors = found.list.filter(({ severity }) => severity === 'error');
  if (errors.length > 0) return { diagnostics: sortDiagnostics(capPerCode(errors).list) };
  if (sink.readings.length === 0)
    return { diagnostics: [{ code: 'NO_READINGS_USED', severity: 'error', data: { phase } }] };
  return { job, survey: planSurvey(job, sink.readings, isRead), isRead };
}

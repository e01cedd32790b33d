/** The files of a new job folder, in memory. */
import { readFile } from 'node:fs/promises';
import type { Deliverables } from '../../pages/deliverables/deliverables.js';
import { resolveJob } from '../../survey/job/resolve-job.js';
import type { Printer } from '../../pages/report/pdf.js';
import { schemasFolder } from '../../pages/schemas/folder.js';
import { wordsOf } from '../../pages/words/languages.js';
import { offsetCsv, slopeCsv, spanCsv } from './blank-csv.js';
import { fieldSheet } from './field-sheet.js';
import { offsetFiles, slopeFile, spanFile, type Plan } from './plan.js';
import { plannedJob, SCHEMA_FILE } from './planned-job.js';
import { offsetRows, slopeRows, spanRows } from './planned-rows.js';
import { renderFieldSheet } from './render-field-sheet.js';

/**
 * @param print null: the field sheet stays a page.
 * @throws {Error} waysheet cannot read the planned job: a programming mistake.
 */
export async function makeFolder(
  plan: Plan,
  software: string,
  print: ((html: string) => Promise<Uint8Array | null>) | null,
): Promise<Deliverables> {
  const job = plannedJob(plan);
  const settled = resolveJob(job);
  if (!settled.ok) throw new Error(`the planned job is faulty: ${JSON.stringify(settled.diagnostics)}`);
  const files = new Map<string, Uint8Array>();
  const put = (path: string, text: string) => files.set(path, new TextEncoder().encode(text));
  put('job.json', `${JSON.stringify(job, null, 2)}\n`);
  for (const phase of plan.phases) {
    for (const { file, holds } of offsetFiles(phase, plan))
      put(file, offsetCsv(offsetRows(plan).filter(({ pass }) => holds(pass))));
    if (plan.spans > 0) put(spanFile(phase), spanCsv(spanRows(plan)));
    if (plan.slopes !== 'none') put(slopeFile(phase), slopeCsv(slopeRows(plan)));
  }
  const html = renderFieldSheet(fieldSheet(plan, software));
  const pdf = print === null ? null : await print(html);
  if (pdf === null) put('field-sheet.html', html);
  else files.set('field-sheet.pdf', pdf);
  files.set(SCHEMA_FILE, await readFile(new URL('job.schema.json', schemasFolder)));
  return files;
}

/** How a field sheet is printed; the day is that of the planning, for a job that has no day of its own yet. */
export const printSheet = (printer: Printer, plan: Plan, software: string, today: string) => (html: string) =>
  printer.print({
    html,
    title: wordsOf(plan.language).say('field.head', { job: plan.id }),
    creator: software,
    createdOn: today,
    paper: plan.paper,
  });

/** `waysheet form JOB`: job.json as a page to fill in, which works from a file and without a network. */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { writeFileAt } from '../archive/write-whole.js';
import { formatDiagnostics } from '../base/diagnostics/format.js';
import { wordsOf, visible } from '../base/diagnostics/messages.js';
import { exitCodes, type ExitCode } from './exit-codes.js';
import { formPage } from '../pages/form/form-page.js';
import type { Asked } from '../pages/form/asked.js';
import { inspectJob } from '../solution/intake/load-job.js';
import { keyOfFinding } from '../solution/intake/offers.js';
import { MAX_JSON_BYTES, readInputFile } from '../survey/job/input-file.js';
import { JOB_FILE } from '../survey/job/job-paths.js';
import { parseJsonSource } from '../survey/job/json-source.js';
import { decodeText } from '../base/input/decode.js';
import { VERSION } from '../base/version.js';
import type { Console } from './console.js';

export interface FormOptions {
  /** The page's file; undefined: form.html in the job folder. */
  readonly page: string | undefined;
  readonly json: boolean;
  readonly console: Console;
}

/** A folder without job.json begins a new one. */
export async function runForm(folder: string, { page, json, console }: FormOptions): Promise<ExitCode> {
  const path = page ?? join(folder, 'form.html');
  const job = await readJob(folder);
  if (typeof job !== 'string') {
    console.err(`${formatDiagnostics(job, { root: folder })}\n`);
    return exitCodes.refused;
  }
  const script = await readFile(new URL('../../dist/pages/form/page.js', import.meta.url), 'utf8');
  const asked = job === '' ? [] : await askedOf(folder);
  const html = formPage({ job, folder, software: `waysheet ${VERSION}`, command: 'waysheet', asked }, script);
  await writeFileAt(path, new TextEncoder().encode(html));
  if (json) console.out(`${JSON.stringify({ page: path, begun: job === '' }, null, 2)}\n`);
  else console.out(`${visible(path)}: open it in a browser, and save job.json from there\n`);
  return exitCodes.done;
}

/** What must be confirmed in the job as it is on the disk, or was confirmed. */
export async function askedOf(folder: string): Promise<Asked[]> {
  const { diagnostics } = await inspectJob(folder);
  const byKey = new Map<string, Asked & { messages: string[] }>();
  for (const d of diagnostics) {
    if (d.severity !== 'confirm' && d.confirmed === undefined) continue;
    const { code } = d;
    const file = d.at?.file ?? null;
    const known = byKey.get(keyOfFinding(d)) ?? { code, file, messages: [] };
    known.messages.push(wordsOf(d));
    byKey.set(keyOfFinding(d), known);
  }
  return [...byKey.values()];
}

/** The text of job.json; '' where there is none yet; or what keeps it from being shown in fields. */
async function readJob(folder: string) {
  const file = await readInputFile(folder, JOB_FILE, '', MAX_JSON_BYTES, { file: JOB_FILE });
  if (!file.ok) return file.diagnostics.every(({ code }) => code === 'FILE_MISSING') ? '' : file.diagnostics;
  const text = decodeText(file.value.bytes, JOB_FILE);
  if (!text.ok) return text.diagnostics;
  const source = parseJsonSource(text.value.text, JOB_FILE);
  return source.ok ? text.value.text : source.diagnostics;
}

/** A job folder's job.json, and the shared tolerance file that it may name, as a Job. */
import { createHash } from 'node:crypto';
import { Findings, sortDiagnostics } from '../../base/diagnostics/diagnostic.js';
import type { Outcome, Place } from '../../base/diagnostics/diagnostic.js';
import { capPerCode } from '../../base/diagnostics/cap.js';
import { decodeText } from '../../base/input/decode.js';
import type { InputFile } from '../../base/input/input-file.js';
import { draftJob } from './draft.js';
import type { Draft } from './draft.js';
import type { GivenTolerances } from './given-tolerances.js';
import { jobDigests, type JobDigests } from './job-digests.js';
import { MAX_JSON_BYTES, readInputFile } from './input-file.js';
import type { Job } from './job.js';
import { JOB_FILE, toleranceRoot } from './job-paths.js';
import { toleranceSetSchema } from './job-schema.js';
import { parseJsonSource } from './json-source.js';
import { mergedSet, readLayers } from './layered-set.js';
import type { JsonSource } from './json-source.js';
import { valueAt } from './key-path.js';
import { checkSchema } from './schema-findings.js';
import { settleDraft } from './settle-job.js';
import type { Settled } from './settle-job.js';

/**
 * The job of a folder, every problem of it at once.
 *
 * @returns The job and the files it was read from (job.json, then the tolerance file).
 *   Fails: with everything that is wrong, sorted by file and line.
 */
export async function readJob(folder: string): Promise<Outcome<{ job: Job; inputs: InputFile[] }>> {
  const { job, findings, inputs } = await readSettled(folder);
  const diagnostics = sortDiagnostics(findings.list);
  return job === null ? { ok: false, diagnostics } : { ok: true, value: { job, inputs }, diagnostics };
}

/** Pure: the job that stands in the text of a job.json, and in that of the tolerance file it names. */
export function parseJob(
  text: string,
  tolerances: { file: string; text: string } | null = null,
): Outcome<Job> {
  const source = parseJsonSource(text, JOB_FILE);
  if (!source.ok) return source;
  const shared = tolerances === null ? null : parseToleranceSet(tolerances.text, tolerances.file);
  const settled = settleDraft(draftJob(source.value), shared?.source ?? null);
  const diagnostics = sortDiagnostics([...settled.findings.list, ...(shared?.findings.list ?? [])]);
  return settled.job === null || shared?.findings.hasErrors === true
    ? { ok: false, diagnostics }
    : { ok: true, value: settled.job, diagnostics };
}

export interface SettledFolder extends Settled {
  /** The job's id as it stands in the file; null without one. */
  readonly id: string | null;
  readonly inputs: InputFile[];
  readonly digests: JobDigests | null;
  /** job.json as it was read; null where that could not be. */
  readonly text: string | null;
}

/**
 * As far as the folder's job can be settled, with what it was read from.
 *
 * @param given Judges it in place of its own tolerances; a file that it names for them is then not read.
 * @param text Read in place of the folder's job.json, to try a change before it is made.
 */
export async function readSettled(
  folder: string,
  given: GivenTolerances | null = null,
  text: string | null = null,
): Promise<SettledFolder> {
  const findings = new Findings();
  const inputs: InputFile[] = [];
  const source =
    text === null
      ? await readJson(folder, JOB_FILE, '', inputs, findings)
      : parsed(new TextEncoder().encode(text), JOB_FILE, inputs, findings);
  if (source === null)
    return { id: null, job: null, frame: null, findings, inputs, digests: null, set: null, text: null };
  const draft = draftJob(source);
  const layers = given === null ? await readTolerances(folder, draft, inputs, findings) : [];
  if (given !== null) inputs.push(given.input);
  const shared = layers.length === 0 ? null : mergedSet(layers, findings);
  const basedOn = layers.slice(1).map(({ file }) => file);
  const settled = settleDraft(draft, shared, given, basedOn);
  const id = valueAt(source.value, ['id']);
  return {
    ...settled,
    id: typeof id === 'string' ? id : null,
    job: findings.hasErrors ? null : settled.job,
    findings: capPerCode([...settled.findings.list, ...findings.list]),
    inputs,
    digests: jobDigests(source.value, (settled.set ?? source).value),
    text: source.text,
  };
}

/** The tolerance set that the job names, and what it is based on, its own first; none where that cannot be read. */
async function readTolerances(
  folder: string,
  draft: Draft,
  inputs: InputFile[],
  findings: Findings,
): Promise<JsonSource[]> {
  const path = draft.toleranceFile;
  if (path === null) return [];
  const read = async (named: string, place: Place): Promise<JsonSource | null> => {
    const root = toleranceRoot(named);
    if (root !== null) return readJson(folder, named, root, inputs, findings, place);
    findings.error('FILE_OUTSIDE_JOB', { path: named }, place);
    return null;
  };
  return readLayers(path, draft.source.at(['tolerances']), read, findings);
}

function parseToleranceSet(text: string, file: string): { source: JsonSource | null; findings: Findings } {
  const findings = new Findings();
  const source = parseJsonSource(text, file);
  findings.list.push(...source.diagnostics);
  if (!source.ok) return { source: null, findings };
  checkSchema(toleranceSetSchema, source.value, findings);
  const basedOn = valueAt(source.value.value, ['basedOn']);
  if (basedOn !== undefined) {
    const wanted = 'a set that says all by itself: no other file is read here';
    findings.error('VALUE_WRONG', { found: JSON.stringify(basedOn), wanted }, source.value.at(['basedOn']));
  }
  return { source: source.value, findings };
}

async function readJson(
  folder: string,
  path: string,
  root: string,
  inputs: InputFile[],
  findings: Findings,
  place: Place = { file: path },
): Promise<TextSource | null> {
  const file = await readInputFile(folder, path, root, MAX_JSON_BYTES, place);
  findings.list.push(...file.diagnostics);
  return file.ok ? parsed(file.value.bytes, path, inputs, findings) : null;
}

/** A document with the text it was read from. */
type TextSource = JsonSource & { readonly text: string };

function parsed(bytes: Uint8Array, path: string, inputs: InputFile[], findings: Findings): TextSource | null {
  const text = decodeText(bytes, path);
  findings.list.push(...text.diagnostics);
  if (!text.ok) return null;
  const sha256 = createHash('sha256').update(bytes).digest('hex');
  inputs.push({ path, bytes: bytes.length, sha256, read: text.value.encoding });
  const source = parseJsonSource(text.value.text, path);
  findings.list.push(...source.diagnostics);
  return source.ok ? { ...source.value, text: text.value.text } : null;
}

/** Reads job.json of a job folder, and the shared tolerance file that it may name, to a Job. */
import { languagesSchema, type Languages } from './languages.js';
import { createHash } from 'node:crypto';
import { Findings, type Place } from '../../base/diagnostics/diagnostic.js';
import { capPerCode } from '../../base/diagnostics/cap.js';
import { decodeText } from '../../base/input/decode.js';
import type { InputFile } from '../../base/input/input-file.js';
import { draftJob, type Draft } from './draft.js';
import type { GivenTolerances } from './given-tolerances.js';
import { jobDigests, type JobDigests } from './job-digests.js';
import { MAX_JSON_BYTES, readInputFile } from './input-file.js';
import { JOB_FILE, toleranceRoot } from './job-paths.js';
import { parseJsonSource, type JsonSource } from './json-source.js';
import { mergedSet, readLayers } from './layered-set.js';
import { valueAt } from './key-path.js';
import { resolveDraft, type Resolved } from './resolve-job.js';

export interface ResolvedFolder extends Resolved {
  /** The id of the job as it is in the file; null: it has none. */
  readonly id: string | null;
  /** Its language, even if something else is wrong; null: it names none that is known. */
  readonly language: Languages | null;
  readonly inputs: InputFile[];
  readonly digests: JobDigests | null;
  /** job.json as it was read; null: it could not be read. */
  readonly text: string | null;
}

/**
 * The job of the folder as far as it can be resolved, with the files from which it was read.
 *
 * @param given Tolerances that are used instead of the job's own; a tolerance file that the job names is then not read.
 * @param text Read instead of the folder's job.json, to try a change before it is made.
 */
export async function readResolved(
  folder: string,
  given: GivenTolerances | null = null,
  text: string | null = null,
): Promise<ResolvedFolder> {
  const findings = new Findings();
  const inputs: InputFile[] = [];
  const source =
    text === null
      ? await readJson(folder, JOB_FILE, '', inputs, findings)
      : parsed(new TextEncoder().encode(text), JOB_FILE, inputs, findings);
  if (source === null)
    return {
      id: null,
      language: null,
      job: null,
      frame: null,
      findings,
      inputs,
      digests: null,
      set: null,
      text: null,
    };
  const draft = draftJob(source);
  const layers = given === null ? await readTolerances(folder, draft, inputs, findings) : [];
  if (given !== null) inputs.push(given.input);
  const shared = layers.length === 0 ? null : mergedSet(layers, findings);
  const basedOn = layers.slice(1).map(({ file }) => file);
  const resolved = resolveDraft(draft, shared, given, basedOn);
  const id = valueAt(source.value, ['id']);
  return {
    ...resolved,
    id: typeof id === 'string' ? id : null,
    language: languagesSchema.safeParse(valueAt(source.value, ['language'])).data ?? null,
    job: findings.hasErrors ? null : resolved.job,
    findings: capPerCode([...resolved.findings.list, ...findings.list]),
    inputs,
    digests: jobDigests(source.value, (resolved.set ?? source).value),
    text: source.text,
  };
}

/** The tolerance set that the job names and the sets on which it is based, itself first; empty if one cannot be read. */
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

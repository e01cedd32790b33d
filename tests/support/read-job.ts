/** A job as the commands read it, and nothing more: for tests of the reader. */
import { Findings, sortDiagnostics, type Outcome } from '../../src/base/diagnostics/diagnostic.js';
import type { InputFile } from '../../src/base/input/input-file.js';
import { draftJob } from '../../src/survey/job/draft.js';
import { JOB_FILE } from '../../src/survey/job/job-paths.js';
import type { Job } from '../../src/survey/job/job.js';
import { toleranceSetSchema } from '../../src/survey/job/job-schema.js';
import { parseJsonSource, type JsonSource } from '../../src/survey/job/json-source.js';
import { readResolved } from '../../src/survey/job/read-job.js';
import { valueAt } from '../../src/survey/job/key-path.js';
import { checkSchema } from '../../src/survey/job/schema-findings.js';
import { resolveDraft } from '../../src/survey/job/resolve-job.js';

/**
 * The job of a folder, or all its problems at once.
 *
 * @returns The job and the files it was read from (job.json, then the tolerance file).
 *   Fails: with everything that is wrong, sorted by file and line.
 */
export async function readJob(folder: string): Promise<Outcome<{ job: Job; inputs: InputFile[] }>> {
  const { job, findings, inputs } = await readResolved(folder);
  const diagnostics = sortDiagnostics(findings.list);
  return job === null ? { ok: false, diagnostics } : { ok: true, value: { job, inputs }, diagnostics };
}

/** Pure: the job from the text of a job.json and of the tolerance file that it names. */
export function parseJob(
  text: string,
  tolerances: { file: string; text: string } | null = null,
): Outcome<Job> {
  const source = parseJsonSource(text, JOB_FILE);
  if (!source.ok) return source;
  const shared = tolerances === null ? null : parseToleranceSet(tolerances.text, tolerances.file);
  const resolved = resolveDraft(draftJob(source.value), shared?.source ?? null);
  const diagnostics = sortDiagnostics([...resolved.findings.list, ...(shared?.findings.list ?? [])]);
  return resolved.job === null || shared?.findings.hasErrors === true
    ? { ok: false, diagnostics }
    : { ok: true, value: resolved.job, diagnostics };
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
    findings.wrong(JSON.stringify(basedOn), wanted, source.value.at(['basedOn']));
  }
  return { source: source.value, findings };
}

/** A job as the commands read it, and its frame: for tests of the readers. */
import {
  Findings,
  sortDiagnostics,
  type Outcome,
  type Place,
} from '../../src/base/diagnostics/diagnostic.js';
import type { InputFile } from '../../src/base/input/input-file.js';
import { declaredAs } from '../../src/survey/job/declared.js';
import { draftJob } from '../../src/survey/job/draft.js';
import { JOB_FILE } from '../../src/survey/job/job-paths.js';
import type { Job } from '../../src/survey/job/job.js';
import { toleranceSetSchema } from '../../src/survey/job/job-schema.js';
import { parseJsonSource, type JsonSource } from '../../src/survey/job/json-source.js';
import { readResolved } from '../../src/survey/job/read-job.js';
import { valueAt } from '../../src/survey/job/key-path.js';
import { checkSchema } from '../../src/survey/job/schema-findings.js';
import { resolveDraft, type Frame } from '../../src/survey/job/resolve-job.js';

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

/** The frame of a sound job. */
export function frameOf(job: Job): Frame {
  const byId = <T extends { readonly id: string }>(list: readonly T[]) =>
    declaredAs(list.map((x) => [x.id, x] as const));
  const placeAt = (column: string): Place => ({ file: 'job.json', column });
  return {
    lengthUnit: job.lengthUnit,
    readingUnit: job.readingUnit,
    rails: byId(job.rails),
    monuments: byId(job.monuments),
    instruments: byId(job.instruments),
    setups: byId(job.setups),
    targets: job.targets === null ? null : byId(job.targets),
    phases: job.phases.map(({ name }) => name),
    files: job.readingsFiles.map((file, i) => ({ ...file, at: placeAt(`readings[${i}].file`) })),
    complete: true,
    surveyedOn: job.surveyed.on,
    setupPlace: (id) => placeAt(`setups[${job.setups.findIndex((s) => s.id === id)}].id`),
    readingsPlace: placeAt('readings'),
  };
}

/** Changes of job.json and confirmations that the program can make for findings, if a person agrees. */
import { groupBy } from '../../base/lists.js';
import { parse } from 'jsonc-parser';
import { applyFix, type JobEdit, type JobFix } from '../causes/fix.js';
import type { Diagnostic, DiagnosticCode, DiagnosticData } from '../../base/diagnostics/diagnostic.js';
import { normalPath } from '../../survey/job/job-paths.js';
import type { MappingSuggestion } from '../../survey/readings/suggest/suggest-mapping.js';
import { OF_THE_WHOLE } from './planned-findings.js';
import { inspectJob, type Inspection } from './load-job.js';

/** Findings that are answered together: of one code and one file. */
export interface Offer {
  readonly findings: readonly Diagnostic[];
  /** Changes of job.json that may end them; they were not tried yet. */
  readonly fixes: readonly JobFix[];
  /** What must be known first, in words. */
  readonly open: readonly string[];
  /** true: a person may confirm that it is right as it is. */
  readonly canBeConfirmed: boolean;
}

/** Code and file: one answer, and one confirmation, is for these. */
export const keyOfFinding = ({ code, at }: Pick<Diagnostic, 'code' | 'at'>): string =>
  JSON.stringify([code, at?.file ?? null]);

/**
 * @param text The job.json that was inspected; one that can be parsed.
 * @returns In the order of the findings; findings without any offer are left out.
 */
export function offersOf({ diagnostics, suggestions, causeFixes }: Inspection, text: string): Offer[] {
  const job = parse(text) as RawJob;
  const groups = groupBy(diagnostics, (d) =>
    d.severity === 'warning' ? null : isForeign(d) ? `foreign ${d.at?.file}` : keyOfFinding(d),
  );
  return [...groups.values()].flatMap((findings): Offer[] => {
    const [first] = findings as [Diagnostic, ...Diagnostic[]];
    const draft = isForeign(first) ? suggestions.find(({ file }) => file === first.at?.file) : undefined;
    const ownFixes = findings.flatMap((d) => fixOf(d, job) ?? []);
    const drafted = draft === undefined || draft.open.length > 0 ? null : mappingFix(draft, job);
    const ofCauses = causeFixes.flatMap(({ code, file, fix }) =>
      code === first.code && file === first.at?.file && fix.kind === 'job' ? [fix] : [],
    );
    const fixes = [...(drafted === null ? [] : [drafted]), ...ownFixes, ...ofCauses];
    const canBeConfirmed = findings.every(({ severity }) => severity === 'confirm');
    const open = draft?.open ?? [];
    return fixes.length === 0 && open.length === 0 && !canBeConfirmed
      ? []
      : [{ findings, fixes, open, canBeConfirmed }];
  });
}

/** Findings that a mapping of the file's columns ends. */
const isForeign = ({ code }: Diagnostic): boolean => /^CSV_COLUMN_(?:UNKNOWN|MISSING|DUPLICATE)$/.test(code);

/** The parts of job.json that fixes use. */
interface RawJob {
  readonly setups?: readonly { readonly id?: unknown }[];
  readonly readings?: readonly { readonly file?: unknown; readonly phase?: unknown }[];
}

type Fixer<C extends DiagnosticCode> = (data: DiagnosticData[C], file: string, job: RawJob) => JobFix | null;

/** The fixes that follow from a finding alone. */
const fixers: { readonly [C in DiagnosticCode]?: Fixer<C> } = {
  SIGN_CHECK_TURNED: ({ setup, axis, plus }, _, job) => {
    const index = (job.setups ?? []).findIndex(({ id }) => id === setup);
    if (index < 0) return null;
    const edits = [{ path: ['setups', index, 'plus', axis], value: plus }];
    return { kind: 'job', text: `At set-up ${setup}, ${axis} readings are positive "${plus}".`, edits };
  },
  CSV_ROWS_BELOW: ({ key }, file, job) => {
    const index = entryOf(file, job);
    if (index < 0) return null;
    const edits = [{ path: ['readings', index, 'ignoreRows'], value: JSON.parse(key) as string[] }];
    return { kind: 'job', text: 'The rows with sums or signatures are left out.', edits };
  },
};

function fixOf(d: Diagnostic, job: RawJob): JobFix | null {
  const fixer = fixers[d.code] as Fixer<DiagnosticCode> | undefined;
  return fixer?.(d.data, d.at?.file ?? '', job) ?? null;
}

function entryOf(file: string, { readings = [] }: RawJob): number {
  return readings.findIndex(
    (entry) => typeof entry.file === 'string' && normalPath(entry.file) === normalPath(file),
  );
}

/** The draft of an entry, key by key, so that other keys of the entry stay. */
function mappingFix({ file, entry }: MappingSuggestion, job: RawJob): JobFix | null {
  const index = entryOf(file, job);
  if (index < 0) return null;
  const before = job.readings![index] as Record<string, unknown>;
  const edits = Object.entries(entry).flatMap(([key, value]): JobEdit[] =>
    JSON.stringify(before[key]) === JSON.stringify(value)
      ? []
      : [{ path: ['readings', index, key], value: value as JobEdit['value'] }],
  );
  return edits.length === 0
    ? null
    : { kind: 'job', text: `The columns of ${file} are mapped by their names.`, edits };
}

/**
 * The problems of a file when it is read by the draft of its entry; none: the draft can be used as it is printed.
 *
 * @param text The job.json that the draft was made for; one that can be parsed.
 */
export async function problemsByDraft(
  folder: string,
  text: string,
  draft: MappingSuggestion,
): Promise<Diagnostic[]> {
  const fix = mappingFix(draft, parse(text) as RawJob);
  if (fix === null) return [];
  const { diagnostics } = await inspectJob(folder, null, { jobText: applyFix(text, fix) });
  return diagnostics.filter(({ severity, at }) => severity !== 'warning' && at?.file === draft.file);
}

/** A confirmation by a person that findings are right as they are. */
export function confirmationOf(finding: Diagnostic, by: string, because: string, text: string): JobFix {
  const { code, at } = finding;
  const value = { what: code, ...(at !== undefined && { in: at.file }), by, because };
  const isList = Array.isArray((parse(text) as { confirmed?: unknown }).confirmed);
  const entry: JobEdit = { path: ['confirmed', -1], value, insert: true };
  const edits = isList ? [entry] : [{ path: ['confirmed'], value: [value] }];
  return { kind: 'job', text: `${by} confirms ${code}: ${because}`, edits };
}

/**
 * job.json with a fix, if the fix helps: read again as a whole, the job must have no refusal that was not there before.
 *
 * @returns null: the fix must not be offered.
 */
export async function tryFix(
  folder: string,
  text: string,
  before: Inspection,
  fix: JobFix,
): Promise<string | null> {
  const changed = applyFix(text, fix);
  if (changed === text) return null;
  const after = await inspectJob(folder, null, { jobText: changed });
  const known = new Set(
    before.diagnostics.filter(({ severity }) => severity !== 'warning').map(keyOfFinding),
  );
  // A file whose columns become known is read for the first time: what is then found in its rows was there before.
  const readNow = new Set(
    before.suggestions.flatMap(({ file }) => (after.suggestions.some((s) => s.file === file) ? [] : [file])),
  );
  const hidSurvey = before.diagnostics.some(({ severity }) => severity === 'error');
  const raised = after.diagnostics.filter(
    (d) =>
      d.severity !== 'warning' &&
      // What is asked of a survey as a whole is asked for the first time once all of it can be read.
      !(hidSurvey && OF_THE_WHOLE.has(d.code)) &&
      !known.has(keyOfFinding(d)) &&
      (d.at === undefined || !readNow.has(d.at.file) || d.code.startsWith('CSV_')),
  );
  return raised.length > 0 ? null : changed;
}

/** Changes of job.json and confirmations that the program can make for findings, if a person agrees. */
import { groupBy } from '../../base/lists.js';
import { parse } from 'jsonc-parser';
import { applyFix, type JobEdit, type JobFix } from '../causes/fix.js';
import type { Diagnostic } from '../../base/diagnostics/diagnostic.js';
import { JOB_FILE } from '../../survey/job/job-paths.js';
import type { MappingSuggestion } from '../../survey/readings/suggest/suggest-mapping.js';
import { entryOf, fixesOf, rawJob, type RawJob } from './fixers.js';
import { unnamedPaths } from './look-around.js';
import { inspectJob, isOfTheWhole, type Inspection } from './load-job.js';

/** Findings that are answered together: of one code and one file, or of one place in job.json. */
export interface Offer {
  readonly key: string;
  readonly findings: readonly Diagnostic[];
  /** Changes of job.json that may end them; they were not tried yet. */
  readonly fixes: readonly JobFix[];
  /** What must be known first, in words. */
  readonly open: readonly string[];
  /** true: a person may confirm that it is right as it is. */
  readonly canBeConfirmed: boolean;
}

/** A folder as it is, to try changes of its job.json. */
export interface Tried {
  readonly folder: string;
  readonly text: string;
  /** Of that text. */
  readonly before: Inspection;
}

/** Code and file: one answer, and one confirmation, is for these. */
export const keyOfFinding = ({ code, at }: Pick<Diagnostic, 'code' | 'at'>): string =>
  JSON.stringify([code, at?.file ?? null]);

const keyOfOffer = (d: Diagnostic): string => {
  if (isForeign(d)) return `foreign ${d.at?.file}`;
  return d.severity === 'error' && d.at?.file === JOB_FILE
    ? `${keyOfFinding(d)} ${d.at.column}`
    : keyOfFinding(d);
};

/**
 * @param text The job.json that was inspected; one that can be parsed.
 * @returns In the order of the findings; findings without any offer are left out.
 */
export async function offersOf(
  folder: string,
  { diagnostics, suggestions, causeFixes }: Inspection,
  text: string,
): Promise<Offer[]> {
  const job = rawJob(text);
  const files = await unnamedPaths(
    folder,
    (job.readings ?? []).map(({ file }) => String(file)),
  );
  const groups = groupBy(diagnostics, (d) =>
    d.severity === 'warning' && d.code !== 'FILE_UNNAMED' ? null : keyOfOffer(d),
  );
  return [...groups].flatMap(([key, findings]): Offer[] => {
    const [first] = findings as [Diagnostic, ...Diagnostic[]];
    const draft = isForeign(first) ? suggestions.find(({ file }) => file === first.at?.file) : undefined;
    const ownFixes = unlike(findings.flatMap((d) => fixesOf(d, job, files)));
    const drafted = draft === undefined || draft.open.length > 0 ? null : mappingFix(draft, job);
    const ofCauses = causeFixes.flatMap(({ code, file, fix }) =>
      code === first.code && file === first.at?.file && fix.kind === 'job' ? [fix] : [],
    );
    const fixes = [...(drafted === null ? [] : [drafted]), ...ownFixes, ...ofCauses];
    const canBeConfirmed = findings.every(({ severity }) => severity === 'confirm');
    const open = draft?.open ?? [];
    return fixes.length === 0 && open.length === 0 && !canBeConfirmed
      ? []
      : [{ key, findings, fixes, open, canBeConfirmed }];
  });
}

const unlike = (fixes: readonly JobFix[]): JobFix[] => [
  ...new Map(fixes.map((fix) => [JSON.stringify(fix.edits), fix])).values(),
];

/** Findings that a mapping of the file's columns ends. */
export const isForeign = ({ code }: Diagnostic): boolean =>
  /^CSV_COLUMN_(?:UNKNOWN|MISSING|DUPLICATE)$/.test(code);

/** The draft of an entry, key by key, so that other keys of the entry stay. */
function mappingFix({ file, entry }: MappingSuggestion, job: RawJob): JobFix | null {
  const index = entryOf(file, job);
  if (index < 0) return null;
  const before = job.readings![index] as Record<string, unknown>;
  const edits = Object.entries(entry).flatMap(([key, value]): JobEdit[] =>
    JSON.stringify(before[key]) === JSON.stringify(value)
      ? []
      : [{ path: ['readings', index, key], value: value as object }],
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
  const fix = mappingFix(draft, rawJob(text));
  if (fix === null) return [];
  const { diagnostics } = await inspectJob(folder, null, { jobText: applyFix(text, fix), isTrial: true });
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
 * job.json with a fix, if the fix helps: read again as a whole, the job must have fewer findings of the kind, and no refusal that was
 * not there before.
 *
 * @param kind Of the finding that it is for, by code and file.
 * @returns null: the fix must not be offered.
 */
export async function tryFix(
  { folder, text, before }: Tried,
  fix: JobFix,
  kind: string,
): Promise<string | null> {
  const changed = applyFix(text, fix);
  const after = await inspectJob(folder, null, { jobText: changed, isTrial: true });
  const sizeOf = ({ diagnostics }: Inspection) => diagnostics.filter((d) => keyOfFinding(d) === kind).length;
  if (changed === text || sizeOf(after) >= sizeOf(before)) return null;
  const known = new Set(
    before.diagnostics.filter(({ severity }) => severity !== 'warning').map(keyOfFinding),
  );
  // What is found in the rows of a file that is read for the first time was there before. A new entry is for files that fit.
  const isMapped = ({ suggestions }: Inspection, file: string) => suggestions.every((s) => s.file !== file);
  const isReadNow = (file: string) =>
    file !== JOB_FILE &&
    (before.readings === null ||
      before.diagnostics.some((d) => d.code === 'FILE_MISSING') ||
      (!isMapped(before, file) && isMapped(after, file)));
  const hidSurvey = before.diagnostics.some(({ severity }) => severity === 'error');
  const raised = after.diagnostics.filter(
    (d) =>
      d.severity !== 'warning' &&
      // What is asked of a survey as a whole is asked for the first time once all of it can be read.
      !(hidSurvey && isOfTheWhole(d.code)) &&
      !known.has(keyOfFinding(d)) &&
      (d.at === undefined || !isReadNow(d.at.file) || d.code.startsWith('CSV_')),
  );
  return raised.length > 0 ? null : changed;
}

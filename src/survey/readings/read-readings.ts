/** All readings files of a job, as Readings by phase. */
import { Findings, type Diagnostic, type DiagnosticCode } from '../../base/diagnostics/diagnostic.js';
import { CappedFindings } from '../../base/diagnostics/cap.js';
import { MAX_READINGS_BYTES, readInputFile } from '../job/input-file.js';
import { staysInside } from '../job/job-paths.js';
import type { PhaseName } from '../job/job-schema.js';
import { type Frame } from '../job/resolve-job.js';
import type { FileEntry } from '../job/resolve-readings-files.js';
import type { BlankRow, CheckedSign, ExcludedRow, Reading, Readings } from './readings.js';
import type { InputFile } from '../../base/input/input-file.js';
import { compareSignChecks } from './sign-checks.js';
import type { Sink } from './sink.js';
import { suggestMapping, type MappingSuggestion } from './suggest/suggest-mapping.js';
import { parseReadings } from './parse-readings.js';
import { MAX_ROWS } from './table.js';

export interface ReadFiles {
  readonly readings: Readings;
  readonly inputs: InputFile[];
  readonly findings: Findings;
  /** For files with unknown columns: suggested mappings. */
  readonly suggestions: readonly MappingSuggestion[];
}

/** All readings that can be read, and the problems of the rest. */
export async function readFiles(folder: string, frame: Frame): Promise<ReadFiles> {
  const findings = new Findings();
  const phases = new Map<PhaseName, Reading[]>();
  const excluded: ExcludedRow[] = [];
  const blank: BlankRow[] = [];
  const signChecks: CheckedSign[] = [];
  const inputs = new Map<string, InputFile>();
  const suggestions: MappingSuggestion[] = [];
  const setupsSeen = new Set<string>();
  /** Phases with a file that has readings or errors. */
  const begun = new Set<PhaseName>();
  let unread = !frame.complete;
  let rowsLeft = MAX_ROWS;
  for (const entry of frame.files) {
    const file = await readFile(folder, entry, frame, rowsLeft);
    rowsLeft -= file.rows;
    for (const finding of file.findings.list) findings.list.push(finding);
    for (const row of file.sink.excluded) excluded.push(row);
    for (const row of file.sink.blank) blank.push(row);
    for (const { setup, axis } of file.sink.checks) signChecks.push({ phase: entry.phase, setup, axis });
    for (const id of file.sink.setupsSeen) setupsSeen.add(id);
    const phase = phases.get(entry.phase) ?? [];
    for (const reading of file.sink.readings) phase.push(reading);
    phases.set(entry.phase, phase);
    if (!file.blank) begun.add(entry.phase);
    if (file.suggestion !== null) suggestions.push(file.suggestion);
    if (file.input !== null) inputs.set(entry.file, file.input);
    if (file.input === null || file.findings.list.some(hidesSetups)) unread = true;
  }
  // One of two phases may not be measured yet.
  if (begun.size > 0) for (const phase of phases.keys()) if (!begun.has(phase)) phases.delete(phase);
  if (!unread) reportUnread(frame, { phases, setupsSeen, blank }, findings);
  const ordered = new Map(
    frame.phases.flatMap((name) => (phases.has(name) ? [[name, phases.get(name)!]] : [])),
  );
  return {
    readings: { phases: ordered, excluded, blank, signChecks },
    inputs: [...inputs.values()],
    findings,
    suggestions,
  };
}

/** After these findings a row that was not understood may name the set-up that seems unused. */
const hidesSetups = ({ code, severity }: Diagnostic): boolean =>
  severity === 'error' && (code.startsWith('CSV_') || code === 'READING_SETUP_UNKNOWN');

interface FileRead {
  readonly sink: Sink & { readonly blank: readonly BlankRow[] };
  readonly findings: Findings;
  /** null: the file could not be read as a table. */
  readonly input: InputFile | null;
  readonly rows: number;
  /** A form that is not filled in yet. */
  readonly blank: boolean;
  readonly suggestion: MappingSuggestion | null;
}

/** The bytes of a readings file. Fails: FILE_OUTSIDE_JOB, and what readInputFile does. */
export async function readReadingsFile(
  folder: string,
  { file, at }: Pick<FileEntry, 'file' | 'at'>,
): ReturnType<typeof readInputFile> {
  if (staysInside(file)) return readInputFile(folder, file, '', MAX_READINGS_BYTES, at);
  const outside: Diagnostic = { code: 'FILE_OUTSIDE_JOB', severity: 'error', data: { path: file }, at };
  return { ok: false, diagnostics: [outside] };
}

async function readFile(folder: string, entry: FileEntry, frame: Frame, rowsLeft: number): Promise<FileRead> {
  const findings = new CappedFindings();
  const sink: Sink & { blank: BlankRow[] } = {
    readings: [],
    excluded: [],
    blank: [],
    checks: [],
    setupsSeen: new Set(),
  };
  const nothing = { sink, findings, input: null, rows: 0, blank: false, suggestion: null };
  const file = await readReadingsFile(folder, entry);
  for (const d of file.diagnostics) findings.error(d.code, d.data, d.at);
  if (!file.ok) return nothing;
  const { bytes, sha256 } = file.value;
  const table = parseReadings(bytes, entry, frame, sink, findings, rowsLeft);
  compareSignChecks(sink.checks, sink.readings, frame, findings);
  const input = table === null ? null : { path: entry.file, bytes: bytes.length, sha256, read: table.read };
  // A reading may be in an unknown column: then a row without a reading has no meaning.
  const unknownColumn = findings.list.some((d) => d.code === 'CSV_COLUMN_UNKNOWN');
  const blank = table !== null && isBlank(sink, findings.list);
  const dropped: DiagnosticCode[] = [
    ...(unknownColumn || blank ? (['READING_ROW_EMPTY'] as const) : []),
    // Rows that could not be read are equal for other reasons.
    ...(findings.hasErrors ? (['ROW_DOUBLED'] as const) : []),
  ];
  const finished = findings.finished(dropped);
  if (blank) finished.warn('READINGS_BLANK', { rows: table.rowCount / table.layouts.length }, entry.at);
  const suggestion = isForeign(entry, findings.list) ? suggestMapping(bytes, entry, frame) : null;
  return { sink, findings: finished, input, rows: table?.rowCount ?? 0, blank, suggestion };
}

/** true: the only problem of the rows is that none has a reading: a form that is not filled in yet. */
const isBlank = ({ readings, excluded }: Sink, list: readonly Diagnostic[]): boolean =>
  readings.length + excluded.length === 0 &&
  list.length > 0 &&
  list.every(({ code }) => code === 'READING_ROW_EMPTY');

/** true: the problem is that the file has other columns, and job.json does not map them yet. */
const isForeign = ({ mapping }: FileEntry, list: readonly Diagnostic[]): boolean =>
  (mapping?.rows ?? []).every(({ columns }) => columns.size === 0) &&
  list.some(({ code }) => /^CSV_COLUMN_(?:UNKNOWN|MISSING|DUPLICATE)$/.test(code));

/** Declared objects that no row of any file names, if all files could be read. */
function reportUnread(
  frame: Frame,
  {
    phases,
    setupsSeen,
    blank,
  }: {
    readonly phases: ReadonlyMap<PhaseName, readonly Reading[]>;
    readonly setupsSeen: ReadonlySet<string>;
    readonly blank: readonly BlankRow[];
  },
  findings: Findings,
): void {
  const sound = !findings.hasErrors;
  for (const [phase, readings] of phases) {
    if (sound && readings.length === 0) findings.error('NO_READINGS_USED', { phase }, frame.readingsPlace);
  }
  // Everything else that is not read yet follows from that.
  if (sound && findings.hasErrors) return;
  for (const id of frame.setups.keys()) {
    if (setupsSeen.has(id)) continue;
    const rows = blank.filter(({ setup, phase }) => setup === id && phases.has(phase)).length;
    // The sheet has rows for it, without readings.
    if (rows > 0) {
      findings.ask('SETUP_UNREAD', { setup: id, rows }, frame.setupPlace(id));
      continue;
    }
    findings.error(
      'SETUP_READS_NOTHING',
      { setup: id, phase: [...phases.keys()].join(', ') },
      frame.setupPlace(id),
    );
  }
}

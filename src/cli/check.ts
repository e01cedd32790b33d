/**
 * `waysheet check JOB…`: validation alone. What each folder holds, and every problem of it at once; for files
 * with columns that are not known, a mapping to put into job.json; with `page`, a page for the crew.
 */
import { writeFile } from 'node:fs/promises';
import { basename, resolve } from 'node:path';
import type { Diagnostic } from '../base/diagnostics/diagnostic.js';
import { countWords, diagnosticsToJson, formatDiagnostics } from '../base/diagnostics/format.js';
import { visible } from '../base/diagnostics/messages.js';
import { problemPage } from '../base/diagnostics/problem-page.js';
import type { SourceLines } from '../base/diagnostics/source-lines.js';
import { soundOnes } from '../survey/job/declared.js';
import { positionMm } from '../survey/job/job.js';
import type { Rail } from '../survey/job/job.js';
import type { Frame } from '../survey/job/settle-job.js';
import { fromMm } from '../base/units/units.js';
import type { LengthUnit } from '../base/units/units.js';
import { inspectJob } from '../solution/intake/load-job.js';
import type { Inspection } from '../solution/intake/load-job.js';
import { DEFAULT_LIMIT_S } from '../solution/intake/size.js';
import { readWords } from '../survey/readings/what-was-read.js';
import { readSourceLines } from '../survey/readings/source-lines.js';
import type { MappingSuggestion } from '../survey/readings/suggest/suggest-mapping.js';

interface Sink {
  write(text: string): unknown;
}

export interface CheckOptions {
  readonly json: boolean;
  /** Where the problems of the one folder are to be written as an HTML page; undefined: nowhere. */
  readonly page?: string | undefined;
  /** What was found and every problem: they are what the command is asked for. */
  readonly stdout: Sink;
  readonly stderr: Sink;
}

/** Lines of larger files are not shown on the terminal. */
const MOST_SHOWN_BYTES = 16 * 2 ** 20;

/** Exit status: 0 done, warnings or not; 3 at least one job's input is refused. */
const DONE = 0;
const REFUSED = 3;

/**
 * @returns The exit status.
 * @throws {RangeError} a page of several folders was asked for: the command line refuses that.
 *   {Error} the page cannot be written.
 */
export async function runCheck(
  folders: readonly string[],
  { json, page, stdout, stderr }: CheckOptions,
): Promise<number> {
  if (page !== undefined && folders.length !== 1)
    throw new RangeError(`a page is of one job, not of ${folders.length}`);
  let refused = false;
  const reports: object[] = [];
  for (const folder of folders) {
    const inspection = await inspectJob(folder, null, { limit: DEFAULT_LIMIT_S });
    if (inspection.loaded === null) refused = true;
    if (json) reports.push(jsonReport(folder, inspection));
    else stdout.write(textReport(folder, inspection, await sourcesOf(folder, inspection, MOST_SHOWN_BYTES)));
    if (page !== undefined) {
      await writePage(page, folder, inspection);
      stderr.write(`${visible(page)} written\n`);
    }
  }
  if (json) stdout.write(`${JSON.stringify(reports, null, 2)}\n`);
  return refused ? REFUSED : DONE;
}

/** The files that problems stand in. */
function sourcesOf(
  folder: string,
  { frame, diagnostics }: Inspection,
  limit?: number,
): Promise<ReadonlyMap<string, SourceLines>> {
  const files = diagnostics.flatMap(({ at }) => (at === undefined ? [] : [at.file]));
  return readSourceLines(folder, files, frame?.files ?? [], limit);
}

async function writePage(path: string, folder: string, inspection: Inspection): Promise<void> {
  const { id, diagnostics } = inspection;
  const sources = await sourcesOf(folder, inspection);
  const html = problemPage(id ?? basename(resolve(folder)), diagnostics, sources);
  try {
    await writeFile(path, html);
  } catch (cause) {
    throw new Error(`the page ${path} cannot be written: ${(cause as Error).message}`, { cause });
  }
}

function jsonReport(folder: string, inspection: Inspection): object {
  const { loaded, frame, inputs, diagnostics } = inspection;
  return {
    folder,
    job: inspection.id,
    ok: loaded !== null,
    rails:
      frame === null ? [] : soundOnes(frame.rails).map((r) => ({ id: r.id, stations: r.stations.length })),
    phases: phasesOf(inspection),
    files: inputs.map(({ path, bytes, sha256, read }) => ({ path, bytes, sha256, read })),
    diagnostics: diagnosticsToJson(diagnostics),
    suggestions: inspection.suggestions,
  };
}

/** Readings that are used and rows that were left out, by phase. */
function phasesOf({
  readings,
  read,
}: Inspection): { phase: string; readings: number; excluded: number; read: string[] }[] {
  if (readings === null) return [];
  return [...readings.phases].map(([phase, list]) => ({
    phase,
    readings: list.length,
    excluded: readings.excluded.filter((row) => row.phase === phase).length,
    read: read?.has(phase) ? readWords(read.get(phase)!) : [],
  }));
}

function textReport(
  folder: string,
  inspection: Inspection,
  sources: ReadonlyMap<string, SourceLines>,
): string {
  const { frame, inputs, diagnostics } = inspection;
  const found = [
    ...(frame === null ? [] : declaredLines(frame)),
    ...phasesOf(inspection).map(({ phase, readings, excluded, read }) =>
      [
        `${phase}: ${count(readings, 'reading')} used${excluded === 0 ? '' : `, ${count(excluded, 'row')} left out`}`,
        ...read,
      ].join('; '),
    ),
    ...inputs.map(({ path, read }) => `${path}: ${read}`),
  ];
  const lines = [`${folder}: ${inspection.id ?? 'no job id'}, ${verdict(inspection, diagnostics)}`];
  for (const line of found) lines.push(`  ${line}`);
  const problems = formatDiagnostics(diagnostics, { root: folder, sources });
  const mappings = inspection.suggestions.map(mappingText).join('');
  return `${lines.map(visible).join('\n')}\n${problems === '' ? '' : `\n${problems}`}${mappings}\n`;
}

/** A draft of the file's entry, as it goes into job.json, and what a person has to see to. */
function mappingText({ file, entry, open, unplaced }: MappingSuggestion): string {
  const lines = [
    `${file}: a draft of its entry for "readings" in job.json, by the names of its columns. Look it through:`,
    ...jsonLines(entry).map((line) => `  ${line}`),
    ...(open.length === 0 ? [] : [`  Still to be said (?): ${open.join('; ')}.`]),
    ...(unplaced.length === 0
      ? []
      : [`  Not placed, and so left out by "ignore": ${unplaced.join(', ')}. Map those that hold readings.`]),
  ];
  return `\n${lines.map(visible).join('\n')}\n`;
}

/** JSON with a line for each key, and one for each row of a wide sheet. */
function jsonLines(entry: Readonly<Record<string, unknown>>): string[] {
  const keys = Object.entries(entry).map(([key, value]) => {
    if (key !== 'rows' || !Array.isArray(value)) return `  ${JSON.stringify(key)}: ${spaced(value)}`;
    const rows = value.map((row) => `    ${spaced(row)}`).join(',\n');
    return `  "rows": [\n${rows}\n  ]`;
  });
  return `{\n${keys.join(',\n')}\n}`.split('\n');
}

/** JSON on one line, as a person writes it. */
function spaced(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(spaced).join(', ')}]`;
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  const keys = Object.entries(value).map(([key, inner]) => `${JSON.stringify(key)}: ${spaced(inner)}`);
  return `{ ${keys.join(', ')} }`;
}

const verdict = ({ loaded }: Inspection, diagnostics: readonly Diagnostic[]): string =>
  `${loaded === null ? 'refused' : 'accepted'}: ${countWords(diagnostics)}`;

function declaredLines(frame: Frame): string[] {
  const rails = soundOnes(frame.rails).map((rail) => railLine(rail, frame.lengthUnit));
  const ids = (list: Iterable<string>) => [...list].join(', ');
  const some = (word: string, map: ReadonlyMap<string, unknown>) =>
    map.size === 0 ? [] : [`${word}: ${ids(map.keys())}`];
  return [
    ...rails,
    ...some('set-ups', frame.setups),
    ...some('monuments', frame.monuments),
    ...some('instruments', frame.instruments),
  ];
}

function railLine(rail: Rail, unit: LengthUnit): string {
  const kind = rail.datum ? ' (datum)' : rail.direction === 'across' ? ' (cross rail)' : '';
  const { stations } = rail;
  const at = (i: number) => Number(fromMm(positionMm(rail, stations[i]!), unit).toPrecision(9));
  const reach = stations.length === 1 ? `at ${at(0)}` : `from ${at(0)} to ${at(stations.length - 1)}`;
  return `rail ${rail.id}${kind}: ${count(stations.length, 'station')} ${reach} ${unit}`;
}

const count = (n: number, word: string): string => `${n} ${word}${n === 1 ? '' : 's'}`;

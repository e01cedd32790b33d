/**
 * `waysheet check JOB…`: validation alone. What each folder holds and what is wrong with it, on one screen; with `all`,
 * every finding; with `fix`, questions. For files with columns that are not known, a mapping to put into job.json; with `page`, a page for the
 * crew.
 */
import { pick } from '../base/pick.js';
import { groupBy } from '../base/lists.js';
import { writeFile } from 'node:fs/promises';
import { basename, resolve } from 'node:path';
import type { Diagnostic } from '../base/diagnostics/diagnostic.js';
import { counted } from '../base/diagnostics/counted.js';
import {
  countWords,
  diagnosticsToJson,
  formatDiagnostics,
  formatScreen,
} from '../base/diagnostics/format.js';
import { describe, visible } from '../base/diagnostics/messages.js';
import { wrapped } from '../base/diagnostics/wrap.js';
import { problemPage } from '../pages/report/problem-page.js';
import { wordsOf } from '../pages/words/languages.js';
import type { SourceLines } from '../base/diagnostics/source-lines.js';
import { soundOnes } from '../survey/job/declared.js';
import { positionMm, type Job, type Rail } from '../survey/job/job.js';
import type { Frame } from '../survey/job/resolve-job.js';
import { fromMm, type LengthUnit } from '../base/units/units.js';
import { inspectJob, type Inspection } from '../solution/intake/load-job.js';
import { DEFAULT_LIMIT_S } from '../solution/intake/size.js';
import { readWords } from '../survey/readings/what-was-read.js';
import type { Terminal } from './new/ask-on-terminal.js';
import { leaveJson } from '../results/leave-json.js';
import { leaveOf, type Leave } from '../results/leave.js';
import { leaveHead, leaveLines } from '../pages/report/leave-words.js';
import { phaseWords } from '../survey/readings/phase-words.js';
import { calledAs } from './called-as.js';
import { fixJob, readJobText } from './fix-job.js';
import { isForeign, offersOf, problemsByDraft } from '../solution/intake/offers.js';
import { readSourceLines } from '../survey/readings/source-lines.js';
import type { MappingSuggestion } from '../survey/readings/suggest/suggest-mapping.js';

interface Sink {
  write(text: string): unknown;
  /** Characters on a line of a terminal; undefined: no terminal. */
  readonly columns?: number | undefined;
}

export interface CheckOptions {
  readonly json: boolean;
  /** Every finding and every file, not only what fits on a screen. */
  readonly all?: boolean;
  /** Answers whether the crew may go, in place of the findings. */
  readonly leave?: boolean;
  /** Asks about each change of job.json that would end a finding, here; null: nothing is asked. */
  readonly fix?: Terminal | null;
  /** Where the problems of the one folder are to be written as an HTML page; undefined: nowhere. */
  readonly page?: string | undefined;
  /** What was found and every problem: they are what the command is asked for. */
  readonly stdout: Sink;
  readonly stderr: Sink;
}

/** Lines of larger files are not shown on the terminal. */
const MOST_SHOWN_BYTES = 16 * 2 ** 20;

/** Exit status: 0 done, warnings or not; 3 at least one job's input is refused, or its crew may not go. */
const DONE = 0;
const REFUSED = 3;

/**
 * @returns The exit status.
 * @throws {RangeError} a page of several folders was asked for: the command line refuses that.
 *   {Error} the page cannot be written.
 */
export async function runCheck(
  folders: readonly string[],
  { json, all = false, leave = false, fix = null, page, stdout, stderr }: CheckOptions,
): Promise<number> {
  if (page !== undefined && folders.length !== 1)
    throw new RangeError(`a page is of one job, not of ${folders.length}`);
  let refused = false;
  const reports: object[] = [];
  for (const folder of folders) {
    if (fix !== null) await fixJob(folder, fix, stdout);
    const inspection = await inspectJob(folder, null, { limit: DEFAULT_LIMIT_S });
    if (inspection.loaded === null) refused = true;
    const left = leave ? leaveOf(inspection) : null;
    if (left?.mayGo === false) refused = true;
    if (json)
      reports.push({ ...jsonReport(folder, inspection), ...(left !== null && { leave: leaveJson(left) }) });
    else if (left !== null)
      stdout.write(leaveScreen(folder, left, inspection.soFar?.job ?? null, widthOf(stdout)));
    else {
      const sources = await sourcesOf(folder, inspection, MOST_SHOWN_BYTES);
      const width = widthOf(stdout);
      const drafts = await triedDrafts(folder, inspection);
      stdout.write(
        all
          ? fullReport(folder, inspection, sources, drafts)
          : screenReport(folder, inspection, {
              sources,
              drafts,
              width,
              canFix: await canFix(folder, inspection),
            }),
      );
    }
    if (page !== undefined) {
      await writePage(page, folder, inspection);
      stderr.write(`${visible(page)} written\n`);
    }
  }
  if (json) stdout.write(`${JSON.stringify(reports, null, 2)}\n`);
  return refused ? REFUSED : DONE;
}

/** The sentence, then line by line what it rests on. */
function leaveScreen(folder: string, left: Leave, job: Job | null, width: number): string {
  const phase = left.phase === null ? '' : `, ${phaseWords(left.phase)}`;
  const head = wrapped(`${visible(folder)}${phase}: ${leaveHead(left)}`, width);
  const lines = leaveLines(left, job).flatMap(({ label, texts }) =>
    texts.flatMap((text, k) => {
      const [first, ...rest] = wrapped(text, width - LABEL_WIDTH);
      return [
        (k === 0 ? `  ${label}` : '').padEnd(LABEL_WIDTH) + first!,
        ...rest.map((more) => ' '.repeat(LABEL_WIDTH) + more.trimStart()),
      ];
    }),
  );
  return `${[...head, ...lines].join('\n')}\n\n`;
}

const LABEL_WIDTH = 16;

/** Narrower than this, a terminal does not know its width: some say 0. */
const LEAST_WIDTH = 40;

const widthOf = ({ columns = 0 }: Sink): number => (columns < LEAST_WIDTH ? Infinity : columns);

/** The files that have problems. */
function sourcesOf(
  folder: string,
  { frame, diagnostics }: Inspection,
  limit?: number,
): Promise<ReadonlyMap<string, SourceLines>> {
  const files = diagnostics.flatMap(({ at }) => (at === undefined ? [] : [at.file]));
  return readSourceLines(folder, files, frame?.files ?? [], limit);
}

async function writePage(path: string, folder: string, inspection: Inspection): Promise<void> {
  const { id, language, diagnostics } = inspection;
  const sources = await sourcesOf(folder, inspection);
  const title = id ?? basename(resolve(folder));
  const html = problemPage({ title, diagnostics, sources, words: wordsOf(language) });
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
    files: inputs.map((input) => pick(input, 'path', 'bytes', 'sha256', 'read')),
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

/** Everything that was found, and every problem. */
function fullReport(
  folder: string,
  inspection: Inspection,
  sources: ReadonlyMap<string, SourceLines>,
  drafts: readonly Draft[],
): string {
  const { frame, inputs, diagnostics } = inspection;
  const found = [
    ...(frame === null ? [] : declaredLines(frame)),
    ...phasesOf(inspection).map(phaseLine),
    ...inputs.map(({ path, read }) => `${path}: ${read}`),
  ];
  const lines = [headLine(folder, inspection), ...found.map((line) => `  ${line}`)];
  const problems = formatDiagnostics(diagnostics, { sources });
  const mappings = drafts.map(mappingText).join('');
  return `${lines.map(visible).join('\n')}\n${problems === '' ? '' : `\n${problems}`}${mappings}\n`;
}

/** Most lines for one job, not counting drafts of mappings. */
const SCREEN_LINES = 10;
/** Most items of a list that are named. */
const MOST_NAMED = 6;

interface Shown {
  readonly sources: ReadonlyMap<string, SourceLines>;
  readonly drafts: readonly Draft[];
  readonly width: number;
  /** true: there are changes of job.json to try. */
  readonly canFix: boolean;
}

async function canFix(folder: string, inspection: Inspection): Promise<boolean> {
  const text = inspection.loaded === null ? await readJobText(folder) : null;
  if (text === null) return false;
  return (await offersOf(folder, inspection, text)).some(({ fixes }) => fixes.length > 0);
}

/** What a person needs to know next: of a refused job what is wrong, of an accepted one what was read, and the warnings. */
function screenReport(
  folder: string,
  inspection: Inspection,
  { sources, drafts, width, canFix }: Shown,
): string {
  const head = wrapped(visible(headLine(folder, inspection)), width);
  const found = inspection.loaded === null ? [] : overview(inspection).map((line) => `  ${visible(line)}`);
  const isAsked = inspection.diagnostics.some(({ severity }) => severity === 'confirm');
  const ask = isAsked
    ? 'asks what is right, and who confirms it'
    : 'tries changes of job.json, and asks before each';
  const next = isAsked || canFix ? [`${calledAs()} check ${visible(folder)} --fix ${ask}`] : [];
  const lines = SCREEN_LINES - head.length - found.length - next.length;
  const rest = `${calledAs()} check ${visible(folder)} --all shows them`;
  // What a draft ends is said by the draft.
  const isDrafted = (d: Diagnostic) =>
    isForeign(d) && drafts.some(({ suggestion }) => suggestion.file === d.at?.file);
  const left = inspection.diagnostics.filter((d) => !isDrafted(d));
  const problems = formatScreen(left, { sources, lines, width, rest });
  const mappings = drafts.map(mappingText).join('');
  return `${[...head, ...found, ...problems, ...next].join('\n')}\n${mappings}\n`;
}

const headLine = (folder: string, inspection: Inspection): string =>
  `${folder}: ${inspection.id ?? 'no job id'}, ${verdict(inspection, inspection.diagnostics)}`;

/** In at most four lines: rails, what they were read with, readings, files. */
function overview(inspection: Inspection): string[] {
  const { frame, inputs } = inspection;
  const rails = frame === null ? [] : soundOnes(frame.rails).map((rail) => railLine(rail, frame.lengthUnit));
  const tools = frame === null ? [] : toolWords(frame);
  const files = [...groupBy(inputs, ({ read }) => read)].map(
    ([read, list]) => `${someOf(list.map(({ path }) => path))}: ${read}`,
  );
  return [rails, tools, phasesOf(inspection).map(phaseLine), files]
    .filter((list) => list.length > 0)
    .map((list) => someOf(list, '; '));
}

const someOf = (list: readonly string[], between = ', '): string =>
  list.length <= MOST_NAMED
    ? list.join(between)
    : `${list.slice(0, MOST_NAMED - 1).join(between)} and ${list.length - MOST_NAMED + 1} more`;

const phaseLine = ({ phase, readings, excluded, read }: ReturnType<typeof phasesOf>[number]): string =>
  [
    `${phase}: ${counted(readings, 'reading')} used${excluded === 0 ? '' : `, ${counted(excluded, 'row')} left out`}`,
    ...read,
  ].join('; ');

/** A draft of the file's entry, as it goes into job.json, and what a person has to decide. */
function mappingText({ suggestion, problems }: Draft): string {
  const { file, entry, open, unplaced, notes = [] } = suggestion;
  const [first] = problems;
  const lines = [
    `${file}: its columns have other names than those that are read. Write this in place of its entry under "readings" in job.json:`,
    ...jsonLines(entry).map((line) => `  ${line}`),
    ...open.map((what) => `  Still to be filled in: ${what}.`),
    ...(unplaced.length === 0
      ? []
      : [
          `  Left out, because they are no readings by their names or cells: ${unplaced.join(', ')}. Map those that are.`,
        ]),
    ...notes.map((note) => `  ${note}.`),
    ...(first === undefined
      ? []
      : [
          `  Tried: the file is read by it, and then there is more to correct (${countWords(problems)}): ${describe(first)}`,
        ]),
  ];
  return `\n${lines.map(visible).join('\n')}\n`;
}

/** A suggested entry, and what is wrong with the file when it is read by it. */
interface Draft {
  readonly suggestion: MappingSuggestion;
  readonly problems: readonly Diagnostic[];
}

/** Tries each complete draft, so that each draft that is printed is known to work. */
async function triedDrafts(folder: string, { suggestions }: Inspection): Promise<Draft[]> {
  const text = suggestions.some(({ open }) => open.length === 0) ? await readJobText(folder) : null;
  return Promise.all(
    suggestions.map(async (suggestion) => ({
      suggestion,
      problems:
        text === null || suggestion.open.length > 0 ? [] : await problemsByDraft(folder, text, suggestion),
    })),
  );
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

const declaredLines = (frame: Frame): string[] => [
  ...soundOnes(frame.rails).map((rail) => railLine(rail, frame.lengthUnit)),
  ...toolWords(frame, Infinity),
];

/** "set-ups: S1, S2" and so on, of what the job has. */
function toolWords(frame: Frame, most = MOST_NAMED): string[] {
  const some = (word: string, map: ReadonlyMap<string, unknown>) => {
    const ids = [...map.keys()];
    return ids.length === 0 ? [] : [`${word}: ${ids.length <= most ? ids.join(', ') : someOf(ids)}`];
  };
  return [
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
  return `rail ${rail.id}${kind}: ${counted(stations.length, 'station')} ${reach} ${unit}`;
}

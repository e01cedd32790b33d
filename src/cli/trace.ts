/** `waysheet trace REPORT WHAT [RAIL]`: from a printed figure back to its cells. */
import { writeFileAt } from '../archive/write-whole.js';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { gatherInputs, withInputs } from '../archive/audit/issued-inputs.js';
import { issuedResults, readIssued } from '../archive/issued-report.js';
import { formatDiagnostics } from '../base/diagnostics/format.js';
import { visible } from '../base/diagnostics/messages.js';
import { exitCodes, type ExitCode } from './exit-codes.js';
import { loadJob, type LoadedJob } from '../solution/intake/load-job.js';
import { solve } from '../pipeline.js';
import { phaseWords } from '../results/words/texts.js';
import { identityName, namingOf, typedLength, typedStretch, type Typed } from '../results/identity.js';
import type { LengthUnit } from '../base/units/units.js';
import { languagesOf, type Languages } from '../survey/job/languages.js';
import type { PhaseName } from '../survey/job/job-schema.js';
import type { Results } from '../results/results-schema.js';
import { findCharacteristics, trace, type InPhase, type Trace } from '../results/trace.js';
import type { Console } from './console.js';
import { wordsOf } from '../pages/words/languages.js';
import { placeText } from '../pages/report/place-text.js';
import { english } from '../pages/words/words.js';
import { endWords } from '../pages/report/end-words.js';

export interface TraceOptions {
  readonly what: string;
  readonly rail: string | null;
  readonly phase: PhaseName | null;
  readonly reference: string | null;
  readonly against: string | null;
  /** A length and two places, as typed. */
  readonly over: string | null;
  readonly between: string | null;
  /** The job folder, where the report does not carry its inputs. */
  readonly job: string | null;
  /** Where to write the page; null: none is asked for. */
  readonly page: string | null;
  readonly json: boolean;
  readonly console: Console;
}

interface Found {
  readonly trace: Trace;
  readonly results: Results;
  readonly language: Languages | null;
}

/** Readings printed; --json gives all. */
const LISTED = 12;

/** @param path Folder of deliverables, a report's PDF, or a job folder. */
export async function runTrace(path: string, options: TraceOptions): Promise<ExitCode> {
  const { console, json } = options;
  const found = existsSync(join(path, 'job.json'))
    ? await ofJob(path, options)
    : await ofReport(path, options);
  if (typeof found === 'string') {
    console.err(`waysheet: ${found.split('\n').map(visible).join('\n')}\n`);
    return exitCodes.refused;
  }
  const { trace: traced, results } = found;
  if (options.page !== null) {
    const { tracePage } = await import('../pages/report/trace-page.js');
    await writeFileAt(options.page, Buffer.from(tracePage(traced, results, wordsOf(found.language))));
    if (!json) console.err(`${visible(options.page)}: open it in a browser\n`);
  }
  console.out(json ? `${JSON.stringify(traced, null, 2)}\n` : `${textOf(found)}\n`);
  return exitCodes.done;
}

async function ofJob(folder: string, wanted: TraceOptions): Promise<Found | string> {
  const loaded = await loadJob(folder);
  if (!loaded.ok) return formatDiagnostics(loaded.diagnostics, { root: folder });
  return traceIn(await solve(loaded.value, loaded.diagnostics), loaded.value, wanted);
}

async function ofReport(path: string, wanted: TraceOptions): Promise<Found | string> {
  const issued = await readIssued(path);
  const read = issuedResults(issued, path);
  if (typeof read === 'string') return read;
  const { results } = read;
  const language = issued.manifest?.language === undefined ? {} : { language: issued.manifest.language };
  const inputs = await gatherInputs(results, issued, { job: wanted.job, tolerances: null });
  const missing = [...inputs.absent, ...inputs.others];
  if (missing.length > 0) return missing.join('\n');
  const traced = await withInputs(inputs.found, results.whatIf?.tolerances ?? null, (loaded) =>
    Promise.resolve(traceIn(results, { ...loaded.value, ...language }, wanted)),
  );
  return traced ?? 'the inputs, which were accepted when the report was issued, are refused now';
}

function traceIn(results: Results, loaded: LoadedJob, options: TraceOptions): Found | string {
  const typed = typedOf(options, results.style.length as LengthUnit);
  if (typeof typed === 'string') return typed;
  const matches = findCharacteristics(results, options.phase, typed);
  if (matches.length !== 1) return whichOf(matches, options, results);
  const [found] = matches as [InPhase];
  const { phase, characteristic } = found;
  if (characteristic.value === null) return `it is not determined: ${characteristic.why ?? ''}`;
  const traced = trace(loaded.job, loaded.readings.phases.get(phase) ?? [], phase, characteristic);
  if (traced === null) return 'it cannot be followed back';
  // A figure that does not come out of the readings again is no figure to explain.
  if (Math.abs(traced.value - characteristic.value) > 1e-6 * (1 + Math.abs(traced.value)))
    return `the report says ${characteristic.value} ${characteristic.unit}, but its readings make ${traced.value}: audit says what else differs`;
  return { trace: traced, results, language: languagesOf(loaded) };
}

/** @returns In words what cannot be read. */
function typedOf(
  { what, rail, reference, against, over, between }: TraceOptions,
  unit: LengthUnit,
): Typed | string {
  const window = over === null ? null : typedLength(over, unit);
  const stretch = between === null ? null : typedStretch(between, unit);
  if (over !== null && window === null)
    return `--over: '${over}' is no length; wanted a number, with a unit where it is not the job's, such as 2 m`;
  if (between !== null && stretch === null)
    return `--between: '${between}' is no working length; wanted two places along the rail, such as '0 to 5000 mm'`;
  return { what, rail, reference, against, over: window, between: stretch };
}

/** What to type, where nothing or more than one is meant. */
function whichOf(matches: readonly InPhase[], { what, rail, phase }: TraceOptions, results: Results): string {
  const typed = `'${what}${rail === null ? '' : ` ${rail}`}'`;
  const naming = namingOf(results);
  const all = Object.entries(results.phases)
    .filter(([name]) => phase === null || name === phase)
    .flatMap(([, { characteristics }]) => characteristics);
  const listed = matches.length > 0 ? matches.map(({ characteristic }) => characteristic) : all;
  const names = new Set(listed.map((one) => `  "${identityName(one, naming)}"`));
  return [
    matches.length === 0
      ? `no figure of this report is called ${typed}, or the options fit none; type one of`
      : `${matches.length} figures of this report are called ${typed}; type one of`,
    ...names,
  ].join('\n');
}

function textOf({ trace: traced, results }: Found): string {
  const { phase, value, unit, constant, readings, stated, characteristic: c } = traced;
  const number = (v: number) => v.toPrecision(6).replace(/\.?0+$/, '');
  const listed = readings.slice(0, LISTED);
  const rest = readings.slice(LISTED);
  const sum = (list: Trace['readings']) => list.reduce((s, r) => s + r.weight * r.reading, 0);
  const percent = (share: number) => `${(100 * share).toFixed(1)} %`;
  const rows = listed.map((r) => [
    `${visible(r.file)}:${r.row}`,
    visible(r.column),
    `${number(r.reading)} ${r.unit}`,
    r.weight.toFixed(4),
    (r.weight * r.reading).toFixed(4),
    r.residual.toFixed(2),
    percent(r.share),
  ]);
  const table = columns([
    ['cell', 'column', 'reading', 'weight', 'adds', 'residual', 'of the variance'],
    ...rows,
  ]);
  const limit =
    c.limit === null
      ? 'no tolerance'
      : c.zone !== undefined
        ? `limits ${c.zone.from ?? '−∞'} to ${c.zone.to ?? '∞'} ${unit}: ${c.verdict}`
        : `limit ${number(c.limit)} ${unit}: ${c.verdict}`;
  return [
    `${identityName(c, namingOf(results))}, ${phaseWords(phase)}: ${number(value)} ${unit}`,
    `made by ${visible(placeText(c, english)) || 'all stations'}; u = ${number(c.u ?? 0)}; interval ${c.interval?.map(number).join(' to ') ?? '–'}; ${limit}`,
    ...(c.ends === undefined ? [] : [endsText(c.ends, number)]),
    '',
    table,
    ...(rest.length > 0
      ? [
          `${rest.length} more readings add ${sum(rest).toFixed(4)} (${percent(rest.reduce((s, r) => s + r.share, 0))} of the variance); --json lists all`,
        ]
      : []),
    ...(constant === 0 ? [] : [`corrections and nominal places add ${constant.toFixed(4)}`]),
    `sum: ${(sum(readings) + constant).toFixed(4)} ${unit}`,
    ...(stated.length > 0
      ? [
          '',
          `prior values, adding zero: ${stated.map((s) => `${s.what} ${percent(s.share)}`).join(', ')} of the variance`,
        ]
      : []),
  ].join('\n');
}

/** Both ends of the interval as sums that can be added up by hand. */
function endsText(
  { lower, upper }: NonNullable<Trace['characteristic']['ends']>,
  number: (v: number) => string,
): string {
  const [low, high] = [lower, upper].map((end) => endWords(end, number)) as [string, string];
  return `lower end ${low}; upper end ${high}`;
}

/** Columns as wide as they need to be. */
function columns(rows: readonly (readonly string[])[]): string {
  const widths = rows[0]!.map((_, k) => Math.max(...rows.map((row) => row[k]!.length)));
  return rows
    .map((row) =>
      row
        .map((cell, k) => (k < 2 ? cell.padEnd(widths[k]!) : cell.padStart(widths[k]!)))
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
}

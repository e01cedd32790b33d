/** register.html: one page that works from a disk, without a network, and without its script as plain tables. */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import Handlebars from 'handlebars';
import { visible } from '../../diagnostics/messages.js';
import { fontFaceCss } from '../../report/fonts.js';
import {
  judgedText,
  numberText,
  probabilityText,
  reportUnits,
  withUnit,
} from '../../report/format-quantity.js';
import { counted } from '../../report/sentence.js';
import { characteristicNames, referenceWords, verdictMarks, verdictWords } from '../../report/texts.js';
import { verdicts } from '../../results/results-schema.js';
import type { Register, RegisterRow, ReportedRow, WorstCharacteristic } from './register.js';

/** Beside src/ and beside dist/ alike. */
const read = (file: string): string =>
  readFileSync(new URL(`../../../templates/${file}`, import.meta.url), 'utf8');

interface Page {
  readonly render: (view: object) => string;
  readonly style: string;
  readonly script: string;
  /** The content security policy lets this script run and no other. */
  readonly scriptHash: string;
}

let page: Page | undefined;

/** Strict: a missing field throws. Text is escaped; only our own style sheet and script are not. */
function loadPage(): Page {
  const script = read('register.js');
  return {
    render: Handlebars.create().compile(read('register.hbs'), {
      strict: true,
      knownHelpersOnly: true,
      preventIndent: true,
    }),
    style: `${fontFaceCss()}\n${read('register.css')}`,
    script,
    scriptHash: `sha256-${createHash('sha256').update(script).digest('base64')}`,
  };
}

export function registerHtml(register: Register): string {
  const { render, style, script, scriptHash } = (page ??= loadPage());
  const { jobs, counts, software, whatIf } = register;
  const reported = jobs.filter((row): row is ReportedRow => row.status === 'reported');
  const others = jobs.filter((row) => row.status !== 'reported');
  return render({
    style,
    script,
    scriptHash,
    software: `${software.name} ${software.version}, method ${software.method}`,
    summary: summaryOf(counts),
    whatIf: whatIf === undefined ? null : whatIfText(whatIf),
    isIncomplete: counts.notDone + counts.failed > 0,
    verdicts: verdicts
      .filter((v) => counts.verdicts[v] > 0)
      .map((v) => ({ value: v, words: verdictWords[v] })),
    reported: reported.map(reportedView),
    others: others.map(otherView),
    machines: machinesOf(reported),
  });
}

export const whatIfText = ({ name, source }: NonNullable<Register['whatIf']>): string =>
  `What if: every job is judged by ${name === null ? 'a tolerance set' : `the tolerance set “${visible(name)}”`}${source === null ? '' : ` (${visible(source)})`} in place of its own. These are no acceptance reports, and replace none.`;

function summaryOf({ jobs, reported, refused, failed, notDone, verdicts: by }: Register['counts']): string[] {
  const some = (n: number, text: string) => (n === 0 ? [] : [text]);
  return [
    `${counted(jobs, 'job')}, ${reported} reported`,
    ...verdicts.flatMap((v) => some(by[v], `${by[v]} ${verdictWords[v]}`)),
    ...some(refused, `${refused} refused`),
    ...some(failed, `${failed} failed`),
    ...some(notDone, `${notDone} not reached`),
  ];
}

const none = '–';

function reportedView(row: ReportedRow) {
  const { machine, worst, readingsTaken, links } = row;
  const margin = worst?.margin ?? null;
  return {
    job: shown(row.job),
    html: linkTo(links.html),
    pdf: links.pdf === null ? '' : linkTo(links.pdf),
    results: linkTo(links.results),
    stations: linkTo(links.stations),
    title: shown(row.title),
    customer: shown(row.customer),
    site: shown(row.site),
    machine: shown(machine.name),
    serial: machine.serial === null ? '' : shown(machine.serial),
    date: shown(row.surveyed ?? readingsTaken.to),
    verdict: row.verdict,
    mark: verdictMarks[row.verdict],
    words: verdictWords[row.verdict],
    rank: verdicts.indexOf(row.verdict),
    worst: worst === null ? none : worstName(worst),
    figures: worst === null ? '' : worstFigures(worst),
    margin: margin === null ? none : marginText(margin),
    // Jobs without a margin sort behind all others.
    marginOrder: margin === null ? '' : String(margin),
    probability: worst === null || worst.probability === null ? '' : probabilityText(worst.probability),
    probabilityOrder: String(worst?.probability ?? ''),
    suspects: row.suspects,
    warnings: row.warnings,
  };
}

function worstName({ what, rail, reference, phase }: WorstCharacteristic): string {
  const by = reference === null || reference === 'least-squares' ? '' : `, ${referenceWords[reference]}`;
  return `${characteristicNames[what]}${by}, rail ${rail}${phase === 'as-found' ? ' (as found)' : ''}`;
}

const units = reportUnits({ length: 'mm', deviation: 'um', slope: 'um/m' });

function worstFigures({ value, u, limit, unit }: WorstCharacteristic): string {
  const shownUnit = unit === 'um' ? units.deviation : units.slope;
  if (value === null) return `not determined; limit ${withUnit(numberText(limit, 1), shownUnit)}`;
  const judged = { value: Math.abs(value), expanded: 2 * (u ?? 0), interval: null, limit, signed: false };
  const text = judgedText(judged, shownUnit);
  return `${text.value} of ${withUnit(text.limit!, shownUnit)}`;
}

/** Share of the limit that is left; never rounded to nought, which would hide on which side it lies. */
export function marginText(margin: number): string {
  const percent = margin * 100;
  const decimals = Math.abs(percent) < 9.5 ? 1 : 0;
  if (Math.abs(percent) >= 0.05 || percent === 0) return `${numberText(percent, decimals)} %`;
  return percent > 0 ? '< 0.1 %' : '> −0.1 %';
}

function otherView(row: Exclude<RegisterRow, ReportedRow>) {
  const base = { folder: shown(row.folder), job: shown(row.job) };
  if (row.status === 'not-done')
    return { ...base, what: 'not reached', problems: ['The run was stopped before.'] };
  if (row.status === 'failed') return { ...base, what: 'failed', problems: [visible(row.message)] };
  const more = row.problemCount - row.problems.length;
  const listed = row.problems.map(({ file, row: line, column, message }) => {
    const place = [file, line, column].filter((part) => part !== null && part !== '').join(': ');
    return visible(place === '' ? message : `${place}: ${message}`);
  });
  return { ...base, what: 'refused', problems: more > 0 ? [...listed, `and ${more} more`] : listed };
}

const shown = (text: string | null): string => (text === null || text === '' ? none : visible(text));

/** Each part written so that nothing in it can end the path, leave the folder's tree by a scheme, or ask a server. */
const linkTo = (path: string): string =>
  path
    .split('/')
    .map((part) => (part === '..' ? part : encodeURIComponent(part)))
    .join('/')
    .replace(/^(?!\.\.\/)/, './');

/** Machines that were surveyed more than once, by serial number, else by name. */
function machinesOf(rows: readonly ReportedRow[]) {
  const groups = new Map<string, ReportedRow[]>();
  for (const row of rows) {
    const { name, serial } = row.machine;
    if (serial === null && name === null) continue;
    const key = serial === null ? `name ${row.customer ?? ''} ${name}` : `serial ${serial}`;
    groups.set(key, [...(groups.get(key) ?? []), row]);
  }
  const day = (row: ReportedRow) => row.surveyed ?? row.readingsTaken.to ?? '';
  return [...groups.values()]
    .filter((group) => group.length > 1)
    .map((group) => ({
      name: shown(group.at(-1)!.machine.name),
      serial: group[0]!.machine.serial === null ? '' : shown(group[0]!.machine.serial),
      surveys: [...group].sort((a, b) => (day(a) < day(b) ? -1 : day(a) > day(b) ? 1 : 0)).map(reportedView),
    }));
}

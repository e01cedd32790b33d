/** The rows of the register for its page: every figure formatted, every text safe to print. */
import { confirmable } from '../../base/diagnostics/diagnostic.js';
import { visible } from '../../base/diagnostics/messages.js';
import {
  judgedText,
  numberText,
  probabilityText,
  unitFor,
  withUnit,
} from '../../results/words/format-quantity.js';
import { linkTo } from '../../pages/report/link.js';
import { confirmedWords, counted } from '../../pages/report/sentence.js';
import { identityName } from '../../results/identity.js';
import { verdictMarks, verdictWords } from '../../results/words/texts.js';
import { verdicts } from '../../results/results-schema.js';
import { surveyDay, type Machine } from './machines.js';
import { problemWords } from './problem-words.js';
import type { Register, RegisterRow, ReportedRow, WorstCharacteristic } from './register.js';
import { registerNaming, registerUnits } from './trend-pictures.js';

const none = '–';
/** Number of surveys of a machine that are listed: the latest ones. */
const MAX_LISTED = 50;

const shown = (text: string | null): string => (text === null || text === '' ? none : visible(text));

export function summaryOf({
  jobs,
  reported,
  refused,
  failed,
  notDone,
  verdicts: by,
}: Register['counts']): string[] {
  const ifAny = (n: number, text: string) => (n === 0 ? [] : [text]);
  return [
    `${counted(jobs, 'job')}, ${reported} reported`,
    ...verdicts.flatMap((v) => ifAny(by[v], `${by[v]} ${verdictWords[v]}`)),
    ...ifAny(refused, `${refused} refused`),
    ...ifAny(failed, `${failed} failed`),
    ...ifAny(notDone, `${notDone} not reached`),
  ];
}

/** @param machineId The machine's section in the page; null: the machine was surveyed once. */
export function reportedView(row: ReportedRow, machineId: string | null) {
  const { machine, worst, links } = row;
  // If nothing is decided, the margin to the limit means nothing.
  const margin = row.verdict === 'undecided' ? null : (worst?.margin ?? null);
  return {
    job: shown(row.job),
    issue: issueWords(row),
    html: linkTo(links.html),
    pdf: links.pdf === null ? '' : linkTo(links.pdf),
    results: linkTo(links.results),
    stations: linkTo(links.stations),
    title: shown(row.title),
    customer: shown(row.customer),
    site: shown(row.site),
    machine: shown(machine.name),
    serial: machine.serial === null ? '' : shown(machine.serial),
    machineId: machineId ?? '',
    date: shown(surveyDay(row)),
    verdict: row.verdict,
    mark: verdictMarks[row.verdict],
    words: `${verdictWords[row.verdict]}${confirmedWords(row)}`,
    unread: (row.unread ?? []).map(visible).join('; '),
    rank: verdicts.indexOf(row.verdict),
    worst: worst === null ? none : worstName(worst),
    figures: worst === null ? '' : worstFigures(worst),
    margin: margin === null ? none : marginText(margin),
    // Jobs without a margin come after all others.
    marginOrder: margin === null ? '' : String(margin),
    probability: worst === null || worst.probability === null ? '' : probabilityText(worst.probability),
    probabilityOrder: String(worst?.probability ?? ''),
    suspects: row.suspects,
    warnings: row.warnings,
  };
}

function issueWords({ issue }: ReportedRow): string {
  if (issue === undefined) return 'draft';
  const { standing, number, on } = issue;
  return standing === 'issued' ? `issued ${visible(number)}, ${on}` : `${standing}: ${visible(number)}`;
}

export const worstName = (worst: WorstCharacteristic): string =>
  `${identityName(worst, registerNaming)}${worst.phase === 'as-found' ? ' (as found)' : ''}`;

export function worstFigures(worst: WorstCharacteristic): string {
  const { value, u, limit } = worst;
  const unit = unitFor(registerUnits, worst.unit);
  if (value === null) return `not determined; limit ${withUnit(numberText(limit, 1), unit)}`;
  const judged = { value: Math.abs(value), expanded: 2 * (u ?? 0), interval: null, limit, signed: false };
  const text = judgedText(judged, unit);
  return `${text.value} of ${withUnit(text.limit!, unit)}`;
}

/** Share of the limit that is left; never rounded to zero, which would hide the side on which it is. */
export function marginText(margin: number): string {
  const percent = margin * 100;
  const decimals = Math.abs(percent) < 9.5 ? 1 : 0;
  if (Math.abs(percent) >= 0.05 || percent === 0) return `${numberText(percent, decimals)} %`;
  return percent > 0 ? '< 0.1 %' : '> −0.1 %';
}

const isConfirmable = (code: string): boolean => confirmable.some((known) => known === code);

export function otherView(row: Exclude<RegisterRow, ReportedRow>) {
  const base = { folder: shown(row.folder), job: shown(row.job) };
  if (row.status === 'not-done')
    return { ...base, what: 'not reached', problems: ['The run was stopped before.'] };
  if (row.status === 'failed') return { ...base, what: 'failed', problems: [visible(row.message)] };
  const isAsked = row.problems.length > 0 && row.problems.every(({ code }) => isConfirmable(code));
  const more = row.problemCount - row.problems.length;
  const listed = row.problems.map((problem) => visible(problemWords(problem)));
  return {
    ...base,
    what: isAsked ? 'to be confirmed' : 'refused',
    problems: more > 0 ? [...listed, `and ${more} more`] : listed,
  };
}

/** @param notes Notes about its picture. */
export function machineView(machine: Machine, id: string, picture: string, notes: readonly string[]) {
  const { name, serial, alsoAs, surveys } = machine;
  const listed = surveys.slice(-MAX_LISTED);
  return {
    id,
    name: shown(name),
    serial: serial === null ? '' : shown(serial),
    alsoAs: alsoAs.map(visible).join('; '),
    count: counted(surveys.length, 'survey'),
    picture,
    notes: [
      ...notes,
      ...(listed.length < surveys.length
        ? [`The latest ${listed.length} of ${surveys.length} surveys are listed.`]
        : []),
    ],
    surveys: listed.map(({ row }) => reportedView(row, id)),
  };
}

/** The rows of the register for its page: every figure formatted, every text safe to print. */
import { confirmable } from '../../base/diagnostics/diagnostic.js';
import { visible } from '../../base/diagnostics/messages.js';
import {
  judgedText,
  numberText,
  probabilityText,
  unitFor,
  withUnit,
  type DecimalMark,
} from '../../results/words/format-quantity.js';
import { linkTo } from '../../pages/report/link.js';
import { identityText, phaseText, verdictText } from '../../pages/words/names.js';
import { phrase, sentences } from '../../pages/words/phrases.js';
import type { MessageKey, Words } from '../../pages/words/words.js';
import { verdictMarks } from '../../results/words/texts.js';
import { verdicts } from '../../results/results-schema.js';
import { surveyDay, type Machine } from './machines.js';
import { problemWords } from './problem-words.js';
import type { Register, RegisterRow, ReportedRow, WorstCharacteristic } from './register.js';
import { registerNaming, registerUnits, type TrendPicture } from './trend-pictures.js';

const none = '–';
/** Number of surveys of a machine that are listed: the latest ones. */
const MAX_LISTED = 50;

const shown = (text: string | null): string => (text === null || text === '' ? none : visible(text));

export function summaryOf(
  { jobs, reported, refused, failed, notDone, verdicts: by }: Register['counts'],
  words: Words,
): string[] {
  const { say } = words;
  const ifAny = (count: number, key: MessageKey, more = {}) =>
    count === 0 ? [] : [say(key, { count, ...more })];
  return [
    say('register.count.jobs', { jobs, reported }),
    ...verdicts.flatMap((v) => ifAny(by[v], 'register.count.verdict', { verdict: verdictText(v, words) })),
    ...ifAny(refused, 'register.count.refused'),
    ...ifAny(failed, 'register.count.failed'),
    ...ifAny(notDone, 'register.count.not-done'),
  ];
}

/** @param machineId The machine's section in the page; null: the machine was surveyed once. */
export function reportedView(row: ReportedRow, machineId: string | null, words: Words) {
  const { machine, worst, links } = row;
  // If nothing is decided, the margin to the limit means nothing.
  const margin = row.verdict === 'undecided' ? null : (worst?.margin ?? null);
  return {
    job: shown(row.job),
    issue: issueWords(row, words),
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
    dayText: words.day(shown(surveyDay(row))),
    verdict: row.verdict,
    mark: verdictMarks[row.verdict],
    words: words.say('register.verdict', {
      verdict: verdictText(row.verdict, words),
      count: row.confirmed ?? 0,
    }),
    unread: (row.unread ?? []).map((text) => visible(phrase(text, words))).join('; '),
    rank: verdicts.indexOf(row.verdict),
    worst: worst === null ? none : worstName(worst, words),
    figures: worst === null ? '' : worstFigures(worst, words),
    margin: margin === null ? none : marginText(margin, words.mark),
    // Jobs without a margin come after all others.
    marginOrder: margin === null ? '' : String(margin),
    probability:
      worst === null || worst.probability === null ? '' : probabilityText(worst.probability, words.mark),
    probabilityOrder: String(worst?.probability ?? ''),
    suspects: row.suspects,
    warnings: row.warnings,
  };
}

function issueWords({ issue }: ReportedRow, { say, day }: Words): string {
  if (issue === undefined) return say('sheet.is-draft');
  const { standing, on } = issue;
  const number = visible(issue.number);
  return standing === 'issued'
    ? say('register.issued', { number, on: day(on) })
    : say('register.standing', { standing, number });
}

export function worstName(worst: WorstCharacteristic, words: Words): string {
  const name = identityText(worst, registerNaming, words);
  return worst.phase === 'as-found'
    ? words.say('register.worst.phase', { name, phase: phaseText('as-found', words) })
    : name;
}

export function worstFigures(worst: WorstCharacteristic, { say, number, mark }: Words): string {
  const { value, u, limit } = worst;
  const unit = unitFor(registerUnits(mark), worst.unit);
  if (value === null) return say('register.worst.open', { limit: withUnit(number(limit, 1), unit) });
  const judged = { value: Math.abs(value), expanded: 2 * (u ?? 0), interval: null, limit, signed: false };
  const text = judgedText(judged, unit);
  return say('register.worst.figures', { value: text.value, limit: withUnit(text.limit!, unit) });
}

/** Share of the limit that is left; never rounded to zero, which would hide the side on which it is. */
export function marginText(margin: number, mark: DecimalMark = '.'): string {
  const percent = margin * 100;
  const decimals = Math.abs(percent) < 9.5 ? 1 : 0;
  if (Math.abs(percent) >= 0.05 || percent === 0) return `${numberText(percent, decimals, { mark })} %`;
  return (percent > 0 ? '< 0.1 %' : '> −0.1 %').replace('.', mark);
}

const isConfirmable = (code: string): boolean => confirmable.some((known) => known === code);

export function otherView(row: Exclude<RegisterRow, ReportedRow>, words: Words) {
  const { say } = words;
  const base = { folder: shown(row.folder), job: shown(row.job) };
  if (row.status === 'not-done')
    return { ...base, what: say('register.not-reached'), problems: [say('register.stopped')] };
  if (row.status === 'failed')
    return { ...base, what: say('register.failed'), problems: [visible(row.message)] };
  const isAsked = row.problems.length > 0 && row.problems.every(({ code }) => isConfirmable(code));
  const more = row.problemCount - row.problems.length;
  const listed = row.problems.map((problem) =>
    visible(problemWords({ ...problem, message: sentences(problem.message, words) })),
  );
  return {
    ...base,
    what: isAsked ? say('follow.confirm') : say('register.refused'),
    problems: more > 0 ? [...listed, say('leave.more', { count: more })] : listed,
  };
}

export function machineView(
  machine: Machine,
  id: string,
  picture: Pick<TrendPicture, 'notes'> & { html: string },
  words: Words,
) {
  const { say } = words;
  const { name, serial, alsoAs, surveys } = machine;
  const listed = surveys.slice(-MAX_LISTED);
  return {
    id,
    name: say('register.machine', {
      name: shown(name),
      serial: serial === null ? 'none' : shown(serial),
      count: surveys.length,
    }),
    alsoAs: alsoAs.length === 0 ? '' : say('register.also-as', { names: alsoAs.map(visible).join('; ') }),
    picture: picture.html,
    notes: [
      ...picture.notes,
      ...(listed.length < surveys.length
        ? [say('register.listed', { shown: listed.length, all: surveys.length })]
        : []),
    ],
    surveys: listed.map(({ row }) => reportedView(row, id, words)),
  };
}

/** Changes → the plain texts that changes.hbs places, grouped by their causes. */
import { groupBy } from '../../base/lists.js';
import { english } from '../../pages/words/words.js';
import { visible } from '../../base/diagnostics/messages.js';
import {
  resultText,
  measuredWithUnit,
  numberText,
  plusMinus,
  probabilityText,
  roundTo,
  unitFor,
  withUnit,
  type ReportUnit,
} from '../../results/words/format-quantity.js';
import { identityName } from '../../results/identity.js';
import { limitWords } from '../../pages/report/sections/characteristic-names.js';
import { linkTo } from '../../pages/report/link.js';
import { counted } from '../../pages/report/sentence.js';
import { NOT_DETERMINED, phaseWords, verdictMarks } from '../../results/words/texts.js';
import { flippedIn, isFlipped } from './build-changes.js';
import { worstFigures, worstName } from '../register/register-view.js';
import { causesText, causeWords, countWords, styleOf, verdictText, type Style } from './change-words.js';
import {
  causes,
  type Cause,
  type Changes,
  type CharacteristicChange,
  type FigureChange,
  type JobChange,
  type JudgedFigures,
  type MovedField,
} from './changes-schema.js';

/** Number of rows of moved figures on the page, which a browser can still sort. changes.csv has all. */
const MAX_ROWS = 3_000;

interface Grouped {
  readonly causes: readonly Cause[];
}

/** Rows with the same causes under one heading: single causes first, in the order in which causes are style. */
function grouped<R extends Grouped>(rows: readonly R[]) {
  const groups = groupBy(rows, (row) => causesText(row.causes));
  const place = (list: readonly R[]) =>
    list[0]!.causes.reduce((sum, cause) => sum * 10 + causes.indexOf(cause), 0);
  const length = (list: readonly R[]) => list[0]!.causes.length;
  const ordered = [...groups].sort(([, a], [, b]) => length(a) - length(b) || place(a) - place(b));
  return ordered.map(([title, list]) => ({ title, count: list.length, rows: list }));
}

export function changesView(changes: Changes) {
  const { jobs, software, against, whatIf } = changes;
  const flips = jobs.flatMap(flipRows);
  const moves = jobs.flatMap(moveRows);
  const shown = moves.slice(0, MAX_ROWS);
  return {
    software: `${software.name} ${software.version}, method ${software.method}`,
    paper: paperOf(jobs),
    against: visible(against),
    whatIf:
      whatIf === undefined
        ? null
        : `The reports of this run are what-if reports${whatIf === null ? '' : `, judged by the tolerance set “${visible(whatIf)}”`} instead of the jobs’ own.`,
    isIncomplete: !changes.isComplete,
    summary: countWords(changes),
    rule: changes.rule,
    causes: changes.byCause.map((row) => ({ ...row, cause: causeWords[row.cause] })),
    causeNames: changes.byCause.map(({ cause }) => causeWords[cause]),
    jobFlips: grouped(jobs.filter(isFlipped).map(jobFlipRow)),
    flips: grouped(flips),
    moves: grouped(shown),
    movesLeftOut: moves.length > shown.length ? moves.length - shown.length : 0,
    redrawn: grouped(jobs.filter(({ status }) => status === 'redrawn').map(redrawnRow)),
    others: jobs.filter(isOutside).map(outsideRow),
    isAllSame: jobs.length === 0,
  };
}

/** The paper of most jobs. */
function paperOf(jobs: readonly JobChange[]): 'A4' | 'Letter' {
  const letters = jobs.filter(({ style }) => style?.paper === 'Letter').length;
  return letters * 2 > jobs.filter(({ style }) => style !== null).length ? 'Letter' : 'A4';
}

const jobCell = ({ job, style }: JobChange) => ({
  job: visible(job),
  /** Of this run's report; '' without one. */
  html: style === null ? '' : linkTo(`${job}/report.html`),
});

const jobFlipRow = (job: JobChange) => ({
  ...jobCell(job),
  causes: job.verdictCauses,
  before: verdictCell(job.verdict.before),
  after: verdictCell(job.verdict.after),
  characteristics: flipRows(job).length,
  customer: visible(job.about?.customer ?? ''),
  machine: visible(
    [job.about?.machine.name, job.about?.machine.serial]
      .filter((text) => typeof text === 'string')
      .join(', '),
  ),
  worst: job.about?.worst ? worstName(job.about.worst) : '',
  figures: job.about?.worst ? worstFigures(job.about.worst) : '',
  confirmed: confirmedText(job.confirmed),
});

function flipRows(job: JobChange) {
  return flippedIn(job).map((c) => ({
    ...jobCell(job),
    causes: c.verdictCauses,
    what: characteristicText(c, styleOf(job)),
    before: sideText(c.before, c, styleOf(job)),
    after: sideText(c.after, c, styleOf(job)),
  }));
}

/** How many findings a person confirmed, if the number differs. */
function confirmedText({ before, after }: JobChange['confirmed']): string {
  if (before === after) return after === 0 ? '' : `${after} confirmed by a person`;
  return `${after} confirmed by a person, before ${before}`;
}

const verdictCell = (verdict: JobChange['verdict']['before']) => ({
  mark: verdict === null ? '' : verdictMarks[verdict],
  css: verdict ?? 'none',
  words: verdictText(verdict),
});

function sideText(side: JudgedFigures | null, c: CharacteristicChange, style: Style) {
  if (side === null) return { mark: '', css: 'none', words: 'not asked for', figures: '' };
  return { ...verdictCell(side.verdict), figures: judgedFigures(side, c, style) };
}

/** "16.8 ± 5.6 µm of 15 µm, interval 8.0 to 19.0" */
function judgedFigures(side: JudgedFigures, { unit, signed }: CharacteristicChange, style: Style): string {
  const shownUnit = unitFor(style.units, unit);
  const limit = (text: string) =>
    withUnit(limitWords({ ...side, signed }, text, shownUnit, english), shownUnit);
  if (side.value === null)
    return side.limit === null
      ? NOT_DETERMINED
      : `${NOT_DETERMINED}, limit ${limit(numberText(shownUnit.fromBase(side.limit), shownUnit.decimals))}`;
  const { value, u, interval } = side;
  const text = resultText({ value, u, interval, limit: side.limit, signed }, style.k, shownUnit);
  const ends = text.interval === null ? '' : `, interval ${text.interval[0]} to ${text.interval[1]}`;
  return `${withUnit(plusMinus(text), shownUnit)}${text.limit === null ? '' : ` of ${limit(text.limit)}`}${ends}`;
}

const characteristicText = (c: CharacteristicChange, { naming }: Style): string =>
  `${identityName(c, naming)}, ${phaseWords(c.phase)}`;

const fieldWords: Record<MovedField, string> = {
  verdict: 'verdict',
  value: 'value',
  u: 'uncertainty',
  interval: 'interval',
  limit: 'limit',
  probability: 'probability',
};

function moveRows(job: JobChange) {
  const style = styleOf(job);
  const rows = job.characteristics.map((c) => ({
    ...jobCell(job),
    causes: c.causes,
    what: characteristicText(c, style),
    before: movedSide(c.before, c, style),
    after: movedSide(c.after, c, style),
    ...by(c.before?.value ?? null, c.after?.value ?? null, unitFor(style.units, c.unit)),
    moved:
      c.before === null ? 'new' : c.after === null ? 'gone' : c.moved.map((f) => fieldWords[f]).join(', '),
  }));
  const [most] = job.figures.listed;
  return most === undefined ? rows : [...rows, figuresRow(job, most, style)];
}

function movedSide(side: JudgedFigures | null, c: CharacteristicChange, style: Style): string {
  if (side === null) return 'not asked for';
  const chance = side.probability === null ? '' : `, probability ${probabilityText(side.probability)}`;
  return `${judgedFigures(side, c, style)}${chance}`;
}

/** All figures of the stations and set-ups of a job in one row, by the most moved of them. */
function figuresRow(job: JobChange, most: FigureChange, style: Style) {
  const unit = unitFor(style.units, most.unit);
  const side = (figure: FigureChange['before']) =>
    figure === null
      ? 'not there'
      : figure.value === null
        ? NOT_DETERMINED
        : measuredWithUnit(figure.value, style.k * (figure.u ?? 0), unit, { signed: true });
  const of = most.of === 'station' ? 'station' : 'set-up';
  return {
    ...jobCell(job),
    causes: job.figures.causes,
    what: `${counted(job.figures.count, 'figure')} of stations and set-ups; most moved: ${most.quantity} of ${of} ${visible(most.name)}, ${phaseWords(most.phase)}`,
    before: side(most.before),
    after: side(most.after),
    ...by(most.before?.value ?? null, most.after?.value ?? null, unit),
    moved: 'value or uncertainty',
  };
}

/** Change of a value, to two digits. */
function by(before: number | null, after: number | null, unit: ReportUnit) {
  if (before === null || after === null || before === after) return { by: '', byOrder: '' };
  const moved = unit.fromBase(after - before);
  const decimals = Math.min(9, 1 - Math.floor(Math.log10(Math.abs(moved))));
  // A smaller change is no change of the value: its interval or its limit has changed.
  if (roundTo(moved, decimals) === 0) return { by: '', byOrder: '' };
  return {
    by: withUnit(numberText(moved, decimals, { signed: true }), unit),
    byOrder: String(Math.abs(after - before)),
  };
}

const redrawnRow = (job: JobChange) => ({
  ...jobCell(job),
  causes: job.causes,
  ...verdictCell(job.verdict.after),
  others: othersText(job),
});

const othersText = ({ others }: JobChange): string =>
  others.map(({ part, count }) => `${visible(part)}: ${counted(count, 'place')}`).join('; ');

const statusWords: Record<JobChange['status'], string> = {
  appeared: 'new: there is no earlier report',
  vanished: 'gone: no job of this run has its id',
  'not-reported': 'not reported by this run',
  'not-compared': 'not compared',
  changed: 'compared',
  redrawn: 'compared',
  same: 'compared: the same',
};

const isOutside = ({ status, damage }: JobChange): boolean =>
  damage.length > 0 || !['changed', 'redrawn', 'same'].includes(status);

const outsideRow = (job: JobChange) => ({
  ...jobCell(job),
  what: statusWords[job.status],
  // The verdict of a damaged report cannot be relied on.
  before: job.status === 'not-compared' ? 'not known' : verdictText(job.verdict.before),
  after: verdictText(job.verdict.after),
  notes: [
    ...(job.note === null ? [] : [visible(job.note)]),
    ...job.damage.map((line) => `Earlier report: ${visible(line)}`),
  ],
});

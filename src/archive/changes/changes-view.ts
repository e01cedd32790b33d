/** Changes → the plain texts that changes.hbs places, grouped by their causes. */
import { groupBy } from '../../base/lists.js';
import { wordsOf } from '../../pages/words/languages.js';
import { phaseText } from '../../pages/words/names.js';
import { phrase } from '../../pages/words/phrases.js';
import type { Words } from '../../pages/words/words.js';
import { visible } from '../../base/diagnostics/messages.js';
import {
  measuredWithUnit,
  probabilityText,
  roundTo,
  unitFor,
  withUnit,
  type ReportUnit,
} from '../../results/words/format-quantity.js';
import {
  characteristicText,
  judgedText,
  sideText,
  styleOf,
  verdictCell,
  verdictOrNone,
  type Style,
} from '../../pages/report/sections/judged-change.js';
import type { JudgedFigures } from '../../results/results-schema.js';
import { linkTo } from '../../pages/report/link.js';
import { flippedIn, isFlipped } from './build-changes.js';
import { worstFigures, worstName } from '../register/register-view.js';
import { causesText, causeText, countWords } from './change-words.js';
import {
  causes,
  type Cause,
  type Changes,
  type CharacteristicChange,
  type FigureChange,
  type JobChange,
} from './changes-schema.js';

/** Number of rows of moved figures on the page, which a browser can still sort. changes.csv has all. */
const MAX_ROWS = 3_000;

interface Grouped {
  readonly causes: readonly Cause[];
}

/** Rows with the same causes under one heading: single causes first, in the order in which causes are style. */
function grouped<R extends Grouped>(rows: readonly R[], words: Words) {
  const groups = groupBy(rows, (row) => causesText(row.causes, words));
  const place = (list: readonly R[]) =>
    list[0]!.causes.reduce((sum, cause) => sum * 10 + causes.indexOf(cause), 0);
  const length = (list: readonly R[]) => list[0]!.causes.length;
  const ordered = [...groups].sort(([, a], [, b]) => length(a) - length(b) || place(a) - place(b));
  return ordered.map(([title, list]) => ({
    title: words.say('changes.because', { cause: title, count: list.length }),
    rows: list,
  }));
}

export function changesView(changes: Changes, words = wordsOf(changes.language ?? 'en')) {
  const { say } = words;
  const { jobs, software, against, whatIf } = changes;
  const flips = jobs.flatMap((job) => flipRows(job, words));
  const moves = jobs.flatMap((job) => moveRows(job, words));
  const shown = moves.slice(0, MAX_ROWS);
  return {
    software: say('software', software),
    paper: paperOf(jobs),
    against: visible(against),
    whatIf:
      whatIf === undefined
        ? null
        : say('changes.what-if', { set: whatIf === null ? 'none' : visible(whatIf) }),
    isIncomplete: !changes.isComplete,
    summary: countWords(changes, words),
    rule: phrase(changes.rule, words),
    causes: changes.byCause.map((row) => ({ ...row, cause: causeText(row.cause, words) })),
    causeNames: changes.byCause.map(({ cause }) => causeText(cause, words)),
    jobFlips: grouped(
      jobs.filter(isFlipped).map((job) => jobFlipRow(job, words)),
      words,
    ),
    flips: grouped(flips, words),
    moves: grouped(shown, words),
    movesLeftOut: moves.length > shown.length ? moves.length - shown.length : 0,
    redrawn: grouped(
      jobs.filter(({ status }) => status === 'redrawn').map((job) => redrawnRow(job, words)),
      words,
    ),
    others: jobs.filter(isOutside).map((job) => outsideRow(job, words)),
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

const jobFlipRow = (job: JobChange, words: Words) => ({
  ...jobCell(job),
  causes: job.verdictCauses,
  before: verdictCell(job.verdict.before, words),
  after: verdictCell(job.verdict.after, words),
  characteristics: flipRows(job, words).length,
  customer: visible(job.about?.customer ?? ''),
  machine: visible(
    [job.about?.machine.name, job.about?.machine.serial]
      .filter((text) => typeof text === 'string')
      .join(', '),
  ),
  worst: job.about?.worst ? worstName(job.about.worst, words) : '',
  figures: job.about?.worst ? worstFigures(job.about.worst, words) : '',
  confirmed: confirmedText(job.confirmed, words),
});

function flipRows(job: JobChange, words: Words) {
  const style = styleOf(job, words);
  return flippedIn(job).map((c) => ({
    ...jobCell(job),
    causes: c.verdictCauses,
    what: characteristicText(c, style),
    before: sideText(c.before, c, style),
    after: sideText(c.after, c, style),
  }));
}

/** How many findings a person confirmed, if the number differs. */
const confirmedText = ({ before, after }: JobChange['confirmed'], { say }: Words): string =>
  before === after && after === 0
    ? ''
    : say('changes.confirmed', { after, before: before === after ? 'same' : String(before) });

function moveRows(job: JobChange, words: Words) {
  const { say } = words;
  const style = styleOf(job, words);
  const rows = job.characteristics.map((c) => ({
    ...jobCell(job),
    causes: c.causes,
    what: characteristicText(c, style),
    before: movedSide(c.before, c, style),
    after: movedSide(c.after, c, style),
    ...by([c.before?.value ?? null, c.after?.value ?? null], unitFor(style.units, c.unit), words),
    moved:
      c.before === null
        ? say('changes.field.new')
        : c.after === null
          ? say('changes.field.gone')
          : c.moved.map((f) => say(`changes.field.${f}`)).join(', '),
  }));
  const [most] = job.figures.listed;
  return most === undefined ? rows : [...rows, figuresRow(job, most, style)];
}

function movedSide(side: JudgedFigures | null, c: CharacteristicChange, style: Style): string {
  if (side === null) return style.say('changes.not-asked');
  const figure = judgedText(side, c, style);
  return side.probability === null
    ? figure
    : style.say('changes.with-probability', { figure, share: probabilityText(side.probability, style.mark) });
}

/** All figures of the stations and set-ups of a job in one row, by the most moved of them. */
function figuresRow(job: JobChange, most: FigureChange, style: Style) {
  const unit = unitFor(style.units, most.unit);
  const side = (figure: FigureChange['before']) =>
    figure === null
      ? style.say('changes.not-there')
      : figure.value === null
        ? style.say('not-determined')
        : measuredWithUnit(figure.value, style.k * (figure.u ?? 0), unit, { signed: true });
  return {
    ...jobCell(job),
    causes: job.figures.causes,
    what: style.say('changes.stations', {
      count: job.figures.count,
      quantity: most.quantity,
      of: most.of === 'station' ? 'station' : 'set-up',
      name: visible(most.name),
      phase: phaseText(most.phase, style),
    }),
    before: side(most.before),
    after: side(most.after),
    ...by([most.before?.value ?? null, most.after?.value ?? null], unit, style),
    moved: style.say('changes.value-or-u'),
  };
}

/** Change of a value, to two digits. */
function by([before, after]: readonly [number | null, number | null], unit: ReportUnit, { number }: Words) {
  if (before === null || after === null || before === after) return { by: '', byOrder: '' };
  const moved = unit.fromBase(after - before);
  const decimals = Math.min(9, 1 - Math.floor(Math.log10(Math.abs(moved))));
  // A smaller change is no change of the value: its interval or its limit has changed.
  if (roundTo(moved, decimals) === 0) return { by: '', byOrder: '' };
  return {
    by: withUnit(number(moved, decimals, { signed: true }), unit),
    byOrder: String(Math.abs(after - before)),
  };
}

const redrawnRow = (job: JobChange, words: Words) => ({
  ...jobCell(job),
  causes: job.causes,
  ...verdictCell(job.verdict.after, words),
  others: othersText(job, words),
});

const othersText = ({ others }: JobChange, { say }: Words): string =>
  others.map(({ part, count }) => say('changes.places', { part: visible(part), count })).join('; ');

const STATUS = {
  appeared: 'appeared',
  vanished: 'vanished',
  'not-reported': 'not-reported',
  'not-compared': 'not-compared',
  changed: 'compared',
  redrawn: 'compared',
  same: 'same',
} as const satisfies Record<JobChange['status'], string>;

const isOutside = ({ status, damage }: JobChange): boolean =>
  damage.length > 0 || !['changed', 'redrawn', 'same'].includes(status);

const outsideRow = (job: JobChange, words: Words) => ({
  ...jobCell(job),
  what: words.say(`changes.status.${STATUS[job.status]}`),
  // The verdict of a damaged report cannot be relied on.
  before:
    job.status === 'not-compared' ? words.say('changes.not-known') : verdictOrNone(job.verdict.before, words),
  after: verdictOrNone(job.verdict.after, words),
  notes: [
    ...(job.note === null ? [] : [visible(phrase(job.note, words))]),
    ...job.damage.map((line) => words.say('changes.earlier', { line: visible(line) })),
  ],
});

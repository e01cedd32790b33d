/**
 * The correction sheet: made to be taped to a machine and read in gloves. One rail after the other, each on a page of its
 * own; per move a box to tick and a line to write what was done. Also the plan as a table file.
 */
import { stringify } from 'csv-stringify/sync';
import type { CorrectionPlan, Results } from '../results/results-schema.js';
import { guarded } from './csv-cell.js';
import { plainNumber, positionText, unitFor, withUnit } from './format-quantity.js';
import { figuresOf, type Figures } from './figures.js';
import { sheetPage } from './sheet-page.js';
import { inSentence, datumId, railTitle } from './sections/characteristic-names.js';
import { CAUTIONS, verdictWords } from './texts.js';

type Move = CorrectionPlan['moves'][number];

/** The plan among the results; null: the job has no adjusters. */
export function planOf({ corrections: c }: Results): CorrectionPlan | null {
  const { status, want, margin, gap, moves, predicted } = c;
  if (!status || !want || margin === undefined || gap === undefined || !moves || !predicted) return null;
  return { status, want, margin, gap, moves, predicted, ...(c.why !== undefined && { why: c.why }) };
}

const DIRECTIONS = {
  vertical: { plus: ['\u2191', 'UP'], minus: ['\u2193', 'DOWN'] },
  horizontal: { plus: ['\u2190', 'LEFT'], minus: ['\u2192', 'RIGHT'] },
} as const;

export const directionOf = ({ axis, move }: Move): readonly [arrow: string, word: string] =>
  DIRECTIONS[axis][move > 0 ? 'plus' : 'minus'];

/** A crew's figure: no dial on a rail reads finer than a micrometre, or a twentieth of a thou. */
export function amountText({ move }: Move, figures: Figures): string {
  const unit = unitFor(figures.units, 'um');
  const size = Math.abs(unit.fromBase(move));
  const text = move === 0 ? '0' : size < 10 ? size.toFixed(1) : size.toFixed(0);
  return withUnit(text, unit);
}

/** "1 1/4 turns", to an eighth: finer no hand turns a screw. */
export function turnsText(turns: number): string {
  const eighths = Math.round(Math.abs(turns) * 8);
  if (eighths === 0) return 'less than 1/8 turn, by the dial';
  const [whole, rest] = [Math.floor(eighths / 8), eighths % 8];
  const divisor = rest % 4 === 0 ? 4 : rest % 2 === 0 ? 2 : 1;
  const fraction = rest === 0 ? '' : `${rest / divisor}/${8 / divisor}`;
  const number = [whole === 0 ? '' : String(whole), fraction].filter(Boolean).join(' ');
  return `about ${number} turn${eighths > 8 ? 's' : ''}`;
}

/** "add 0.05 + 0.02 mm, take out 0.1 mm" */
export function shimsText({ add, take }: NonNullable<Move['shims']>, figures: Figures): string {
  const unit = unitFor(figures.units, 'um').label === 'thou' ? 25.4 : 1000;
  const label = unit === 25.4 ? 'thou' : 'mm';
  const list = (sheets: readonly number[]) =>
    `${sheets.map((um) => String(Number((um / unit).toPrecision(4)))).join(' + ')} ${label}`;
  return [add.length > 0 ? `add ${list(add)}` : '', take.length > 0 ? `take out ${list(take)}` : '']
    .filter(Boolean)
    .join(', ');
}

/** What to do at the adjuster, beside the direction and the amount. */
export function howText(move: Move, figures: Figures): string {
  return [
    move.shims ? shimsText(move.shims, figures) : '',
    move.turns === undefined ? '' : turnsText(move.turns),
    move.forceN === undefined || Math.abs(move.forceN) < 50
      ? ''
      : `force ${move.forceN > 0 ? '+' : '\u2212'}${(Math.abs(move.forceN) / 1000).toFixed(1)} kN`,
  ]
    .filter(Boolean)
    .join('; ');
}

export const statusText = (plan: CorrectionPlan): string => {
  const aim = {
    'fewest-moves': 'the fewest adjusters after which every tolerance holds, uncertainty included',
    'level-and-straight': 'rails level and straight',
    straight: 'rails straight, at the slope that they have',
    'parallel-to-datum': 'rails parallel to the datum rail as it lies',
  }[plan.want];
  const margin =
    plan.margin > 0 ? `, ${Math.round(100 * plan.margin)}\u00a0% of each limit kept in hand` : '';
  if (plan.status === 'impossible')
    return `Not everything can be had (wanted: ${aim}${margin}). In the way: ${plan.why ?? ''}. These moves come nearest.`;
  if (plan.moves.length === 0) return `Nothing has to be moved (wanted: ${aim}${margin}).`;
  const found =
    plan.status === 'best' ? '' : ' The search ended at its time limit: a shorter list may exist.';
  return `Wanted: ${aim}${margin}.${found}`;
};

export function correctionsCsv(plan: CorrectionPlan): string {
  const header = 'adjuster,rail,along_mm,axis,move_um,turns,shims_add_um,shims_take_um,force_n'.split(',');
  const number = (v: number | undefined) => (v === undefined ? '' : plainNumber(v));
  return stringify([
    header,
    ...plan.moves.map((m) => [
      guarded(m.adjuster),
      guarded(m.rail),
      plainNumber(m.along),
      m.axis,
      plainNumber(m.move),
      number(m.turns),
      m.shims?.add.map(plainNumber).join(' ') ?? '',
      m.shims?.take.map(plainNumber).join(' ') ?? '',
      number(m.forceN),
    ]),
  ]);
}

const SHORT_PLAN = 10;

/** @returns null: nothing is to be moved. */
export function correctionSheet(results: Results): string | null {
  const plan = planOf(results);
  if (plan === null || plan.moves.length === 0) return null;
  const figures = figuresOf(results);
  const rails = results.survey.rails
    .map((own) => ({
      title: railTitle(own),
      moves: plan.moves
        .filter(({ rail }) => rail === own.id)
        .sort((a, b) => a.along - b.along || a.axis.localeCompare(b.axis))
        .map((move) => {
          const [arrow, word] = directionOf(move);
          return {
            adjuster: move.adjuster,
            place: withUnit(positionText(move.along, figures.units.length), figures.units.length),
            arrow,
            word,
            amount: amountText(move, figures),
            how: howText(move, figures),
          };
        }),
    }))
    .filter(({ moves }) => moves.length > 0);
  const datum = datumId(results);
  const predicted = plan.predicted
    .filter((c) => c.limit !== null)
    .map((c) => `${inSentence(c, datum, figures)}: ${verdictWords[c.verdict].toLowerCase()}`);
  const software = `${results.software.name} ${results.software.version}`;
  const view = {
    job: results.job,
    title: results.subject.title ?? results.job,
    software,
    intro: statusText(plan),
    // A short plan stays together; of a longer one each rail has a page, which the crew takes along.
    css: plan.moves.length > SHORT_PLAN ? 'long' : '',
    rails,
    predicted,
    cautions: CAUTIONS,
  };
  const title = `Correction sheet ${results.job}`;
  return sheetPage('corrections', view, {
    paper: results.style.paper,
    printPt: 9,
    title,
    software,
    note: '',
  });
}

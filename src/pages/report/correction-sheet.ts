/**
 * The correction sheet: made to be taped to a machine and read in gloves. One rail after the other, each on a page of its
 * own; per move a box to tick and a line to write what was done. Also the plan as a table file.
 */
import { isDraft, reportNumber } from './document-title.js';
import { stringify } from 'csv-stringify/sync';
import type { CorrectionPlan, Results } from '../../results/results-schema.js';
import { guarded } from './csv-cell.js';
import {
  numberText,
  plainNumber,
  positionText,
  trimmedText,
  unitFor,
  withUnit,
} from '../../results/words/format-quantity.js';
import { figuresOf, lastPhase, type Figures } from './figures.js';
import { sheetPage } from './sheet-page.js';
import { inSentence, datumId, railTitle } from './sections/characteristic-names.js';
import { CAUTIONS, verdictWords } from '../../results/words/texts.js';

type Move = CorrectionPlan['moves'][number];

/** The plan among the results; null: there is none. */
export function planOf({ corrections: c }: Results): CorrectionPlan | null {
  const { status, of, want, margin, gap, moves, predicted } = c;
  if (!status || !of || !want || margin === undefined || gap === undefined || !moves || !predicted)
    return null;
  return { ...c, status, of, want, margin, gap, moves, predicted };
}

const DIRECTIONS = {
  up: ['\u2191', 'UP'],
  down: ['\u2193', 'DOWN'],
  left: ['\u2190', 'LEFT'],
  right: ['\u2192', 'RIGHT'],
  ahead: ['\u2191', 'AHEAD'],
  back: ['\u2193', 'BACK'],
} as const;

/** A cross rail goes ahead and back where another goes left and right. */
export function directionOf(
  { axis, move }: Move,
  direction: 'along' | 'across',
): readonly [arrow: string, word: string] {
  const [plus, minus] =
    axis === 'vertical'
      ? (['up', 'down'] as const)
      : direction === 'along'
        ? (['left', 'right'] as const)
        : (['ahead', 'back'] as const);
  return DIRECTIONS[move > 0 ? plus : minus];
}

/** In how many goes the moves are made, and why; null: in one. */
export function roundsText({ order = [], coarseShare }: CorrectionPlan): string | null {
  const most = Math.max(1, ...order.map(({ rounds }) => rounds));
  return (
    [
      coarseShare === undefined
        ? ''
        : `These moves are large against what the targets can read: make ${Math.round(100 * coarseShare)}\u00a0% of each first, set to nought, read again and plan the rest from that survey.`,
      most > 1
        ? `In up to ${most} rounds, so that the rail is never bent more than it lies now: in each round every screw of a rail goes the same share of its way, in the order of the list; sheets go in whole in the first.`
        : '',
    ]
      .filter(Boolean)
      .join(' ') || null
  );
}

/** A crew's figure: a micrometre is as fine as any dial on a rail reads; below ten of them a tenth more. */
export function amountText({ move }: Move, figures: Figures): string {
  const unit = unitFor(figures.units, 'um');
  const size = Math.abs(unit.fromBase(move));
  const fine = Math.max(0, Math.ceil(-Math.log10(unit.fromBase(1)) - 1e-9));
  return withUnit(numberText(size, fine === 0 && size < 10 ? 1 : fine), unit);
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

export function statusText(plan: CorrectionPlan, results: Results, figures: Figures): string {
  const least = plan.of === 'stations' ? 'the least movement' : 'the fewest adjusters';
  const aim = {
    'fewest-moves': `${least} after which every tolerance holds, uncertainty included`,
    'level-and-straight': 'rails level and straight',
    straight: 'rails straight, at the slope that they have',
    'parallel-to-datum': 'rails parallel to the datum rail as it lies',
  }[plan.want];
  const margin =
    plan.margin > 0 ? `, ${Math.round(100 * plan.margin)}\u00a0% of each limit kept in hand` : '';
  if (plan.status === 'impossible')
    return `Not everything can be had (wanted: ${aim}${margin}). In the way: ${missedText(plan, results, figures)}. These moves come nearest.`;
  if (plan.moves.length === 0) return `Nothing has to be moved (wanted: ${aim}${margin}).`;
  const found =
    plan.status === 'best'
      ? ''
      : ` The search ended at its limit: a better list may exist${plan.gap === null ? '' : `, by ${Math.ceil(100 * plan.gap)}\u00a0% at most`}.`;
  const looked =
    plan.want === 'fewest-moves' && plan.of === 'adjusters'
      ? ' Moves larger than twice what the least movement needs were not tried.'
      : '';
  return `Wanted: ${aim}${margin}.${looked}${found}`;
}

function missedText({ missed = [], why }: CorrectionPlan, results: Results, figures: Figures): string {
  if (missed.length === 0) return why ?? '';
  const { characteristics } = lastPhase(results).phase;
  return missed
    .map(({ characteristic, by, unit, coarse }) => {
      const name = inSentence(characteristics[characteristic]!, datumId(results), figures);
      const printed = unitFor(figures.units, unit);
      const text = (value: number) => withUnit(trimmedText(printed.fromBase(value), 1), printed);
      const length = figures.units.length;
      return `${name} misses its limit by ${text(by)}${coarse ? `, and however far they could go, adjusters ${withUnit(positionText(1000 * coarse.apartM, length), length)} apart leave it at ${text(coarse.leaves)}: they are coarser than the shape` : ''}`;
    })
    .join('; ');
}

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

/** The moves of a rail in the order in which they are made: in height first, then sideways. */
function inOrder({ moves, order = [] }: CorrectionPlan, rail: string): Move[] {
  const place = ({ adjuster, axis }: Move): number => {
    const [k, part] = [...order.entries()].find(
      ([, o]) => o.rail === rail && o.axis === axis && o.adjusters.includes(adjuster),
    ) ?? [order.length, { adjusters: [] as string[] }];
    return 1e4 * k + part.adjusters.indexOf(adjuster);
  };
  return moves.filter((move) => move.rail === rail).sort((a, b) => place(a) - place(b));
}

/** How a rail is brought there without bending it more than it is bent now. */
function roundsOf({ order = [] }: CorrectionPlan, rail: string): string {
  const rounds = Math.max(1, ...order.filter((o) => o.rail === rail).map((o) => o.rounds));
  return rounds === 1
    ? 'In this order, each move as a whole, no support left hanging.'
    : `In ${rounds} rounds: in each, every screw in this order by ${rounds === 2 ? 'half' : `one ${ordinal(rounds)}`} of its move; sheets whole in the first; no support left hanging.`;
}

const ordinal = (n: number): string =>
  ({ 3: 'third', 4: 'quarter', 6: 'sixth', 8: 'eighth', 12: 'twelfth', 16: 'sixteenth' })[n] ?? `${n}th`;

const ONE_WAY_CAUTION = {
  lead: 'One way only.',
  text: 'A jack that only lifts and a screw that only pushes hold nothing: slacken what stands against a screw before it pushes, and pack and clamp behind it.',
};

/** @returns null: nothing is to be moved. */
export function correctionSheet(results: Results): string | null {
  const plan = planOf(results);
  if (plan === null || plan.of === 'stations' || plan.moves.length === 0) return null;
  const figures = figuresOf(results);
  const rails = results.survey.rails
    .map((own) => ({
      title: railTitle(own),
      rounds: roundsOf(plan, own.id),
      moves: inOrder(plan, own.id).map((move, k) => {
        const [arrow, word] = directionOf(move, own.direction);
        return {
          number: k + 1,
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
    intro: [statusText(plan, results, figures), roundsText({ ...plan, order: [] })].filter(Boolean).join(' '),
    // A short plan stays together; of a longer one each rail has a page, which the crew takes along.
    css: plan.moves.length > SHORT_PLAN ? 'long' : '',
    rails,
    predicted,
    cautions: [...CAUTIONS, ONE_WAY_CAUTION],
  };
  const title = `Correction sheet ${reportNumber(results)}${isDraft(results) ? ', draft' : ''}`;
  return sheetPage('corrections', view, {
    paper: results.style.paper,
    printPt: 9,
    title,
    software,
    note: '',
  });
}

/**
 * The correction sheet: it goes to the machine, is read in gloves and is written on. The moves are those of the report, in
 * the same order and with the same numbers. Also the plan as a table file.
 */
import { stringify } from 'csv-stringify/sync';
import type { CorrectionPlan, Results } from '../../results/results-schema.js';
import {
  numberText,
  plainNumber,
  plusMinus,
  positionText,
  resultText,
  trimmedText,
  unitFor,
  withUnit,
} from '../../results/words/format-quantity.js';
import { CAUTIONS, verdictMarks, verdictWords } from '../../results/words/texts.js';
import { guarded } from './csv-cell.js';
import { isDraft, reportNumber } from './document-title.js';
import { figuresOf, lastPhase, type Figures } from './figures.js';
import { machineSketch } from './machine-sketch.js';
import { datumId, inSentence, limitWords, railTitle } from './sections/characteristic-names.js';
import { sheetPage } from './sheet-page.js';

type Move = CorrectionPlan['moves'][number];

/** The plan among the results; null: there is none. */
export function planOf({ corrections: c }: Results): CorrectionPlan | null {
  const { status, of, want, margin, gap, moves, predicted } = c;
  if (!status || !of || !want || margin === undefined || gap === undefined || !moves || !predicted)
    return null;
  return { ...c, status, of, want, margin, gap, moves, predicted };
}

const ARROWS = {
  raise: '\u2191',
  lower: '\u2193',
  left: '\u2190',
  right: '\u2192',
  ahead: '\u2191',
  back: '\u2193',
} as const;

/** A cross rail goes ahead and back where another goes left and right. */
export function directionOf(
  { axis, move }: Move,
  direction: 'along' | 'across',
): readonly [arrow: string, word: string] {
  const [plus, minus] =
    axis === 'vertical'
      ? (['raise', 'lower'] as const)
      : direction === 'along'
        ? (['left', 'right'] as const)
        : (['ahead', 'back'] as const);
  const word = move > 0 ? plus : minus;
  return [ARROWS[word], word];
}

/** In how many goes the moves are made, and why; null: in one. */
export function roundsText({ moves, coarseShare }: CorrectionPlan): string | null {
  const most = Math.max(1, ...moves.map(({ rounds = 1 }) => rounds));
  return (
    [
      coarseShare === undefined
        ? ''
        : `These moves are large for the range of the targets. Make ${Math.round(100 * coarseShare)}\u00a0% of each first, survey again, and plan the rest from that survey.`,
      most > 1
        ? 'Where there is more than one round, go through all places of the rail in each round, each by an equal share: so the rail is bent least. Sheets go in whole in the first round.'
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

/** From this share of a turn on, a screw is turned by sixteenths; below it by the angle, and the dial decides. */
const SIXTEENTH = 1 / 16;

/** "1 3/16 turns"; "under 1/16 turn (12°)". */
export function turnsText(turns: number): string {
  const size = Math.abs(turns);
  const degrees = `${Math.max(1, Math.round(360 * size))}°`;
  if (size < SIXTEENTH) return `under 1/16 turn (${degrees})`;
  const sixteenths = Math.round(size * 16);
  const [whole, rest] = [Math.floor(sixteenths / 16), sixteenths % 16];
  const divisor = [16, 8, 4, 2, 1].find((d) => rest % d === 0)!;
  const fraction = rest === 0 ? '' : `${rest / divisor}/${16 / divisor}`;
  const number = [whole === 0 ? '' : String(whole), fraction].filter(Boolean).join(' ');
  return `${number} turn${sixteenths > 16 ? 's' : ''}${size < 1 ? ` (${degrees})` : ''}`;
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

/** Below this a change of force is not worth a word, N. */
const LEAST_FORCE = 50;

const forceText = (newton: number): string =>
  `${(Math.abs(newton) / 1000).toFixed(1)}\u00a0kN ${newton > 0 ? 'more' : 'less'}`;

/** What to do at the adjuster, next to the direction and the amount. */
export function howText(move: Move, figures: Figures): string {
  return [
    move.shims ? shimsText(move.shims, figures) : '',
    move.turns === undefined ? '' : turnsText(move.turns),
    move.forceN === undefined || Math.abs(move.forceN) < LEAST_FORCE ? '' : forceText(move.forceN),
  ]
    .filter(Boolean)
    .join('; ');
}

const WANTED = {
  'fewest-moves': 'every tolerance holds, uncertainty included, with the fewest moves',
  'level-and-straight': 'rails level and straight',
  straight: 'rails straight, at the slope that they have',
  'parallel-to-datum': 'rails parallel to the datum rail as it lies',
} as const;

export function statusText(plan: CorrectionPlan, results: Results, figures: Figures): string {
  const margin =
    plan.margin > 0 ? `, and ${Math.round(100 * plan.margin)}\u00a0% of each limit is left unused` : '';
  const wanted = `Wanted: ${WANTED[plan.want]}${margin}.`;
  const datum = plan.datum && !plan.datum.moves ? ` The datum, rail ${plan.datum.rail}, stays.` : '';
  if (plan.status === 'impossible') {
    const nearest = plan.moves.length > 0 ? ' These moves come nearest.' : '';
    return `${wanted} No list of moves does that: ${missedText(plan, results, figures)}.${nearest}${datum}`;
  }
  if (plan.moves.length === 0)
    return plan.why === undefined
      ? `${wanted} Nothing has to be moved.`
      : `${wanted} Not found within the search: ${plan.why}.`;
  const gap = plan.gap === null ? '' : `, by ${Math.ceil(100 * plan.gap)}\u00a0% at most`;
  const found =
    plan.status === 'best' ? '' : ` The search ended at its limit; a shorter list may exist${gap}.`;
  return `${wanted}${datum}${found}`;
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
  const header =
    'step,adjuster,rail,along_mm,axis,direction,amount_um,move_um,turns,shims_add_um,shims_take_um,force_n'.split(
      ',',
    );
  const number = (v: number | undefined) => (v === undefined ? '' : plainNumber(v));
  return stringify([
    header,
    ...plan.moves.map((m) => [
      m.step ?? '',
      guarded(m.adjuster),
      guarded(m.rail),
      plainNumber(m.along),
      m.axis,
      m.direction ?? '',
      plainNumber(Math.abs(m.move)),
      plainNumber(m.move),
      number(m.turns),
      m.shims?.add.map(plainNumber).join(' ') ?? '',
      m.shims?.take.map(plainNumber).join(' ') ?? '',
      number(m.forceN),
    ]),
  ]);
}

const ONE_WAY_CAUTION = {
  lead: 'One way only.',
  text: 'A jack only lifts and a screw only pushes: slacken what is against a screw before it pushes, and pack and clamp after it.',
};

/** Names of fields, for people. */
const field = (name: string, value: string | null) => ({ name, value: value ?? 'not recorded' });

/** The day of the survey from which the moves follow: of the last phase, or of the job. */
function surveyDay(results: Results): string | null {
  const { phase } = lastPhase(results);
  const { surveyed, readingsTaken } = results.subject;
  return phase.facts?.surveyed?.on ?? surveyed.on ?? readingsTaken.to;
}

/** One row for each move; its dial targets, one for each round. */
function moveRow(
  move: Move,
  direction: 'along' | 'across',
  most: number,
  of: CorrectionPlan['of'],
  figures: Figures,
) {
  const [arrow, word] = directionOf(move, direction);
  const { rounds = 1 } = move;
  const target = (round: number) => amountText({ ...move, move: (move.move * round) / rounds }, figures);
  return {
    step: move.step ?? '',
    place: move.adjuster,
    along: positionText(move.along, figures.units.length),
    arrow,
    word,
    amount: amountText(move, figures),
    how: of === 'stations' ? 'by the machine’s own means' : howText(move, figures) || '–',
    rounds: Array.from({ length: most }, (_, k) =>
      k < rounds ? { target: target(k + 1), isUsed: true } : { target: '–', isUsed: false },
    ),
  };
}

function groupsOf(plan: CorrectionPlan, results: Results, figures: Figures) {
  const { rails } = results.survey;
  const most = Math.max(1, ...plan.moves.map(({ rounds = 1 }) => rounds));
  const rowOf = (move: Move) =>
    moveRow(move, rails.find(({ id }) => id === move.rail)!.direction, most, plan.of, figures);
  const wholes = (plan.wholes ?? []).map(({ step, rail, axis, adjusters, ends }) => {
    const own = plan.moves.filter(
      (m) => m.rail === rail && m.axis === axis && adjusters.includes(m.adjuster),
    );
    const [first, last] = ends.map(
      (end) => `${end.direction} ${amountText({ ...own[0]!, move: end.move }, figures)}`,
    );
    return {
      title: `${step}  ${railTitle(rails.find(({ id }) => id === rail)!)}, as a whole: ${first!} at its first end, ${last!} at its last, in proportion between`,
      moves: own.map(rowOf),
    };
  });
  const inWholes = new Set(
    (plan.wholes ?? []).flatMap(({ rail, axis, adjusters }) =>
      adjusters.map((id) => `${rail}|${axis}|${id}`),
    ),
  );
  const single = plan.moves.filter((m) => !inWholes.has(`${m.rail}|${m.axis}|${m.adjuster}`));
  return {
    most,
    groups: [...wholes, ...(single.length > 0 ? [{ title: 'Single places', moves: single.map(rowOf) }] : [])],
  };
}

/** What each tolerance is expected to be after the moves: figure ± U, limit, verdict. */
function expectedRows(plan: CorrectionPlan, results: Results, figures: Figures) {
  const datum = datumId(results);
  return plan.predicted
    .filter((c) => c.limit !== null && c.value !== null)
    .map((c) => {
      const unit = unitFor(figures.units, c.unit);
      const text = resultText({ ...c, value: c.value! }, figures.k, unit);
      return {
        what: inSentence(c, datum, figures),
        figure: withUnit(plusMinus(text), unit),
        limit: limitWords(c, text.limit!, unit),
        mark: verdictMarks[c.verdict],
        verdict: verdictWords[c.verdict].toLowerCase(),
      };
    });
}

/** Limits that were not measured: a reading to take, not a move. */
function toRead(plan: CorrectionPlan, results: Results, figures: Figures): string[] {
  const { characteristics } = lastPhase(results).phase;
  return (plan.toRead ?? []).flatMap((k) => {
    const c = characteristics[k];
    if (c === undefined) return [];
    const why = 'why' in c && c.why ? `: ${c.why}` : ' is not measured';
    return [`${inSentence(c, datumId(results), figures)}${why}`];
  });
}

/** @returns null: nothing is to be moved. */
export function correctionSheet(results: Results): string | null {
  const plan = planOf(results);
  if (plan === null || plan.moves.length === 0) return null;
  const figures = figuresOf(results);
  const { subject } = results;
  const number = reportNumber(results);
  const day = surveyDay(results);
  const software = `${results.software.name} ${results.software.version}`;
  const { groups, most } = groupsOf(plan, results, figures);
  const hasForce = plan.moves.some(({ forceN = 0 }) => Math.abs(forceN) >= LEAST_FORCE);
  const { response } = plan;
  const view = {
    job: results.job,
    number,
    software,
    fields: [
      field('Machine', subject.machine.name ?? subject.title),
      field('Serial no.', subject.machine.serial),
      field('Surveyed', day),
      field('Report', isDraft(results) ? `${number} (draft)` : number),
      field('Customer', subject.customer),
    ],
    stale: `From the survey of ${day ?? 'a day that was not recorded'}. If the machine was surveyed or moved after that, do not use this sheet. The moves are those of report ${number}, in the same order and with the same numbers.`,
    sketch: machineSketch(results, plan, (move) => amountText(move, figures)),
    intro: [statusText(plan, results, figures), roundsText(plan)].filter(Boolean).join(' '),
    cautions: [...CAUTIONS, ONE_WAY_CAUTION],
    unit: unitFor(figures.units, 'um').label,
    lengthUnit: figures.units.length.label,
    rounds: Array.from({ length: most }, (_, k) => `Round ${k + 1}`),
    columns: 7 + most,
    groups,
    expected: expectedRows(plan, results, figures),
    toRead: toRead(plan, results, figures),
    notes: [
      'Left and right are those of someone who faces increasing along. Make the last turn of each screw in the direction of its arrow: if it went too far, go well back and come again.',
      ...(hasForce
        ? [
            '“kN more” or “kN less”: by so much the force on the support changes when the rail is bent to its new line. Where it rises, take care that the support can carry it.',
          ]
        : []),
      ...(response
        ? [
            `Each move is expected to come out within ${trimmedText(100 * response.u, 1)}\u00a0% of its amount (standard uncertainty${response.assumed === true ? '; assumed, common practice' : response.learntFrom === null ? '; stated in the job' : `; from ${response.learntFrom} earlier moves of this machine`}).`,
          ]
        : []),
      ...(plan.leastUm === undefined || plan.leastUm === 0
        ? []
        : [
            `Moves below ${withUnit(trimmedText(unitFor(figures.units, 'um').fromBase(plan.leastUm), 2), unitFor(figures.units, 'um'))} are not asked for.`,
          ]),
    ],
  };
  const head = [
    'Correction sheet ' + number,
    subject.machine.serial,
    day && `survey of ${day}`,
    isDraft(results) ? 'draft' : null,
  ];
  return sheetPage('corrections', view, {
    paper: results.style.paper,
    printPt: 8.5,
    title: head.filter(Boolean).join(' · '),
    software,
    note: subject.issuer ?? '',
  });
}

/**
 * The correction sheet, which the crew uses at the machine and writes on. The moves are those of the report, in the same order and
 * with the same numbers. Also the plan as a CSV file.
 */
import { stringify } from 'csv-stringify/sync';
import type { CorrectionPlan, Results } from '../../results/results-schema.js';
import {
  plainNumber,
  positionText,
  resultText,
  unitFor,
  withUnit,
} from '../../results/words/format-quantity.js';
import { verdictMarks } from '../../results/words/texts.js';
import { verdictText, whyText } from '../words/names.js';
import { english, type Words } from '../words/words.js';
import { guarded } from './csv-cell.js';
import { isDraft, reportNumber } from './document-title.js';
import { capitalised, sentence } from './sentence.js';
import { figuresOf, figureText, lastPhase, type Figures } from './figures.js';
import { machineSketch } from './machine-sketch.js';
import { datumId, inSentence, limitWords, railTitle } from './sections/characteristic-names.js';
import { cutList } from './sections/cut.js';
import { moveDirections } from './sections/move-words.js';
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

/** A cross rail moves ahead and back, another rail left and right. */
export function directionOf(
  { axis, move }: Move,
  direction: 'along' | 'across',
  { say }: Words,
): { readonly arrow: string; readonly word: string } {
  const [plus, minus] =
    axis === 'vertical'
      ? (['raise', 'lower'] as const)
      : direction === 'along'
        ? (['left', 'right'] as const)
        : (['ahead', 'back'] as const);
  const way = move > 0 ? plus : minus;
  return { arrow: ARROWS[way], word: say(`move.${way}`) };
}

/** The number of rounds of the moves, with the reason; null: one round. */
export function roundsText({ moves, coarseShare }: CorrectionPlan, { say, number }: Words): string | null {
  const most = Math.max(1, ...moves.map(({ rounds = 1 }) => rounds));
  return (
    [
      coarseShare === undefined
        ? ''
        : say('rounds.coarse', { share: `${number(100 * coarseShare, 0)}\u00a0%` }),
      most > 1 ? say('rounds.several') : '',
    ]
      .filter(Boolean)
      .join(' ') || null
  );
}

/** A figure for the crew: to a micrometre, which is the resolution of a dial; below ten micrometres to a tenth. */
export function amountText({ move }: Move, figures: Figures): string {
  const unit = unitFor(figures.units, 'um');
  const size = Math.abs(unit.fromBase(move));
  const fine = Math.max(0, Math.ceil(-Math.log10(unit.fromBase(1)) - 1e-9));
  return withUnit(figures.number(size, fine === 0 && size < 10 ? 1 : fine), unit);
}

/** From this share of a turn, turns are given in sixteenths; below it as an angle, and the dial decides. */
const SIXTEENTH = 1 / 16;

/** "1 3/16 turns"; "under 1/16 turn (12°)". */
export function turnsText(turns: number, { say }: Words): string {
  const size = Math.abs(turns);
  const degrees = `${Math.max(1, Math.round(360 * size))}°`;
  if (size < SIXTEENTH) return say('turns.under', { degrees });
  const sixteenths = Math.round(size * 16);
  const [whole, rest] = [Math.floor(sixteenths / 16), sixteenths % 16];
  const divisor = [16, 8, 4, 2, 1].find((d) => rest % d === 0)!;
  const fraction = rest === 0 ? '' : `${rest / divisor}/${16 / divisor}`;
  const number = [whole === 0 ? '' : String(whole), fraction].filter(Boolean).join(' ');
  return say(size < 1 ? 'turns.degrees' : 'turns', {
    number,
    count: sixteenths > 16 ? 2 : 1,
    degrees,
  });
}

/** "add 0.05 + 0.02 mm, take out 0.1 mm" */
export function shimsText({ add, take }: NonNullable<Move['shims']>, figures: Figures): string {
  const unit = unitFor(figures.units, 'um').label === 'thou' ? 25.4 : 1000;
  const label = unit === 25.4 ? 'thou' : 'mm';
  const list = (sheets: readonly number[]) =>
    `${sheets.map((um) => String(Number((um / unit).toPrecision(4))).replace('.', figures.mark)).join(' + ')} ${label}`;
  return [
    add.length > 0 ? figures.say('shims.add', { sheets: list(add) }) : '',
    take.length > 0 ? figures.say('shims.take', { sheets: list(take) }) : '',
  ]
    .filter(Boolean)
    .join(', ');
}

/** Smaller changes of force are not listed, N. */
const LEAST_FORCE = 50;

const forceText = (newton: number, { say, number }: Words): string =>
  say(newton > 0 ? 'force.more' : 'force.less', { force: `${number(Math.abs(newton) / 1000, 1)}\u00a0kN` });

/** What to do at the adjuster, next to the direction and the amount. */
export function howText(move: Move, figures: Figures): string {
  const how = [
    move.shims ? shimsText(move.shims, figures) : '',
    move.turns === undefined ? '' : turnsText(move.turns, figures),
    move.forceN === undefined || Math.abs(move.forceN) < LEAST_FORCE ? '' : forceText(move.forceN, figures),
  ];
  return figures.parts(how.filter(Boolean));
}

export function statusText(plan: CorrectionPlan, results: Results, figures: Figures): string {
  const { say, number } = figures;
  const wanted = say(plan.margin > 0 ? 'wanted.margin' : 'wanted', {
    wanted: say(`wanted.${plan.want}`),
    margin: `${number(100 * plan.margin, 0)}\u00a0%`,
  });
  const datum = plan.datum && !plan.datum.moves ? [say('wanted.datum-stays', { rail: plan.datum.rail })] : [];
  const sentences =
    plan.status === 'impossible'
      ? [
          say('status.impossible', { missed: missedText(plan, results, figures) }),
          ...(plan.moves.length > 0 ? [say('status.nearest')] : []),
          ...datum,
        ]
      : plan.moves.length === 0
        ? [
            plan.why === undefined
              ? say('status.nothing')
              : sentence(capitalised(whyText({ ...plan, why: plan.why }, figures))),
          ]
        : [
            ...datum,
            ...(plan.why === undefined
              ? []
              : [say('status.why', { why: whyText({ ...plan, why: plan.why }, figures) })]),
            ...(plan.status === 'best' || plan.why !== undefined
              ? []
              : [
                  plan.gap === null
                    ? say('status.ended')
                    : say('status.ended-by', { gap: `${number(Math.ceil(100 * plan.gap), 0)}\u00a0%` }),
                ]),
          ];
  return [wanted, ...sentences].join(' ');
}

/** Characters of what no moves reach: all of it is in results.json. */
const MISSED = 360;

function missedText(plan: CorrectionPlan, results: Results, figures: Figures): string {
  const { missed = [], why } = plan;
  if (missed.length === 0) return why === undefined ? '' : whyText({ ...plan, why }, figures);
  const { characteristics } = lastPhase(results).phase;
  const texts = missed.map(({ characteristic, by, unit, coarse }) => {
    const printed = unitFor(figures.units, unit);
    const text = (value: number) => withUnit(figures.trimmed(printed.fromBase(value), 1), printed);
    const missed = {
      name: inSentence(characteristics[characteristic]!, datumId(results), figures),
      by: text(by),
    };
    const { length } = figures.units;
    return coarse
      ? figures.say('missed.coarse', {
          ...missed,
          apart: withUnit(positionText(1000 * coarse.apartM, length), length),
          leaves: text(coarse.leaves),
        })
      : figures.say('missed', missed);
  });
  return cutList(texts, MISSED, figures);
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

export interface Caution {
  readonly lead: string;
  readonly text: string;
}

const caution = (of: 'energy' | 'loads' | 'laser' | 'who' | 'one-way', { say }: Words): Caution => ({
  lead: say(`safety.${of}.lead`),
  text: say(`safety.${of}`),
});

/** Conditions before anything is moved. */
export const cautions = (words: Words): Caution[] =>
  (['energy', 'loads', 'laser', 'who'] as const).map((of) => caution(of, words));

/** The day of the survey from which the moves were calculated: of the last phase, or of the job. */
function surveyDay(results: Results): string | null {
  const { phase } = lastPhase(results);
  const { surveyed, readingsTaken } = results.subject;
  return phase.facts?.surveyed?.on ?? surveyed.on ?? readingsTaken.to;
}

/** One row per move, with one dial target per round. */
function moveRow(
  move: Move,
  direction: 'along' | 'across',
  most: number,
  of: CorrectionPlan['of'],
  figures: Figures,
) {
  const { arrow, word } = directionOf(move, direction, figures);
  const { rounds = 1 } = move;
  const target = (round: number) => amountText({ ...move, move: (move.move * round) / rounds }, figures);
  return {
    step: move.step ?? '',
    place: move.adjuster,
    along: positionText(move.along, figures.units.length),
    arrow,
    word,
    amount: amountText(move, figures),
    how: of === 'stations' ? figures.say('how.own-means') : howText(move, figures) || '–',
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
    const [first, last] = ends.map((end) =>
      figures.say('whole.end', {
        word: figures.say(`move.${end.direction}`),
        amount: amountText({ ...own[0]!, move: end.move }, figures),
      }),
    );
    return {
      title: figures.say('whole.title', {
        step: String(step),
        rail: railTitle(
          rails.find(({ id }) => id === rail)!,
          figures,
        ),
        first: first!,
        last: last!,
      }),
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
    groups: [
      ...wholes,
      ...(single.length > 0 ? [{ title: figures.say('single.title'), moves: single.map(rowOf) }] : []),
    ],
  };
}

/** Expected result of each tolerance after the moves: figure, limit, verdict. */
function expectedRows(plan: CorrectionPlan, results: Results, figures: Figures) {
  const datum = datumId(results);
  return plan.predicted
    .filter((c) => c.limit !== null && c.value !== null)
    .map((c) => {
      const unit = unitFor(figures.units, c.unit);
      const text = resultText({ ...c, value: c.value! }, figures.k, unit);
      return {
        what: inSentence(c, datum, figures),
        figure: figureText(c.signed, text, unit, figures),
        limit: limitWords(c, text.limit!, unit, figures),
        mark: verdictMarks[c.verdict],
        verdict: verdictText(c.verdict, figures),
        // Rounded down, and never 1: a probability must not be overstated.
        holds: figures.say('sheet.holds.answer', {
          count: String(Math.min(99, Math.floor(100 * (c.probability ?? 0)))),
        }),
      };
    });
}

type Support = NonNullable<CorrectionPlan['supports']>[number];

/** Forces on the supports whose load changes, or whose present load is known. */
function forceRows({ supports = [] }: CorrectionPlan, { say, number, k }: Figures) {
  const kilo = (newton: number, signed: boolean) => number(newton / 1000, 1, { signed });
  const rows = supports.filter(
    ({ axis, now, change }) => (axis === 'vertical' && now) || Math.abs(change ?? 0) >= LEAST_FORCE,
  );
  return rows.map(({ adjusters, axis, carries, now, change }) => ({
    place: adjusters.join(', '),
    plane: moveDirections[axis].map((way) => say(`move.${way}`)).join('/'),
    carries: axis === 'vertical' ? say('sheet.carries.answer', { carries }) : '–',
    now: now === undefined ? '–' : `${kilo(now.value, false)} ± ${kilo(k * now.u, false)}`,
    change: change === null ? '–' : kilo(change, true),
  }));
}

/** Assumptions of the plan, and what to check first. */
function assumptions({ supports = [], response }: CorrectionPlan, words: Words): string[] {
  const { say } = words;
  const named = (key: 'sheet.bring-up' | 'sheet.alone' | 'sheet.not-known', is: (s: Support) => boolean) => {
    const places = supports
      .filter((s) => s.axis === 'vertical' && is(s))
      .flatMap(({ adjusters }) => adjusters);
    return places.length === 0 ? [] : [say(key, { places: places.join(', ') })];
  };
  const own = response?.own ?? [];
  return [
    ...named('sheet.bring-up', ({ bringUp }) => bringUp === true),
    ...named('sheet.alone', ({ carries, bringUp }) => carries === 'no' && bringUp !== true),
    ...named('sheet.not-known', ({ carries }) => carries === 'not-known'),
    ...(response?.gain === undefined
      ? []
      : [
          say('sheet.gain', {
            moves: response.learntFrom ?? 0,
            share: `${words.number(100 * response.gain, 0)}\u00a0%`,
          }),
        ]),
    ...(own.length === 0
      ? []
      : [say('sheet.own', { places: own.map(({ adjuster }) => adjuster).join(', ') })]),
    say('sheet.assumes', { beam: supports.some(({ change }) => change !== null) ? 'yes' : 'no' }),
  ];
}

/** Limits that were not measured: they need a reading, not a move. */
function toRead(plan: CorrectionPlan, results: Results, figures: Figures): string[] {
  const { characteristics } = lastPhase(results).phase;
  return (plan.toRead ?? []).flatMap((k) => {
    const c = characteristics[k];
    if (c === undefined) return [];
    const name = inSentence(c, datumId(results), figures);
    return [
      c.value === null
        ? figures.say('undetermined.line', { names: name, why: whyText(c, figures) })
        : figures.say('to-read', { name }),
    ];
  });
}

/** @returns null: no moves. */
export function correctionSheet(results: Results, words: Words = english): string | null {
  const plan = planOf(results);
  if (plan === null || plan.moves.length === 0) return null;
  const figures = figuresOf(results, words);
  const { say } = words;
  const field = (name: string, value: string | null) => ({ name, value: value ?? say('not-recorded') });
  const { subject } = results;
  const number = reportNumber(results);
  const surveyed = surveyDay(results);
  const day = surveyed && words.day(surveyed);
  const software = `${results.software.name} ${results.software.version}`;
  const { groups, most } = groupsOf(plan, results, figures);
  const hasForce = plan.moves.some(({ forceN = 0 }) => Math.abs(forceN) >= LEAST_FORCE);
  const { response } = plan;
  const view = {
    job: results.job,
    number,
    software,
    fields: [
      field(say('fact.machine'), subject.machine.name ?? subject.title),
      field(say('fact.serial'), subject.machine.serial),
      field(say('fact.surveyed'), day),
      field(say('fact.report'), isDraft(results) ? say('sheet.draft', { number }) : number),
      field(say('fact.customer'), subject.customer),
    ],
    stale: say('sheet.stale', { day: day ?? 'none', number }),
    sketch: machineSketch(results, plan, words, (move) => amountText(move, figures)),
    intro: [statusText(plan, results, figures), roundsText(plan, words)].filter(Boolean).join(' '),
    cautions: [...cautions(words), caution('one-way', words)],
    unit: unitFor(figures.units, 'um').label,
    lengthUnit: figures.units.length.label,
    rounds: Array.from({ length: most }, (_, k) => say('sheet.round', { n: k + 1 })),
    columns: 7 + most,
    groups,
    expected: expectedRows(plan, results, figures),
    toRead: toRead(plan, results, figures),
    forces: forceRows(plan, figures),
    notes: [
      ...assumptions(plan, words),
      say('sheet.sides'),
      ...(hasForce ? [say('sheet.force')] : []),
      ...(response
        ? [
            say('sheet.response', {
              share: `${words.trimmed(100 * response.u, 1)}\u00a0%`,
              source:
                response.assumed === true ? 'assumed' : response.learntFrom === null ? 'stated' : 'learnt',
              moves: response.learntFrom ?? 0,
            }),
          ]
        : []),
      ...(plan.leastUm === undefined || plan.leastUm === 0
        ? []
        : [
            say('sheet.least', {
              size: withUnit(
                words.trimmed(unitFor(figures.units, 'um').fromBase(plan.leastUm), 2),
                unitFor(figures.units, 'um'),
              ),
            }),
          ]),
    ],
  };
  const head = [
    say('sheet.title', { number }),
    subject.machine.serial,
    day && say('sheet.survey', { day }),
    isDraft(results) ? say('sheet.is-draft') : null,
  ];
  return sheetPage('corrections', view, {
    paper: results.style.paper,
    printPt: 8.5,
    title: head.filter(Boolean).join(' · '),
    software,
    note: subject.issuer ?? '',
    words,
  });
}

/**
 * What to move: what the verdict needs, in the order of the correction sheet, and what came of earlier moves. Where every
 * tolerance is met, one line.
 */
import type { CorrectionPlan, Results, Verdict } from '../../../results/results-schema.js';
import { amountText, directionOf, howText, planOf, roundsText, statusText } from '../correction-sheet.js';
import { NO_BREAK_SPACE, positionText } from '../../../results/words/format-quantity.js';
import { say } from '../../words/say.js';
import { lastPhase, type Figures } from '../figures.js';
import { namedOf } from '../sentence.js';
import { cell, figure, figureHead, head, row, rowHeader, table, type Table } from '../table.js';
import { CAUTIONS, phaseWords, verdictWords } from '../../../results/words/texts.js';
import { datumId, inSentence, railTitle, stationName } from './characteristic-names.js';
import { doneMoves } from './done-moves.js';

export interface Moves {
  readonly intro: readonly string[];
  /** As left beside what was asked after as found. */
  readonly done: Table | null;
  /** What is to be moved: adjusters, or the stations that stand for them. */
  readonly plan: Table | null;
  readonly cautions: typeof CAUTIONS;
}

export function moves(results: Results, figures: Figures): Moves | null {
  const { name } = lastPhase(results);
  const plan = planOf(results);
  const ofAdjusters = plan?.of === 'adjusters';
  const done = doneMoves(results, figures);
  if (results.verdict !== 'conforms' && !plan) return null;
  if (results.verdict === 'conforms' && !(ofAdjusters && plan.moves.length > 0))
    return {
      intro: [need(results, figures), ...(ofAdjusters ? [statusText(plan, results, figures)] : [])],
      done,
      plan: null,
      cautions: [],
    };
  return {
    intro: [need(results, figures), say('moves.from', { phase: phaseWords(name) })],
    done,
    plan: plan && planTable(plan, results, figures),
    cautions: CAUTIONS,
  };
}

/** The moves of the plan, by adjuster or by station; null where nothing is to be moved. */
function planTable(plan: CorrectionPlan, results: Results, figures: Figures): Table | null {
  if (plan.moves.length === 0) return null;
  const { length } = figures.units;
  const { rails } = results.survey;
  const isOfStations = plan.of === 'stations';
  const hows = plan.moves.some((move) => howText(move, figures) !== '');
  const heading = [
    head(isOfStations ? 'Station' : 'Adjuster'),
    figureHead('Along', length.label),
    head('Move'),
    ...(hows ? [head('How')] : []),
  ];
  const groups = rails
    .map((rail) => ({
      title: railTitle(rail),
      rows: plan.moves
        .filter((move) => move.rail === rail.id)
        .map((move) =>
          row([
            rowHeader(isOfStations ? stationOf(move.adjuster, rail.id, results) : move.adjuster),
            figure(positionText(move.along, length)),
            cell(
              `${directionOf(move, rail.direction).join(' ').toLowerCase()} ${amountText(move, figures)}`.replaceAll(
                ' ',
                NO_BREAK_SPACE,
              ),
              {
                css: 'strong',
              },
            ),
            ...(hows ? [cell(howText(move, figures) || '–')] : []),
          ]),
        ),
    }))
    .filter(({ rows }) => rows.length > 0);
  const open = plan.predicted.filter((c) => c.limit !== null && c.verdict !== 'conforms');
  const datum = datumId(results);
  const rounds = roundsText(plan);
  return table(isOfStations ? 'What the verdict needs' : 'Adjusters', [heading], groups, {
    css: 'hidden-caption',
    notes: [
      statusText(plan, results, figures),
      ...(rounds === null ? [] : [rounds]),
      open.length === 0
        ? 'After these moves every tolerance is expected to hold; survey again.'
        : `After these moves still to be expected: ${open.map((c) => `${inSentence(c, datum, figures)} ${verdictWords[c.verdict].toLowerCase()}`).join('; ')}.`,
    ],
    mayBreak: true,
  });
}

/** "A:7", as the stations are called elsewhere. */
const stationOf = (adjuster: string, rail: string, { survey }: Results): string =>
  stationName(survey.rails, rail, Number(adjuster.slice(rail.length + 1)));

/** Whether anything has to be moved at all, by the verdicts. */
function need(results: Results, figures: Figures): string {
  const judged = lastPhase(results).phase.characteristics.filter((made) => made.limit !== null);
  const names = (verdict: Verdict) =>
    brief(
      judged
        .filter((made) => made.verdict === verdict && made.value !== null)
        .map((made) => inSentence(made, datumId(results), figures)),
    );
  const after = 'Survey again after the moves.';
  switch (results.verdict) {
    case 'conforms':
      return 'Every tolerance is met: nothing has to be moved.';
    case 'does-not-conform':
      return `Outside the limit: ${names('does-not-conform')}. ${after}`;
    case 'undecided': {
      const open = names('undecided');
      return open === ''
        ? 'What is undecided was not determined: no move follows from it. Read first what is missing.'
        : `Not proven either way: ${open}. ${after}`;
    }
    case 'reported':
      return 'No tolerance says how much may stay: these moves would bring the rails to straight and true.';
  }
}

/** Names in a sentence, the first few of a long list. */
const MOST_NAMES = 4;
function brief(names: readonly string[]): string {
  const most = namedOf(names.length, MOST_NAMES);
  const shown = names.slice(0, most).join('; ');
  return names.length <= most ? shown : `${shown}; and ${names.length - most} more`;
}

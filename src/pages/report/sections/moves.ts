/**
 * What to move: what the verdict needs, in the order of the correction sheet, and what came of earlier moves. Where every
 * tolerance is met, one line.
 */
import type { CorrectionPlan, Results, Verdict } from '../../../results/results-schema.js';
import { amountText, directionOf, howText, planOf, roundsText, statusText } from '../correction-sheet.js';
import { NO_BREAK_SPACE, positionText } from '../../../results/words/format-quantity.js';
import { lastPhase, type Figures } from '../figures.js';
import { namedOf } from '../sentence.js';
import { cell, figure, figureHead, head, row, rowHeader, table, type Table } from '../table.js';
import { phaseText, verdictText } from '../../words/names.js';
import { cautions, type Caution } from '../correction-sheet.js';
import { datumId, inSentence, railTitle, stationName } from './characteristic-names.js';
import { doneMoves } from './done-moves.js';

export interface Moves {
  readonly intro: readonly string[];
  /** As left beside what was asked after as found. */
  readonly done: Table | null;
  /** What is to be moved: adjusters, or the stations that stand for them. */
  readonly plan: Table | null;
  readonly cautions: readonly Caution[];
}

export function moves(results: Results, figures: Figures): Moves | null {
  const { say } = figures;
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
    intro: [need(results, figures), say('moves.intro', { phase: phaseText(name, figures) })],
    done,
    plan: plan && planTable(plan, results, figures),
    cautions: cautions(figures),
  };
}

/** The moves of the plan, by adjuster or by station; null where nothing is to be moved. */
function planTable(plan: CorrectionPlan, results: Results, figures: Figures): Table | null {
  if (plan.moves.length === 0) return null;
  const { say } = figures;
  const { length } = figures.units;
  const { rails } = results.survey;
  const isOfStations = plan.of === 'stations';
  const hows = plan.moves.some((move) => howText(move, figures) !== '');
  const heading = [
    head(say(isOfStations ? 'head.station' : 'head.adjuster')),
    figureHead(say('head.along'), length.label),
    head(say('head.move')),
    ...(hows ? [head(say('head.how'))] : []),
  ];
  const groups = rails
    .map((rail) => ({
      title: railTitle(rail, figures),
      rows: plan.moves
        .filter((move) => move.rail === rail.id)
        .map((move) =>
          row([
            rowHeader(isOfStations ? stationOf(move.adjuster, rail.id, results) : move.adjuster),
            figure(positionText(move.along, length)),
            cell(
              say('move.amount', {
                ...directionOf(move, rail.direction, figures),
                amount: amountText(move, figures),
              }).replaceAll(' ', NO_BREAK_SPACE),
              { css: 'strong' },
            ),
            ...(hows ? [cell(howText(move, figures) || '–')] : []),
          ]),
        ),
    }))
    .filter(({ rows }) => rows.length > 0);
  const open = plan.predicted.filter((c) => c.limit !== null && c.verdict !== 'conforms');
  const datum = datumId(results);
  const rounds = roundsText(plan, figures);
  return table(say(isOfStations ? 'plan.needed' : 'plan.adjusters'), [heading], groups, {
    css: 'hidden-caption',
    notes: [
      statusText(plan, results, figures),
      ...(rounds === null ? [] : [rounds]),
      open.length === 0
        ? say('plan.all-hold')
        : say('plan.still-open', {
            list: open
              .map((c) =>
                say('plan.expected', {
                  name: inSentence(c, datum, figures),
                  verdict: verdictText(c.verdict, figures),
                }),
              )
              .join('; '),
          }),
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
      figures,
    );
  const { say } = figures;
  switch (results.verdict) {
    case 'conforms':
      return say('need.none');
    case 'does-not-conform':
      return say('need.outside', { names: names('does-not-conform') });
    case 'undecided': {
      const open = names('undecided');
      return open === '' ? say('need.missing') : say('need.open', { names: open });
    }
    case 'reported':
      return say('need.no-limit');
  }
}

/** Names in a sentence, the first few of a long list. */
const MOST_NAMES = 4;
function brief(names: readonly string[], { say }: Figures): string {
  const most = namedOf(names.length, MOST_NAMES);
  const shown = names.slice(0, most).join('; ');
  return names.length <= most ? shown : say('brief', { names: shown, more: names.length - most });
}

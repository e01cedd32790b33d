/**
 * What to move: the page that the crew takes to the machine. Two parts that add up: a rail as a whole onto the
 * datum rail's line, and each station onto its own rail's line.
 */
import type { CorrectionPlan, Results, Verdict } from '../../results/results-schema.js';
import { amountText, directionOf, howText, planOf, statusText } from '../correction-sheet.js';
import { positionText } from '../format-quantity.js';
import { lastPhase, type Figures } from '../figures.js';
import { namedOf } from '../sentence.js';
import { cell, figure, figureHead, head, row, rowHeader, table, type Table } from '../table.js';
import { CAUTIONS, phaseWords, verdictWords } from '../texts.js';
import { datumId, inSentence, railTitle } from './characteristic-names.js';
import { railMoves } from './rail-moves.js';
import { stationMoves } from './station-moves.js';

export interface Moves {
  /** Of the section: one that fits on a page is not parted, for the crew takes it along. */
  readonly css: string;
  readonly intro: readonly string[];
  /** By adjuster, of a job that names them. */
  readonly adjusters: Table | null;
  readonly rails: Table | null;
  readonly stations: Table | null;
  readonly cautions: typeof CAUTIONS;
}

/** Rows of both tables that fit on a page under the cautions. */
const ROWS_OF_A_PAGE = 33;

const rowsOf = (part: Table | null): number =>
  (part?.groups ?? []).reduce((sum, group) => sum + group.rows.length + 1, 0);

export function moves(results: Results, figures: Figures): Moves | null {
  const { name } = lastPhase(results);
  const rails = railMoves(results, figures);
  const stations = stationMoves(results, figures);
  const plan = planOf(results);
  if (!rails && !stations && !plan) return null;
  const columns = stations?.wrap.includes('in-columns') ? 2 : 1;
  const rows = rowsOf(stations) / columns + rowsOf(rails);
  return {
    css: rows <= ROWS_OF_A_PAGE ? 'moves-page' : '',
    intro: [
      ...(plan === null ? [need(results, figures)] : [statusText(plan)]),
      `From the readings ${phaseWords[name]}. Facing increasing along: + raise or to the left, − lower or to the right. “leave”: a move would not exceed its own uncertainty, ${figures.expanded}.`,
    ],
    adjusters: plan && adjusterMoves(plan, results, figures),
    rails: plan ? null : rails,
    stations,
    cautions: CAUTIONS,
  };
}

/** The moves of the correction plan; null where nothing is to be moved. */
function adjusterMoves(plan: CorrectionPlan, results: Results, figures: Figures): Table | null {
  if (plan.moves.length === 0) return null;
  const { length } = figures.units;
  const heading = [head('Adjuster'), figureHead('Along', length.label), head('Move'), head('How')];
  const groups = results.survey.rails
    .map((rail) => ({
      title: railTitle(rail),
      rows: plan.moves
        .filter((move) => move.rail === rail.id)
        .map((move) =>
          row([
            rowHeader(move.adjuster),
            figure(positionText(move.along, length)),
            cell(`${directionOf(move).join(' ').toLowerCase()} ${amountText(move, figures)}`, {
              css: 'strong',
            }),
            cell(howText(move, figures) || '–'),
          ]),
        ),
    }))
    .filter(({ rows }) => rows.length > 0);
  const open = plan.predicted.filter((c) => c.limit !== null && c.verdict !== 'conforms');
  const datum = datumId(results);
  return table('Adjusters', [heading], groups, {
    notes: [
      statusText(plan),
      open.length === 0
        ? 'After these moves every tolerance is expected to hold; survey again.'
        : `After these moves still to be expected: ${open.map((c) => `${inSentence(c, datum, figures)} ${verdictWords[c.verdict].toLowerCase()}`).join('; ')}.`,
    ],
  });
}

/** Whether anything has to be moved at all, by the verdicts. */
function need(results: Results, figures: Figures): string {
  const judged = lastPhase(results).phase.characteristics.filter((made) => made.limit !== null);
  const names = (verdict: Verdict) =>
    brief(
      judged
        .filter((made) => made.verdict === verdict && made.value !== null)
        .map((made) => inSentence(made, datumId(results), figures)),
    );
  const after = 'The moves that mend it are among these; survey again afterwards.';
  switch (results.verdict) {
    case 'conforms':
      return 'Every tolerance is met: nothing has to be moved. These moves would bring the rails nearer still to true.';
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

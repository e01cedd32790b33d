/**
 * What to move: the page that the crew takes to the machine. Two parts that add up: a rail as a whole onto the
 * datum rail's line, and each station onto its own rail's line.
 */
import type { Results, Verdict } from '../../results/results-schema.js';
import { lastPhase, type Figures } from '../figures.js';
import { namedOf } from '../sentence.js';
import type { Table } from '../table.js';
import { CAUTIONS, phaseWords } from '../texts.js';
import { datumId, inSentence } from './characteristic-names.js';
import { railMoves } from './rail-moves.js';
import { stationMoves } from './station-moves.js';

export interface Moves {
  /** Of the section: one that fits on a page is not parted, for the crew takes it along. */
  readonly css: string;
  readonly intro: readonly string[];
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
  if (!rails && !stations) return null;
  const columns = stations?.wrap.includes('in-columns') ? 2 : 1;
  const rows = rowsOf(stations) / columns + rowsOf(rails);
  return {
    css: rows <= ROWS_OF_A_PAGE ? 'moves-page' : '',
    intro: [
      need(results, figures),
      `From the readings ${phaseWords[name]}. Facing increasing along: + raise or to the left, − lower or to the right. “leave”: a move would not exceed its own uncertainty, ${figures.expanded}.`,
    ],
    rails,
    stations,
    cautions: CAUTIONS,
  };
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

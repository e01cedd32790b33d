/**
 * The moves that the verdict needs, in the order of the correction sheet, and the outcome of earlier moves. One line if every
 * tolerance is met.
 */
import type {
  CharacteristicResult,
  CorrectionPlan,
  Results,
  Verdict,
} from '../../../results/results-schema.js';
import {
  amountText,
  cautions,
  directionOf,
  howText,
  planOf,
  roundsText,
  statusText,
} from '../correction-sheet.js';
import { NO_BREAK_SPACE, positionText } from '../../../results/words/format-quantity.js';
import { lastPhase, type Figures } from '../figures.js';
import { capitalised, namedOf } from '../sentence.js';
import { cell, figure, figureHead, head, rowHeader, tableIfAny, type Table } from '../table.js';
import { phaseText, verdictText } from '../../words/names.js';
import { datumId, inSentence, stationName } from './characteristic-names.js';
import { byRail, doneMoves } from './done-moves.js';
import { rowTexts, type JudgedRow } from './judged-rows.js';
import { chartPictures } from './pictures.js';
import { section } from './section.js';

type Known = Extract<CharacteristicResult, { value: number }>;

export const movesSection = section({
  id: 'moves',
  css: '',
  make: ({ results, figures, charts, rows, number }) => {
    const made = moves(results, figures, rows);
    return (
      made && {
        ...made,
        opinion: figures.say('opinion'),
        ...number.tables({ plan: made.plan, done: made.done }),
        pictures: number.pictures(chartPictures(charts, 'moves')),
      }
    );
  },
});

function moves(results: Results, figures: Figures, rows: readonly JudgedRow[]) {
  const { say } = figures;
  const { name } = lastPhase(results);
  const plan = planOf(results);
  const ofAdjusters = plan?.of === 'adjusters';
  const done = doneMoves(results, figures);
  if (results.verdict !== 'conforms' && !plan) return null;
  if (results.verdict === 'conforms' && !(ofAdjusters && plan.moves.length > 0))
    return {
      intro: [need(results, figures), ...(ofAdjusters ? [statusText(plan, results, figures)] : [])],
      settling: [],
      done,
      plan: null,
      cautions: [],
    };
  const asked = plan && planTable(plan, results, figures);
  const isWithoutPlan = plan && (plan.why !== undefined || plan.status === 'impossible');
  return {
    intro: [
      need(results, figures),
      ...(asked
        ? [say('need.survey'), say('moves.intro', { phase: phaseText(name, figures) })]
        : isWithoutPlan
          ? [statusText(plan, results, figures)]
          : []),
    ],
    settling: settling(results, figures, rows),
    done,
    plan: asked,
    cautions: asked ? cautions(figures) : [],
  };
}

/** What would decide each undecided row, in the order of the rows. */
function settling(results: Results, figures: Figures, rows: readonly JudgedRow[]) {
  const { say } = figures;
  return rows.flatMap(({ made, n }) =>
    made.verdict === 'undecided' && made.value !== null
      ? [{ row: capitalised(say('row', { row: n })), text: openText(made, results, figures) }]
      : [],
  );
}

/** What would decide an undecided row; null: nothing that a crew can still read. */
export function decidedBy({ settling: by, helps }: CharacteristicResult) {
  if (by?.code === 'readings-disagree') return { by: 'suspect' } as const;
  const way = helps?.ways.find(({ narrower }) => narrower >= helps.needed)?.way;
  if (way !== undefined) return { by: 'way', way } as const;
  return by?.code === 'more-passes' ? ({ by: 'passes', times: Number(by.data['times']) } as const) : null;
}

function openText(made: Known, results: Results, figures: Figures): string {
  const { said, limitSaid } = rowTexts(made, figures);
  const about = {
    name: capitalised(inSentence(made, datumId(results), figures)),
    value: said,
    limit: limitSaid,
  };
  const decided = decidedBy(made);
  switch (decided?.by) {
    case 'suspect':
      return figures.say('leave.open.suspect', about);
    case 'way':
      return figures.say('leave.open.way', { ...about, way: figures.say(`way.${decided.way}`) });
    case 'passes':
      return figures.say('leave.open.passes', { ...about, times: decided.times });
    case undefined:
      return figures.say('leave.open.nothing', { ...about, times: 0 });
  }
}

/** Longer lists of moves are in two columns. */
const MOST_IN_ONE_COLUMN = 24;

/** The moves of the plan, by adjuster or by station; null: no moves. */
function planTable(plan: CorrectionPlan, results: Results, figures: Figures): Table | null {
  const { say } = figures;
  const { length } = figures.units;
  const railOf = new Map(results.survey.rails.map((rail) => [rail.id, rail]));
  const isOfStations = plan.of === 'stations';
  const open = plan.predicted.filter((c) => c.limit !== null && c.verdict !== 'conforms');
  const datum = datumId(results);
  const rounds = roundsText(plan, figures);
  const hasHow = plan.moves.some((move) => howText(move, figures) !== '');
  return tableIfAny(
    say(!isOfStations ? 'plan.adjusters' : plan.want === 'fewest-moves' ? 'plan.needed' : 'plan.shape'),
    [
      [
        head(say(isOfStations ? 'head.station' : 'head.adjuster')),
        ({ adjuster, rail }) => rowHeader(isOfStations ? stationOf(adjuster, rail, results) : adjuster),
      ],
      [figureHead(say('head.along'), length.label), ({ along }) => figure(positionText(along, length))],
      [
        head(say('head.move')),
        (move) =>
          cell(
            say('move.amount', {
              ...directionOf(move, railOf.get(move.rail)!.direction, figures),
              amount: amountText(move, figures),
            }).replaceAll(' ', NO_BREAK_SPACE),
            { css: 'strong' },
          ),
      ],
      hasHow && [head(say('head.how')), (move) => cell(howText(move, figures) || '–')],
    ],
    byRail(results, plan.moves, figures),
    {
      css: 'moves',
      inColumns: !hasHow && plan.moves.length > MOST_IN_ONE_COLUMN,
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
    },
  );
}

/** "A:7", as elsewhere in the report. */
const stationOf = (adjuster: string, rail: string, { survey }: Results): string =>
  stationName(survey.rails, rail, Number(adjuster.slice(rail.length + 1)));

/** true: the verdicts require moves. */
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

/** The first names of a list, for a sentence. */
const MOST_NAMES = 4;
function brief(names: readonly string[], { say }: Figures): string {
  const most = namedOf(names.length, MOST_NAMES);
  const shown = names.slice(0, most).join('; ');
  return names.length <= most ? shown : say('brief', { names: shown, more: names.length - most });
}

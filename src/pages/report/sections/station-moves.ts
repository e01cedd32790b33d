/** Each station to where it is wanted: which way and how far, in one signed figure, and the two parts that make it. */
import type { PointMove, Results } from '../../../results/results-schema.js';
import { alignDecimals, positionColumn, roundUncertainty } from '../../../results/words/format-quantity.js';
import type { Figures } from '../figures.js';
import {
  cell,
  figure,
  figureHead,
  head,
  row,
  rowHeader,
  table,
  type Cell,
  type Group,
  type HeadCell,
  type Table,
} from '../table.js';
import { railTitle, stationName } from './characteristic-names.js';
import { isSmall, moveText } from './move-words.js';

/** Up to so many stations each is printed; of more, those that are to be moved. */
const MOST_PRINTED = 100;
/** Of those again the largest, the rest being in stations.csv. */
const MOST_MOVED = 120;

interface Point {
  readonly station: number;
  readonly along: number;
  readonly vertical: PointMove | undefined;
  readonly sideways: PointMove | undefined;
}

/** @param needed Stations that the verdict needs moved, as "A:7". */
export function stationMoves(results: Results, figures: Figures, needed: ReadonlySet<string>): Table | null {
  const { say } = figures;
  const { points = [] } = results.corrections;
  if (points.length === 0) return null;
  const { rails } = results.survey;
  const all = rails.map((rail) => ({ rail, points: pointsOf(points, rail.id) }));
  const count = all.reduce((sum, own) => sum + own.points.length, 0);
  const isShown = count <= MOST_PRINTED ? () => true : largest(points, figures);
  const shown = all
    .map(({ rail, points: own }) => ({ rail, points: own.filter((p) => isShown(p)) }))
    .filter(({ points: own }) => own.length > 0);
  const printed = shown.reduce((sum, own) => sum + own.points.length, 0);
  const planes = (['vertical', 'sideways'] as const).filter((plane) =>
    shown.some(({ points: own }) => own.some((p) => p[plane] !== undefined)),
  );
  const groups = shown.map(({ rail, points: own }): Group => {
    const columns = planes.map((plane) =>
      moveCells(
        own.map((p) => p[plane]),
        figures,
      ),
    );
    const positions = positionColumn(
      own.map(({ along }) => along),
      figures.units.length,
    );
    return {
      title: railTitle(rail, figures),
      rows: own.map(({ station }, i) => {
        const name = stationName(rails, rail.id, station);
        const isNeeded = needed.has(`${rail.id}:${station}`);
        return row([
          rowHeader(name, { css: isNeeded ? 'number strong' : 'number' }),
          figure(positions[i]!),
          ...columns.flatMap((column) => column[i]!),
        ]);
      }),
    };
  });
  const isAcross = shown.every(({ rail }) => rail.direction === 'across');
  const heads = [
    figureHead(say('head.station-short')),
    figureHead(say(isAcross ? 'head.across' : 'head.along'), figures.units.length.label),
    ...planes.flatMap((plane) =>
      headsOf(say(plane === 'vertical' ? 'head.height' : 'head.sideways'), figures),
    ),
  ];
  const hasCross = shown.some(({ rail }) => rail.direction === 'across');
  return table(say('points.caption'), [heads], groups, {
    css: 'moves hidden-caption',
    notes: [
      say('points.note'),
      ...(needed.size > 0 ? [say('points.bold')] : []),
      ...(hasCross ? [say('points.cross')] : []),
      ...(printed < count ? [say('points.cut', { count, printed })] : []),
    ],
  });
}

function pointsOf(points: readonly PointMove[], rail: string): Point[] {
  const found = new Map<number, { -readonly [K in keyof Point]: Point[K] }>();
  for (const move of points) {
    if (move.rail !== rail) continue;
    const { station, along } = move;
    const point = found.get(station) ?? { station, along, vertical: undefined, sideways: undefined };
    point[move.axis === 'vertical' ? 'vertical' : 'sideways'] = move;
    found.set(station, point);
  }
  return [...found.values()];
}

/** The stations whose moves are largest, of those that exceed their uncertainty. */
function largest(points: readonly PointMove[], figures: Figures): (point: Point) => boolean {
  const sizes = points.filter((p) => !isSmall(p, figures)).map(({ move }) => Math.abs(move));
  sizes.sort((a, b) => b - a);
  const least = sizes[Math.min(sizes.length, MOST_MOVED) - 1] ?? Infinity;
  return ({ vertical, sideways }) =>
    [vertical, sideways].some((p) => p !== undefined && !isSmall(p, figures) && Math.abs(p.move) >= least);
}

const headsOf = (title: string, { units, say }: Figures): HeadCell[] => [
  head(title, { unit: units.deviation.label, colspan: 2, css: 'move' }),
  figureHead('U', '', { css: 'uncertainty' }),
  figureHead(say('head.of-rail'), '', { css: 'uncertainty' }),
  figureHead(say('head.of-station'), '', { css: 'uncertainty' }),
];

/** Direction word, size, U, and the two parts, to the decimals of the whole. */
function moveCells(moves: readonly (PointMove | undefined)[], figures: Figures): Cell[][] {
  const texts = moves.map((move) => (move ? moveText(move, move.axis, figures) : null));
  const sizes = alignDecimals(texts.map((text) => text?.size ?? ''));
  const expanded = alignDecimals(texts.map((text) => text?.expanded ?? ''));
  const parts = (['ofRail', 'ofStation'] as const).map((part) =>
    alignDecimals(
      moves.map((move) => (move?.[part] === undefined ? '' : partText(move, move[part], figures))),
    ),
  );
  return texts.map((text, i) => [
    cell(text?.word ?? '–', { css: text?.direction === 'leave' ? 'move quiet' : 'move' }),
    figure(text?.direction === 'leave' ? '' : sizes[i]!, { css: 'size strong' }),
    figure(expanded[i]!, { css: 'uncertainty' }),
    ...parts.map((part) => figure(part[i]!, { css: 'uncertainty' })),
  ]);
}

function partText({ u }: PointMove, part: number, figures: Figures): string {
  const unit = figures.units.deviation;
  const expanded = unit.fromBase(figures.k * u);
  const decimals = expanded > 0 ? roundUncertainty(expanded).decimals : unit.decimals;
  return figures.number(unit.fromBase(part), decimals, { signed: true });
}

/** Rails, set-ups, monuments and lines of sight of the plan. */
import type { ChartContext, SurveyRail } from '../chart-context.js';
import { palette } from '../palette.js';
import { drawnLine, type Drawn } from '../place-label.js';
import { strokeRow, type PointRow, type RuleRow, type StrokeRow } from '../rows.js';
import { placePx, type Place, type PlanFrame } from './frame.js';

/** Beyond this many set-ups, labels no longer look out for single lines of sight. */
const mostCarefulSetups = 40;

/** The rail's nominal line, and a tick across it at each station, at every tenth and so on where they stand close. */
export function drawRail(
  context: ChartContext,
  frame: PlanFrame,
  rail: SurveyRail,
): { rule: RuleRow; ticks: StrokeRow } {
  const { fromBase } = context.length;
  const [first, last] = [rail.stations[0]!, rail.stations[rail.stations.length - 1]!];
  const rule: RuleRow = {
    what: `rail ${rail.id}`,
    x: fromBase(first.along),
    y: fromBase(first.across),
    x2: fromBase(last.along),
    y2: fromBase(last.across),
    colour: palette.ink,
    width: rail.datum ? 3.2 : 1.8,
    dash: [],
  };
  const ends = [placePx(context, frame, first), placePx(context, frame, last)] as const;
  const lengthPx = Math.hypot(ends[1][0] - ends[0][0], ends[1][1] - ends[0][1]);
  const every = tickEvery(rail.stations.length, lengthPx);
  const tick = rail.direction === 'along' ? 'm0,-4.5v9' : 'm-4.5,0h9';
  const path = rail.stations
    .filter((_, i) => i % every === 0 || i === rail.stations.length - 1)
    .map((station) => {
      const [px, py] = placePx(context, frame, station);
      return `M${px},${py}${tick}`;
    });
  return { rule, ticks: strokeRow(0, 0, path.join(''), { colour: palette.ink, width: 0.7 }) };
}

function tickEvery(count: number, lengthPx: number): number {
  for (let decade = 1; ; decade *= 10) {
    for (const f of [1, 2, 5])
      if (lengthPx / (count / (f * decade)) >= 4 || f * decade >= count) return f * decade;
  }
}

const setupShape = 'triangle-up';
const monumentShape = 'diamond';

export function drawMarks(context: ChartContext): PointRow[] {
  const { fromBase } = context.length;
  const { setups, monuments } = context.results.survey;
  const mark = (what: string, place: Place, over: Pick<PointRow, 'shape' | 'size' | 'fill'>): PointRow => ({
    what,
    x: fromBase(place.along),
    y: fromBase(place.across),
    colour: palette.ink,
    ...over,
  });
  return [
    ...monuments.map((m) =>
      mark(`monument ${m.id}`, m, { shape: monumentShape, size: 64, fill: palette.paper }),
    ),
    ...setups.map((s) => mark(`set-up ${s.id}`, s, { shape: setupShape, size: 74, fill: palette.ink })),
  ];
}

export const sightDashes: readonly (readonly number[])[] = [
  [5, 3],
  [1.5, 2.5],
  [9, 3, 1.5, 3],
  [2.5, 5],
];

export function drawSights(context: ChartContext, frame: PlanFrame) {
  const { fromBase } = context.length;
  const rules: RuleRow[] = [];
  const lines: Drawn[] = [];
  const { setups } = context.results.survey;
  for (const [i, setup] of setups.entries()) {
    for (const sight of endsOf(setup.sights)) {
      rules.push({
        what: `sight from ${setup.id}`,
        x: fromBase(setup.along),
        y: fromBase(setup.across),
        x2: fromBase(sight.along),
        y2: fromBase(sight.across),
        colour: palette.soft,
        width: 0.7,
        dash: sightDashes[i % sightDashes.length]!,
      });
      if (setups.length > mostCarefulSetups) continue;
      lines.push(...drawnLine(placePx(context, frame, setup), placePx(context, frame, sight), 0.4));
    }
  }
  return { rules, lines };
}

type Sight = ChartContext['results']['survey']['setups'][number]['sights'][number];

/** Of each rail the two outermost places, and every monument. */
function endsOf(sights: readonly Sight[]): Sight[] {
  const rails = new Map<string, [Sight, Sight]>();
  const monuments: Sight[] = [];
  for (const sight of sights) {
    if (sight.rail === null) {
      monuments.push(sight);
      continue;
    }
    const ends = rails.get(sight.rail) ?? [sight, sight];
    const isBefore = (a: Sight, b: Sight) =>
      a.along < b.along || (a.along === b.along && a.across < b.across);
    if (isBefore(sight, ends[0])) ends[0] = sight;
    if (isBefore(ends[1], sight)) ends[1] = sight;
    rails.set(sight.rail, ends);
  }
  return [
    ...[...rails.values()].flatMap(([first, last]) => (first === last ? [first] : [first, last])),
    ...monuments,
  ];
}

/** Names in the plan: none on another, and as few as can be on a line. */
import type { ChartContext, SurveyRail } from '../chart-context.js';
import { capital, railWords } from '../chart-context.js';
import { textPx } from '../chart-spec.js';
import { drawnLine, placeLabel, type Candidate, type Drawn } from '../place-label.js';
import { boxOf, textRow, type Box, type TextRow } from '../rows.js';
import { fitText, plainText } from '../text-fit.js';
import { placePx, type Place, type PlanFrame } from './frame.js';

interface Wish {
  readonly text: string;
  readonly weight: 'normal' | 'bold';
  readonly candidates: readonly Candidate[];
}

export function placeLabels(
  context: ChartContext,
  frame: PlanFrame,
  rails: readonly SurveyRail[],
  sights: readonly Drawn[],
) {
  const { setups, monuments } = context.results.survey;
  const marks: Drawn[] = [...setups, ...monuments].flatMap((place) => {
    const [px, py] = placePx(context, frame, place);
    return [
      [0, 0],
      [4, 4],
      [-4, 4],
      [4, -4],
      [-4, -4],
    ].map(([dx, dy]) => ({ px: px + dx!, py: py + dy!, weight: 6 }));
  });
  const railLines = rails.flatMap((rail) => {
    const [first, last] = [rail.stations[0]!, rail.stations[rail.stations.length - 1]!];
    const [from, to] = [placePx(context, frame, first), placePx(context, frame, last)];
    const ends = [from, to].map(([px, py]) => ({ px, py, weight: 3 }));
    return [...drawnLine(from, to, 3), ...ends];
  });
  const drawn = [...marks, ...railLines, ...sights];
  const room: Box = { left: 2, right: frame.width - 2, top: 2, bottom: frame.height - 2 };
  const labels: TextRow[] = [];
  const taken: Box[] = [];
  let leftOut = 0;
  const wishes = [
    ...atPlaces(context, frame, setups, 'bold'),
    ...atPlaces(context, frame, monuments, 'bold'),
    ...rails.map((rail) => railWish(context, frame, rail)),
    ...rails.flatMap((rail) => endWishes(context, frame, rail)),
  ];
  for (const wish of wishes) {
    const label = placeLabel(wish.candidates, taken, drawn, room, wish.weight === 'bold' ? 40 : 9);
    if (label === null) {
      leftOut += wish.weight === 'bold' ? 1 : 0;
      continue;
    }
    labels.push(label);
    taken.push(boxOf(label));
  }
  return { labels, leftOut };
}

/** One label for all marks that stand at the same place: a re-levelled set-up has a name of its own. */
function atPlaces(
  context: ChartContext,
  frame: PlanFrame,
  marks: readonly (Place & { readonly id: string })[],
  weight: Wish['weight'],
): Wish[] {
  const places = new Map<string, { at: readonly [number, number]; ids: string[] }>();
  for (const mark of marks) {
    const at = placePx(context, frame, mark);
    const key = `${Math.round(at[0] / 3)} ${Math.round(at[1] / 3)}`;
    const place = places.get(key) ?? { at, ids: [] };
    place.ids.push(fitText(plainText(mark.id), 90, textPx, true));
    places.set(key, place);
  }
  return [...places.values()].map(({ at, ids }) => {
    const text = fitText(ids.join(', '), 130, textPx, true);
    return { text, weight, candidates: around(at, text, weight, 9) };
  });
}

/** Above, below, right, left, the corners; then the same farther off. */
function around(
  [px, py]: readonly [number, number],
  text: string,
  weight: TextRow['weight'],
  offPx: number,
): Candidate[] {
  const candidates: Candidate[] = [];
  for (const [round, off] of [offPx, offPx + 9].entries()) {
    const add = (dx: number, dy: number, align: TextRow['align'], cost: number) =>
      candidates.push({ label: textRow(px + dx, py + dy, text, { align, weight }), cost: cost + round * 2 });
    add(0, -off - 4, 'center', 0);
    add(0, off + 5, 'center', 0.2);
    add(off, 0, 'left', 0.4);
    add(-off, 0, 'right', 0.5);
    for (const side of [-1, 1]) {
      add(off - 1, side * off, 'left', 0.8);
      add(1 - off, side * off, 'right', 0.9);
    }
  }
  return candidates;
}

/** The rail's name, beside its line. */
function railWish(context: ChartContext, frame: PlanFrame, rail: SurveyRail): Wish {
  const text = fitText(capital(railWords(rail.id, 150)) + (rail.datum ? ', datum' : ''), 190, textPx, true);
  const [from, to] = [rail.stations[0]!, rail.stations[rail.stations.length - 1]!].map((s) =>
    placePx(context, frame, s),
  );
  const candidates = [0.5, 0.42, 0.58, 0.34, 0.66, 0.25, 0.75, 0.15, 0.85].flatMap((t, i): Candidate[] => {
    const px = from![0] + t * (to![0] - from![0]);
    const py = from![1] + t * (to![1] - from![1]);
    const cost = i * 0.3;
    if (rail.direction === 'across') {
      return (
        [
          [9, 'left'],
          [-9, 'right'],
        ] as const
      ).map(([dx, align]) => ({
        label: textRow(px + dx, py, text, { align, weight: 'bold' }),
        cost,
      }));
    }
    return [-14, 15].map((dy) => ({
      label: textRow(px, py + dy, text, { align: 'center', weight: 'bold' }),
      cost,
    }));
  });
  return { text, weight: 'bold', candidates };
}

/** Numbers of the first and the last station. */
function endWishes(context: ChartContext, frame: PlanFrame, rail: SurveyRail): Wish[] {
  const ends = [...new Set([rail.stations[0]!, rail.stations[rail.stations.length - 1]!])];
  return ends.map((station) => {
    const text = String(station.station);
    const at = placePx(context, frame, station);
    return { text, weight: 'normal', candidates: around(at, text, 'normal', 7) };
  });
}

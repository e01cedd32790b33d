/** Rings round the points that make a value, and labels with what they read. */
import { numberText, roundUncertainty } from '../../../results/words/format-quantity.js';
import { circlePath } from '../legend.js';
import { seriesLooks } from '../palette.js';
import { drawnLine, placeLabel, type Candidate, type Drawn } from '../place-label.js';
import {
  boxOf,
  strokeRow,
  textRow,
  xPx,
  yPx,
  type Box,
  type RuleRow,
  type TextRow,
  type Frame,
} from '../rows.js';
import { rightPx } from './frame.js';
import type { ProfileSeries } from './series.js';
import type { Read, ThinnedSeries } from './thinning.js';
import { mostOf } from '../../../base/statistics/extent.js';

interface Extreme {
  readonly colour: string;
  readonly px: number;
  readonly py: number;
  readonly barPx: number;
  readonly isUp: boolean;
  readonly text: string;
}

/**
 * A label is left out where there is no room for it.
 * @param words Texts that are there already.
 */
export function labelExtremes(
  frame: Frame,
  words: readonly TextRow[],
  series: readonly ProfileSeries[],
  thinned: readonly ThinnedSeries[],
  bars: readonly RuleRow[],
) {
  const room: Box = { left: -2, right: frame.width + rightPx, top: 0, bottom: frame.height };
  const drawn = [
    ...thinned.flatMap(({ runs }) => runs.flatMap((run) => placesAlong(frame, run))),
    ...bars.flatMap(({ x, y, y2 }) =>
      drawnLine([xPx(frame, x), yPx(frame, y)], [xPx(frame, x), yPx(frame, y2)], 0.7),
    ),
  ];
  // The last phase first: its labels matter most.
  const extremes = [...series].reverse().flatMap((one) => extremesOf(frame, one));
  const labels: TextRow[] = [];
  for (const extreme of extremes) {
    // Close to another ring a label would be read as that one's.
    const others = extremes.flatMap((other) => (other === extreme ? [] : aroundRing(other)));
    const taken = [...words, ...labels].map((row) => boxOf(row));
    const label = placeLabel(labelCandidates(extreme), taken, [...drawn, ...others], room);
    if (label !== null) labels.push({ ...label, colour: extreme.colour });
  }
  const rings = extremes.map(({ px, py, colour }) =>
    strokeRow(px, py, circlePath(6.2), { colour, width: 1.1 }),
  );
  return { rings, labels };
}

function extremesOf(frame: Frame, { phase, samples, extremes }: ProfileSeries): Extreme[] {
  const made = samples.filter(
    (sample): sample is Read => sample.y !== null && extremes.includes(sample.station),
  );
  const greatest = mostOf(made.map((sample) => sample.y));
  return made.map(({ x, y, half }) => {
    const py = yPx(frame, y);
    return {
      colour: seriesLooks[phase.role].colour,
      px: xPx(frame, x),
      py,
      barPx: py - yPx(frame, y + half),
      isUp: made.length === 1 ? y >= 0 : y === greatest,
      text: numberText(y, half > 0 ? roundUncertainty(half).decimals : 1, { signed: true }),
    };
  });
}

const aroundRing = ({ px, py }: Extreme): Drawn[] =>
  [0, 1, 2, 3, 4, 5, 6, 7].map((k) => ({
    px: px + 11 * Math.cos((k * Math.PI) / 4),
    py: py + 11 * Math.sin((k * Math.PI) / 4),
    weight: 2,
  }));

/** Points of a run and the line between them: what a label should not stand on. */
function placesAlong(frame: Frame, run: readonly { readonly x: number; readonly y: number }[]): Drawn[] {
  const places: Drawn[] = [];
  let before: Drawn | undefined;
  for (const { x, y } of run) {
    const here = { px: xPx(frame, x), py: yPx(frame, y), weight: 4 };
    if (before !== undefined) places.push(...drawnLine([before.px, before.py], [here.px, here.py], 1));
    places.push(here);
    before = here;
  }
  return places;
}

/** Labels for an extreme: outwards of it first, then aside, then on the other side. */
function labelCandidates(at: Extreme): Candidate[] {
  const outwards = at.isUp ? -1 : 1;
  const places = labelPlaces(Math.max(15, at.barPx + 9));
  return (
    [
      [outwards, 0],
      [-outwards, 3],
    ] as const
  ).flatMap(([side, sideCost]) =>
    places.map(([dx, dy, cost]): Candidate => {
      const align = dx === 0 ? 'center' : dx < 0 ? 'right' : 'left';
      const label = textRow(at.px + dx, at.py + side * dy, at.text, { align, weight: 'bold' });
      return { label, cost: cost + sideCost };
    }),
  );
}

/** Offsets from the point, px, and what each costs for being farther or aside. */
const labelPlaces = (beyond: number): readonly (readonly [number, number, number])[] => [
  [0, beyond, 0],
  [9, 13, 1.1],
  [-9, 13, 1.1],
  [11, 0, 2],
  [-11, 0, 2],
  [0, beyond + 12, 3],
  [9, 24, 3],
  [-9, 24, 3],
  [20, 7, 3.5],
  [-20, 7, 3.5],
];

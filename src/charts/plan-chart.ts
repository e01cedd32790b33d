/** The survey seen from above: rails with their stations, set-ups, monuments, and what was sighted from where. */
import { numberText, positionText, withUnit } from '../report/format-quantity.js';
import { labelsInside, niceBelow, niceTicks } from './axis-ticks.js';
import type { ChartContext, SurveyRail } from './chart-context.js';
import { capital, railWords } from './chart-context.js';
import type { ChartSpec } from './chart-spec.js';
import { pictureWidthPx, textPx, titlePx } from './chart-spec.js';
import type { LegendItem } from './legend.js';
import { layLegend, legendRowPx, lineSample } from './legend.js';
import { chosenText } from './number-words.js';
import { palette } from './palette.js';
import { drawnLine, placeLabel, type Candidate, type Drawn } from './place-label.js';
import type { Box, PointRow, RuleRow, Sheet, StrokeRow, TextRow } from './sheet.js';
import { boxOf, paperBehind, sheetSpec, strokeRow, textRow, xPx, yPx } from './sheet.js';
import { estimateTextPx, fitText, plainText, wrapText } from './text-fit.js';

interface Place {
  readonly along: number;
  readonly across: number;
}

/** Left and right of what is drawn, and above and below, for labels, px. */
const marginPx = { across: 34, along: 30 };
const leastHeight = 100;
/** Flatter than this, px, the rails could not be told apart: then across is stretched to the second. */
const leastToScale = 56;
const leastStretched = 90;
const mostHeight = 430;
/** How many times larger across may be drawn than along. */
const factors = [
  1, 2, 3, 4, 5, 6, 8, 10, 15, 20, 25, 30, 40, 50, 60, 80, 100, 150, 200, 250, 300, 400, 500, 1000,
];
/** Beyond this many set-ups, labels no longer look out for single lines of sight. */
const mostCarefulSetups = 40;

export function planChart(context: ChartContext): ChartSpec[] {
  const { survey } = context.results;
  const rails = survey.rails.filter((rail) => rail.stations.length > 0);
  if (rails.length === 0) return [];
  const frame = frameOf(context, [
    ...rails.flatMap((rail) => [rail.stations[0]!, rail.stations[rail.stations.length - 1]!]),
    ...survey.setups,
    ...survey.monuments,
  ]);
  const drawnRails = rails.map((rail) => drawRail(context, frame, rail));
  const marks = drawMarks(context);
  const sights = drawSights(context, frame);
  const { labels, leftOut } = placeLabels(context, frame, rails, sights.lines);

  const roomPx = pictureWidthPx - 12;
  const left = frame.padding.left;
  const laid = layLegend(legendOf(context), 6 - left, 0, roomPx);
  const top = 22 + laid.rows * legendRowPx + 12;
  const shift = 30 - top;
  const scaleWords =
    frame.factor === 1
      ? 'to scale'
      : `not to scale: across is drawn ${chosenText(frame.factor)} times larger than along`;
  const note = wrapText(
    `Seen from above, ${scaleWords}. Across is + to the left of someone who faces increasing along.`,
    roomPx,
    textPx,
  );
  const strip = scaleStrip(context, frame);
  const title = 'Plan of the survey';
  const sheet: Sheet = {
    ...frame,
    padding: { left, right: frame.padding.right, top, bottom: 82 + note.length * legendRowPx },
    ground: gridRules(frame),
    papers: labels.map(paperBehind),
    bars: [...sights.rules, ...drawnRails.map((rail) => rail.rule)],
    points: marks,
    strokes: [
      strokeRow(0, 0, `M0,0H${frame.width}V${frame.height}H0Z`, { colour: palette.faint, width: 0.7 }),
      ...drawnRails.map((rail) => rail.ticks),
      ...laid.strokes.map((row) => ({ ...row, py: row.py + shift })),
      ...strip.strokes,
    ],
    texts: [
      textRow(6 - left, 12 - top, title, { weight: 'bold', size: titlePx }),
      ...laid.texts.map((row) => ({ ...row, py: row.py + shift })),
      ...labels,
      ...strip.texts,
      ...note.map((line, i) =>
        textRow(6 - left, frame.height + 84 + i * legendRowPx, line, { colour: palette.soft }),
      ),
    ],
  };
  const { caption, alt } = wordsOf(context, rails, scaleWords, leftOut);
  return [{ key: 'plan', title, caption, alt, section: 'plan', spec: sheetSpec(sheet) }];
}

interface PlanFrame extends Pick<Sheet, 'width' | 'height' | 'x' | 'y' | 'padding'> {
  /** Pixels for a millimetre along; across it is `factor` times as many. */
  readonly perMm: number;
  readonly factor: number;
}

/** Both axes in the unit of the report, one scale for both where the picture then is neither flat nor too tall. */
function frameOf(context: ChartContext, places: readonly Place[]): PlanFrame {
  const extent = (values: readonly number[]) => {
    let [least, greatest] = [Infinity, -Infinity];
    for (const v of values) [least, greatest] = [Math.min(least, v), Math.max(greatest, v)];
    return [least, greatest] as const;
  };
  const along = extent(places.map((place) => place.along));
  const across = extent(places.map((place) => place.across));
  const alongMm = along[1] - along[0];
  const acrossMm = across[1] - across[0];
  const labelPx = Math.max(
    ...across.map((mm) => estimateTextPx(positionText(Math.round(mm / 10) * 10, context.length), textPx)),
  );
  const left = Math.max(56, Math.ceil(labelPx) + 36);
  const right = 14;
  const width = pictureWidthPx - left - right;
  const roomAlong = width - 2 * marginPx.across;
  const roomAcross = mostHeight - 2 * marginPx.along;
  let perMm = Math.min(
    alongMm > 0 ? roomAlong / alongMm : Infinity,
    acrossMm > 0 ? roomAcross / acrossMm : Infinity,
  );
  if (!Number.isFinite(perMm)) perMm = 0.1;
  const toScalePx = perMm * acrossMm;
  const isFlat = toScalePx > 0 && toScalePx < leastToScale;
  const factor = isFlat ? (factors.find((f) => f * toScalePx >= leastStretched) ?? 1000) : 1;
  const height = Math.round(Math.max(leastHeight, acrossMm * perMm * factor + 2 * marginPx.along));
  const axis = (range: readonly [number, number], px: number, pxPerMm: number, title: string) => {
    const middle = (range[0] + range[1]) / 2;
    const half = px / pxPerMm / 2;
    const domain = [context.length.fromBase(middle - half), context.length.fromBase(middle + half)] as const;
    const ticks = niceTicks(...domain, Math.max(3, Math.floor(px / (title === 'along' ? 62 : 30))));
    const numbers = ticks.values.map((value) => numberText(value, ticks.decimals));
    const labels = title === 'along' ? labelsInside(ticks.values, numbers, domain, px, right) : numbers;
    return { domain, ticks: ticks.values, labels, title: `${title}, ${context.length.label}` };
  };
  return {
    width,
    height,
    x: axis(along, width, perMm, 'along'),
    y: axis(across, height, perMm * factor, 'across'),
    padding: { left, right, top: 0, bottom: 0 },
    perMm,
    factor,
  };
}

const placePx = (context: ChartContext, frame: PlanFrame, place: Place): readonly [number, number] => [
  xPx(frame, context.length.fromBase(place.along)),
  yPx(frame, context.length.fromBase(place.across)),
];

const gridRules = ({ x, y }: PlanFrame): RuleRow[] => {
  const line = (from: readonly [number, number], to: readonly [number, number]): RuleRow => ({
    what: 'grid',
    x: from[0],
    y: from[1],
    x2: to[0],
    y2: to[1],
    colour: palette.grid,
    width: 0.6,
    dash: [],
  });
  return [
    ...x.ticks.map((at) => line([at, y.domain[0]], [at, y.domain[1]])),
    ...y.ticks.map((at) => line([x.domain[0], at], [x.domain[1], at])),
  ];
};

/** The rail's nominal line, and a tick across it at each station, at every tenth and so on where they stand close. */
function drawRail(
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

function drawMarks(context: ChartContext): PointRow[] {
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

const sightDashes: readonly (readonly number[])[] = [
  [5, 3],
  [1.5, 2.5],
  [9, 3, 1.5, 3],
  [2.5, 5],
];

function drawSights(context: ChartContext, frame: PlanFrame) {
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

interface Wish {
  readonly text: string;
  readonly weight: 'normal' | 'bold';
  readonly candidates: readonly Candidate[];
}

function placeLabels(
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

function legendOf(context: ChartContext): LegendItem[] {
  const { rails, setups, monuments } = context.results.survey;
  const railSample = (width: number) => [
    lineSample({ colour: palette.ink, width }),
    { path: 'M-8,-4.5v9M0,-4.5v9M8,-4.5v9', colour: palette.ink, width: 0.7 },
  ];
  const items: LegendItem[] = [{ label: 'datum rail', samplePx: 26, sample: railSample(3.2) }];
  if (rails.length > 1) items.push({ label: 'rail', samplePx: 26, sample: railSample(1.8) });
  items.push({
    label: 'station',
    samplePx: 4,
    sample: [{ path: 'M0,-4.5v9', colour: palette.ink, width: 0.7 }],
  });
  if (setups.length > 0) {
    items.push({
      label: 'set-up',
      samplePx: 11,
      sample: [{ path: 'M0,-5L5,4.5H-5Z', fill: palette.ink, colour: palette.ink }],
    });
    if (setups.some((setup) => setup.sights.length > 0)) {
      const sample = [lineSample({ colour: palette.soft, width: 0.7, dash: sightDashes[0]! })];
      items.push({
        label: setups.length > 1 ? 'lines of sight, one pattern a set-up' : 'lines of sight',
        samplePx: 26,
        sample,
      });
    }
  }
  if (monuments.length > 0) {
    items.push({
      label: 'monument',
      samplePx: 11,
      sample: [{ path: 'M0,-5.5L4.2,0L0,5.5L-4.2,0Z', fill: palette.paper, colour: palette.ink, width: 1.1 }],
    });
  }
  return items;
}

/** Below the axis: which way along and across go, and bars of a known length. */
function scaleStrip(context: ChartContext, frame: PlanFrame) {
  const base = frame.height + 68;
  const strokes: StrokeRow[] = [
    strokeRow(4, base, 'M0,0H24M0,0V-24', { colour: palette.ink, width: 1.1 }),
    strokeRow(4, base, 'M30,0L23,-3V3ZM0,-30L-3,-23H3Z', { colour: null, width: 0, fill: palette.ink }),
  ];
  const texts = [textRow(40, base, '+ along'), textRow(12, base - 24, '+ across')];
  const { length } = context;
  const bar = (roomPx: number, pxPerMm: number) => {
    const shown = niceBelow(length.fromBase(roomPx / pxPerMm));
    const mm = shown / length.fromBase(1);
    return { px: mm * pxPerMm, text: withUnit(positionText(mm, length), length) };
  };
  const alongBar = bar(frame.width / 4, frame.perMm);
  const label = frame.factor === 1 ? `${alongBar.text}, both ways` : `${alongBar.text} along`;
  const alongLeft = frame.width - Math.max(alongBar.px, estimateTextPx(label, textPx)) - 4;
  const end = Math.round(alongBar.px * 100) / 100;
  strokes.push(strokeRow(alongLeft, base, `M0,-4V0H${end}V-4`, { colour: palette.ink, width: 1.3 }));
  texts.push(textRow(alongLeft, base - 11, label));
  if (frame.factor !== 1) {
    const acrossBar = bar(34, frame.perMm * frame.factor);
    const acrossLabel = `${acrossBar.text} across`;
    const acrossLeft = alongLeft - estimateTextPx(acrossLabel, textPx) - 40;
    const tall = Math.round(acrossBar.px * 100) / 100;
    strokes.push(strokeRow(acrossLeft, base, `M4,0H0V${-tall}H4`, { colour: palette.ink, width: 1.3 }));
    texts.push(textRow(acrossLeft + 9, base - 11, acrossLabel));
  }
  return { strokes, texts };
}

function wordsOf(context: ChartContext, rails: readonly SurveyRail[], scaleWords: string, leftOut: number) {
  const { setups, monuments } = context.results.survey;
  const count = (n: number, one: string) => `${n === 0 ? 'no' : n} ${one}${n === 1 ? '' : 's'}`;
  const from =
    setups.length > 0 ? ', and lines of sight from each set-up to the ends of what was read from it' : '';
  const caption =
    `The survey seen from above, ${scaleWords}: nominal places of rails, stations, set-ups and monuments${from}. ` +
    'Across is + to the left of someone who faces increasing along.' +
    (leftOut > 0
      ? ` For want of room ${count(leftOut, 'name')} ${leftOut === 1 ? 'is' : 'are'} left out.`
      : '');
  const named = rails
    .slice(0, 12)
    .map(
      (rail) =>
        `${railWords(rail.id)} (${count(rail.stations.length, 'station')}${rail.datum ? ', datum' : ''})`,
    );
  const more = rails.length > 12 ? ` and ${rails.length - 12} more` : '';
  const alt = `Plan of the survey, ${scaleWords}: ${named.join(', ')}${more}; ${count(setups.length, 'set-up')}, ${count(monuments.length, 'monument')}.`;
  return { caption, alt };
}

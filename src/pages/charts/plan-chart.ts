/** The survey seen from above: rails with their stations, set-ups, monuments, and what was sighted from where. */
import type { ChartContext, SurveyRail } from './chart-context.js';
import { railWords } from './chart-context.js';
import { textPx, type ChartSpec } from './chart-spec.js';
import { legendRowPx, lineSample, type LegendItem } from './legend.js';
import { chosenText } from './number-words.js';
import { palette } from './palette.js';
import { linesBelow, pictureHead, roomPx } from './picture-head.js';
import { planFrame, type PlanFrame } from './plan/frame.js';
import { placeLabels } from './plan/labels.js';
import { drawMarks, drawRail, drawSights, sightDashes } from './plan/marks.js';
import { scaleStrip } from './plan/scale-strip.js';
import { paperBehind, strokeRow, type RuleRow } from './rows.js';
import { sheetSpec, type Sheet } from './sheet.js';
import { wrapText } from './text-fit.js';

export function planChart(context: ChartContext): ChartSpec[] {
  const { survey } = context.results;
  const rails = survey.rails.filter((rail) => rail.stations.length > 0);
  if (rails.length === 0) return [];
  const frame = planFrame(context, [
    ...rails.flatMap((rail) => [rail.stations[0]!, rail.stations[rail.stations.length - 1]!]),
    ...survey.setups,
    ...survey.monuments,
  ]);
  const drawnRails = rails.map((rail) => drawRail(context, frame, rail));
  const marks = drawMarks(context);
  const sights = drawSights(context, frame);
  const { labels, leftOut } = placeLabels(context, frame, rails, sights.lines);

  const left = frame.padding.left;
  const title = 'Plan of the survey';
  const head = pictureHead(title, [], legendOf(context), 8);
  const placed = head.place(left);
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
  const sheet: Sheet = {
    ...frame,
    padding: { left, right: frame.padding.right, top: head.top, bottom: 56 + note.length * legendRowPx },
    ground: gridRules(frame),
    papers: labels.map(paperBehind),
    bars: [...sights.rules, ...drawnRails.map((rail) => rail.rule)],
    points: marks,
    strokes: [
      strokeRow(0, 0, `M0,0H${frame.width}V${frame.height}H0Z`, { colour: palette.faint, width: 0.7 }),
      ...drawnRails.map((rail) => rail.ticks),
      ...placed.strokes,
      ...strip.strokes,
    ],
    texts: [
      ...placed.texts,
      ...labels,
      ...strip.texts,
      ...linesBelow(note, left, frame.height + 62, palette.soft),
    ],
  };
  const { caption, alt } = wordsOf(context, rails, scaleWords, leftOut);
  return [{ key: 'plan', title, caption, alt, section: 'plan', spec: sheetSpec(sheet) }];
}

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

function wordsOf(context: ChartContext, rails: readonly SurveyRail[], scaleWords: string, leftOut: number) {
  const { setups, monuments } = context.results.survey;
  const count = (n: number, one: string) => `${n === 0 ? 'no' : n} ${one}${n === 1 ? '' : 's'}`;
  const from =
    setups.length > 0 ? ' Lines of sight go from each set-up to the ends of what was read from it.' : '';
  const caption =
    `Drawn at nominal places.${from}` +
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

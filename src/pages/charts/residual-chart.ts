/** Standardised residuals of one phase, set-up by set-up, with the bounds of the test for blunders. */
import { numberText } from '../../results/words/format-quantity.js';
import type { ResidualResult } from '../../results/results-schema.js';
import { niceTicks } from './axis-ticks.js';
import type { ChartContext, PhaseContext } from './chart-context.js';
import { pictureWidthPx, textPx, type ChartSpec } from './chart-spec.js';
import { circlePath, lineSample, squarePath, type LegendItem } from './legend.js';
import { chosenText } from './number-words.js';
import { palette } from './palette.js';
import { pictureHead } from './picture-head.js';
import { groupsOf, groupStrip, placeGroups, type Tested } from './residual/groups.js';
import { labelSuspects, suspectsOf, type Marked } from './residual/suspects.js';
import { paperBehind, strokeRow, type PointRow, type RuleRow, type Frame } from './rows.js';
import { sheetSpec, type Sheet } from './sheet.js';
import { textWidth } from '../fonts/widths.js';

/** Baarda's test at α = 0.001, two-sided. */
export const testBound = 3.29;
const plotHeight = 132;
/** Beyond this many, only the least and the greatest of each stretch are drawn, and all beyond ±2. */
const mostPoints = 800;

interface AxisLook {
  readonly shape: string;
  readonly path: string;
  readonly colour: string;
  readonly fill: string;
}
const axisLooks: Readonly<Record<string, AxisLook>> = {
  vertical: { shape: 'circle', path: circlePath(3), colour: palette.ink, fill: palette.ink },
  horizontal: { shape: 'square', path: squarePath(2.8), colour: palette.soft, fill: palette.paper },
  along: { shape: 'triangle-up', path: 'M0,-4L3.8,2.8H-3.8Z', colour: palette.ink, fill: palette.paper },
};
const otherLook: AxisLook = {
  shape: 'diamond',
  path: 'M0,-4.2L3.4,0L0,4.2L-3.4,0Z',
  colour: palette.soft,
  fill: palette.faint,
};
const lookOf = (axis: string) => axisLooks[axis] ?? otherLook;

export function residualChart(context: ChartContext, phase: PhaseContext): ChartSpec[] {
  const tested = phase.phase.residuals.filter((r): r is Tested => r.standardised !== null);
  if (tested.length === 0) return [];
  const groups = groupsOf(context, tested);
  const placed = placeGroups(groups);
  const most = Math.max(testBound * 1.25, ...tested.map((r) => Math.abs(r.standardised) * 1.12));
  const ticks = niceTicks(-most, most, 6);
  const labels = ticks.values.map((v) => (v === 0 ? '0' : numberText(v, ticks.decimals, { signed: true })));
  const left = Math.max(56, Math.ceil(Math.max(...labels.map((label) => textWidth(label, textPx)))) + 36);
  const width = pictureWidthPx - left - 14;
  const frame = {
    width,
    height: plotHeight,
    x: {
      domain: [-0.012 * placed.end, 1.012 * placed.end] as const,
      ticks: [],
      labels: [],
      title: 'readings in the order of their files, by set-up',
    },
    y: { domain: [-most, most] as const, ticks: ticks.values, labels, title: 'standardised residual' },
  };
  const suspects = suspectsOf(phase, placed.at);
  const drawn = thinned(tested, placed.at, suspects);
  const points = [...drawn].map((r): PointRow => {
    const look = lookOf(r.axis);
    return {
      what: r.axis,
      x: placed.at.get(r)!,
      y: r.standardised,
      shape: look.shape,
      size: drawn.size > 300 ? 13 : 26,
      colour: look.colour,
      fill: look.fill,
    };
  });
  const marked = labelSuspects(frame, suspects, points);
  const strip = groupStrip(frame, placed.groups);
  const title = `Standardised residuals, ${phase.words}`;
  const head = pictureHead(title, [], legendOf(tested), 20);
  const placedHead = head.place(left);
  const sheet: Sheet = {
    ...frame,
    padding: { left, right: 14, top: head.top, bottom: 24 },
    ground: [...gridRules(frame), ...strip.rules],
    papers: marked.labels.map(paperBehind),
    points,
    strokes: [
      strokeRow(0, plotHeight, `M0,0H${width}`, { colour: palette.soft }),
      ...placedHead.strokes,
      ...marked.rings,
    ],
    texts: [...placedHead.texts, ...strip.texts, ...marked.labels],
  };
  const words = wordsOf(phase, tested, drawn.size, suspects);
  return [{ key: `residuals-${phase.name}`, title, ...words, section: 'residuals', spec: sheetSpec(sheet) }];
}

function thinned(
  tested: readonly Tested[],
  at: ReadonlyMap<ResidualResult, number>,
  suspects: readonly Marked[],
): Set<Tested> {
  if (tested.length <= mostPoints) return new Set(tested);
  const kept = new Set<Tested>(suspects.map((s) => s.residual));
  const bins = new Map<string, { least: Tested; greatest: Tested }>();
  for (const r of tested) {
    if (Math.abs(r.standardised) > 2) kept.add(r);
    const key = `${r.axis} ${Math.floor((at.get(r)! / tested.length) * 250)}`;
    const bin = bins.get(key);
    if (bin === undefined) bins.set(key, { least: r, greatest: r });
    else if (r.standardised < bin.least.standardised) bin.least = r;
    else if (r.standardised > bin.greatest.standardised) bin.greatest = r;
  }
  for (const { least, greatest } of bins.values()) kept.add(least).add(greatest);
  return new Set(tested.filter((r) => kept.has(r)));
}

function gridRules({ x, y }: Frame): RuleRow[] {
  const level = (
    what: string,
    value: number,
    colour: string,
    width: number,
    dash: readonly number[],
  ): RuleRow => ({
    what,
    x: x.domain[0],
    x2: x.domain[1],
    y: value,
    y2: value,
    colour,
    width,
    dash,
  });
  return [
    ...y.ticks.map((value) => level('grid', value, palette.grid, 0.6, [])),
    level('zero', 0, palette.ink, 0.9, []),
    level('bound', testBound, palette.zoneEdge, 0.9, [6, 3]),
    level('bound', -testBound, palette.zoneEdge, 0.9, [6, 3]),
  ];
}

function legendOf(tested: readonly Tested[]): LegendItem[] {
  const known = Object.keys(axisLooks).filter((axis) =>
    tested.some((r) => r.axis === axis && r.file !== null),
  );
  const others = tested.filter((r) => axisLooks[r.axis] === undefined);
  const items: LegendItem[] = known.map((axis) => ({
    label: axis,
    samplePx: 9,
    sample: [sampleOf(axisLooks[axis]!)],
  }));
  if (others.length > 0) {
    const label = others.every((r) => r.file === null) ? 'prior values' : 'others';
    items.push({ label, samplePx: 9, sample: [sampleOf(otherLook)] });
  }
  items.push({
    label: `± ${chosenText(testBound)}: passed by chance once in a thousand readings`,
    samplePx: 26,
    sample: [lineSample({ colour: palette.zoneEdge, width: 0.9, dash: [6, 3] })],
  });
  return items;
}

const sampleOf = (look: AxisLook) => ({ path: look.path, colour: look.colour, fill: look.fill, width: 1.1 });

function wordsOf(phase: PhaseContext, tested: readonly Tested[], drawn: number, suspects: readonly Marked[]) {
  const all = phase.phase.residuals;
  const unchecked = all.length - tested.length;
  const leftOut = phase.phase.residualsLeftOut;
  const worst = tested.reduce((w, r) => (Math.abs(r.standardised) > Math.abs(w.standardised) ? r : w));
  const beyond = tested.filter((r) => Math.abs(r.standardised) > testBound).length;
  const more = [
    unchecked > 0
      ? `${unchecked} ${unchecked === 1 ? 'value, which no other checks, is' : 'values, which no others check, are'} not drawn.`
      : '',
    leftOut > 0
      ? `Of ${numberText(tested.length + leftOut, 0)} the largest are drawn.`
      : drawn < tested.length
        ? `Of ${numberText(tested.length, 0)} the extremes of each short stretch are drawn, and all beyond ± 2.`
        : '',
    suspects.length > 0 ? 'Suspects are ringed.' : '',
  ].filter((text) => text !== '');
  const caption =
    'Reading less solution, sign as read, divided by its own standard uncertainty; ' +
    `beyond ± ${chosenText(testBound)} a reading is suspect. ${more.join(' ')}`;
  const alt =
    `Scatter chart: ${numberText(tested.length, 0)} standardised residuals ${phase.words}, by set-up. ` +
    `The greatest is ${numberText(worst.standardised, 1, { signed: true })}; ${beyond === 0 ? 'none lies' : beyond === 1 ? '1 lies' : `${beyond} lie`} beyond ± ${chosenText(testBound)}.`;
  return { caption: caption.trim(), alt };
}

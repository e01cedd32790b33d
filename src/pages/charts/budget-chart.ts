/** Where the uncertainty of each characteristic comes from: one bar each, its variance shared out by source. */
import type { CharacteristicResult } from '../../results/results-schema.js';
import { budgetSources, type BudgetSource } from '../../results/results-schema.js';
import {
  coverageText,
  NO_BREAK_SPACE,
  numberText,
  positionText,
  unitFor,
  withUnit,
} from '../../results/words/format-quantity.js';
import { characteristicNames, referenceWords } from '../../results/words/texts.js';
import type { ChartContext, PhaseContext } from './chart-context.js';
import { outcomeText, railWords } from './chart-context.js';
import type { ChartSpec, Json, Row, VegaLiteSpec } from './chart-spec.js';
import { pictureWidthPx, textPx } from './chart-spec.js';
import { hatchPath, shifted, type Hatch } from './hatch.js';
import type { LegendItem } from './legend.js';
import { chosenText } from './number-words.js';
import { palette } from './palette.js';
import { pictureHead } from './picture-head.js';
import { boxOf, round, strokeRow, textRow, type StrokeRow, type TextRow } from './rows.js';
import { chartConfig, schemaUrl, strokesLayer, textsLayer } from './sheet.js';
import { fitText } from './text-fit.js';
import { textWidth } from '../fonts/widths.js';

interface SourceLook {
  readonly fill: string;
  readonly line: string;
  readonly hatch: Hatch;
  /** Share in per cent, written on the bar. */
  readonly text: string;
}

/** Told apart by hatching and by lightness alone, in the order in which they lie in the bar. */
const looks: Readonly<Record<BudgetSource, SourceLook>> = {
  readings: { fill: '#123f73', line: '#123f73', hatch: 'none', text: '#ffffff' },
  distance: { fill: '#a9bfd6', line: '#123f73', hatch: 'none', text: palette.ink },
  level: { fill: '#ffffff', line: '#54616a', hatch: 'rising', text: palette.ink },
  'direction-carry-over': { fill: '#b06f12', line: '#b06f12', hatch: 'none', text: '#ffffff' },
  'height-carry-over': { fill: '#f3e2c6', line: '#b06f12', hatch: 'falling', text: palette.ink },
  drift: { fill: '#ffffff', line: '#54616a', hatch: 'crossed', text: palette.ink },
  'target-assemblies': { fill: '#ffffff', line: '#1d262c', hatch: 'level', text: palette.ink },
  air: { fill: '#d9dee2', line: '#1d262c', hatch: 'rising', text: palette.ink },
  cone: { fill: '#d9dee2', line: '#1d262c', hatch: 'falling', text: palette.ink },
  'target-scale': { fill: '#f3e2c6', line: '#1d262c', hatch: 'level', text: palette.ink },
  'target-roll': { fill: '#f3e2c6', line: '#1d262c', hatch: 'crossed', text: palette.ink },
  seating: { fill: '#ffffff', line: '#123f73', hatch: 'falling', text: palette.ink },
  'rail-tilt': { fill: '#ffffff', line: '#b06f12', hatch: 'rising', text: palette.ink },
  temperature: { fill: '#ffffff', line: '#b06f12', hatch: 'crossed', text: palette.ink },
};

const sourceWords: Readonly<Record<BudgetSource, string>> = {
  readings: 'readings',
  distance: 'distance from the instrument',
  level: 'levelling of the instrument',
  'direction-carry-over': 'carry-over of direction',
  'height-carry-over': 'carry-over of height',
  'target-assemblies': 'target assemblies',
  drift: 'drift of the instrument',
  air: 'bending of the light in the air',
  cone: 'cone of the swept planes',
  'target-scale': 'scale of the targets',
  'target-roll': 'roll of the targets',
  seating: 'seating of the targets',
  'rail-tilt': 'tilt of the rails',
  temperature: 'temperature',
};

const rowPx = 16;
const barPx = 12;
const mostRows = 16;
const rightPx = 84;
/** Bars that the alternative text names. */
const mostNamed = 8;

/** Bars for characteristics with a limit, of the last phase; where none has a limit, for those that a verdict would rest on. */
export function budgetCharts(context: ChartContext): ChartSpec[] {
  const phase = context.phases[context.phases.length - 1];
  if (phase === undefined) return [];
  const withBudget = phase.phase.characteristics.filter((c) => Object.keys(c.budget).length > 0);
  const limited = withBudget.filter((c) => c.limit !== null);
  const plain = withBudget.filter((c) => (c.reference ?? 'least-squares') === 'least-squares');
  const rows = limited.length > 0 ? limited : plain;
  const pages = Math.ceil(rows.length / mostRows);
  const perPage = Math.ceil(rows.length / pages);
  return Array.from({ length: pages }, (_, i) =>
    budgetChart(
      context,
      phase,
      rows.slice(i * perPage, (i + 1) * perPage),
      pages === 1 ? null : i + 1,
      pages,
    ),
  );
}

function budgetChart(
  context: ChartContext,
  phase: PhaseContext,
  rows: readonly CharacteristicResult[],
  page: number | null,
  pages: number,
): ChartSpec {
  const names = rows.map((row) => fitText(nameOf(context, row), 252, textPx));
  const left = Math.ceil(Math.max(100, ...names.map((name) => textWidth(name, textPx)))) + 18;
  const width = pictureWidthPx - left - rightPx;
  const height = rows.length * rowPx + 4;
  const bars = rows.flatMap((row, i) => barsOf(row, i));
  const marks = bars.map((bar) => markBar(bar, width));
  const sources = budgetSources.filter((source) => bars.some((bar) => bar.source === source));
  const title = `Sources of uncertainty, ${phase.words}` + (page === null ? '' : ` (${page} of ${pages})`);
  const head = pictureHead(title, [], sources.map(legendItem), 18);
  const placed = head.place(left);
  const texts: TextRow[] = [
    ...placed.texts,
    textRow(width + 8, -9, 'U', { colour: palette.soft }),
    ...rows.flatMap((row, i) => [
      textRow(-8, middleOf(i), names[i]!, { align: 'right' }),
      textRow(width + 8, middleOf(i), expandedOf(context, row)),
    ]),
    ...marks.flatMap((mark) => mark.texts),
  ];
  const strokes: StrokeRow[] = [...placed.strokes, ...marks.flatMap((mark) => mark.strokes)];
  const padding = { left, right: rightPx, top: head.top, bottom: 36 };
  return {
    key: page === null ? 'budget' : `budget-${page}`,
    title,
    ...wordsOf(context, phase, rows, sources),
    section: 'budget',
    spec: budgetSpec(width, height, padding, bars, strokes, texts),
  };
}

const middleOf = (row: number): number => (row + 0.5) * rowPx + 2;

/** "Straightness, vertical, over 1000 mm, rail A" */
function nameOf(context: ChartContext, c: CharacteristicResult): string {
  const over =
    c.over === undefined ? '' : `, ${withUnit(positionText(c.over, context.length), context.length)}`;
  const reference =
    c.reference === undefined || c.reference === 'least-squares' ? '' : `, ${referenceWords[c.reference]}`;
  return `${characteristicNames[c.what]}${over}${reference}, ${railWords(c.rail, 90)}`;
}

/** As the table of results prints it. */
function expandedOf(context: ChartContext, c: CharacteristicResult): string {
  const unit = unitFor(context, c.unit);
  return c.value === null ? '' : withUnit(outcomeText(context, c, c.value, unit).expanded, unit);
}

const shareText = (share: number): string => `${numberText(share * 100, 0)}${NO_BREAK_SPACE}%`;

interface Bar {
  readonly source: BudgetSource;
  readonly row: number;
  /** From and to, as shares of the whole. */
  readonly x: number;
  readonly x2: number;
}

function barsOf(c: CharacteristicResult, row: number): Bar[] {
  const bars: Bar[] = [];
  const total = Object.values(c.budget).reduce((sum, share) => sum + share, 0);
  let x = 0;
  for (const source of budgetSources) {
    const share = (c.budget[source] ?? 0) / total;
    if (!(share > 0)) continue;
    bars.push({ source, row, x, x2: x + share });
    x += share;
  }
  return bars;
}

/** Hatching and the share in per cent, in pixels over the bar. */
function markBar(bar: Bar, width: number): { strokes: StrokeRow[]; texts: TextRow[] } {
  const look = looks[bar.source];
  const [left, right] = [bar.x * width, bar.x2 * width];
  const top = middleOf(bar.row) - barPx / 2;
  const strokes: StrokeRow[] = [];
  const hatch = hatchPath(look.hatch, right - left, barPx);
  if (hatch !== '') strokes.push(strokeRow(left, top, hatch, { colour: look.line, width: 0.7 }));
  const label = textRow((left + right) / 2, middleOf(bar.row), shareText(bar.x2 - bar.x), {
    align: 'center',
    colour: look.text,
  });
  const box = boxOf(label);
  if (box.right - box.left > right - left - 2) return { strokes, texts: [] };
  if (hatch !== '') {
    const ground = `M0,0H${round(box.right - box.left)}V${barPx - 1.4}H0Z`;
    strokes.push(strokeRow(box.left, top + 0.7, ground, { colour: null, width: 0, fill: look.fill }));
  }
  return { strokes, texts: [label] };
}

function legendItem(source: BudgetSource): LegendItem {
  const look = looks[source];
  const hatch = hatchPath(look.hatch, 24, 10);
  return {
    label: sourceWords[source],
    samplePx: 26,
    sample: [
      { path: 'M-12,-5h24v10h-24Z', colour: look.line, width: 0.7, fill: look.fill },
      ...(hatch === '' ? [] : [{ path: shifted(hatch, -12, -5), colour: look.line, width: 0.7 }]),
    ],
  };
}

function budgetSpec(
  width: number,
  height: number,
  padding: VegaLiteSpec['padding'],
  bars: readonly Bar[],
  strokes: readonly StrokeRow[],
  texts: readonly TextRow[],
): VegaLiteSpec {
  const rows = bars.map((bar): Row => {
    const { fill, line } = looks[bar.source];
    const top = middleOf(bar.row) - barPx / 2;
    return { source: bar.source, row: bar.row, x: bar.x, x2: bar.x2, top, bottom: top + barPx, fill, line };
  });
  return {
    $schema: schemaUrl,
    background: palette.paper,
    autosize: 'none',
    width,
    height,
    padding,
    datasets: { bars: rows, strokes, texts },
    params: [],
    config: chartConfig,
    layer: budgetLayers,
  };
}

const budgetLayers: readonly Json[] = [
  {
    data: { name: 'bars', format: { parse: null } },
    mark: { type: 'rect', strokeWidth: 0.7, opacity: 1, invalid: null },
    encoding: {
      x: {
        field: 'x',
        type: 'quantitative',
        scale: { domain: [0, 1], nice: false },
        axis: {
          values: [0, 0.25, 0.5, 0.75, 1],
          labelExpr: "datum.value * 100 + '\u00a0%'",
          title: 'share of the variance',
          titlePadding: 5,
        },
      },
      x2: { field: 'x2' },
      y: { field: 'top', type: 'quantitative', scale: null },
      y2: { field: 'bottom' },
      fill: { field: 'fill', type: 'nominal', scale: null },
      stroke: { field: 'line', type: 'nominal', scale: null },
    },
  },
  strokesLayer,
  textsLayer,
];

function wordsOf(
  context: ChartContext,
  phase: PhaseContext,
  rows: readonly CharacteristicResult[],
  sources: readonly BudgetSource[],
) {
  const caption =
    `Where the variance of each value ${phase.words} comes from; a bar is the whole. ` +
    `U: expanded uncertainty, k = ${chosenText(context.k)} (${coverageText(context.results.settings.coverage)}).`;
  const greatest = rows.slice(0, mostNamed).map((row) => {
    const [source, share] = Object.entries(row.budget).reduce((best, next) =>
      next[1] > best[1] ? next : best,
    );
    return `${nameOf(context, row)}: mostly ${sourceWords[source as BudgetSource]} (${shareText(share)})`;
  });
  const more = rows.length > mostNamed ? `; and ${rows.length - mostNamed} more` : '';
  const alt = `Bar chart of ${sources.length} sources of uncertainty, ${phase.words}. ${greatest.join('; ')}${more}.`;
  return { caption, alt };
}

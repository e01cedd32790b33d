/** The characteristics of one machine over its surveys: small pictures side by side, with one axis of days. */
import { phaseWords, verdictWords } from '../../results/words/texts.js';
import { pictureWidthPx, type ChartSpec } from './chart-spec.js';
import { layLegend, legendRowPx, lineSample, seriesItem, type LegendItem } from './legend.js';
import { palette, seriesLooks } from './palette.js';
import { sheetSpec } from './sheet.js';
import { drawPanel, panelHeightPx, verdictShapes } from './trend/panel.js';
import type { TrendInput, TrendPanel } from './trend/trend-input.js';

const gapPx = 10;
const edgePx = 4;

/** @param input One panel or more. */
export function trendChart(input: TrendInput): ChartSpec {
  const { panels } = input;
  const columns = panels.length > 1 ? 2 : 1;
  const pictureWidth = columns === 1 ? pictureWidthPx / 2 : pictureWidthPx;
  const room = pictureWidth - 2 * edgePx;
  const width = columns === 1 ? room : (room - gapPx) / 2;
  const legend = layLegend(legendOf(input), edgePx, legendRowPx / 2, room);
  const top = legend.rows * legendRowPx + 6;
  const height = top + Math.ceil(panels.length / columns) * (panelHeightPx + gapPx);
  const days = daysOf(panels);
  const drawn = panels.map((panel, i) =>
    drawPanel(panel, {
      left: edgePx + (i % columns) * (width + gapPx),
      top: top + Math.floor(i / columns) * (panelHeightPx + gapPx),
      width,
      days,
    }),
  );
  const axis = { ticks: [], labels: [], title: '' };
  const spec = sheetSpec({
    width: pictureWidth,
    height,
    padding: { left: 0, right: 0, top: 0, bottom: 0 },
    // Pixels: each panel has its own scales.
    x: { domain: [0, pictureWidth], ...axis },
    y: { domain: [0, height], ...axis },
    strokes: [...drawn.flatMap((panel) => panel.strokes), ...legend.strokes],
    texts: [...drawn.flatMap((panel) => panel.texts), ...legend.texts],
  });
  const { key, title, alt } = input;
  return { key, title, alt, caption: '', section: 'trend', spec };
}

/** First and last day of all panels, with some room. */
function daysOf(panels: readonly TrendPanel[]): [number, number] {
  const days = panels.flatMap(({ values }) => values.map(({ day }) => day));
  const [first, last] = [Math.min(...days), Math.max(...days)];
  const room = Math.max(1, 0.05 * (last - first));
  return [first - room, last + room];
}

/** Only what the picture shows. */
function legendOf({ panels, intervalLabel }: TrendInput): LegendItem[] {
  const values = panels.flatMap((panel) => panel.values).filter(({ value }) => value !== null);
  const items: LegendItem[] = [];
  for (const phase of ['as-found', 'as-left'] as const)
    if (values.some((value) => value.phase === phase))
      items.push(seriesItem(phaseWords(phase), seriesLooks[phase], false));
  const add = (label: string, samplePx: number, sample: LegendItem['sample'][number]) =>
    items.push({ label, samplePx, sample: [sample] });
  if (values.some(({ interval }) => interval !== null))
    add(intervalLabel, 6, { path: 'M0,-6V6', colour: palette.ink, width: 1 });
  if (values.some(({ limit }) => limit !== null))
    add('limit', 26, lineSample({ colour: palette.zoneEdge, width: 1, dash: [6, 3] }));
  for (const verdict of ['does-not-conform', 'undecided'] as const)
    if (values.some((value) => value.verdict === verdict))
      add(verdictWords[verdict], 11, { path: verdictShapes[verdict], colour: palette.ink, width: 1 });
  return items;
}

/** The way from a printed figure back to its cells, as one page: a drawing of it, and every reading with its weight. */
import { visible } from '../../base/diagnostics/messages.js';
import type { Trace, TracedReading } from '../../results/trace.js';
import type { Results } from '../../results/results-schema.js';
import { SOFTWARE } from '../../base/version.js';
import { reportNumber } from './document-title.js';
import { endWords } from './end-words.js';
import { numberText } from '../../results/words/format-quantity.js';
import { sheetPage } from './sheet-page.js';
import { identityName, namingOf } from '../../results/identity.js';
import { phaseWords, verdictWords } from '../../results/words/texts.js';

/** Readings drawn one by one; the others together. */
const DRAWN = 8;

interface Node {
  readonly x: number;
  readonly y: number;
  readonly text: string;
  readonly detail: string;
  readonly anchor: 'start' | 'middle' | 'end';
}

interface Line {
  readonly x1: number;
  readonly y1: number;
  readonly x2: number;
  readonly y2: number;
  readonly width: string;
}

/** @param results Of the report that the figure stands in. */
export function tracePage(
  trace: Trace,
  results: Pick<Results, 'job' | 'issue' | 'style' | 'phases' | 'survey'>,
): string {
  const { phase, value, unit, constant, readings, stated, characteristic: c } = trace;
  const label = unit === 'um' ? 'µm' : 'µm/m';
  const title = `${identityName(c, namingOf(results))}, ${phaseWords(phase)}`;
  const sum = readings.reduce((total, r) => total + r.weight * r.reading, 0);
  const facts = [
    ['Value', `${numberText(value, 4)} ${label}`],
    ['Standard uncertainty', c.u === null ? '–' : `${numberText(c.u, 4)} ${label}`],
    [
      'Interval',
      c.interval === null ? '–' : `${c.interval.map((v) => numberText(v, 4)).join(' to ')} ${label}`,
    ],
    ...(c.ends === undefined
      ? []
      : [
          ['Its lower end', endWords(c.ends.lower, plainFour)],
          ['Its upper end', endWords(c.ends.upper, plainFour)],
        ]),
    ['Made at', c.at.map((p) => `${visible(p.rail)}:${p.station}`).join(', ') || 'all stations'],
    ['Limit', c.limit === null ? 'none' : `${plain(c.limit)} ${label}`],
    ['Verdict', verdictWords[c.verdict]],
  ].map(([name, text]) => ({ name, text }));
  return sheetPage(
    'trace',
    {
      title,
      software: `${SOFTWARE.name} ${SOFTWARE.version}`,
      report: reportNumber(results),
      facts,
      drawing: drawingOf(trace, label),
      label,
      rows: readings.map((r) => ({
        cell: `${visible(r.file)}: ${r.row}`,
        column: visible(r.column),
        setup: r.setup === null ? '–' : visible(r.setup),
        point: visible(r.point),
        reading: `${plain(r.reading)} ${r.unit}`,
        weight: numberText(r.weight, 4),
        adds: numberText(r.weight * r.reading, 4),
        residual: numberText(r.residual, 2),
        share: percent(r.share),
      })),
      sum: numberText(sum, 4),
      constant: constant === 0 ? '' : numberText(constant, 4),
      total: numberText(sum + constant, 4),
      stated: stated.map((s) => `${s.what} ${percent(s.share)}`).join(', '),
    },
    {
      paper: results.style.paper,
      printPt: 8.5,
      title: `Report ${reportNumber(results)}: where a figure comes from`,
      software: `${SOFTWARE.name} ${SOFTWARE.version}`,
      note: title,
    },
  );
}

const plainFour = (v: number): string => numberText(v, 4);
const percent = (share: number): string => `${numberText(100 * share, 1)} %`;
const plain = (v: number): string => String(Number(v.toPrecision(10))).replace('-', '\u2212');

/** Columns of the drawing: cells, set-ups, stations, the figure; a line is as thick as its share of the variance. */
function drawingOf({ readings, characteristic, value }: Trace, label: string) {
  const [cells, setups, points, end] = [170, 330, 470, 560];
  const drawn = readings.slice(0, DRAWN);
  const others = readings.slice(DRAWN);
  const at = new Set(characteristic.at.map((p) => `${p.rail}:${p.station}`));
  const pointOf = (r: TracedReading) => (at.has(r.point) ? r.point : 'others');
  const named = {
    setups: [...new Set(readings.map((r) => r.setup ?? 'no set-up'))],
    points: [...new Set(readings.map(pointOf))].sort(
      (a, b) => Number(a === 'others') - Number(b === 'others'),
    ),
  };
  const rows = drawn.length + (others.length > 0 ? 1 : 0);
  const height = Math.max(rows, named.setups.length, named.points.length) * 22 + 30;
  const places = (n: number) => (k: number) => 26 + ((height - 30) * (k + 0.5)) / n;
  const cellY = places(rows);
  const setupY = new Map(named.setups.map((id, k) => [id, places(named.setups.length)(k)]));
  const pointY = new Map(named.points.map((id, k) => [id, places(named.points.length)(k)]));
  const endY = places(1)(0);
  const thick = (share: number) => numberText(Math.max(0.4, 14 * share), 1);
  const lines: Line[] = [];
  const flows = new Map<string, number>();
  readings.forEach((r, i) => {
    const setup = r.setup ?? 'no set-up';
    const key = JSON.stringify([setup, pointOf(r)]);
    flows.set(key, (flows.get(key) ?? 0) + r.share);
    if (i < DRAWN)
      lines.push({
        x1: cells + 4,
        y1: cellY(i),
        x2: setups - 24,
        y2: setupY.get(setup)!,
        width: thick(r.share),
      });
  });
  const rest = new Map<string, number>();
  for (const r of others) rest.set(r.setup ?? 'no set-up', (rest.get(r.setup ?? 'no set-up') ?? 0) + r.share);
  for (const [setup, share] of rest)
    lines.push({
      x1: cells + 4,
      y1: cellY(rows - 1),
      x2: setups - 24,
      y2: setupY.get(setup)!,
      width: thick(share),
    });
  const toEnd = new Map<string, number>();
  for (const [key, share] of flows) {
    const [setup, point] = JSON.parse(key) as [string, string];
    lines.push({
      x1: setups + 24,
      y1: setupY.get(setup)!,
      x2: points - 24,
      y2: pointY.get(point)!,
      width: thick(share),
    });
    toEnd.set(point, (toEnd.get(point) ?? 0) + share);
  }
  for (const [point, share] of toEnd)
    lines.push({ x1: points + 24, y1: pointY.get(point)!, x2: end, y2: endY, width: thick(share) });
  const nodes: Node[] = [
    ...drawn.map((r, k): Node => ({
      x: cells,
      y: cellY(k) + 3,
      text: `${visible(r.file).replace(/^readings\//, '')}: ${r.row}`,
      detail: percent(r.share),
      anchor: 'end',
    })),
    ...(others.length > 0
      ? [
          {
            x: cells,
            y: cellY(rows - 1) + 3,
            text: `${others.length} more`,
            detail: percent(others.reduce((s, r) => s + r.share, 0)),
            anchor: 'end' as const,
          },
        ]
      : []),
    ...named.setups.map((id): Node => ({
      x: setups,
      y: setupY.get(id)! + 3,
      text: visible(id),
      detail: '',
      anchor: 'middle',
    })),
    ...named.points.map((id): Node => ({
      x: points,
      y: pointY.get(id)! + 3,
      text: id === 'others' ? 'the line' : visible(id),
      detail: '',
      anchor: 'middle',
    })),
    { x: end + 6, y: endY + 4, text: `${numberText(value, 1)} ${label}`, detail: '', anchor: 'start' },
  ];
  const heads = [
    { x: cells, text: 'file: line', anchor: 'end' },
    { x: setups, text: 'set-up', anchor: 'middle' },
    { x: points, text: 'station', anchor: 'middle' },
    { x: end + 6, text: 'figure', anchor: 'start' },
  ];
  return { height, lines, nodes, heads };
}

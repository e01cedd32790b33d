/** The way from a printed figure back to its cells, as one page: a drawing of it, and every reading with its weight. */
import { visible } from '../../base/diagnostics/messages.js';
import type { Trace, TracedReading } from '../../results/trace.js';
import type { Results } from '../../results/results-schema.js';
import { unitLabel } from '../../base/units/units.js';
import { SOFTWARE } from '../../base/version.js';
import { reportNumber } from './document-title.js';
import { endWords } from './end-words.js';
import { placeText } from './place-text.js';
import { numberText, percentText } from '../../results/words/format-quantity.js';
import { sheetPage } from './sheet-page.js';
import { namingOf } from '../../results/identity.js';
import { axisText, identityText, phaseText, verdictText } from '../words/names.js';
import { phrase } from '../words/phrases.js';
import type { Words } from '../words/words.js';

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

/** @param results Of the report that has the figure. */
export function tracePage(
  trace: Trace,
  results: Pick<Results, 'job' | 'issue' | 'style' | 'phases' | 'survey'>,
  words: Words,
): string {
  const { say, number } = words;
  const four = (v: number): string => number(v, 4);
  const percent = (share: number): string => percentText(number(100 * share, 1));
  const plain = (v: number): string =>
    String(Number(v.toPrecision(10)))
      .replace('-', '\u2212')
      .replace('.', words.mark);
  const { phase, value, unit, constant, readings, stated, characteristic: c } = trace;
  const label = unit === 'um' ? 'µm' : 'µm/m';
  const title = `${identityText(c, namingOf(results, words.mark), words)}, ${phaseText(phase, words)}`;
  const sum = readings.reduce((total, r) => total + r.weight * r.reading, 0);
  const facts = [
    [say('head.value'), `${four(value)} ${label}`],
    [say('traced.u'), c.u === null ? '–' : `${four(c.u)} ${label}`],
    [
      say('traced.interval'),
      c.interval === null
        ? '–'
        : `${say('range', { from: four(c.interval[0]), to: four(c.interval[1]) })} ${label}`,
    ],
    ...(c.ends === undefined
      ? []
      : [
          [say('traced.lower'), endWords(c.ends.lower, four)],
          [say('traced.upper'), endWords(c.ends.upper, four)],
        ]),
    [say('traced.at'), visible(placeText(c, words)) || say('traced.all-stations')],
    [say('head.limit'), c.limit === null ? say('traced.no-limit') : `${plain(c.limit)} ${label}`],
    [say('head.verdict'), verdictText(c.verdict, words)],
  ].map(([name, text]) => ({ name, text }));
  return sheetPage(
    'trace',
    {
      title,
      software: `${SOFTWARE.name} ${SOFTWARE.version}`,
      report: reportNumber(results),
      facts,
      drawing: drawingOf(trace, label, words),
      label,
      rows: readings.map((r) => ({
        cell: `${visible(r.file)}: ${r.row}`,
        column: visible(r.column),
        setup: r.setup === null ? '–' : visible(r.setup),
        point: visible(r.point),
        reading: `${plain(r.reading)} ${unitLabel(r.unit)}`,
        weight: four(r.weight),
        adds: four(r.weight * r.reading),
        residual: number(r.residual, 2),
        share: percent(r.share),
      })),
      sum: four(sum),
      constant: constant === 0 ? '' : four(constant),
      total: four(sum + constant),
      stated: stated.map((s) => `${axisText(phrase(s.what, words), words)} ${percent(s.share)}`).join(', '),
    },
    {
      paper: results.style.paper,
      printPt: 8.5,
      title: say('traced.head', { report: reportNumber(results) }),
      software: `${SOFTWARE.name} ${SOFTWARE.version}`,
      note: title,
      words,
    },
  );
}

/** Columns of the drawing: cells, set-ups, stations, the figure; a line is as thick as its share of the variance. */
function drawingOf({ readings, characteristic, value }: Trace, label: string, { say, number }: Words) {
  const percent = (share: number): string => percentText(number(100 * share, 1));
  const none = say('traced.no-setup');
  const [cells, setups, points, end] = [170, 330, 470, 560];
  const drawn = readings.slice(0, DRAWN);
  const others = readings.slice(DRAWN);
  const at = new Set(characteristic.at.map((p) => `${p.rail}:${p.station}`));
  const pointOf = (r: TracedReading) => (at.has(r.point) ? r.point : 'others');
  const named = {
    setups: [...new Set(readings.map((r) => r.setup ?? none))],
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
    const setup = r.setup ?? none;
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
  for (const r of others) rest.set(r.setup ?? none, (rest.get(r.setup ?? none) ?? 0) + r.share);
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
            text: say('more.count', { count: others.length }),
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
      text: id === 'others' ? say('traced.line') : visible(id),
      detail: '',
      anchor: 'middle',
    })),
    { x: end + 6, y: endY + 4, text: `${number(value, 1)} ${label}`, detail: '', anchor: 'start' },
  ];
  const heads = [
    { x: cells, text: say('traced.node.cell'), anchor: 'end' },
    { x: setups, text: say('traced.node.setup'), anchor: 'middle' },
    { x: points, text: say('traced.node.station'), anchor: 'middle' },
    { x: end + 6, text: say('traced.node.figure'), anchor: 'start' },
  ];
  return { height, lines, nodes, heads };
}

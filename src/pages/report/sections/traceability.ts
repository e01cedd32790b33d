/** What identifies the inputs and the software, and how anybody can make the figures again. */
import type { Results } from '../../../results/results-schema.js';
import { lastPhase, type Figures } from '../figures.js';
import {
  numberText,
  plusMinus,
  resultText,
  unitFor,
  withUnit,
} from '../../../results/words/format-quantity.js';
import { datumId, inSentence } from './characteristic-names.js';
import { cell, figure, figureHead, head, row, rowHeader, table, type Fact, type Table } from '../table.js';

export interface Traceability {
  /** Of the section: a short one is not parted. */
  readonly css: string;
  readonly facts: readonly Fact[];
  readonly inputs: Table;
  readonly again: string;
  /** Of each figure with a tolerance the readings that weigh most. */
  readonly origins: Table | null;
}

/** More figures than these would fill pages; `trace` tells of any. */
const MOST_ORIGINS = 24;

/** From each figure back to cells: file, rows, and their share of the variance. */
function originTable(results: Results, figures: Figures): Table | null {
  const { phase } = lastPhase(results);
  const datum = datumId(results);
  const traced = phase.characteristics.flatMap((c) =>
    c.limit === null || c.value === null || c.readings === undefined || c.readings.length === 0
      ? []
      : [{ c, value: c.value, readings: c.readings }],
  );
  if (traced.length === 0) return null;
  const rows = traced.slice(0, MOST_ORIGINS).map(({ c, value, readings }) => {
    const unit = unitFor(figures.units, c.unit);
    const judged = resultText({ ...c, value }, figures.k, unit);
    const share = readings.reduce((sum, r) => sum + r.share, 0);
    return row([
      rowHeader(inSentence(c, datum, figures), { css: 'wide' }),
      figure(withUnit(plusMinus(judged), unit)),
      cell(c.at.map(({ rail, station }) => `${rail}:${station}`).join(',\u00a0') || 'all stations'),
      cell(rowsOf(readings), { css: 'wide' }),
      figure(`${numberText(100 * share, 0)}\u00a0%`),
    ]);
  });
  return table(
    'Where the figures come from: the readings that weigh most, by file and line',
    [
      [
        head('Characteristic', { css: 'wide' }),
        figureHead('Value'),
        head('Made at'),
        head('File: lines', { css: 'wide' }),
        figureHead('Of the variance'),
      ],
    ],
    [{ title: '', rows }],
    {
      css: 'origins',
      notes: [
        'The rest of the variance is shared by the other readings and by prior values. “waysheet trace” with this PDF and a characteristic lists every reading with its weight; weight times reading, added up, is the value. It also gives what the two ends of the interval are worked out of: what was read, and a factor times its standard uncertainty.',
        ...(traced.length > MOST_ORIGINS
          ? [`${traced.length - MOST_ORIGINS} more are in results.json.`]
          : []),
      ],
    },
  );
}

/** "as-left.csv: 18, 23, 38, 43": the files are listed above with their folder. */
function rowsOf(readings: readonly { readonly file: string; readonly row: number }[]): string {
  const byFile = new Map<string, number[]>();
  for (const { file, row: line } of readings) byFile.set(file, [...(byFile.get(file) ?? []), line]);
  return [...byFile]
    .map(
      ([file, lines]) =>
        `${file.replace(/^readings\//, '')}: ${[...new Set(lines)].sort((a, b) => a - b).join(', ')}`,
    )
    .join('; ');
}

/** With more input files than these the section may be parted. */
const MOST_KEPT = 12;

export function traceability(results: Results, figures: Figures): Traceability {
  const { software, settings } = results;
  const origins = originTable(results, figures);
  const known = (label: string, text: string): Fact => ({ label, text, quiet: false });
  const rows = results.inputs.map((input) =>
    row([
      rowHeader(input.path, { css: 'wide', detail: input.read }),
      figure(numberText(input.bytes, 0)),
      cell(input.sha256, { css: 'digest' }),
    ]),
  );
  return {
    css: rows.length <= MOST_KEPT && origins === null ? 'kept' : '',
    facts: [
      known('Software', `${software.name} ${software.version}`),
      known('Method edition', software.method),
      known('Simulation', `${numberText(settings.draws, 0)} draws, seed ${settings.seed}`),
      known('Document', results.format),
    ],
    inputs: table(
      'Input files',
      [
        [
          head('File and how it was read', { css: 'wide' }),
          figureHead('Bytes'),
          head('SHA-256', { css: 'digest' }),
        ],
      ],
      [{ title: '', rows }],
      { css: 'inputs hidden-caption' },
    ),
    again:
      'The PDF carries these files and results.json inside: any PDF reader lists them as attachments and saves them. “waysheet audit” with the PDF, or with the folder it was issued in, works every figure out again from them, prints the pages again, and names each difference. The same inputs give the same results to the last digit.',
    origins,
  };
}

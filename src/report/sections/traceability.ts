/** What identifies the inputs and the software, and how anybody can make the figures again. */
import type { Results } from '../../results/results-schema.js';
import { numberText } from '../format-quantity.js';
import { cell, figure, figureHead, head, row, rowHeader, table, type Fact, type Table } from '../table.js';

export interface Traceability {
  /** Of the section: a short one is not parted. */
  readonly css: string;
  readonly facts: readonly Fact[];
  readonly inputs: Table;
  readonly again: string;
}

/** With more input files than these the section may be parted. */
const MOST_KEPT = 12;

export function traceability(results: Results): Traceability {
  const { software, settings } = results;
  const known = (label: string, text: string): Fact => ({ label, text, quiet: false });
  const rows = results.inputs.map((input) =>
    row([
      rowHeader(input.path, { css: 'wide', detail: input.read }),
      figure(numberText(input.bytes, 0)),
      cell(input.sha256, { css: 'digest' }),
    ]),
  );
  return {
    css: rows.length <= MOST_KEPT ? 'kept' : '',
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
      'With the input files beside the issued report, “waysheet audit” and the report’s folder works every figure out again and lists each difference. The same inputs give the same results to the last digit.',
  };
}

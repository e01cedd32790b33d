/** What identifies the inputs and the software, and how anybody can make the figures again. */
import type { Results } from '../../../results/results-schema.js';
import { numberText } from '../../../results/words/format-quantity.js';
import { NOT_RECORDED } from '../../../results/words/texts.js';
import { say } from '../../words/say.js';
import { FIELD, NAME, RAILS } from './page-one.js';
import {
  cell,
  figure,
  figureHead,
  head,
  row,
  rowHeader,
  table,
  fact,
  type Fact,
  type Table,
} from '../table.js';

export interface Traceability {
  readonly facts: readonly Fact[];
  readonly inputs: Table;
  readonly again: string;
}

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
    facts: [
      ...record(results),
      known('Software', `${software.name} ${software.version}`),
      known('Method edition', software.method),
      known('Simulation', `${numberText(settings.draws, 0)} draws, seed ${settings.seed}`),
      known('Document', results.format),
    ],
    inputs: table(
      'Input files.',
      [
        [
          head('File and how it was read', { css: 'wide' }),
          figureHead('Bytes'),
          head('SHA-256', { css: 'digest' }),
        ],
      ],
      [{ title: '', rows }],
      { css: 'inputs' },
    ),
    again:
      'Every figure goes back to cells: “waysheet trace” with this PDF and a characteristic lists each reading with its weight; weight times reading, added up, is the value. The PDF carries these files and results.json inside: any PDF reader lists them as attachments and saves them. “waysheet audit” with the PDF, or with the folder it was issued in, works every figure out again from them, prints the pages again, and names each difference. The same inputs give the same results to the last digit.',
  };
}

/** What the job records about itself and page 1 has not in full. @see ISO/IEC 17025:2017, 7.8.2.1 */
function record({ subject, job, issue, survey }: Results): Fact[] {
  const { contacts, revision, procedure, externalProviders = [], machine, approved } = subject;
  const rails = survey.rails.map(
    ({ id, name, datum }) => `${id}${name ? ` ${name}` : ''}${datum ? ' (datum)' : ''}`,
  );
  const always: [string, string | null][] = [
    [say('fact.procedure'), procedure ?? null],
    [say('fact.issuer-address'), contacts?.issuer ?? null],
    [say('fact.customer-address'), contacts?.customer ?? null],
  ];
  const beyond = (label: string, text: string | null, most: number): [string, string | null] => [
    label,
    text !== null && text.length > most ? text : null,
  ];
  const optional: [string, string | null][] = [
    beyond(say('fact.customer'), subject.customer, FIELD),
    beyond(say('fact.place'), subject.site, FIELD),
    beyond(say('fact.issuer'), subject.issuer, FIELD),
    beyond(say('fact.machine'), [machine.name, machine.serial].filter(Boolean).join(', '), NAME - 14),
    beyond(say('fact.rails'), rails.join('; '), RAILS),
    [say('fact.job'), issue === undefined ? null : job],
    ['Approved', [approved?.by, approved?.role, approved?.on].filter(Boolean).join(', ') || null],
    [say('fact.revision'), revision ?? null],
    [say('fact.providers'), externalProviders.map(({ name, did }) => `${name} (${did})`).join('; ') || null],
  ];
  return [
    ...always.map(([label, text]) => fact(label, text, NOT_RECORDED)),
    ...optional.flatMap(([label, text]) => (text === null ? [] : [fact(label, text, NOT_RECORDED)])),
  ];
}

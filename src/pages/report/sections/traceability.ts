/** What identifies the inputs and the software, and how anybody can make the figures again. */
import type { Results } from '../../../results/results-schema.js';
import type { Words } from '../../words/words.js';
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
  /** Of the section: a short one is not parted. */
  readonly css: string;
  readonly facts: readonly Fact[];
  readonly inputs: Table;
  readonly again: string;
}

/** With more input files than these the section may be parted. */
const MOST_KEPT = 12;

export function traceability(results: Results, words: Words): Traceability {
  const { say, number } = words;
  const { software, settings } = results;
  const known = (label: string, text: string): Fact => ({ label, text, quiet: false });
  const rows = results.inputs.map((input) =>
    row([
      rowHeader(input.path, { css: 'wide', detail: input.read }),
      figure(number(input.bytes, 0)),
      cell(input.sha256, { css: 'digest' }),
    ]),
  );
  return {
    css: rows.length <= MOST_KEPT ? 'kept' : '',
    facts: [
      ...record(results, words),
      known(say('fact.software'), `${software.name} ${software.version}`),
      known(say('fact.method'), software.method),
      known(
        say('fact.simulation'),
        say('simulation', { draws: number(settings.draws, 0), seed: settings.seed }),
      ),
      known(say('fact.document'), results.format),
    ],
    inputs: table(
      say('inputs.caption'),
      [
        [
          head(say('inputs.file'), { css: 'wide' }),
          figureHead(say('inputs.bytes')),
          head('SHA-256', { css: 'digest' }),
        ],
      ],
      [{ title: '', rows }],
      { css: 'inputs' },
    ),
    again: say('inputs.again'),
  };
}

/** All that the job records about itself, in full. @see ISO/IEC 17025:2017, 7.8.2.1 */
function record({ subject, job, issue, survey }: Results, { say, day }: Words): Fact[] {
  const notRecorded = say('not-recorded');
  const {
    contacts,
    revision,
    procedure,
    externalProviders = [],
    machine,
    surveyed,
    prepared,
    approved,
  } = subject;
  const signed = (who: { by?: string | null; on?: string | null; role?: string | null } | undefined) =>
    [who?.by, who?.role, who?.on && day(who.on)].filter(Boolean).join(', ') || null;
  const rails = survey.rails.map(({ id, name, datum }) => {
    const rail = name ? `${id} ${name}` : id;
    return datum ? say('rail.datum', { rail }) : rail;
  });
  const always: [string, string | null][] = [
    [say('fact.customer'), subject.customer],
    [say('fact.place'), subject.site],
    [say('fact.machine'), machine.name],
    [say('fact.serial'), machine.serial],
    [say('fact.rails'), rails.join('; ')],
    [say('fact.issuer'), subject.issuer],
    [say('fact.surveyed'), signed(surveyed)],
    [say('fact.prepared'), signed(prepared)],
    [say('fact.procedure'), procedure ?? null],
    [say('fact.issuer-address'), contacts?.issuer ?? null],
    [say('fact.customer-address'), contacts?.customer ?? null],
  ];
  const optional: [string, string | null][] = [
    [say('fact.job'), issue === undefined ? null : job],
    [say('fact.approved'), signed(approved)],
    [say('fact.revision'), revision ?? null],
    [say('fact.providers'), externalProviders.map(({ name, did }) => `${name} (${did})`).join('; ') || null],
  ];
  return [
    ...always.map(([label, text]) => fact(label, text, notRecorded)),
    ...optional.flatMap(([label, text]) => (text === null ? [] : [fact(label, text, notRecorded)])),
  ];
}

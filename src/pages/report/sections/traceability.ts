/** Identification of the inputs and the software, and how to make the figures again. */
import type { Results } from '../../../results/results-schema.js';
import { phrase } from '../../words/phrases.js';
import type { Words } from '../../words/words.js';
import { FIELD, NAME, RAILS } from './cut.js';
import { cell, fact, figure, figureHead, head, plain, rowHeader, table, type Fact } from '../table.js';

export function traceability(results: Results, words: Words) {
  const { say, number } = words;
  const { software, settings } = results;
  const known = (label: string, text: string): Fact => ({ label, text, quiet: false });
  return {
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
          ({ path, read }) => {
            const parts = read.split(', ').map((part) => phrase(part, words));
            return rowHeader(path, { css: 'wide', detail: parts.join(', ') });
          },
        ],
        [figureHead(say('inputs.bytes')), ({ bytes }) => figure(number(bytes, 0))],
        [head('SHA-256', { css: 'digest' }), ({ sha256 }) => cell(sha256, { css: 'digest' })],
      ],
      plain(results.inputs),
      { css: 'inputs' },
    ),
    again: say('inputs.again'),
  };
}

/** Records of the job that are not complete on page 1. @see ISO/IEC 17025:2017, 7.8.2.1 */
function record({ subject, job, issue, survey }: Results, { say, day, parts }: Words): Fact[] {
  const notRecorded = say('not-recorded');
  const { contacts, revision, procedure, externalProviders = [], machine, approved } = subject;
  const signed = (who: { by?: string | null; on?: string | null; role?: string | null } | undefined) =>
    [who?.by, who?.role, who?.on && day(who.on)].filter(Boolean).join(', ') || null;
  const rails = survey.rails.map(({ id, name, datum }) => {
    const rail = name ? `${id} ${name}` : id;
    return datum ? say('rail.datum', { rail }) : rail;
  });
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
    beyond(say('fact.rails'), parts(rails), RAILS),
    [say('fact.job'), issue === undefined ? null : job],
    [say('fact.approved'), signed(approved)],
    [say('fact.revision'), revision ?? null],
    [say('fact.providers'), parts(externalProviders.map(({ name, did }) => `${name} (${did})`)) || null],
  ];
  return [
    ...always.map(([label, text]) => fact(label, text, notRecorded)),
    ...optional.flatMap(([label, text]) => (text === null ? [] : [fact(label, text, notRecorded)])),
  ];
}

/**
 * What a page says of causes: every hypothesis about surveys that have all kinds of them, said in a language in which every
 * letter of the catalogue has an accent. A plain word is then a name of the survey, or a word that no message makes.
 */
import { expect, test } from 'vitest';
import { sentences } from '../../../src/pages/words/phrases.js';
import type { Fitted, Hypothesis } from '../../../src/solution/causes/hypothesis.js';
import { causeKinds } from '../../../src/solution/causes/hypothesis.js';
import { listHypotheses } from '../../../src/solution/causes/list.js';
import { surveyRows } from '../../../src/solution/causes/survey-rows.js';
import { buildNetwork } from '../../../src/solution/solve/network.js';
import { designs, simulate, type DesignName } from '../../solution/causes/simulate.js';
import { loadConfirmed, sample } from '../../support/folders.js';
import { pseudo } from './messages.js';
import { plainWords } from './plain-words.js';

/** Sizes of both signs, small and large, of one parameter alone and of all; factors and scatter of both kinds. */
function fits({ change }: Hypothesis): Fitted[] {
  if (change.kind === 'factor') return change.factors.map((f) => ({ values: [f] }));
  if (change.kind === 'scatter') return [{ values: [3] }, { values: [0.2] }];
  if (change.kind !== 'linear') return [{ values: [] }];
  const sizes = change.parameters.flatMap(({ usual, cap }) => [usual, -usual, cap]);
  return sizes.flatMap((size) => [
    { values: change.parameters.map(() => size) },
    { values: change.parameters.map((_, k) => (k === 0 ? size : 0)) },
    { values: change.parameters.map((_, k) => (k === 0 ? 0 : size)) },
  ]);
}

/** Keys and values of job.json and words of the command line, which stay as they are. */
const CODE =
  /"[^"]*"|«[^»]*»|„[^“]*“|\bjob\.json\b|\buse = no\b|\b(?:false|linear|arcmin)\b|\b(?:\w+\/)*[\w-]+\.csv\b/giu;

const surveys = async () => {
  const loaded = await loadConfirmed(sample('TH-3318'));
  if (!loaded.ok) throw new Error('refused');
  const { job, readings } = loaded.value;
  return [
    ...[...readings.phases.values()].map((list) => ({ job, readings: list })),
    ...(Object.keys(designs) as DesignName[]).map((design) => simulate(design, null, 1, 7)!),
  ];
};

test('every cause and every fix, of every kind, is said without a word of English', async () => {
  const kinds = new Set<string>();
  const seen = new Set<string>();
  const left = new Set<string>();
  for (const { job, readings } of await surveys()) {
    const own = [
      ...[...job.setups, ...job.instruments, ...job.monuments, ...job.rails].map(({ id }) => id),
      ...readings.map((reading) => (reading.kind === 'offset' ? reading.target : '')),
      ...readings.map(({ source }) => source.file),
    ].join(' ');
    for (const hypothesis of listHypotheses(surveyRows(job, buildNetwork(job, readings)))) {
      kinds.add(hypothesis.kind);
      for (const fitted of fits(hypothesis)) {
        const cause = hypothesis.cause(fitted);
        for (const text of [
          cause,
          ...(hypothesis.family === undefined ? [] : [`${cause}, or up to 3 readings earlier or later`]),
          hypothesis.fix(fitted)?.text ?? '',
        ]) {
          // Numbers change no word.
          const shape = text.replace(/\d+/g, '1');
          if (seen.has(shape)) continue;
          seen.add(shape);
          const said = sentences(text, pseudo);
          const plain = plainWords(said.replace(CODE, ' '), own);
          if (plain.length > 0) left.add(`${hypothesis.kind}: ${plain.join(' ')}: ${text}`);
        }
      }
    }
  }
  expect([...left].slice(0, 40)).toEqual([]);
  expect([...kinds].sort()).toEqual([...causeKinds].sort());
});

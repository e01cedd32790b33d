/** Register and changes in a language that nobody speaks: no plain word but those of the jobs. */
import { readdirSync, readFileSync } from 'node:fs';
import { gunzipSync } from 'node:zlib';
import { expect, test } from 'vitest';
import { buildChanges } from '../../src/archive/changes/build-changes.js';
import { changesHtml } from '../../src/archive/changes/changes-html.js';
import { blankChange, compareJob } from '../../src/archive/changes/compare-job.js';
import { registerHtml } from '../../src/archive/register/register-html.js';
import { registerRow } from '../../src/archive/register/register-row.js';
import { buildRegister, type RegisterRow } from '../../src/archive/register/register.js';
import { originOf } from '../../src/pages/deliverables/content-key.js';
import { buildManifest } from '../../src/pages/deliverables/manifest.js';
import type { Results } from '../../src/results/results-schema.js';
import { pseudo } from '../pages/words/messages.js';
import { plainWords, textOfPage } from '../pages/words/plain-words.js';

const PINNED = new URL('../pinned/', import.meta.url);
const file = readdirSync(PINNED).find((name) => name.endsWith('.json.gz'))!;
const jobs = JSON.parse(gunzipSync(readFileSync(new URL(file, PINNED))).toString('utf8')) as {
  readonly id: string;
  readonly results: Results;
}[];
const software = { name: 'waysheet', version: '0', method: 'm' } as const;
/** Names and notes of the jobs, and what is the same in every language. */
const own = [
  ...jobs.map(({ results: { subject, job, survey } }) => JSON.stringify([subject, job, survey])),
  'PDF CSV JSON changes conforms undecided',
].join();

test('the register: reported, refused, not reached, and trends', async () => {
  const rows = jobs.flatMap(({ results }, i): RegisterRow[] =>
    ['2026-01-03', '2026-02-03'].map((surveyed, k) => ({
      ...registerRow(results, { folder: 'x', key: 'key', hasPdf: true, place: 'x' }),
      job: `J-${i}-${k}`,
      folder: `J-${i}-${k}`,
      surveyed,
    })),
  );
  const others: RegisterRow[] = [
    { status: 'not-done', job: 'J', folder: 'J' },
    { status: 'failed', job: 'J', folder: 'J', message: '' },
    { status: 'refused', job: 'J', folder: 'J', problems: [], problemCount: 3 },
  ];
  const register = buildRegister([...rows, ...others], software, null, {
    whatIf: { name: 'J', source: null, sha256: '' },
  });
  const read = ({ job }: { readonly job: string }) =>
    Promise.resolve(jobs[Number(job.split('-')[1])]!.results);
  for (const medium of ['page', 'print'] as const) {
    const page = await registerHtml(register, { medium, pdf: true, read, words: pseudo });
    expect(plainWords(textOfPage(page).replace(/J-\d+-\d/g, ''), own)).toEqual([]);
  }
});

test('the changes: flipped, moved, redrawn, gone, damaged', () => {
  const report = (results: Results) => ({
    results,
    manifest: buildManifest(results, new Map(), null, new Map(), originOf(results.inputs, false), null),
  });
  const { results } = jobs[0]!;
  const moved = structuredClone(results);
  for (const phase of Object.values(moved.phases)) {
    for (const c of phase.characteristics) if (c.value !== null) Object.assign(c, { value: c.value * 2 });
    for (const c of phase.characteristics.slice(0, 3)) Object.assign(c, { verdict: 'undecided' });
  }
  Object.assign(moved, { verdict: 'undecided' });
  const before = { verdict: results.verdict, ...report(results), damage: [] };
  const gone = blankChange('J', { verdict: results.verdict, damage: ['J'] } as never, null);
  const changes = buildChanges({ software, against: 'J', isComplete: false, whatIf: 'J' }, [
    compareJob(before, report(moved)),
    {
      ...compareJob(before, report({ ...results, software: { ...results.software, version: 'J' } })),
      job: 'K',
    },
    { ...gone, status: 'vanished' },
    { ...gone, job: 'L', status: 'not-compared' },
    { ...gone, job: 'M', status: 'not-reported' },
  ]);
  expect(changes.counts).toMatchObject({ flipped: 1, vanished: 1, damaged: 3 });
  expect(plainWords(textOfPage(changesHtml(changes, pseudo)), own)).toEqual([]);
});

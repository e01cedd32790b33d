/** Lists of several reports name each characteristic with all that it is asked with, and its limits as they are. */
import { beforeAll, describe, expect, test } from 'vitest';
import { changesView } from '../../src/archive/changes/changes-view.js';
import { buildChanges } from '../../src/archive/changes/build-changes.js';
import { compareJob } from '../../src/archive/changes/compare-job.js';
import type { Report } from '../../src/archive/changes/causes.js';
import { english } from '../../src/pages/words/words.js';
import { changesSince } from '../../src/archive/issue/changes-since.js';
import { amendedLines } from '../../src/pages/report/sections/judged-change.js';
import { wordsOf } from '../../src/pages/words/languages.js';
import { resultsSchema } from '../../src/results/results-schema.js';
import { worstCharacteristic } from '../../src/archive/register/register-row.js';
import { worstName } from '../../src/archive/register/register-view.js';
import { trendsOf } from '../../src/archive/register/trends.js';
import { runPlan } from '../../src/cli/plan.js';
import { runTrace } from '../../src/cli/trace.js';
import { originOf } from '../../src/pages/deliverables/content-key.js';
import { buildManifest } from '../../src/pages/deliverables/manifest.js';
import { solve } from '../../src/pipeline.js';
import { identityKey } from '../../src/results/identity.js';
import { loadJob } from '../../src/solution/intake/load-job.js';
import { jobOfConditions } from '../support/conditions-job.js';

let folder: string;
let before: Report;
let after: Report;

beforeAll(async () => {
  folder = await jobOfConditions();
  const loaded = await loadJob(folder);
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.diagnostics));
  const results = await solve(loaded.value, loaded.diagnostics);
  const origin = originOf(results.inputs, false);
  const manifest = buildManifest(results, new Map(), null, new Map(), origin, loaded.value.digests);
  before = { manifest, results };
  after = structuredClone(before);
  for (const made of after.results.phases['as-left']!.characteristics) {
    if (made.value !== null) made.value += 5;
    if (made.interval !== null) made.interval = [made.interval[0] + 5, made.interval[1] + 5];
  }
});

const plain = (text: string) => text.replace(/\s/g, ' ');
const change = () => compareJob({ verdict: before.results.verdict, ...before, damage: [] }, after);
const withValue = () =>
  before.results.phases['as-left']!.characteristics.filter(({ value }) => value !== null).length;
const viewOf = (jobs: ReturnType<typeof change>[]) =>
  changesView(
    buildChanges(
      {
        software: { name: 'waysheet', version: '0', method: '0' },
        against: 'old',
        whatIf: null,
        isComplete: true,
      },
      jobs,
    ),
  );

describe('every list tells apart', () => {
  test('changes: names are distinct, a pair names its partner, a limit has both its sides', () => {
    const job = change();
    const rows = viewOf([job])
      .moves.flatMap(({ rows }) => rows)
      .filter(({ what }) => !what.includes('figures of stations'));
    expect(rows.length).toBe(withValue());
    expect(new Set(rows.map(({ what }) => what)).size).toBe(rows.length);
    const pair = rows.find(({ what }) => what.startsWith('Height difference, rail C to rail B'))!;
    expect(plain(pair.before)).toContain(', limit \u221220 to +60 µm');
  });

  test('changes: which of two limits is nearer is no change of the limits', () => {
    const turned = structuredClone(before);
    const made = turned.results.phases['as-left']!.characteristics.find(({ zone }) => zone !== undefined)!;
    made.limit = made.limit === 20 ? 60 : 20;
    expect(
      compareJob({ verdict: before.results.verdict, ...before, damage: [] }, turned).characteristics,
    ).toEqual([]);
    made.zone = { ...made.zone!, from: -25 };
    const [changed] = compareJob(
      { verdict: before.results.verdict, ...before, damage: [] },
      turned,
    ).characteristics;
    expect(changed?.moved).toEqual(['limit']);
  });

  test('changes: a verdict that had no tolerance, or has none now, is not flipped', () => {
    const job = change();
    const flipped = { ...job, status: 'changed' as const };
    const counted = (from: 'conforms' | 'reported', to: 'does-not-conform' | 'reported') =>
      buildChanges(
        {
          software: { name: 'waysheet', version: '0', method: '0' },
          against: 'old',
          whatIf: null,
          isComplete: true,
        },
        [{ ...flipped, verdict: { before: from, after: to } }],
      ).counts.flipped;
    expect(counted('conforms', 'does-not-conform')).toBe(1);
    expect(counted('conforms', 'reported')).toBe(0);
    expect(counted('reported', 'does-not-conform')).toBe(0);
  });

  test('the first page of an amended report', () => {
    const amends = { number: 'R-1', because: 'limits', ...changesSince(before.results, after.results) };
    const issue = { number: 'R-2', on: '2026-09-01', by: 'O. Tressel', amends };
    // The document has figures and no words: a page in any language is made from it.
    const amended = resultsSchema.parse(JSON.parse(JSON.stringify({ ...after.results, issue })));
    expect(amended.issue!.amends!.changes.every((change) => typeof change !== 'string')).toBe(true);
    const inGerman = amendedLines(amended, wordsOf('de')).map(plain);
    expect(inGerman[0]).toMatch(/Höhendifferenz|Geradheit|Konformität|konform/);
    const lines = amendedLines(amended, english).map(plain);
    expect(lines).toHaveLength(inGerman.length);
    const names = lines
      .filter((line) => line.includes(': was '))
      .map((line) => line.split(', as left: was')[0]);
    expect(names.length).toBe(withValue());
    expect(new Set(names).size).toBe(names.length);
    expect(lines.find((line) => line.startsWith('Height difference, rail C to rail B'))).toContain(
      ', limit \u221220 to +60 µm',
    );
  });

  test('trends and the register', () => {
    const surveys = [before, after].map(({ results }, i) => ({ day: `2026-03-0${i + 1}`, results }));
    const trends = trendsOf(surveys);
    expect(trends.every(({ points }) => points.length === 2)).toBe(true);
    expect(new Set(trends.map(identityKey)).size).toBe(trends.length);
    const worst = worstCharacteristic(before.results)!;
    const stretch = { ...worst, between: [0, 1000] as [number, number] };
    expect(plain(worstName(stretch, english))).toContain('between 0 and 1000 mm');
  });

  test('plan', async () => {
    const out: string[] = [];
    const console = {
      out: (text: string) => void out.push(text),
      err: (text: string) => void out.push(text),
    };
    expect(await runPlan(folder, { phase: null, json: false, console: console as never })).toBe(0);
    const lines = plain(out.join('').split('What would help')[0]!.replace(/\n/g, '\u0001')).split('\u0001');
    const names = lines.flatMap((line) => (/^ {2}\S.*: limit /.test(line) ? [line.split(': ')[0]] : []));
    expect(names.length).toBe(8);
    expect(new Set(names).size).toBe(names.length);
    expect(names).toContain('  Straightness, vertical, between 1000 and 2500 mm, rail A');
  });

  test('trace reaches a stretch by its name, and lists the names where several fit', async () => {
    const traced = async (what: string, more: object = {}) => {
      const out: string[] = [];
      const console = {
        out: (text: string) => void out.push(text),
        err: (text: string) => void out.push(text),
      };
      const none = { rail: null, phase: null, reference: null, against: null, over: null, between: null };
      const status = await runTrace(folder, {
        ...{ ...none, job: null, page: null, json: false, what, console: console as never },
        ...more,
      });
      return { status, text: out.join('') };
    };
    for (const [name, limit] of [
      ['Straightness, vertical, between 0 and 1000 mm, rail A', 20],
      ['Straightness, vertical, between 1000 and 2500 mm, rail A', 25],
    ] as const) {
      const { status, text } = await traced(name);
      expect(status).toBe(0);
      expect(plain(text)).toContain(`${name}, as left: `);
      expect(text).toContain(`limit ${limit} um`);
    }
    const byOption = await traced('straightness-vertical', { rail: 'A', between: '1 to 2.5 m' });
    expect(byOption.text).toContain('limit 25 um');
    const several = await traced('straightness-vertical-local');
    expect(several.status).toBe(3);
    expect(plain(several.text)).toContain('"Local straightness, vertical, any 2000 mm, rail A"');
    expect((await traced('straightness-vertical', { over: 'two' })).text).toContain(
      "--over: 'two' is no length",
    );
  });
});

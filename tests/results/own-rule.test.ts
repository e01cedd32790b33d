/** A limit with a decision rule of its own. @see JCGM 106:2012, 8.2 (simple acceptance) and 8.3 (guarded acceptance) */
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Results } from '../../src/results/results-schema.js';
import { changeJob, copyOf, judgedOf, temporary, textOf } from '../support/folders.js';
import { waysheet } from '../support/command.js';

/** The sample as it is, and with one limit that its value meets and its interval crosses: 39.1 µm, up to 43.9, limit 40.6. */
const LIMIT = { what: 'parallelism-horizontal', rail: 'B', limit: 0.0016, unit: 'in' };

async function folderWith(rule: string | undefined, ofJob: string): Promise<string> {
  const folder = await copyOf('TH-1175');
  await changeJob(folder, (job) => {
    job.decision.rule = ofJob;
    job.tolerances = [
      ...job.tolerances.filter(({ what }: { what: string }) => what !== LIMIT.what),
      { ...LIMIT, rule },
    ];
  });
  return folder;
}

const limited = (results: Results) =>
  results.phases['as-left']!.characteristics.filter(({ limit }) => limit !== null);
const judgedOne = (results: Results) => limited(results).find(({ what }) => what === LIMIT.what)!;

describe('a limit is judged by its own rule, the others by that of the job', () => {
  let guarded: Results, simple: Results, mixed: Results, other: Results;
  beforeAll(async () => {
    guarded = await judgedOf(await folderWith(undefined, 'guarded'));
    simple = await judgedOf(await folderWith(undefined, 'simple'));
    mixed = await judgedOf(await folderWith('simple', 'guarded'));
    other = await judgedOf(await folderWith('guarded', 'simple'));
  });

  test('the verdict and the risk are those of a job with that rule for all', () => {
    expect(judgedOne(guarded).verdict).toBe('undecided');
    expect(judgedOne(simple).verdict).toBe('conforms');
    expect(judgedOne(mixed)).toEqual({ ...judgedOne(simple), rule: 'simple' });
    expect(judgedOne(other)).toEqual({ ...judgedOne(guarded), rule: 'guarded' });
  });

  test('nothing else changes, and a rule that is the job’s own is not said again', async () => {
    const rest = (results: Results) => limited(results).filter(({ what }) => what !== LIMIT.what);
    expect(rest(mixed)).toEqual(rest(guarded));
    expect(rest(other)).toEqual(rest(simple));
    const said = await judgedOf(await folderWith('guarded', 'guarded'));
    expect(said.phases).toEqual(guarded.phases);
  });

  test('the accepted risk is said where any limit is guarded', () => {
    expect([mixed, other, simple].map(({ settings }) => settings.risk)).toEqual([
      expect.closeTo(0.025, 12),
      expect.closeTo(0.025, 12),
      undefined,
    ]);
  });

  test('the unseen error that would turn the only limit is found by its rule', async () => {
    const crossLevel = async (ofJob: string, rule?: string) => {
      const folder = await copyOf('TH-1175');
      await changeJob(folder, (job) => {
        job.decision.rule = ofJob;
        job.tolerances = [{ what: 'cross-level', rail: 'B', limit: 0.25, unit: 'thou/ft', rule }];
      });
      return (await judgedOf(folder)).phases['as-left']!.adjustment.reliability;
    };
    const bySimple = await crossLevel('simple');
    expect(await crossLevel('guarded', 'simple')).toEqual(bySimple);
    expect(await crossLevel('guarded')).not.toEqual(bySimple);
  });
});

test('a row with a rule of its own names it, and page 1 says both rules', async () => {
  const out = await temporary();
  const { status, err } = await waysheet(
    'report',
    await folderWith('simple', 'guarded'),
    '--out',
    out,
    '--no-pdf',
  );
  expect([status, err]).toEqual([0, expect.any(String)]);
  const page = textOf(join(out, 'TH-1175/report.html')).replace(/\s+/g, ' ');
  expect(page).toContain('each by its own decision rule');
  expect(page).toContain('rail B to rail A, simple acceptance');
  expect(page).toMatch(
    /Rule: guarded acceptance, .*Simple acceptance, .*The rule named first holds for all rows/,
  );
});

test('a plan accepts up to the limit where the rule is simple, and less where it is guarded', async () => {
  const acceptsUpTo = async (rule: string | undefined) => {
    const { out } = await waysheet('plan', await folderWith(rule, 'guarded'), '--json');
    const plan = JSON.parse(out);
    return plan.characteristics.find((c: { what: string }) => c.what === LIMIT.what).acceptsUpTo as number;
  };
  const [bySimple, byGuarded] = [await acceptsUpTo('simple'), await acceptsUpTo(undefined)];
  expect(bySimple).toBeCloseTo(40.64, 6);
  expect(byGuarded).toBeLessThan(bySimple);
});

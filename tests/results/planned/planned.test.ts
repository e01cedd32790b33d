/** What `plan` foresees is what `report` finds; and what it says would help, helps by as much. */
import { readdirSync } from 'node:fs';
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { loadJob } from '../../../src/solution/intake/load-job.js';
import { planSurvey, type PlannedSurvey } from '../../../src/results/planned/planned-survey.js';
import { jobFolder } from '../../survey/job/made-up-job.js';
import { runPlan } from '../../../src/cli/plan.js';
import { changeRows, copyOf, resultsOf, sample } from '../../support/folders.js';

async function plan(folder: string): Promise<PlannedSurvey> {
  let out = '';
  const console = { out: (text: string) => (out += text), err: (text: string) => (out += text) };
  const status = await runPlan(folder, { phase: null, json: true, console: console as never });
  expect([status, out]).toEqual([0, out]);
  return JSON.parse(out) as PlannedSurvey;
}

describe.each(readdirSync(sample('')).filter((id) => id.startsWith('TH-')))('%s', (id) => {
  test('u is that of the report at scale 1', async () => {
    const results = await resultsOf(sample(id));
    const phase = results.phases['as-left'] ?? results.phases['as-found']!;
    const foreseen = (await plan(sample(id))).characteristics;
    expect(foreseen).toHaveLength(phase.characteristics.length);
    phase.characteristics.forEach((c, i) => {
      expect(foreseen[i]).toMatchObject({ what: c.what, rail: c.rail, limit: c.limit });
      if (c.u === null) expect(foreseen[i]!.u).toBeNull();
      else expect(foreseen[i]!.u! / (c.u / phase.adjustment.scale)).toBeCloseTo(1, 9);
    });
  });
});

test('of a sheet that is not filled in yet: the same survey, with shapes that noise makes', async () => {
  const folder = await copyOf('TH-0412');
  const full = await plan(folder);
  for (const file of readdirSync(join(folder, 'readings')))
    await changeRows(folder, `readings/${file}`, (header, rows) =>
      rows.map((cells) => cells.map((c, k) => (/vertical|horizontal|along/.test(header[k]!) ? '' : c))),
    );
  const blank = await plan(folder);
  expect(blank.characteristics.map(({ what, rail }) => [what, rail])).toEqual(
    full.characteristics.map(({ what, rail }) => [what, rail]),
  );
  for (const [i, c] of blank.characteristics.entries()) {
    const other = full.characteristics[i]!.u;
    if (other === null) continue;
    // Which points make a value depends on the shape, and so does u: by less than half for these rails.
    expect(c.u! / other).toBeGreaterThan(0.6);
    expect(c.u! / other).toBeLessThan(1.6);
  }
});

test('twice as many passes help as much as reading every row twice does', async () => {
  const loaded = await loadJob(sample('TH-0412'));
  if (!loaded.ok) throw new Error('refused');
  const { job, readings } = loaded.value;
  const [phase] = [...readings.phases.keys()].slice(-1);
  const list = readings.phases.get(phase!)!;
  const help = planSurvey(job, list, true).helps.find((h) => h.do.startsWith('Twice'))!;
  const twice = planSurvey(job, [...list, ...list], true).characteristics;
  for (const { what, rail, to } of help.u) {
    const same = twice.filter((c) => c.what === what && c.rail === rail).map(({ u }) => u!);
    expect(Math.min(...same.map((u) => Math.abs(u / to - 1)))).toBeLessThan(1e-6);
  }
});

test('what cannot be read is refused with its place', async () => {
  const folder = await copyOf('TH-0412');
  const path = join(folder, 'job.json');
  await writeFile(path, (await readFile(path, 'utf8')).replace(/"readings\/[^"]*"/, '"readings/gone.csv"'));
  let err = '';
  const console = { out: () => 0, err: (text: string) => (err += text) };
  expect(await runPlan(folder, { phase: null, json: true, console: console as never })).toBe(3);
  expect(err).toContain('readings/gone.csv');
});

/** The same rows in the long form: a row for each plane, with its name in `axis` and a blank `reading`. */
const planned = (form: 'wide' | 'long') =>
  ['A', 'B'].flatMap((rail) =>
    [1, 2, 3, 4].flatMap((n) =>
      form === 'wide'
        ? [`S1,${rail},${n},,`]
        : ['vertical', 'horizontal'].map((axis) => `S1,${rail},${n},${axis},`),
    ),
  );

test('a sheet in the long form with blank readings plans what the wide one plans', async () => {
  const ofForm = async (header: string, form: 'wide' | 'long') => {
    const folder = await jobFolder(`${header}\n${planned(form).join('\n')}\n`, (job) => {
      job.setups = job.setups!.slice(0, 1);
      job.rails = job.rails.slice(0, 2);
      job.tolerances = [];
    });
    const said: string[] = [];
    const console = { out: (text: string) => said.push(text), err: (text: string) => said.push(text) };
    expect(await runPlan(folder, { phase: null, json: true, console: console as never }), said.join('')).toBe(
      0,
    );
    return JSON.parse(said.join('')) as { characteristics: object[] };
  };
  const long = await ofForm('setup,rail,station,axis,reading', 'long');
  const wide = await ofForm('setup,rail,station,vertical,horizontal', 'wide');
  expect(long.characteristics.length).toBeGreaterThan(3);
  expect(long.characteristics).toEqual(wide.characteristics);
});

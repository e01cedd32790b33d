/** What `plan` foresees is what `report` finds; and what it says would help, helps by as much. */
import { readdirSync } from 'node:fs';
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { loadJob } from '../../../src/solution/intake/load-job.js';
import { planSurvey, type PlannedSurvey } from '../../../src/results/planned/planned-survey.js';
import { jobFolder } from '../../survey/job/made-up-job.js';
import { printOffer, runPlan } from '../../../src/cli/plan.js';
import { planPage, planText, planWords } from '../../../src/pages/report/plan-words.js';
import { wordsOf } from '../../../src/pages/words/languages.js';
import { english } from '../../../src/pages/words/words.js';
import { Trials } from '../../../src/results/planned/chances.js';
import { questionFinder } from '../../../src/results/question-of.js';
import { Answers } from '../../../src/solution/characteristics/answer.js';
import { askAll } from '../../../src/solution/characteristics/ask.js';
import { adjust } from '../../../src/solution/solve/adjustment.js';
import { buildNetwork, type Network } from '../../../src/solution/solve/network.js';
import { createGenerator } from '../../../src/base/statistics/random.js';
import { changeRows, copyOf, judgedOf, sample } from '../../support/folders.js';
import { textOfPages } from '../../support/pdf-text.js';
import { madeVerdicts, surveyOf } from '../../support/made-surveys.js';

async function plan(folder: string): Promise<PlannedSurvey> {
  let out = '';
  const console = { out: (text: string) => (out += text), err: (text: string) => (out += text) };
  const status = await runPlan(folder, { phase: null, json: true, console: console as never });
  expect([status, out]).toEqual([0, out]);
  return JSON.parse(out) as PlannedSurvey;
}

describe.each(readdirSync(sample('')).filter((id) => id.startsWith('TH-')))('%s', (id) => {
  test('u is that of the report at scale 1', async () => {
    const results = await judgedOf(sample(id));
    const phase = results.phases['as-left'] ?? results.phases['as-found']!;
    const { job, list } = await surveyOf(id);
    const foreseen = planSurvey(job, list, true, false).characteristics;
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
  const help = planSurvey(job, list, true, false).helps.find((h) => h.do.startsWith('Twice'))!;
  const twice = planSurvey(job, [...list, ...list], true, false).characteristics;
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

test('a value just inside "accepts up to" conforms, one just outside does not: the judge of the report says the same', async () => {
  const { job, list } = await surveyOf('TH-2031');
  const blank = adjust(zeroed(buildNetwork(job, list)));
  const trials = new Trials(blank, new Answers(blank, job.decision.coverage), job.decision);
  const questionOf = questionFinder(askAll(job, blank.network));
  let linear = 0;
  for (const c of planSurvey(job, list, false, false).characteristics) {
    const question = questionOf(c)!;
    if (c.limit === null || question.kind !== 'linear') continue;
    linear++;
    const { functional } = question;
    const size = Array.from(functional.weight, (w) => w * w).reduce((a, b) => a + b, 0);
    const at = (value: number) => {
      const x = new Float64Array(blank.network.unknowns.length);
      for (let k = 0; k < functional.index.length; k++)
        x[functional.index[k]!]! += (value * functional.weight[k]!) / size;
      return trials.verdictOn({ question, limit: c.limit!, zone: undefined, rule: undefined }, x);
    };
    for (const side of [1, -1]) {
      expect(at(side * c.acceptsUpTo! * 0.999)).toBe('conforms');
      expect(at(side * c.acceptsUpTo! * 1.001)).toBe('undecided');
    }
    expect(c.accepts).toEqual({ from: -c.acceptsUpTo!, to: c.acceptsUpTo! });
  }
  expect(linear).toBe(2);
});

test('of limits to two sides both ends are accepted less the same guard', async () => {
  const { job, list } = await surveyOf('TH-4520');
  const c = planSurvey(job, list, true, false).characteristics.find(({ zone }) => zone?.to === 60)!;
  // Guarded acceptance at 95 %: 1.96 u to each side.
  expect(c.zone).toEqual({ from: -20, to: 60 });
  expect(c.accepts!.from! + 20).toBeCloseTo(1.96 * c.u!, 2);
  expect(60 - c.accepts!.to!).toBeCloseTo(1.96 * c.u!, 2);
});

/**
 * Surveys made from scratch: a rail of a usual shape, readings of it with random errors of the stated size, the whole program
 * on them. Of 100 simulated by the plan and 40 made here, both frequencies are within 3.3 standard deviations of each other.
 */
test.each(['TH-0412', 'TH-1175'])(
  'chances are those of surveys that are made and reported: %s',
  async (id) => {
    const { job, list } = await surveyOf(id);
    const planned = planSurvey(job, list, false);
    const random = createGenerator(2026);
    const surveys = 40;
    for (const what of ['straightness-vertical', 'parallelism-horizontal']) {
      const c = planned.characteristics.find((one) => one.what === what && one.rail === 'B')!;
      for (const share of [0.5, 0.8, 1.2]) {
        const counts = madeVerdicts({ job, list }, c, { share, surveys, random });
        const told = c.chances!.find(({ at }) => at === share)!;
        for (const [made, foreseen] of [
          [counts.conforms, told.conforms],
          [counts['does-not-conform'], told.doesNotConform],
          [counts.undecided, told.undecided],
        ] as const) {
          const p = (made + foreseen + 1) / (surveys + told.of + 2);
          const spread = Math.sqrt(p * (1 - p) * (1 / surveys + 1 / told.of));
          expect(Math.abs(made / surveys - foreseen / told.of), `${what} at ${share}`).toBeLessThan(
            3.3 * spread,
          );
        }
      }
    }
  },
);

test('the same job gives the same plan, to the last byte', async () => {
  const { job, list } = await surveyOf('TH-0412');
  expect(JSON.stringify(planSurvey(job, list, false))).toBe(JSON.stringify(planSurvey(job, list, false)));
});

test('what is said to decide, decides as often as it says, in a survey that is read so often', async () => {
  const { job, list } = await surveyOf('TH-0412');
  const { cheapest } = planSurvey(job, list, true);
  expect(cheapest).toMatchObject({ arrangement: 'as-planned', passes: 3, setups: 1 });
  const often = Array.from({ length: 3 }, () => list).flat();
  const { characteristics } = planSurvey(job, often, true);
  expect(cheapest!.decides.length).toBeGreaterThan(5);
  for (const { what, rail } of cheapest!.decides) {
    const c = characteristics.find((one) => one.what === what && one.rail === rail && one.chances)!;
    expect(c.chances!.find(({ at }) => at === 0.8)!.conforms, what).toBeGreaterThanOrEqual(88);
    expect(c.chances!.find(({ at }) => at === 1.2)!.doesNotConform, what).toBeGreaterThanOrEqual(88);
  }
});

test('an inch job is told in thou, with its stretches apart, and the offer is one page', async () => {
  const { job, list } = await surveyOf('TH-1175');
  const words = planWords(job, planSurvey(job, list, true), true);
  const text = planText(words);
  expect(text).toMatch(/limit 1\.5\sthou/);
  expect(text).not.toMatch(/µm/);
  expect(new Set(words.rows.map(({ name }) => name)).size).toBe(words.rows.length);
  expect(planPage(words, job, english)).toContain('<h2>The cheapest survey that decides</h2>');
});

// The sample with the most tolerances, in the longest words, on the shorter paper.
test('an offer of many tolerances in French on Letter is one page, to its last line', async () => {
  const { job, list } = await surveyOf('TH-2031');
  const words = wordsOf('fr');
  const plan = planWords(job, planSurvey(job, list, true), true, words);
  const pages = await textOfPages(
    await printOffer(plan, { ...job, style: { ...job.style, paper: 'Letter' } }, words),
  );
  expect(pages).toHaveLength(1);
  const said = pages[0]!.join('').replace(/\s/g, '');
  for (const line of [plan.rows.at(-1)!.name, plan.parts.at(-1)!.lines.at(-1)!])
    expect(said).toContain(line.replace(/\s/g, ''));
});

const zeroed = (network: Network): Network => ({
  ...network,
  observed: new Float64Array(network.observed.length),
});

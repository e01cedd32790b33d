/**
 * `npm run study -- plan [surveys] [designs with ; between]`: the chances that `plan` tells against surveys that are made and judged,
 * over eleven designs. Each run keeps its designs in out/plan-chances; tests/study/plan.md is the table of all that are kept.
 */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { createGenerator } from '../../src/base/statistics/random.js';
import { METHOD } from '../../src/base/version.js';
import { SHARES } from '../../src/results/planned/chances.js';
import { planSurvey } from '../../src/results/planned/planned-survey.js';
import type { CharacteristicName } from '../../src/survey/characteristics/characteristics.js';
import { simulate, type DesignName } from '../solution/causes/simulate.js';
import { limitUm, tolerance } from '../support/jobs.js';
import { madeVerdicts, surveyOf, type Planned } from '../support/made-surveys.js';
import { fourRails, withCrossRail } from './surveys.js';

type Rule = 'simple' | 'guarded';
interface Studied {
  readonly name: string;
  readonly survey: () => Planned | Promise<Planned>;
  readonly asked: readonly (readonly [CharacteristicName, string])[];
  readonly rule: Rule;
}

const simulated = (design: DesignName) => (): Planned => {
  const { job, readings } = simulate(design, null, 1, 29)!;
  return { job, list: readings };
};
const plain = [
  ['straightness-vertical', 'B'],
  ['parallelism-horizontal', 'B'],
  ['height-difference', 'B'],
] as const;

const pair = (name: string, design: DesignName, rule: Rule = 'guarded'): Studied => ({
  name,
  survey: simulated(design),
  asked: plain,
  rule,
});

const all: readonly Studied[] = [
  pair('two set-ups, two monuments, two passes there and back', 'two monuments'),
  pair('two set-ups, the second turned, four monuments, two targets', 'four monuments'),
  pair('both rails from both ends, four monuments', 'both ends'),
  pair('three legs that overlap, 24 stations', 'legs'),
  pair('one set-up in the middle, three passes', 'one shot', 'simple'),
  pair('stated effects: zero of the level, cone, air, scale, seating', 'stated'),
  pair('one pass, two monuments', 'one pass', 'simple'),
  {
    name: 'a level there and back, three passes, and across',
    survey: simulated('slopes'),
    asked: [
      ['straightness-vertical', 'B'],
      ['parallelism-vertical', 'B'],
      ['height-difference', 'B'],
    ],
    rule: 'guarded',
  },
  {
    name: 'four rails in one shot',
    survey: () => ({ job: fourRails().job, list: fourRails().rows }),
    asked: [
      ['straightness-horizontal', 'D'],
      ['parallelism-vertical', 'C'],
      ['parallelism-horizontal', 'D'],
    ],
    rule: 'guarded',
  },
  {
    name: 'a rail and a cross rail',
    survey: () => ({ job: withCrossRail().job, list: withCrossRail().rows }),
    asked: [
      ['straightness-vertical', 'C'],
      ['straightness-horizontal', 'C'],
      ['squareness', 'C'],
    ],
    rule: 'guarded',
  },
  {
    name: 'the sample in inches, legs with ties',
    survey: () => surveyOf('TH-1175', 'samples/TH-1175'),
    asked: plain,
    rule: 'guarded',
  },
];

/** A limit is so many u, so that each verdict occurs. */
const LIMITS = [4, 6, 10];

interface Row {
  readonly what: string;
  readonly limit: number;
  readonly at: number;
  readonly told: readonly number[];
  readonly of: number;
  readonly made: readonly number[];
  readonly surveys: number;
}

async function rowsOf({ survey, asked, rule }: Studied, surveys: number): Promise<Row[]> {
  const { job: bare, list: read } = await survey();
  const decision = { ...bare.decision, rule };
  const tolerances = (limits: readonly number[]) =>
    asked.map(([what, rail], i) => tolerance({ what, rail, limit: limitUm(limits[i]!) }));
  const withLimits = (limits: readonly number[]) => ({
    ...bare,
    decision,
    adjusters: [],
    toleranceSet: { ...bare.toleranceSet, tolerances: tolerances(limits) },
  });
  const found = (limits: readonly number[], isTried: boolean) => {
    const job = withLimits(limits);
    const { characteristics } = planSurvey(job, read, false, isTried);
    return asked.map(([what, rail]) => ({
      job,
      c: characteristics.find((one) => one.what === what && one.rail === rail && one.limit !== null)!,
    }));
  };
  const limits = found(
    asked.map(() => 1000),
    false,
  ).map(({ c }, i) => Math.max(1, Math.round(LIMITS[i % LIMITS.length]! * c.u!)));
  return found(limits, true).flatMap(({ job, c }, i) =>
    SHARES.map((at, k): Row => {
      const told = c.chances!.find((one) => one.at === at)!;
      const random = createGenerator(2900 + 10 * i + k);
      const made = madeVerdicts({ job, list: read }, c, { share: at, surveys, random });
      return {
        what: `${c.what}, rail ${c.rail}`,
        limit: c.limit!,
        at,
        told: [told.conforms, told.doesNotConform, told.undecided],
        of: told.of,
        made: [made.conforms, made['does-not-conform'], made.undecided],
        surveys,
      };
    }),
  );
}

/** Difference of the two shares in standard deviations; both are counted. */
const zOf = ({ told, of, made, surveys }: Row, i: number): number => {
  const p = (made[i]! + told[i]! + 1) / (surveys + of + 2);
  return (made[i]! / surveys - told[i]! / of) / Math.sqrt(p * (1 - p) * (1 / surveys + 1 / of));
};

function table(parts: readonly { readonly name: string; readonly rows: readonly Row[] }[]): string {
  const zs = parts.flatMap(({ rows }) => rows.flatMap((row) => row.told.map((_, i) => zOf(row, i))));
  const beyond = (sd: number) => zs.filter((z) => Math.abs(z) > sd).length;
  const expected = 0.0455 * zs.length;
  const allowed = Math.floor(expected + 2.33 * Math.sqrt(expected * (1 - 0.0455)));
  const mean = [0, 1, 2].map((i) => {
    const own = parts.flatMap(({ rows }) => rows.map((row) => zOf(row, i)));
    return own.reduce((a, b) => a + b, 0) / own.length;
  });
  const percent = (count: number, of: number) => {
    const p = count / of;
    return `${(100 * p).toFixed(0)} ± ${(100 * Math.sqrt((p * (1 - p)) / of)).toFixed(0)}`;
  };
  return [
    '# The chances that a plan tells',
    '',
    `Made by \`npm run study -- plan\`, METHOD ${METHOD}: for each design three characteristics, for each of them rails of usual shapes at 50, 80, 95 and 120 % of a limit of 4, 6 or 10 u. They are read by a simulator that shares nothing with the plan, and judged by the judge of the report.`,
    'Shares are in %, predicted by the plan / observed, each with its binomial standard deviation.',
    `A comparison is one share of one verdict. Rule, stated beforehand: of N comparisons 4.55 % differ by more than 2 standard deviations by chance; more than the 99 % point of the binomial distribution, or one beyond 4, is a disagreement.`,
    '',
    `Comparisons: ${zs.length}. Beyond 2 standard deviations: ${beyond(2)} (by chance ${expected.toFixed(0)}, allowed ${allowed}); beyond 3: ${beyond(3)}; beyond 4: ${beyond(4)}. Mean of observed less predicted, in standard deviations: conforms ${mean[0]!.toFixed(2)}, does not ${mean[1]!.toFixed(2)}, undecided ${mean[2]!.toFixed(2)}.`,
    '',
    '| design | characteristic | limit, µm | rail at | conforms | does not | undecided | standard deviations |',
    '| --- | --- | --- | --- | --- | --- | --- | --- |',
    ...parts.flatMap(({ name, rows }) =>
      rows.map((row) => {
        const shares = row.told.map(
          (count, i) => `${percent(count, row.of)} / ${percent(row.made[i]!, row.surveys)}`,
        );
        const z = row.told.map((_, i) => zOf(row, i).toFixed(1)).join(', ');
        return `| ${name} | ${row.what} | ${row.limit} | ${(100 * row.at).toFixed(0)} % | ${shares.join(' | ')} | ${z} |`;
      }),
    ),
    '',
  ].join('\n');
}

const surveys = Number(process.argv[2] ?? 200);
const only = (process.argv[3] ?? '').split(';');
const kept = 'out/plan-chances';
const fileOf = (name: string) => `${kept}/${name.replace(/\W+/g, '-')}.json`;
mkdirSync(kept, { recursive: true });
for (const studied of all.filter(({ name }) => only.some((part) => name.includes(part)))) {
  const started = performance.now();
  writeFileSync(fileOf(studied.name), JSON.stringify(await rowsOf(studied, surveys)));
  console.log(`${studied.name}: ${((performance.now() - started) / 1000).toFixed(0)} s`);
}
const parts = all.flatMap(({ name }) =>
  existsSync(fileOf(name)) ? [{ name, rows: JSON.parse(readFileSync(fileOf(name), 'utf8')) as Row[] }] : [],
);
writeFileSync('tests/study/plan.md', table(parts));
console.log(table(parts).split('\n').slice(6, 7).join(''));

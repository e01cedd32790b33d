/**
 * Every number of results.json is either worked out here by other means or stands on a list of what is left out, each
 * with the test that checks it instead. A number that is on neither fails: it is new, and nobody has checked it yet.
 */
import { expect, test } from 'vitest';
import type { Results } from '../../src/results/results-schema.js';
import { makeJob, judgedOf } from '../support/folders.js';
import { answersOf } from '../support/second-opinion/answers.js';
import { chiSquareUpperTail, solveDensely, type Dense } from '../support/second-opinion/dense.js';
import { equationsOf, type Equation } from '../support/second-opinion/equations.js';
import { randomFolder, type RandomFolder } from '../support/second-opinion/random-folder.js';
import { withEffects } from '../support/second-opinion/with-effects.js';

/** Places whose numbers are left out here, and where they are checked. */
const LEFT_OUT: readonly (readonly [RegExp, why: string])[] = [
  [
    /\.reasons\[\]\.data\./,
    'what a reason is about: tests/results/undetermined.test.ts holds it against its sentence',
  ],
  [/^inputs\[\]\.bytes$/, 'the size of a file on disk'],
  [/^settings\./, 'what the job and the program state; tests/pinned'],
  [/^survey\./, 'the job, settled to mm and µm; tests/survey/job/resolve-job.test.ts'],
  [/^subject\./, 'what the job says; tests/survey/job'],
  [/^(excluded|warnings)\[\]\.row$/, 'rows of files; tests/survey/readings'],
  [/^curvature\./, 'tests/base/geometry: the sagitta of a level arc'],
  [/repeatability\[\]/, 'tests/results/solution.test.ts: noise above the claim'],
  [/\.setups\[\]\.(readings|largest)/, 'counts and extremes of what was read; tests/pages/report'],
  [/\.setups\[\]\.drift/, 'tests/results/solution.test.ts: closure and drift'],
  [/\.ties\[\]/, 'tests/results/solution.test.ts and tests/pinned'],
  [/\.read\./, 'tests/solution/intake/silent-mistakes.test.ts: counts of what was read'],
  [/\.loops\[\]/, 'tests/results/loops.test.ts'],
  [/\.closures\[\]\.drift$/, 'tests/results/solution.test.ts: closure and drift'],
  [
    /\.stations\[\]\.(ahead|difference)/,
    'their greatest is parallelism, twist and squareness, which are checked here',
  ],
  [
    /characteristics\[\]\.(over|limit|at\[\]\.station|limitLength)$/,
    'tests/results/drawing-tolerances.test.ts',
  ],
  [/characteristics\[\]\.profile\[\]/, 'tests/results/profile.test.ts: its points make the value'],
  [/characteristics\[\]\.interval\[\]$/, 'tests/solution/verdict: brute force, closed forms; the study'],
  [/characteristics\[\]\.ends\./, 'tests/results/trace.test.ts: they make the interval'],
  [
    /characteristics\[\]\.(judged\.(lower|upper)|risk\.atMost)$/,
    'tests/solution/verdict/decision-rule.test.ts and tests/results/verdict-words.test.ts',
  ],
  [/characteristics\[\]\.extremes\.\w+\.station$/, 'tests/results/verdict-words.test.ts'],
  [/characteristics\[\]\.probability$/, 'tests/solution/verdict: consistent with the interval'],
  [/characteristics\[\]\.readings\[\]/, 'tests/results/trace.test.ts: Σ weight × reading is the value'],
  [
    /characteristics\[\]\.holdsUpTo\[\]|\.unstated\[\]/,
    'tests/results/solution.test.ts and tests/solution/solve/refraction.test.ts',
  ],
  [/\.reliability\[\]/, 'tests/solution/solve/tie-errors.test.ts'],
  [/\.adjustment\.critical$/, 'tests/results/second-opinion.test.ts: which readings are suspects'],
  [/\.suspects\[\]/, 'each with those before it set aside; tests/results/second-opinion.test.ts'],
  [/\.effects\[\]/, 'tests/results/second-opinion.test.ts: their networks are solved with them'],
  [/^corrections\./, 'tests/results/corrections, tests/results/planned'],
];

type Check = (v: number, wanted: number, about: string) => void;

const near: Check = (v, wanted, about) =>
  expect(Math.abs(v - wanted), `${about}: ${v}, wanted ${wanted}`).toBeLessThan(
    1e-5 * (1 + Math.abs(wanted)),
  );

/** Numbers by place, keys of records and indices taken out. */
function placesOf(results: Results): Set<string> {
  const found = new Set<string>();
  const walk = (value: unknown, place: string): void => {
    if (typeof value === 'number') found.add(place);
    else if (Array.isArray(value)) value.forEach((one) => walk(one, `${place}[]`));
    else if (value !== null && typeof value === 'object')
      for (const [key, one] of Object.entries(value)) {
        const isRecord = place === 'phases' || place.endsWith('.budget');
        walk(one, place === '' ? key : `${place}.${isRecord ? '*' : key}`);
      }
  };
  walk(results, '');
  return found;
}

/** What is worked out anew. @returns The places of it. */
function check(
  results: Results,
  folder: RandomFolder,
  equations: readonly Equation[],
  dense: Dense,
  isPlain: boolean,
): Set<string> {
  const checked = new Set<string>();
  const at = (place: string, v: number | null | undefined, wanted: number | null, about: string) => {
    checked.add(place);
    if (v === null || v === undefined || wanted === null) expect(v ?? null, about).toBe(wanted);
    else near(v, wanted, about);
  };
  const phase = results.phases['as-left']!;
  const p = 'phases.*';
  const { adjustment } = phase;
  const { scale } = adjustment;
  at(`${p}.adjustment.readings`, adjustment.readings, equations.length, 'readings');
  at(
    `${p}.adjustment.priors`,
    adjustment.priors,
    equations.filter((e) => e.source === null).length,
    'priors',
  );
  at(`${p}.adjustment.unknowns`, adjustment.unknowns, dense.unknowns.length, 'unknowns');
  at(`${p}.adjustment.rank`, adjustment.rank, dense.rank, 'rank');
  at(`${p}.adjustment.redundancy`, adjustment.redundancy, dense.redundancy, 'redundancy');
  at(`${p}.adjustment.sigma0`, adjustment.sigma0, dense.sigma0, 'sigma0');
  const squares = equations.reduce((sum, e, i) => sum + (dense.residual[i]! / e.sigma) ** 2, 0);
  if (adjustment.chiSquare !== null) {
    at(`${p}.adjustment.chiSquare.statistic`, adjustment.chiSquare.statistic, squares, 'chi-square');
    const tail = chiSquareUpperTail(squares, dense.redundancy);
    checked.add(`${p}.adjustment.chiSquare.upperTail`);
    // See tests/solution/solve/noticed-noise.test.ts.
    checked.add(`${p}.adjustment.noticedNoise`);
    // The other formula is from memory, and good to a few parts in a thousand.
    expect(Math.abs(adjustment.chiSquare.upperTail - tail)).toBeLessThan(0.01);
    if (Math.abs(tail - 0.01) > 0.002)
      at(`${p}.adjustment.scale`, scale, tail < 0.01 ? Math.max(1, dense.sigma0!) : 1, 'scale');
  } else at(`${p}.adjustment.scale`, scale, 1, 'scale');

  const known = answersOf(folder, dense);
  const quantity = (
    place: string,
    key: string,
    q: { value: number | null; u?: number | null } | undefined,
  ) => {
    if (q === undefined) return;
    const own = known.get(key) ?? null;
    at(`${place}.value`, q.value, own?.value ?? null, key);
    if (own?.u !== null && own !== null) at(`${place}.u`, q.u! / scale, own.u, `u of ${key}`);
  };
  for (const s of phase.stations) {
    const rail = results.survey.rails.find(({ id }) => id === s.rail)!;
    const place = rail.stations.find(({ station }) => station === s.station)!;
    at(`${p}.stations[].station`, s.station, place.station, 'station');
    at(`${p}.stations[].along`, s.along, place.along, 'along');
    at(`${p}.stations[].across`, s.across, place.across, 'across');
    const name = `station ${s.rail} ${s.station}`;
    quantity(`${p}.stations[].height`, `${name} height`, s.height);
    quantity(`${p}.stations[].offset`, `${name} offset`, s.offset);
    quantity(`${p}.stations[].deviation.vertical`, `${name} deviation vertical`, s.deviation.vertical);
    quantity(`${p}.stations[].deviation.horizontal`, `${name} deviation horizontal`, s.deviation.horizontal);
    quantity(`${p}.stations[].deviation.along`, `${name} deviation horizontal`, s.deviation.along);
  }
  for (const s of phase.setups)
    for (const k of ['yaw', 'pitch', 'roll'] as const)
      quantity(`${p}.setups[].${k}`, `setup ${s.id} ${k}`, s[k]);
  for (const c of phase.characteristics) {
    const key = [c.what, c.rail, ...(c.reference === undefined ? [] : [c.reference])].join(' ');
    quantity(`${p}.characteristics[]`, key, c);
    if (c.extremes !== undefined)
      for (const end of ['least', 'greatest'] as const)
        quantity(`${p}.characteristics[].extremes.${end}`, `${key} ${end}`, c.extremes[end]);
    if (c.judged !== undefined && c.value !== null) {
      at(`${p}.characteristics[].judged.value`, c.judged.value, Math.abs(c.value), `judged ${key}`);
      at(`${p}.characteristics[].judged.limit`, c.judged.limit, c.limit, `judged ${key}`);
    }
    checked.add(`${p}.characteristics[].budget.*`);
    if (c.value !== null)
      near(
        Object.values(c.budget).reduce((a, b) => a + b, 0),
        1,
        `budget of ${key}`,
      );
  }

  const label = (r: { file: string | null; row: number | null; axis: string }) =>
    `${r.file}:${r.row} ${r.axis}`;
  const index = new Map(
    equations.flatMap((e, i) => (e.source === null ? [] : [[label(e.source), i] as const])),
  );
  const list = `${p}.residuals[]`;
  for (const r of phase.residuals) {
    if (r.file === null) continue;
    const i = index.get(label(r));
    expect(i, label(r)).toBeDefined();
    checked.add(`${list}.row`).add(`${list}.station`);
    const [v, redundancy] = [dense.residual[i!]!, dense.redundancyNumber[i!]!];
    at(`${list}.residual`, Math.abs(r.residual), Math.abs(v), label(r));
    at(`${list}.redundancy`, r.redundancy, redundancy, label(r));
    if (redundancy < 1e-4) continue;
    const w = Math.abs(v) / (equations[i!]!.sigma * Math.sqrt(redundancy));
    at(`${list}.standardised`, Math.abs(r.standardised!), w, label(r));
  }
  at(`${p}.residualsLeftOut`, phase.residualsLeftOut, equations.length - phase.residuals.length, 'left out');
  for (const c of phase.closures) {
    const [first, last] = [c.first, c.last].map(({ row, reading }) => {
      const i = index.get(label({ file: row.file, row: row.row, axis: c.axis }))!;
      // In a hall the equation holds what is left when the air's bend is taken off.
      if (isPlain) near(Math.abs(reading), Math.abs(equations[i]!.value), `look at ${c.point}`);
      return { um: reading, sigma: equations[i]!.sigma };
    });
    for (const end of ['first', 'last'] as const)
      checked.add(`${p}.closures[].${end}.reading`).add(`${p}.closures[].${end}.row.row`);
    at(`${p}.closures[].closure`, c.closure, last!.um - first!.um, 'closure');
    checked.add(`${p}.closures[].looks`).add(`${p}.closures[].allowed`);
    expect(c.looks).toBeGreaterThan(1);
    // √2·σ times a normal quantile that is the same for all of them.
    const k = c.allowed / (Math.SQRT2 * first!.sigma);
    expect(k).toBeGreaterThan(1.6);
    expect(k).toBeLessThan(5);
  }
  return checked;
}

const surveys = Array.from({ length: 12 }, (_, k) => k + 1).flatMap((seed) => {
  const folder = randomFolder(seed);
  // Of every other one the displays are coarse, and that is stated.
  if (seed % 2 === 0) for (const { reading } of folder.job.instruments) reading.resolution = 1.5 * reading.u;
  return [
    { seed, hall: 'plain', folder },
    { seed, hall: 'in a real hall', folder: withEffects(folder, seed) },
  ];
});
const seen = new Set<string>();
const checked = new Set<string>();

test.each(surveys)('survey $seed, $hall', async ({ folder, hall }) => {
  const equations = equationsOf(folder, 'as-left');
  const results = await judgedOf(await makeJob(folder.job, folder.files));
  for (const place of placesOf(results)) seen.add(place);
  for (const place of check(results, folder, equations, solveDensely(equations), hall === 'plain'))
    checked.add(place);
});

test('no number is on neither list', () => {
  const isLeftOut = (place: string) => LEFT_OUT.some(([places]) => places.test(place));
  expect([...seen].filter((place) => !checked.has(place) && !isLeftOut(place))).toEqual([]);
  expect(
    LEFT_OUT.filter(([places]) => ![...seen].some((place) => places.test(place))).map(([p]) => p),
  ).toEqual([]);
});

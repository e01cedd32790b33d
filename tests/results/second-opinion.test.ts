/**
 * Whole job folders again by other means: the CSV files read afresh, the observation equations written out
 * anew, solved by a dense singular value decomposition, and every station, set-up and characteristic read off it.
 * Hundreds of random surveys of all reading kinds, many of them with unknowns that nothing determines.
 */
import { expectWorded } from '../support/worded.js';
import { describe, expect, test } from 'vitest';
import { askAll } from '../../src/solution/characteristics/ask.js';
import { applyFamily, combine, undetermined } from '../../src/solution/characteristics/linear-family.js';
import type { Question } from '../../src/solution/characteristics/question.js';
import { adjustmentSection } from '../../src/results/adjustment-section.js';
import type { AdjustmentResult, PhaseResults, Quantity } from '../../src/results/results-schema.js';
import { setupsSection } from '../../src/results/setups-section.js';
import { stationsSection } from '../../src/results/stations-section.js';
import { adjust, type Adjustment } from '../../src/solution/solve/adjustment.js';
import { explainer } from '../../src/solution/solve/explain.js';
import { buildNetwork } from '../../src/solution/solve/network.js';
import { readResolved } from '../../src/survey/job/read-job.js';
import { readFiles } from '../../src/survey/readings/read-readings.js';
import { makeJob, resultsOf } from '../support/folders.js';
import { answersOf } from '../support/second-opinion/answers.js';
import { chiSquareUpperTail, snoop, solveDensely, type Dense } from '../support/second-opinion/dense.js';
import { equationsOf, type Equation } from '../support/second-opinion/equations.js';
import { randomFolder, type RandomFolder } from '../support/second-opinion/random-folder.js';
import { withEffects } from '../support/second-opinion/with-effects.js';

type Listed = Map<string, { value: number | null; u: number | null }>;

interface Solved {
  readonly adjustment: AdjustmentResult;
  readonly listed: Listed;
}

/** What the program finds, without the simulated surveys of its intervals and without the search for mistakes. */
async function solveHere(folder: RandomFolder): Promise<Solved> {
  const made = await makeJob(folder.job, folder.files);
  const { job, frame } = await readResolved(made);
  const { readings, findings } = await readFiles(made, frame!);
  if (job === null || findings.hasErrors) throw new Error(JSON.stringify(findings.list, null, 1));
  const adjustment = adjust(buildNetwork(job, readings!.phases.get('as-left')!));
  const explain = explainer(job, adjustment);
  const listed: Listed = new Map();
  listPlaces(
    listed,
    stationsSection(job, adjustment, explain).stations,
    setupsSection(job, adjustment, explain),
  );
  for (const question of askAll(job, adjustment.network)) {
    const { what, rail, reference } = question;
    listed.set(characteristicKey(what, rail, reference), estimate(question, adjustment));
  }
  return { adjustment: adjustmentSection(job, adjustment), listed };
}

function estimate(question: Question, adjustment: Adjustment): { value: number | null; u: number | null } {
  const none = { value: null, u: null };
  if (question.kind === 'none') return none;
  if (question.kind === 'linear') {
    const { functional } = question;
    if (!adjustment.isDetermined(functional)) return none;
    return { value: adjustment.value(functional), u: adjustment.standardUncertainty(functional) };
  }
  if (question.kind === 'greatest-of') throw new Error('no job of this test asks for groups');
  const { family, measure, factor } = question;
  if (undetermined(family, adjustment).includes(true)) return none;
  const { value, gradient } = measure.explain(applyFamily(family, adjustment.x));
  return { value: value * factor, u: adjustment.standardUncertainty(combine(family, gradient)) * factor };
}

const characteristicKey = (what: string, rail: string, reference: string | undefined): string =>
  [what, rail, ...(reference === undefined ? [] : [reference])].join(' ');

function listPlaces(
  listed: Listed,
  stations: PhaseResults['stations'],
  setups: PhaseResults['setups'],
): void {
  const put = (key: string, q: Quantity | undefined) => {
    if (q !== undefined) listed.set(key, { value: q.value, u: q.value === null ? null : q.u });
    if (q?.value === null) expect(q.why.length, `why of ${key}`).toBeGreaterThan(10);
  };
  for (const s of stations) {
    const name = `station ${s.rail} ${s.station}`;
    put(`${name} height`, s.height);
    put(`${name} offset`, s.offset);
    put(`${name} deviation vertical`, s.deviation.vertical);
    put(`${name} deviation horizontal`, s.deviation.horizontal ?? s.deviation.along);
  }
  for (const s of setups) for (const k of ['yaw', 'pitch', 'roll'] as const) put(`setup ${s.id} ${k}`, s[k]);
}

/** Every difference between the two, in words. */
function differences(folder: RandomFolder, dense: Dense, { adjustment, listed }: Solved): string[] {
  const known = answersOf(folder, dense);
  const off: string[] = [];
  for (const [key, own] of known) {
    // Both ends of a signed figure are in results.json alone: every-number.test.ts.
    if (/ (least|greatest)$/.test(key)) continue;
    const its = listed.get(key);
    if (its === undefined) off.push(`${key}: missing`);
    else if (own === null) {
      if (its.value !== null) off.push(`${key}: ${its.value}, wanted null`);
    } else if (its.value === null || Math.abs(its.value - own.value) > 1e-5 * (1 + Math.abs(own.value)))
      off.push(`${key}: ${its.value}, wanted ${own.value}`);
    else if (own.u !== null && Math.abs(its.u! / adjustment.scale - own.u) > 1e-5 * (1 + own.u))
      off.push(`${key}: u ${its.u! / adjustment.scale}, wanted ${own.u}`);
  }
  for (const [key, its] of listed)
    if (!known.has(key) && its.value !== null) off.push(`${key}: ${its.value}, wanted nothing`);
  return off;
}

function expectSameAdjustment(own: AdjustmentResult, equations: readonly Equation[], dense: Dense): void {
  expect(own.readings).toBe(equations.length);
  expect(own.unknowns).toBe(dense.unknowns.length);
  expect(own.redundancy).toBe(dense.redundancy);
  if (dense.sigma0 === null) {
    expect(own).toMatchObject({ sigma0: null, scale: 1, suspects: [] });
    return;
  }
  expect(Math.abs(own.sigma0! - dense.sigma0)).toBeLessThan(1e-6 * (1 + dense.sigma0));
  const tail = chiSquareUpperTail(dense.redundancy * dense.sigma0 ** 2, dense.redundancy);
  // The other formula for the tail is good to a few per cent of it.
  if (Math.abs(tail - 0.01) > 0.002)
    expect(own.scale).toBeCloseTo(tail < 0.01 ? Math.max(1, dense.sigma0) : 1, 6);
  const label = (s: { file: string | null; row: number | null; axis: string }) =>
    s.file === null ? 'prior' : `${s.file}:${s.row} ${s.axis}`;
  const want = snoop(equations, dense);
  expect(own.suspects.map(label).sort()).toEqual(
    want.map(({ equation }) => (equation.source === null ? 'prior' : label(equation.source))).sort(),
  );
  want.forEach((w, k) =>
    expect(Math.abs(Math.abs(own.suspects[k]!.standardised) - Math.abs(w.standardised))).toBeLessThan(1e-4),
  );
}

const solved = new WeakMap<RandomFolder, { equations: Equation[]; dense: Dense }>();

/** The dense decomposition is most of this file's work: each folder's is made once. */
function secondOpinion(folder: RandomFolder): { equations: Equation[]; dense: Dense } {
  const known = solved.get(folder);
  if (known !== undefined) return known;
  const equations = equationsOf(folder, 'as-left');
  const made = { equations, dense: solveDensely(equations) };
  solved.set(folder, made);
  return made;
}

const COUNT = Number(process.env['SURVEYS'] ?? 150);
const FIRST = Number(process.env['FIRST'] ?? 1);
const folders = Array.from({ length: COUNT }, (_, k) => ({
  seed: FIRST + k,
  folder: randomFolder(FIRST + k),
}));

describe('random job folders', () => {
  test('are of all kinds', () => {
    const entries = folders.flatMap(({ folder }) => folder.job.readings as Record<string, string>[]);
    expect(new Set(entries.map((e) => e['kind'] ?? 'offset'))).toEqual(new Set(['offset', 'slope', 'span']));
    expect(new Set(entries.map((e) => e['against']))).toEqual(new Set([undefined, 'gravity', 'sight']));
    const defects = folders.map(({ folder }) => {
      const { dense } = secondOpinion(folder);
      return { rankDefect: dense.unknowns.length - dense.rank, dense };
    });
    expect(defects.filter((d) => d.rankDefect > 5).length).toBeGreaterThan(COUNT / 4);
    for (const kind of ['drift ', 'g ', 'e ', 'x X'])
      expect(
        defects.filter(({ dense }) => dense.unknowns.some((u) => u.startsWith(kind))).length,
        kind,
      ).toBeGreaterThan(COUNT / 20);
  });

  test.each(folders)('survey $seed', async ({ folder }) => {
    const { equations, dense } = secondOpinion(folder);
    const here = await solveHere(folder);
    expectSameAdjustment(here.adjustment, equations, dense);
    expect(differences(folder, dense, here)).toEqual([]);
  });
});

describe('the same in a real hall: air, cones, targets, placings, the level’s zero, tilt and bow', () => {
  const inHall = folders.map(({ seed, folder }) => ({ seed, folder: withEffects(folder, seed) }));

  test('every effect is among them', () => {
    const unknowns = inHall.flatMap(({ folder }) => secondOpinion(folder).dense.unknowns);
    for (const kind of [
      'air vertical',
      'air sideways',
      'cone',
      'scale',
      'roll',
      'seat',
      'zero',
      'tilt',
      'bow',
    ])
      expect(unknowns.filter((u) => u.startsWith(kind)).length, kind).toBeGreaterThan(COUNT / 20);
  });

  test.each(inHall)('survey $seed', async ({ folder }) => {
    const { equations, dense } = secondOpinion(folder);
    const here = await solveHere(folder);
    expectSameAdjustment(here.adjustment, equations, dense);
    expect(differences(folder, dense, here)).toEqual([]);
  });
});

test.each(folders.slice(0, 6))('survey $seed, through results.json', async ({ folder }) => {
  const { equations, dense } = secondOpinion(folder);
  const results = await resultsOf(await makeJob(folder.job, folder.files));
  expectWorded(results);
  const phase = results.phases['as-left']!;
  const listed: Listed = new Map();
  listPlaces(listed, phase.stations, phase.setups);
  for (const c of phase.characteristics) {
    listed.set(characteristicKey(c.what, c.rail, c.reference), c);
    if (c.value === null) {
      expect(c).toMatchObject({ interval: null, u: null, probability: null });
      expect(c.why!.length).toBeGreaterThan(10);
    } else {
      expect(Object.values(c.budget).reduce((sum, v) => sum + v, 0)).toBeCloseTo(1, 6);
    }
  }
  expectSameAdjustment(phase.adjustment, equations, dense);
  expect(differences(folder, dense, { adjustment: phase.adjustment, listed })).toEqual([]);
});

/** What the front door finds of planted mistakes: a small version of the table in tests/study/causes.md, and the cases of the trade. */
import { parse } from 'jsonc-parser';
import { expect, test } from 'vitest';
import { applyFix } from '../../../src/solution/causes/fix.js';
import { findCauses } from '../../../src/solution/causes/find-causes.js';
import { identify } from '../../../src/solution/causes/identify.js';
import { project, contextOf, residualOf, dot } from '../../../src/solution/causes/projection.js';
import { withValue } from '../../../src/solution/causes/columns.js';
import { chanceOfTurned, worstChance } from '../../../src/solution/causes/chance.js';
import { linearised } from '../../../src/solution/solve/linearised.js';
import { normal, seeded } from '../../support/jobs.js';
import { longSurvey } from '../../support/long-survey.js';
import { marginal, solveSmall } from '../../../src/solution/causes/small-systems.js';
import { adjust } from '../../../src/solution/solve/adjustment.js';
import { buildNetwork } from '../../../src/solution/solve/network.js';
import { add, ratesOf, type Rates } from './rates.js';
import { faults, simulate, type DesignName } from './simulate.js';

const EACH = Number(process.env['CAUSES_EACH'] ?? 1);
const faultOf = (name: string) => faults.find((fault) => fault.name === name)!;
const causesOf = (design: DesignName, name: string, seed: number, size = 1) => {
  const survey = simulate(design, faultOf(name), size, seed)!;
  const network = buildNetwork(survey.job, survey.readings);
  return findCauses(survey.job, 'as-left', survey.readings, network);
};
const kindsOf = (found: ReturnType<typeof causesOf>) =>
  found?.identified.named.map((alike) => alike[0]!.hypothesis.kind) ?? [];

test(
  `planted mistakes of full size, ${EACH} of each kind: named, none alone under a wrong name`,
  { timeout: 600_000 },
  async () => {
    let total: Rates | null = null;
    for (const [k, fault] of faults.filter(({ name }) => !name.startsWith('two at once')).entries()) {
      const design = k % 2 === 0 ? 'four monuments' : 'both ends';
      const r = await ratesOf(design, fault, 1, EACH, 7000);
      if (r !== null) total = total === null ? r : add(total, r);
    }
    expect(total!.caught / total!.traced).toBeGreaterThanOrEqual(0.98);
    expect(total!.found / total!.of).toBeGreaterThan(0.8);
    expect(total!.right / total!.found).toBeGreaterThanOrEqual(0.97);
    expect(total!.alone / total!.found).toBeLessThanOrEqual(0.02);
  },
);

test('two mistakes at once: no single one is named', { timeout: 120_000 }, async () => {
  const r = (await ratesOf('four monuments', faultOf('two at once: a constant and a turn'), 1, 5, 7100))!;
  expect(r).toMatchObject({ found: 5, none: 5 });
});

test('honest surveys are not asked about', { timeout: 120_000 }, () => {
  for (const design of ['two monuments', 'both ends', 'legs', 'slopes', 'stated'] as const)
    for (let seed = 0; seed < 3; seed++) {
      const { job, readings } = simulate(design, null, 1, 7200 + seed)!;
      expect(findCauses(job, 'as-left', readings, buildNetwork(job, readings))?.isAsked ?? false).toBe(false);
    }
});

test('a level that was off: both set-ups and the zero of the level are named, whichever it was', () => {
  const kinds = kindsOf(causesOf('both ends', 'set-up not level', 7300));
  expect(kinds.filter((kind) => kind === 'level')).toHaveLength(2);
  expect(kinds).toContain('level-zero');
});

test('a rod that was re-set between passes is named, with what to write into the file', () => {
  const found = causesOf('one shot', 'rod re-set within a pass', 7301)!;
  expect(found.causes.some(({ words }) => words.startsWith('the rod of target T1 was re-set'))).toBe(true);
  expect(found.causes.find(({ words }) => words.startsWith('the rod'))!.fix!.text).toContain('T1b');
});

test('1000 is not taken for 25.4, and one reading ten times too large is not the unit of the file', () => {
  const unit = causesOf('both ends', 'unit of a pass, 1000', 7302)!;
  expect(unit.causes[0]!.words).toMatch(/1000 times too/);
  const one = causesOf('both ends', 'one reading ten times too large', 7303)!;
  expect(kindsOf(one)).not.toContain('unit');
  expect(one.causes[0]!.words).toMatch(/^one reading/);
});

test('readings that are all ten times too small agree too well: the unit is among what is named, and asked', () => {
  const found = causesOf('both ends', 'whole file ten times too small', 7304)!;
  expect(found.identified.isTooGood).toBe(true);
  expect(kindsOf(found)).toEqual(expect.arrayContaining(['unit', 'scatter']));
  expect(found.isAsked).toBe(true);
});

test('the fix of a sign is one word of job.json', () => {
  const found = causesOf('both ends', 'sign of a set-up, horizontal', 7305)!;
  const { fix } = found.causes[0]!;
  if (fix?.kind !== 'job') throw new Error('a change of job.json is expected');
  const text = '{ "setups": [ { "plus": { "horizontal": "left" } }, { "plus": { "horizontal": "left" } } ] }';
  const setups = (parse(applyFix(text, fix)) as { setups: object[] }).setups;
  expect(
    setups.filter((s) => JSON.stringify(s) !== '{"plus":{"horizontal":"left"}}').length,
  ).toBeLessThanOrEqual(1);
  expect(fix.edits[0]!.path.slice(0, 1)).toEqual(['setups']);
});

test('the order of the rows changes nothing', () => {
  const { job, readings } = simulate('four monuments', faultOf('monument moved between set-ups'), 1, 7306)!;
  const name = (list: typeof readings) => identify(job, list).named.map((alike) => alike[0]!.hypothesis.id);
  expect(name([...readings].reverse())).toEqual(name(readings));
});

test('the drop of the misfit by a column is that of an adjustment with one unknown more', () => {
  const { job, readings } = simulate('two monuments', faultOf('constant of a pass'), 1, 7307)!;
  const network = buildNetwork(job, readings);
  const context = contextOf(network);
  const rows = [5, 9, 17, 30];
  const projected = project(context, { rows, values: rows.map(() => 1) })!;
  // The residuals of the residuals: what is left of the column when it is adjusted like readings.
  const left = residualOf(context, projected);
  expect(dot(left, left)).toBeCloseTo(projected.own, 8);
  expect(dot(left, context.v)).toBeCloseTo(projected.seen, 8);
  const shifted = {
    ...network,
    observed: network.observed.map((y, i) => (rows.includes(i) ? y - projected.seen / projected.own : y)),
  };
  const before = adjust(network).chiSquare!.statistic;
  expect(adjust(shifted).chiSquare!.statistic).toBeCloseTo(before - projected.seen ** 2 / projected.own, 6);
});

test('small systems: least squares and marginal likelihood against the formulas for two unknowns', () => {
  const [a, b, c] = [4, 1.5, 3];
  const G = [a, b, b, c];
  const { drop, theta } = solveSmall(G, [2, -1]);
  const det = a * c - b * b;
  expect(theta[0]).toBeCloseTo((c * 2 + b) / det, 12);
  expect(theta[1]).toBeCloseTo((-b * 2 - a) / det, 12);
  expect(drop).toBeCloseTo((c * 4 + 2 * b * 2 + a) / det, 12);
  const s = 0.7;
  const H = [a + 1 / s ** 2, b, b, c + 1 / s ** 2];
  const lnDet = Math.log((1 + s * s * a) * (1 + s * s * c) - (s * s * b) ** 2);
  expect(marginal(G, [2, -1], s).score).toBeCloseTo(lnDet - solveSmall(H, [2, -1]).drop, 10);
  expect(solveSmall([1, 1, 1, 1], [2, 2])).toMatchObject({ rank: 1, drop: 4 });
});

test('rails straighter than the noise: no swap, turned sign or other order is asked about', () => {
  const { job, readings } = longSurvey(20, 2);
  const { sigma } = linearised(buildNetwork(job, readings));
  const asked = Array.from({ length: Number(process.env['STRAIGHT'] ?? 40) }, (_, seed) => {
    const next = seeded(7700 + seed);
    const honest = readings.map((r, row) => withValue(r, sigma[row]! * normal(next)));
    return findCauses(job, 'as-left', honest, buildNetwork(job, honest))?.isAsked ?? false;
  });
  expect(asked.filter(Boolean)).toHaveLength(0);
});

test('the chance that moved readings agree better is bounded for straight rails and for others', () => {
  const { job, readings } = longSurvey(6, 2);
  const network = linearised(buildNetwork(job, readings));
  const next = seeded(7800);
  const context = contextOf(network);
  const { sigma } = network;
  const n = readings.length;
  const pairs = [[0, 1] as const, [2, 3] as const, [4, 5] as const, [6] as const, [7] as const];
  const turned = pairs.map((rows) => rows.map((k) => 3 * k)) as unknown as typeof pairs;
  /** Residuals of e, whitened, are linear in it: the misfit is eᵀQe. */
  const misfit = (values: readonly number[]) => {
    const p = project(context, {
      rows: values.map((_, row) => row),
      values: values.map((x, row) => x * sigma[row]!),
    });
    return p === null ? 0 : p.own;
  };
  for (const size of [0, 1, 4]) {
    // True places: what the readings of heights and offsets, at random, would be without noise.
    const places = network.unknowns.map(() => size * normal(next));
    const truth = Array.from({ length: n }, (_, row) => {
      let sum = 0;
      for (let k = network.start[row]!; k < network.start[row + 1]!; k++)
        sum += network.coefficient[k]! * places[network.column[k]!]!;
      return sum / sigma[row]!;
    });
    const drops = Array.from({ length: 1500 }, () => {
      const x = truth.map((value) => value + normal(next));
      const y = [...x];
      for (const rows of turned)
        if (rows.length === 1) y[rows[0]] = -x[rows[0]]!;
        else [y[rows[0]], y[rows[1]!]] = [x[rows[1]!]!, x[rows[0]]!];
      return misfit(x) - misfit(y);
    });
    for (const t of [4, 6, 8, 12]) {
      const share = drops.filter((drop) => drop >= t).length / drops.length;
      const sharp = chanceOfTurned(t, turned, context);
      expect(sharp).toBeLessThanOrEqual(worstChance(t, turned.length) * (1 + 1e-9));
      expect(share).toBeLessThanOrEqual(sharp + 3 * Math.sqrt(share / drops.length));
      if (size === 0 && t === 4) expect(share).toBeGreaterThan(0.005);
    }
  }
});

test('of very many readings that turn, the bound is the least favourable one and needs no matrix', () => {
  const { job, readings } = longSurvey(120, 2);
  const context = contextOf(linearised(buildNetwork(job, readings)));
  const turned = readings.map((_, row) => [row] as const);
  expect(chanceOfTurned(300, turned, context)).toBe(worstChance(300, turned.length));
});

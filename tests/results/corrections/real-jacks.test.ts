/**
 * Plans against a machine that does not do exactly as it is told: moves that scatter, supports that yield, rails that hang.
 * The machine is a beam on springs of its own (tests/support/beam-on-springs.ts), which lets go where it would be pulled.
 */
import { writeFileSync } from 'node:fs';
import { afterAll, describe, expect, test } from 'vitest';
import { sagBetween } from '../../../src/results/corrections/beam.js';
import type { CorrectionPlan, Results } from '../../../src/results/results-schema.js';
import { levelledShot, makeJob, resultsOf } from '../../support/folders.js';
import { normal, seeded } from '../../support/jobs.js';
import { lies, type Rail } from '../../support/beam-on-springs.js';

const rail: Rail = {
  lengthM: 8,
  stiffness: 1e6,
  weight: 800,
  supportsM: [0, 1, 2, 3, 4, 5, 6, 7, 8],
  spring: 4e8,
};
const stations = Array.from({ length: 17 }, (_, i) => i / 2);
const LIMIT = 40;

interface Phase {
  readonly name: 'as-found' | 'as-left';
  readonly readings: readonly string[];
}

/** The rail as it lies on supports at these heights, m, read with noise of 1 µm. */
function read(name: Phase['name'], heights: readonly number[], next: () => number, on = rail): Phase {
  const { at } = lies(on, heights);
  return {
    name,
    readings: stations.map((x, i) => `S1,A,${i + 1},${(1e6 * at(x) + normal(next)).toFixed(3)}`),
  };
}

async function surveyed(phases: readonly Phase[], more: object = {}, on = rail): Promise<Results> {
  const files = phases.map(
    ({ name, readings }) =>
      [`${name}.csv`, ['setup,rail,station,vertical', ...readings, ''].join('\n')] as const,
  );
  const folder = await makeJob(
    {
      ...levelledShot('as-found', 1, 0.5),
      rails: [
        {
          id: 'A',
          across: 0,
          datum: true,
          stations: { first: 0, spacing: 500, count: stations.length },
          beam: {
            stiffness: { value: rail.stiffness / 1e6, unit: 'MN m2' },
            weight: { value: on.weight, unit: 'N/m' },
          },
        },
      ],
      readings: phases.map(({ name }) => ({ file: `${name}.csv`, phase: name })),
      confirmed: phases.flatMap(({ name }) =>
        ['UNIT_IMPLAUSIBLE', 'PHASES_MIRRORED'].map((what) => ({
          what,
          in: `${name}.csv`,
          by: 'the test',
          because: 'it invents its rails',
        })),
      ),
      tolerances: [{ what: 'straightness-vertical', rail: 'A', limit: LIMIT, unit: 'um' }],
      adjusters: rail.supportsM.map((x, k) => ({
        id: `J${k}`,
        rail: 'A',
        along: 1000 * x,
        moves: { vertical: { up: 2, down: 2, unit: 'mm' } },
      })),
      ...more,
    },
    Object.fromEntries(files),
  );
  return resultsOf(folder);
}

/** What the crew does: hanging supports are brought up if asked, then every move, of which a part arrives. */
function moved(
  heights: readonly number[],
  plan: CorrectionPlan,
  arrives: (adjuster: number) => number,
  on = rail,
): number[] {
  const now = lies(on, heights);
  const up = heights.map((h, k) => {
    const isBroughtUp = plan.supports?.some((s) => s.bringUp === true && s.adjusters.includes(`J${k}`));
    return isBroughtUp === true ? now.at(rail.supportsM[k]!) : h;
  });
  for (const { adjuster, move } of plan.moves) {
    const k = Number(adjuster.slice(1));
    up[k]! += 1e-6 * move * arrives(k);
  }
  return up;
}

/** Greatest less least departure from the least-squares line, µm. */
function straightness(heights: readonly number[], on = rail): number {
  const { at } = lies(on, heights);
  const y = stations.map((x) => 1e6 * at(x));
  const mean = (list: readonly number[]) => list.reduce((a, b) => a + b / list.length, 0);
  const [mx, my] = [mean(stations), mean(y)];
  const slope =
    stations.reduce((s, x, i) => s + (x - mx) * (y[i]! - my), 0) /
    stations.reduce((s, x) => s + (x - mx) ** 2, 0);
  const d = stations.map((x, i) => y[i]! - my - slope * (x - mx));
  return Math.max(...d) - Math.min(...d);
}

const planIn = ({ corrections }: Results) => corrections as CorrectionPlan;
const foreseen = (plan: CorrectionPlan) => plan.predicted.find(({ limit }) => limit !== null)!;

/** Share of the rounds that are played; JACKS=1 plays all 106 and writes tests/study/jacks.md. */
const SHARE = Number(process.env['JACKS'] ?? 0.15);
const [SCATTERED, HUNG, TAUGHT] = [50, 40, 16].map((all) => Math.ceil(all * SHARE)) as [
  number,
  number,
  number,
];

/** What a plan said of a round, and whether it held. */
interface Round {
  readonly said: number;
  readonly held: boolean;
}
const played = new Map<string, readonly Round[]>();
const sum = (rounds: readonly Round[], of: (round: Round) => number) =>
  rounds.reduce((all, round) => all + of(round), 0);

/** A confidence holds as often as it says: three standard deviations of chance are let through. */
function expectHeld(rounds: readonly Round[], name: string): void {
  played.set(name, rounds);
  const said = sum(rounds, (r) => r.said);
  const chance = 3 * Math.sqrt(sum(rounds, (r) => r.said * (1 - r.said)) + 0.25);
  const held = sum(rounds, (r) => Number(r.held));
  console.log(
    `${name}: ${held} of ${rounds.length} rounds held the limit, ${said.toFixed(1)} were predicted`,
  );
  expect(held).toBeGreaterThanOrEqual(said - chance);
}

afterAll(() => {
  if (SHARE !== 1 || played.size < 3) return;
  const classes = [0, 0.5, 0.7, 0.9, 1];
  const lines = [...played].flatMap(([name, rounds]) =>
    classes.slice(1).flatMap((to, i) => {
      const own = rounds.filter(({ said }) => said >= classes[i]! && (said < to || to === 1));
      if (own.length === 0) return [];
      const [said, held] = [sum(own, (r) => r.said), sum(own, (r) => Number(r.held))];
      const sd = Math.sqrt(sum(own, (r) => r.said * (1 - r.said)));
      return `| ${name} | ${classes[i]} to ${to} | ${own.length} | ${said.toFixed(1)} ± ${sd.toFixed(1)} | ${held} |`;
    }),
  );
  const text = [
    '# Predicted verdicts after moves',
    '',
    'Made by `JACKS=1 npx vitest run tests/results/corrections/real-jacks.test.ts`: rails that are beams on springs which let go (tests/support/beam-on-springs.ts), moved as the plan says, with scatter. A plan that was found says with which probability the limit is met afterwards; counted is how often it was met. Rounds by what the plan said; the sum of what was said, with its standard deviation, and the number that held. More than predicted: the plan was cautious; fewer by three standard deviations fail the test.',
    '',
    '| rounds | said | number | predicted | held |',
    '| --- | --- | --- | --- | --- |',
    ...lines,
    '',
  ].join('\n');
  writeFileSync('tests/study/jacks.md', text);
});

test('the beam on springs: middle of two spans, and its sag, by the tables', () => {
  const two: Rail = { lengthM: 2, stiffness: 1e6, weight: 800, supportsM: [0, 1, 2], spring: 1e12 };
  const { forces, at } = lies(two, [0, 0, 0]);
  // 3/8, 10/8, 3/8 of w·L (standard beam tables, from memory).
  [300, 1000, 300].forEach((f, k) => expect(forces[k]).toBeCloseTo(f, 1));
  const sag = sagBetween([0, 1, 2], [0, 2], 800 / 1e6, [0.25, 0.5, 1.75]);
  [0.25, 0.5, 1.75].forEach((x, k) => expect(1e6 * sag[k]!).toBeCloseTo(1e6 * at(x), 2));
  // Ends that hang over.
  const over: Rail = { ...two, lengthM: 4, supportsM: [0.5, 2, 3.5] };
  const own = sagBetween([0.5, 2, 3.5], [0, 4], 800 / 1e6, [0, 1.25, 4]);
  const lying = lies(over, [0, 0, 0]);
  [0, 1.25, 4].forEach((x, k) => expect(1e6 * own[k]!).toBeCloseTo(1e6 * lying.at(x), 1));
  // Lowered by more than its sag, the middle lets go: 5·w·L⁴/384·EI over both spans.
  const hung = lies(two, [0, -1e-3, 0]);
  expect(hung.forces[1]).toBe(0);
  expect(hung.at(1)).toBeCloseTo((-5 * 800 * 16) / (384 * 1e6), 8);
});

describe('predicted verdicts hold as often as they say', () => {
  test('moves that scatter by 15 %, unstated, on supports that yield', async () => {
    const next = seeded(31);
    const rounds: Round[] = [];
    for (let k = 0; k < SCATTERED; k++) {
      const heights = rail.supportsM.map(() => 40e-6 * normal(next));
      const plan = planIn(await surveyed([read('as-found', heights, next)]));
      if (plan.status === 'impossible' || plan.moves.length === 0) continue;
      const after = moved(heights, plan, () => 1 + 0.15 * normal(next));
      rounds.push({ said: foreseen(plan).probability!, held: straightness(after) <= LIMIT });
    }
    expect(rounds.length).toBeGreaterThan(0.7 * SCATTERED);
    expectHeld(rounds, 'moves that scatter by 15 %, unstated, on supports that yield');
  }, 400_000);

  test('a rail that hangs over one of its supports', async () => {
    const next = seeded(32);
    const rounds: Round[] = [];
    let [hangs, found, wrong] = [0, 0, 0];
    for (let k = 0; k < HUNG; k++) {
      const heights = rail.supportsM.map(() => 10e-6 * normal(next));
      const low = 1 + Math.floor(7 * next());
      heights[low] = -250e-6;
      const carried = lies(rail, heights).forces.map((f) => f > 0);
      const plan = planIn(await surveyed([read('as-found', heights, next)]));
      carried.forEach((does, j) => {
        const says = plan.supports!.find((s) => s.axis === 'vertical' && s.adjusters[0] === `J${j}`)!.carries;
        if (!does) hangs++;
        if (!does && says === 'no') found++;
        if ((does && says === 'no') || (!does && says === 'yes')) wrong++;
      });
      if (plan.status === 'impossible' || plan.moves.length === 0) continue;
      const after = moved(heights, plan, () => 1 + 0.1 * normal(next));
      rounds.push({ said: foreseen(plan).probability!, held: straightness(after) <= LIMIT });
    }
    console.log(`${found} of ${hangs} hanging supports recognised, ${wrong} named wrongly`);
    expect(found).toBeGreaterThan(0.8 * hangs);
    expect(wrong).toBeLessThanOrEqual(0.02 * 9 * HUNG);
    expect(rounds.length).toBeGreaterThan(0.6 * HUNG);
    expectHeld(rounds, 'a rail that hangs over one of its supports, moves that scatter by 10 %');
  }, 400_000);

  // Screws that give four fifths of what is asked, and one that gives a third, on firm ground.
  test('the first round corrects the second', async () => {
    const next = seeded(33);
    const firm = { ...rail, spring: 1e10, weight: 2000 };
    const rounds: Round[] = [];
    const gains: number[] = [];
    let own = 0;
    for (let k = 0; k < TAUGHT; k++) {
      const weak = 1 + Math.floor(7 * next());
      const heights = rail.supportsM.map((_, j) => (j === weak ? 60e-6 : 25e-6 * normal(next)));
      const gain = (j: number) => (j === weak ? 1 / 3 : 0.8) + 0.04 * normal(next);
      const want = { corrections: { want: 'straight' } };
      const found = read('as-found', heights, next, firm);
      const first = planIn(await surveyed([found], want, firm));
      const after = moved(heights, first, gain, firm);
      const left = read('as-left', after, next, firm);
      const second = planIn(await surveyed([found, left], want, firm));
      const { response } = second;
      if (response?.gain === undefined) continue;
      gains.push(response.gain);
      if (response.own?.some(({ adjuster }) => adjuster === `J${weak}`)) own++;
      const then = moved(after, second, gain, firm);
      rounds.push({ said: foreseen(second).probability!, held: straightness(then, firm) <= LIMIT });
    }
    console.log(`${gains.length} of ${TAUGHT} first rounds taught, ${own} showed the weak one`);
    console.log(`learnt: ${gains.map((g) => g.toFixed(2)).join(' ')}`);
    expect(gains.length).toBeGreaterThan(0.4 * TAUGHT);
    const mean = gains.reduce((a, b) => a + b / gains.length, 0);
    expect(Math.abs(mean - 0.8)).toBeLessThan(0.06);
    expect(own).toBeGreaterThan(gains.length / 2);
    expectHeld(rounds, 'the second round, corrected by the first');
  }, 400_000);
});

test('a search that ends at its limit never says that there is no plan', async () => {
  const next = seeded(34);
  const said = new Map<string, number>();
  for (let k = 0; k < 5; k++) {
    const heights = rail.supportsM.map(() => 60e-6 * normal(next));
    const { status, why } = planIn(
      await surveyed([read('as-found', heights, next)], {
        tolerances: [{ what: 'straightness-vertical', rail: 'A', limit: 12 + 6 * k, unit: 'um' }],
      }),
    );
    said.set(status, (said.get(status) ?? 0) + 1);
    // Nine jacks under seventeen stations, with travel: what they leave is less than the sag between them, some 7 um.
    if (status === 'impossible') expect(why).toMatch(/misses its limit|smaller/);
  }
  console.log([...said].map(([status, count]) => `${status}: ${count}`).join(', '));
});

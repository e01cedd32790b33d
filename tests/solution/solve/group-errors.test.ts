/**
 * Errors that come in groups, planted in simulated surveys: named first where the readings can tell; and honest surveys,
 * which are blamed for nothing. Invented rails and noise (tests/solution/intake/gross-mistakes.ts).
 */
import { describe, expect, test } from 'vitest';
import type { OffsetReading, Reading } from '../../../src/survey/readings/readings.js';
import { adjust } from '../../../src/solution/solve/adjustment.js';
import {
  findGroupErrors,
  groupsOf,
  NON_CENTRALITY,
  shownBy,
  type Group,
} from '../../../src/solution/solve/group-errors.js';
import { buildNetwork } from '../../../src/solution/solve/network.js';
import { findSuspects } from '../../../src/solution/solve/suspects.js';
import { worstReading } from '../../../src/results/adjustment-section.js';
import { normalQuantile } from '../../../src/base/statistics/normal.js';
import { createGenerator } from '../../../src/base/statistics/random.js';
import { honestSurvey } from '../intake/gross-mistakes.js';

const COUNT = Number(process.env['GROUP_SURVEYS'] ?? 150);

function findIn(job: Parameters<typeof buildNetwork>[0], list: readonly Reading[]) {
  const adjustment = adjust(buildNetwork(job, list));
  const singles = worstReading(adjustment.network, findSuspects(adjustment));
  return { adjustment, found: findGroupErrors(groupsOf(job, adjustment), adjustment, singles) };
}

/** Of two patterns that the residuals cannot tell apart either is right. */
function areAlike(a: Group, b: Group, adjustment: ReturnType<typeof adjust>): boolean {
  const [p, q] = [shownBy(a, adjustment), shownBy(b, adjustment)];
  let product = 0;
  for (let i = 0; i < p.projected.length; i++) product += p.projected[i]! * q.projected[i]!;
  return Math.abs(product) > 0.97 * Math.sqrt(p.square * q.square);
}

test('a planted error of a group is named first where it can be told', () => {
  const random = createGenerator(77);
  const tally = new Map<string, { tried: number; first: number }>();
  for (let seed = 1; seed <= COUNT; seed++) {
    const survey = honestSurvey(40_000 + seed);
    const list = survey.phases.get('as-left')!;
    const honest = adjust(buildNetwork(survey.job, list));
    const tellable = groupsOf(survey.job, honest).filter((group) => {
      if (group.kind === 'curvature') return false;
      const { square, isSeen } = shownBy(group, honest);
      const size = group.kind === 'sign' ? 1 : 1e9;
      return isSeen && size ** 2 * square > (NON_CENTRALITY + 3) ** 2;
    });
    if (tellable.length === 0) continue;
    const planted = tellable[Math.floor(tellable.length * random.nextUniform())]!;
    const { square } = shownBy(planted, honest);
    const size =
      planted.kind === 'sign' ? -1 : (NON_CENTRALITY + 3 + 6 * random.nextUniform()) / Math.sqrt(square);
    const at = new Map(planted.members.map((i, k) => [honest.network.observations[i]!, planted.pattern[k]!]));
    const spoiled = list.map((r): Reading => {
      const adds = at.get(r);
      return adds === undefined || r.kind !== 'offset'
        ? r
        : ({ ...r, um: r.um + size * adds } satisfies OffsetReading);
    });
    const { adjustment, found } = findIn(survey.job, spoiled);
    const chiSquare = (a: typeof honest) => a.chiSquare?.statistic ?? 0;
    if (chiSquare(adjustment) - chiSquare(honest) < (NON_CENTRALITY + 2) ** 2) continue;
    const [first] = found;
    const same = groupsOf(survey.job, adjustment).find(
      (g) => g.kind === planted.kind && g.what === planted.what,
    )!;
    const own = found.find(({ group }) => group.kind === planted.kind && group.what === planted.what);
    // Of two causes with the same χ² either is right: readings turned from one side are those turned from the other.
    const isRight =
      first !== undefined &&
      ((own !== undefined && first.fall - own.fall < 0.5) || areAlike(first.group, same, adjustment));
    if (process.env['SHOW'] && !isRight)
      console.log(
        planted.what,
        '->',
        found
          .slice(0, 3)
          .map((f) => `${f.group.what} ${f.fall.toFixed(0)}`)
          .join('; '),
        (chiSquare(adjustment) - chiSquare(honest)).toFixed(0),
      );
    const t = tally.get(planted.kind) ?? { tried: 0, first: 0 };
    tally.set(planted.kind, { tried: t.tried + 1, first: t.first + (isRight ? 1 : 0) });
  }
  for (const [kind, t] of tally) console.log(`${kind}: ${t.first} of ${t.tried} named first`);
  const sum = (of: 'tried' | 'first') => [...tally.values()].reduce((a, t) => a + t[of], 0);
  expect(sum('tried')).toBeGreaterThan(COUNT / 3);
  expect(sum('first') / sum('tried')).toBeGreaterThanOrEqual(0.93);
});

test('honest surveys are blamed for next to nothing', () => {
  let blamed = 0;
  for (let seed = 1; seed <= COUNT; seed++) {
    const survey = honestSurvey(50_000 + seed);
    if (findIn(survey.job, survey.phases.get('as-left')!).found.length > 0) blamed++;
  }
  console.log(`honest surveys blamed: ${blamed} of ${COUNT}`);
  expect(blamed).toBeLessThanOrEqual(Math.max(2, 0.01 * COUNT));
});

describe('a monument pair that alone carries the direction', () => {
  test('shows no error of one monument: nothing is claimed of it', () => {
    const survey = [...Array(200).keys()]
      .map((k) => honestSurvey(60_000 + k))
      .find(({ job, passes }) => job.monuments.length > 0 && passes > 1)!;
    const list = survey.phases.get('as-left')!;
    const moved = list.map((r) =>
      r.kind === 'offset' && r.point.kind === 'monument' && r.point.monument === 'M2' && r.setup === 'S2'
        ? { ...r, um: r.um + 60 }
        : r,
    );
    // Two monuments alone carry the direction: nothing checks them, and nothing is claimed.
    const { adjustment } = findIn(survey.job, moved);
    const monument = groupsOf(survey.job, adjustment).find(
      ({ what }) => what === 'monument M2 as read from S2',
    )!;
    expect(shownBy(monument, adjustment).isSeen).toBe(false);
  });
});

test('a group is blamed from the stated rate of false alarms on: one in a thousand, of all groups together', () => {
  const survey = honestSurvey(60_003);
  const list = survey.phases.get('as-left')!;
  const honest = adjust(buildNetwork(survey.job, list));
  const groups = groupsOf(survey.job, honest);
  const chosen = groups
    .filter(({ kind, members }) => kind !== 'sign' && kind !== 'scale' && members.length > 1)
    .find((group) => shownBy(group, honest).isSeen)!;
  const { square } = shownBy(chosen, honest);
  const fallAtRate = (alpha: number) => normalQuantile(1 - alpha / (2 * groups.length)) ** 2;
  /** Residuals as they would be without noise, had the group an error that makes χ² fall by so much. */
  const isBlamed = (fall: number): boolean => {
    const { projected } = shownBy(chosen, honest);
    const size = Math.sqrt(fall / square);
    const residual = honest.residual.map((_, i) => size * projected[i]! * honest.network.sigma[i]!);
    const found = findGroupErrors(groups, { ...honest, residual }, 0);
    return found.some(({ group }) => group === chosen);
  };
  expect(isBlamed(fallAtRate(0.0009))).toBe(true);
  expect(isBlamed(fallAtRate(0.0011))).toBe(false);
});

test('two readings make a group, one does not', () => {
  const survey = honestSurvey(60_003);
  const [first, second, ...rest] = survey.phases
    .get('as-left')!
    .filter(
      (r): r is OffsetReading => r.kind === 'offset' && r.point.kind === 'station' && r.axis === 'vertical',
    );
  const own = rest.filter(({ setup }) => setup === first!.setup);
  const withTargets = (targets: readonly string[]) => {
    const list = [first!, second!, ...own].map((r, i) => ({
      ...r,
      setup: first!.setup,
      target: targets[i] ?? 'T1',
    }));
    const adjustment = adjust(buildNetwork(survey.job, list));
    return groupsOf(survey.job, adjustment).some(({ what }) => what.startsWith('target T9 '));
  };
  expect(withTargets(['T9', 'T9'])).toBe(true);
  expect(withTargets(['T9'])).toBe(false);
});

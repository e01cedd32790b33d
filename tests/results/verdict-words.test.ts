/**
 * Verdict, figure and limit of one row never contradict each other, over random surveys and limits; sizes of unseen errors
 * against brute force: the readings changed by that size, and the whole survey solved and judged anew.
 */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { loadJob } from '../../src/solution/intake/load-job.js';
import { adjustPhase } from '../../src/results/adjusted-phase.js';
import { phaseSection } from '../../src/results/phase-section.js';
import { byUrgency, reachShare } from '../../src/results/urgency.js';
import type { CharacteristicResult, PhaseResults } from '../../src/results/results-schema.js';
import { tiesOf } from '../../src/solution/solve/tie-errors.js';
import type { Reading } from '../../src/survey/readings/readings.js';
import { changeJob, copyOf, sample } from '../support/folders.js';
import { job, laser, limitUm, normal, rail, seeded, setup, tolerance } from '../support/jobs.js';

const AT = Array.from({ length: 7 }, (_, k) => 500 * k);
const rails = [rail('A', 0, AT, { datum: true }), rail('B', 2000, AT)];
const base = job({ rails, instruments: [laser({ perMetreU: 0 })], setups: [setup('S1', -500, 900)] });

interface Limits {
  readonly from: number;
  readonly to: number;
}

/** Two rails of random heights from one set-up, judged in a zone and by a plain limit. */
function judgedBy(
  seed: number,
  size: number,
  { from, to }: Limits,
  decision: Partial<(typeof base)['decision']>,
): CharacteristicResult[] {
  const next = seeded(seed);
  const survey = {
    ...base,
    decision: { ...base.decision, ...decision },
    toleranceSet: {
      ...base.toleranceSet,
      tolerances: [
        tolerance({ what: 'height-difference', rail: 'B', limit: null, zone: { from, to } }),
        tolerance({ what: 'cross-level', rail: 'B', limit: limitUm(20) }),
        tolerance({ what: 'straightness-vertical', rail: 'B', limit: limitUm(25) }),
      ],
    },
  };
  const readings = rails.flatMap(({ id }, r) =>
    AT.map((_, k): Reading => ({
      kind: 'offset',
      source: { file: 'r.csv', row: 10 * r + k + 2 },
      pass: '1',
      time: null,
      note: '',
      setup: 'S1',
      point: { kind: 'station', rail: id, station: k + 1 },
      target: 'T1',
      axis: 'vertical',
      um: size * normal(next),
    })),
  );
  return phaseSection(survey, adjustPhase(survey, readings)).characteristics.filter((c) => c.limit !== null);
}

/** Both ends of a row, or its one figure, each with the limits it is held against. */
function figuresOf(c: CharacteristicResult): { figure: number; inside: boolean }[] {
  const limits =
    c.zone !== undefined
      ? { from: c.zone.from ?? -Infinity, to: c.zone.to ?? Infinity }
      : { from: c.signed ? -c.limit! : -Infinity, to: c.limit! };
  const list = c.extremes === undefined ? [c.value!] : [c.extremes.least.value, c.extremes.greatest.value];
  return list.map((figure) => ({ figure, inside: figure >= limits.from && figure <= limits.to }));
}

test('no row says what its figure contradicts', () => {
  const zone = fc.record({ from: fc.integer({ min: -90, max: -1 }), to: fc.integer({ min: 1, max: 90 }) });
  const decision = fc.record(
    { rule: fc.constantFrom('simple', 'guarded' as const), risk: fc.constantFrom(0.001, 0.025, 0.05, 0.3) },
    { requiredKeys: ['rule'] },
  );
  const seen = new Set<string>();
  fc.assert(
    fc.property(fc.nat(), fc.integer({ min: 1, max: 40 }), zone, decision, (seed, size, limits, how) => {
      for (const c of judgedBy(seed, size, limits, how as Partial<(typeof base)['decision']>)) {
        seen.add(`${how.rule} ${c.what} ${c.verdict}`);
        const inside = figuresOf(c);
        const { judged, risk, verdict } = c;
        expect(judged!.lower).toBeLessThanOrEqual(judged!.upper);
        if (verdict === 'does-not-conform') expect(inside.some((one) => !one.inside)).toBe(true);
        if (verdict === 'conforms') expect(inside.every((one) => one.inside)).toBe(true);
        // The value is the end that lies nearest to its own limit.
        const { zone: own } = c;
        if (own !== undefined && c.extremes !== undefined) {
          const { least, greatest } = c.extremes;
          const up = (own.to ?? Infinity) - greatest.value;
          const down = least.value - (own.from ?? -Infinity);
          const nearer = up === down ? c.value : up < down ? greatest.value : least.value;
          expect(c.value).toBe(nearer);
          const end = c.value === greatest.value ? greatest : least;
          expect(c.at).toEqual([{ rail: end.rail, station: end.station }]);
          expect(c.u).toBeCloseTo(end.u, 12);
        }
        expect(risk?.of).toBe(
          verdict === 'undecided'
            ? undefined
            : verdict === 'conforms'
              ? 'wrong-acceptance'
              : 'wrong-rejection',
        );
        if (how.rule === 'guarded' && verdict === 'conforms')
          expect(risk!.atMost).toBeLessThanOrEqual((how.risk ?? 0.025) + 1e-6);
        if (how.rule === 'guarded' && verdict === 'does-not-conform')
          expect(risk!.atMost).toBeLessThanOrEqual(0.05 + 1e-3);
        expect(verdict === 'conforms').toBe(
          (how.rule === 'simple' ? judged!.value : judged!.upper) <= judged!.limit * (1 + 1e-12),
        );
      }
    }),
    { numRuns: 60 },
  );
  // Else it would prove nothing.
  for (const rule of ['simple', 'guarded'])
    for (const verdict of ['conforms', 'does-not-conform'])
      expect(seen).toContain(`${rule} height-difference ${verdict}`);
  expect(seen).toContain('guarded height-difference undecided');
});

test('a zone open to one side is judged towards its one limit', () => {
  const c = judgedBy(4, 20, { from: -Infinity, to: 30 }, { rule: 'guarded' }).find(({ zone }) => zone);
  expect(c!.value).toBe(c!.extremes!.greatest.value);
  expect(c!.judged!.limit).toBeCloseTo(30, 6);
  expect(c!.judged!.value).toBeCloseTo(c!.value!, 6);
});

test('worst first: verdict, then how far the interval reaches', () => {
  const list = [1, 2, 3, 4].flatMap((seed) => judgedBy(seed, 15, { from: -20, to: 60 }, { rule: 'guarded' }));
  const sorted = [...list].sort(byUrgency);
  const rank = ['does-not-conform', 'undecided', 'conforms'];
  sorted.slice(1).forEach((c, k) => {
    const before = sorted[k]!;
    expect(rank.indexOf(before.verdict)).toBeLessThanOrEqual(rank.indexOf(c.verdict));
    if (before.verdict === c.verdict) expect(reachShare(before)).toBeGreaterThanOrEqual(reachShare(c));
  });
});

/** A sample, its last phase, and the same readings with an error of one tie. */
async function tied(id: string) {
  const loaded = await loadJob(sample(id));
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.diagnostics));
  const { job: own, readings } = loaded.value;
  const list = [...readings.phases.values()].at(-1)!;
  const phase = adjustPhase(own, list);
  const groups = tiesOf(own, phase.adjustment);
  const { observations } = phase.adjustment.network;
  const withError = (what: string, um: number): PhaseResults => {
    const group = groups.find((g) => g.what === what)!;
    const adds = new Map(group.members.map((i, k) => [observations[i] as Reading, um * group.pattern[k]!]));
    const changed = list.map((r): Reading => {
      const by = adds.get(r) ?? 0;
      return r.kind === 'offset' ? { ...r, um: r.um + by } : r;
    });
    return phaseSection(own, adjustPhase(own, changed));
  };
  return { made: phaseSection(own, phase), withError };
}

test.each(['TH-0412', 'TH-4520'])('%s: what an unseen error does, by brute force', async (id) => {
  const { made, withError } = await tied(id);
  const unseen = made.adjustment.reliability!.filter(
    ({ shows, moves }) => shows === null && moves.length > 0,
  );
  expect(unseen.length).toBeGreaterThan(0);
  for (const { what, moves, turns } of unseen.slice(0, 2)) {
    const both = [10, -10].map((um) => withError(what, um).characteristics);
    for (const { what: name, rail: of, by } of moves) {
      const changes = made.characteristics.flatMap((c, k) =>
        c.what !== name || c.rail !== of || c.judged === undefined
          ? []
          : [Math.max(...both.map((list) => Math.abs(list[k]!.judged!.value - c.judged!.value)))],
      );
      // A target's roll and scale multiply the reading itself, which is part of the model: the last digits depend on it.
      expect(
        changes.some((change) => Math.abs(change - by) < 1e-3 * (1 + by)),
        `${what}, ${name} of ${of}: ${by}, by brute force ${changes.join(' or ')}`,
      ).toBe(true);
      // A constant of 10 µm moves no magnitude by more than its own effect: no sign flips.
      expect(by).toBeLessThan(10.001);
    }
    if (turns === undefined) continue;
    const verdictsAt = (size: number) =>
      [size, -size].map((um) => withError(what, um).characteristics[turns.characteristic]!.verdict);
    const now = made.characteristics[turns.characteristic]!.verdict;
    expect(new Set(verdictsAt(0.98 * turns.size))).toEqual(new Set([now]));
    expect(verdictsAt(1.02 * turns.size)).toContain(turns.to);
  }
});

test('a job may state the risk that it accepts, or a guard band, and not both', async () => {
  const loaded = async (decision: object) => {
    const folder = await copyOf('TH-0412');
    await changeJob(folder, (own: { decision: object }) => (own.decision = { rule: 'guarded', ...decision }));
    return loadJob(folder);
  };
  expect((await loaded({ risk: 0.05 })).ok).toBe(true);
  const both = await loaded({ risk: 0.05, guardBand: 1.2 });
  expect(both.ok).toBe(false);
  expect(JSON.stringify(both)).toContain('guardBand');
});

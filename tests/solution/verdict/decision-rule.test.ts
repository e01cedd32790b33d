import { describe, expect, test } from 'vitest';
import conformity from '../../published/conformity.json' with { type: 'json' };
import { decide, type Conformity } from '../../../src/solution/verdict/decision-rule.js';

const item = <T>(id: string): T => conformity.find((x) => x.id === id) as unknown as T;
const around = (y: number, U: number): [number, number] => [y - U, y + U];

const meaning: Record<string, Conformity> = {
  pass: 'conforms',
  fail: 'does-not-conform',
  'conditional pass': 'undecided',
  'conditional fail': 'undecided',
  conform: 'conforms',
  'non-conform': 'does-not-conform',
  'not proven': 'undecided',
};

interface Vectors {
  inputs: { limit_mm: number; U_mm: number; y_mm: number[] };
  expected: { simple: string[]; guarded: string[] };
}
const vectors = item<Vectors>('DECISION-VECTORS');

test.each(vectors.inputs.y_mm.map((y, k) => [y, k]))('decision vectors, y = %d mm', (y, k) => {
  const { limit_mm: limit, U_mm: U } = vectors.inputs;
  const interval = around(y!, U);
  expect(decide(y!, interval, limit, 'simple', false)).toBe(meaning[vectors.expected.simple[k!]!]);
  expect(decide(y!, interval, limit, 'guarded', false)).toBe(meaning[vectors.expected.guarded[k!]!]);
});

interface Iso {
  inputs: { upper_limit_mm: number; expanded_uncertainty_U_mm: number; measured: number[] };
  expected: { rule_1998: { verdicts: string[] }; rule_2017: { verdicts: string[]; guard: number } };
}
const iso = item<Iso>('CONF-14253');

test.each(iso.inputs.measured.map((y, k) => [y, k]))('ISO 14253-1, measured %d mm', (y, k) => {
  const { upper_limit_mm: limit, expanded_uncertainty_U_mm: U } = iso.inputs;
  const { rule_1998, rule_2017 } = iso.expected;
  expect(decide(y!, around(y!, U), limit, 'guarded', false)).toBe(meaning[rule_1998.verdicts[k!]!]);
  expect(decide(y!, around(y!, rule_2017.guard), limit, 'guarded', false)).toBe(
    meaning[rule_2017.verdicts[k!]!],
  );
});

test('an end of the interval on the limit lies inside, and one part in 1e12 does not move it off', () => {
  expect(decide(0.04 * 1000, [0, 40.00000000000001], 40, 'guarded', false)).toBe('conforms');
  expect(decide(40.00000000000001, null, 40, 'simple', false)).toBe('conforms');
  expect(decide(40.0000001, null, 40, 'simple', false)).toBe('does-not-conform');
  expect(decide(45, [40, 50], 40, 'guarded', false)).toBe('undecided');
  expect(decide(45, [40.001, 50], 40, 'guarded', false)).toBe('does-not-conform');
});

test('signed characteristics are held against both limits', () => {
  expect(decide(-41, [-43, -39], 40, 'simple', true)).toBe('does-not-conform');
  expect(decide(-41, [-43, -39], 40, 'guarded', true)).toBe('undecided');
  expect(decide(-40, [-40, 40], 40, 'guarded', true)).toBe('conforms');
  expect(decide(-50, [-52, -48], 40, 'guarded', true)).toBe('does-not-conform');
  expect(decide(0, [-50, 50], 40, 'guarded', true)).toBe('undecided');
});

test('without uncertainty the interval is the value, and both rules say the same', () => {
  for (const y of [39, 40, 41]) {
    expect(decide(y, [y, y], 40, 'guarded', false)).toBe(decide(y, [y, y], 40, 'simple', false));
  }
});

test('a value that the readings cannot determine is undecided under either rule', () => {
  expect(decide(null, null, 40, 'simple', false)).toBe('undecided');
  expect(decide(null, null, 40, 'guarded', true)).toBe('undecided');
});

test('a limit is finite and not negative', () => {
  expect(() => decide(1, [0, 2], -1, 'simple', false)).toThrow(RangeError);
  expect(() => decide(1, [0, 2], NaN, 'simple', false)).toThrow(RangeError);
});

describe('guard bands w = r·U', () => {
  test.each([
    // Value 30 ± 10 (30 is the middle), limit 38: accepted where 30 + 10·r lies within.
    [0.5, 'conforms'],
    [0.8, 'conforms'],
    [1, 'undecided'],
    [2, 'undecided'],
  ] as const)('r = %f: %s', (r, verdict) =>
    expect(decide(30, [20, 40], 38, 'guarded', false, r)).toBe(verdict),
  );
  test('rejection is guarded by the same band', () => {
    expect(decide(50, [40, 60], 42, 'guarded', false, 1)).toBe('undecided');
    expect(decide(50, [40, 60], 42, 'guarded', false, 0.5)).toBe('does-not-conform');
  });
  test('no band is left of simple acceptance', () =>
    expect(decide(30, [20, 40], 5, 'simple', false, 3)).toBe('does-not-conform'));
});

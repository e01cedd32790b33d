/** Characteristics are told apart by what they are asked with, in keys, in names, and in what a person types. */
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { reportUnits } from '../../src/results/words/format-quantity.js';
import {
  findTyped,
  identityKey,
  identityName,
  identityOf,
  namingFor,
  namingOf,
  typedLength,
  typedStretch,
  type Identity,
} from '../../src/results/identity.js';
import type { CharacteristicResult, Results } from '../../src/results/results-schema.js';
import { characteristics } from '../../src/survey/characteristics/characteristics.js';
import { jobOfConditions } from '../support/conditions-job.js';
import { judgedOf } from '../support/folders.js';

const RAILS = ['A', 'B', 'C', 'Rail 4'];
const mm = fc.oneof(
  fc.integer({ min: 1, max: 30_000 }),
  fc.integer({ min: 1, max: 9_999 }).map((n) => n / 1000),
);
const stretch = fc.tuple(mm, mm).map(([from, length]): [number, number] => [from, from + length]);
const option = <T>(of: fc.Arbitrary<T>) => fc.option(of, { nil: undefined, freq: 2 });

/** What a tolerance can ask: rail A is the datum, and no partner is named where it is the datum. */
const identity: fc.Arbitrary<Identity> = fc
  .record({
    about: fc.constantFrom(...characteristics),
    rail: fc.constantFrom(...RAILS),
    reference: fc.nat(2),
    over: mm,
    against: option(fc.constantFrom(...RAILS)),
    rails: option(fc.shuffledSubarray(RAILS, { minLength: 2 })),
    between: option(stretch),
    side: option(fc.constantFrom('convex' as const, 'hollow' as const, 'both' as const)),
  })
  .map(({ about, rail, reference, over, against, rails, between, side }) => {
    const { name: what, references, local, ofGroups, relative } = about;
    const isSided = side !== undefined && what.startsWith('straightness') && !local;
    const isGroup = ofGroups && rails !== undefined;
    return {
      what,
      rail: isGroup ? rails[0]! : rail,
      ...(references.length > 0 && {
        reference: isSided ? 'end-points' : references[reference % references.length]!,
      }),
      ...(local && { over }),
      ...(isGroup
        ? { rails }
        : relative && against !== undefined && against !== 'A' && against !== rail && { against }),
      ...(between !== undefined && { between }),
      ...(isSided && { side }),
    } as Identity;
  });

const naming = (list: readonly Identity[], length: string) =>
  namingFor(list, { datum: 'A', length: reportUnits({ length, deviation: 'um', slope: 'um/m' }).length });

const unit = fc.constantFrom('mm', 'm', 'in', 'ft');

describe('of any tolerances', () => {
  test('keys and printed names are distinct if and only if identities are', () => {
    fc.assert(
      fc.property(fc.array(identity, { minLength: 2, maxLength: 12 }), unit, (list, length) => {
        const names = naming(list, length);
        for (const a of list)
          for (const b of list) {
            // Compared part by part, without the key.
            const parts = new Set([...Object.keys(a), ...Object.keys(b)]) as Set<keyof Identity>;
            const isSame = [...parts].every((part) => String(a[part]) === String(b[part]));
            expect(identityKey(a) === identityKey(b)).toBe(isSame);
            expect(identityName(a, names) === identityName(b, names)).toBe(isSame);
          }
      }),
      { numRuns: 300 },
    );
  });

  test('a printed name, typed with plain spaces, reaches its characteristic alone', () => {
    const limited = fc
      .tuple(identity, fc.boolean())
      .map(([one, has]) => ({ ...one, limit: has ? 10 : null }));
    fc.assert(
      fc.property(fc.array(limited, { minLength: 1, maxLength: 12 }), unit, (list, length) => {
        const names = naming(list, length);
        for (const one of list) {
          const what = identityName(one, names).replace(/\s/g, ' ').toLowerCase().replace('rail 4', 'Rail 4');
          const none = { rail: null, reference: null, over: null, between: null, against: null };
          const found = findTyped(list, { what, ...none }, names);
          expect(found.map(identityKey)).toEqual([identityKey(one)]);
        }
      }),
      { numRuns: 300 },
    );
  });

  test('null says no more than a condition that is absent', () => {
    fc.assert(
      fc.property(identity, (one) => {
        const withNulls = {
          reference: null,
          over: null,
          against: null,
          rails: null,
          between: null,
          side: null,
          ...one,
        };
        expect(identityKey(withNulls)).toBe(identityKey(one));
        expect(identityOf(withNulls)).toEqual(one);
      }),
    );
  });
});

test('lengths are read in the job’s unit where none is typed', () => {
  expect(typedLength('2 m', 'in')).toBe(2000);
  expect(typedLength('10', 'in')).toBeCloseTo(254, 9);
  expect(typedLength('ten', 'in')).toBeNull();
  expect(typedLength('3 arcsec', 'in')).toBeNull();
  expect(typedStretch('0 to 5 m', 'mm')).toEqual([0, 5000]);
  expect(typedStretch('500..1500', 'mm')).toEqual([500, 1500]);
  expect(typedStretch('500', 'mm')).toBeNull();
});

describe('a report with two stretches, two windows, a group, a pair and two references', () => {
  let results: Results;
  let list: CharacteristicResult[];

  beforeAll(async () => {
    results = await judgedOf(await jobOfConditions());
    list = results.phases['as-left']!.characteristics;
  });

  const find = (what: string, more: object = {}) =>
    findTyped(
      list,
      { what, rail: null, reference: null, over: null, between: null, against: null, ...more },
      namingOf(results),
    ).map((one) => identityName(one, namingOf(results)).replace(/\s/g, ' '));

  test('each has a name of its own, which reaches it', () => {
    const names = list.map((one) => identityName(one, namingOf(results)));
    expect(new Set(names).size).toBe(list.length);
    for (const name of names) expect(find(name)).toEqual([name.replace(/\s/g, ' ')]);
    expect(names.map((name) => name.replace(/\s/g, ' '))).toEqual(
      expect.arrayContaining([
        'Straightness, vertical, rail A',
        'Straightness, vertical, minimum zone, rail A',
        'Straightness, vertical, between 1000 and 2500 mm, rail A',
        'Local straightness, vertical, any 2000 mm, rail A',
        'Parallelism, vertical, any two of rails A, B and C',
        'Height difference, rail C to rail B',
        'Height difference, rail C to rail A',
      ]),
    );
  });

  test('a title alone, of several that have no limit, is the one about the usual line, over the whole rail', () => {
    const a = list.filter(({ what, rail }) => what === 'straightness-vertical' && rail === 'A');
    const unlimited = a.map((one) => ({ ...one, limit: null }));
    expect(new Set(a.map(({ reference }) => reference)).size).toBeGreaterThan(1);
    const found = findTyped(
      unlimited,
      {
        what: 'vertical straightness',
        rail: null,
        reference: null,
        over: null,
        between: null,
        against: null,
      },
      namingOf(results),
    );
    expect(found.map(({ reference, between }) => [reference, between])).toEqual([
      ['least-squares', undefined],
    ]);
  });

  test('codes with options reach what their names reach', () => {
    const rail = { rail: 'A' };
    expect(find('straightness-vertical', rail)).toEqual(['Straightness, vertical, rail A']);
    expect(find('straightness-vertical', { ...rail, between: [1000, 2500] })).toEqual([
      'Straightness, vertical, between 1000 and 2500 mm, rail A',
    ]);
    expect(find('straightness-vertical', { ...rail, reference: 'minimum zone' })).toEqual([
      'Straightness, vertical, minimum zone, rail A',
    ]);
    expect(find('straightness-vertical-local', { over: 1000 })).toEqual([
      'Local straightness, vertical, any 1000 mm, rail A',
    ]);
    expect(find('parallelism-vertical', { rail: 'A,B,C' })).toEqual([
      'Parallelism, vertical, any two of rails A, B and C',
    ]);
    expect(find('height-difference', { rail: 'C', against: 'A' })).toEqual([
      'Height difference, rail C to rail A',
    ]);
    expect(find('height-difference', { rail: 'C', against: 'B' })).toEqual([
      'Height difference, rail C to rail B',
    ]);
    expect(find('height difference', { rail: 'rail C to rail B' })).toEqual([
      'Height difference, rail C to rail B',
    ]);
    expect(find('2000')).toEqual(['Local straightness, vertical, any 2000 mm, rail A']);
  });

  test('what is said of several lists them, and what fits none finds none', () => {
    expect(find('straightness-vertical-local')).toEqual([
      'Local straightness, vertical, any 1000 mm, rail A',
      'Local straightness, vertical, any 2000 mm, rail A',
    ]);
    expect(find('straightness-vertical', { rail: 'X' })).toEqual([]);
    expect(find('')).toEqual([]);
  });
});

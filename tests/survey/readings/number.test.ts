import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { markEvidence, readNumber } from '../../../src/survey/readings/number.js';
import type { NumberRead, NumberStyle } from '../../../src/survey/readings/number.js';

const point: NumberStyle = { decimal: '.', grouped: false };
const comma: NumberStyle = { decimal: ',', grouped: false };
const open: NumberStyle = { decimal: null, grouped: false };
const short = (read: NumberRead) =>
  read.ok ? (read.unit === null ? read.value : [read.value, read.unit]) : read.why;

/** text, read with a decimal point, with a decimal comma, with the mark left open */
test.each([
  ['1', 1, 1, 1],
  ['+12', 12, 12, 12],
  ['007', 7, 7, 7],
  ['-1.5', -1.5, 'not-a-number', -1.5],
  ['\u22121.5', -1.5, 'not-a-number', -1.5],
  ['\u20133', -3, -3, -3],
  ['.5', 0.5, 'not-a-number', 0.5],
  [',5', 'not-a-number', 0.5, 0.5],
  ['-0', 0, 0, 0],
  ['1e3', 1000, 1000, 1000],
  ['1.2E-3', 0.0012, 'not-a-number', 0.0012],
  // thousands
  ['1,234.5', 1234.5, 'not-a-number', 1234.5],
  ['1.234,5', 'not-a-number', 1234.5, 1234.5],
  ['1,234,567', 1234567, 'not-a-number', 1234567],
  ['12 345', 12345, 12345, 12345],
  ['1\u202f234,5', 'not-a-number', 1234.5, 1234.5],
  ['1\u00a0234.5', 1234.5, 'not-a-number', 1234.5],
  ["1'234.5", 1234.5, 'not-a-number', 1234.5],
  ['0,123', 'not-a-number', 0.123, 0.123],
  ['1,2345', 'not-a-number', 1.2345, 1.2345],
  // both meanings fit
  ['1,234', 'ambiguous', 1.234, 'ambiguous'],
  ['1.234', 1.234, 'ambiguous', 'ambiguous'],
  ['-12.345', -12.345, 'ambiguous', 'ambiguous'],
  // fractions and units
  ['1/2', 0.5, 0.5, 0.5],
  ['-1 1/2', -1.5, -1.5, -1.5],
  ['3/8 in', [0.375, 'in'], [0.375, 'in'], [0.375, 'in']],
  ['0.010in', [0.01, 'in'], 'not-a-number', [0.01, 'in']],
  ['3.4"', [3.4, 'in'], 'not-a-number', [3.4, 'in']],
  ['3.1\u00a0µm', [3.1, 'um'], 'not-a-number', [3.1, 'um']],
  ['2 arcsec', [2, 'arcsec'], [2, 'arcsec'], [2, 'arcsec']],
  ['0,02 mm/m', 'not-a-number', [0.02, 'mm/m'], [0.02, 'mm/m']],
])('%s', (text, withPoint, withComma, leftOpen) => {
  expect(short(readNumber(text, point))).toEqual(withPoint);
  expect(short(readNumber(text, comma))).toEqual(withComma);
  expect(short(readNumber(text, open))).toEqual(leftOpen);
});

test.each([
  ...'5. - . , in 0x10 1_000 1.2- --1 1-2 12:30 2026-03-14 1,23,456 1..2 1.2.3 1/0 3/2/1 1-1/2'.split(' '),
  ...'(1.2) 1e 1e1.5 1e999 NaN Infinity ∞ ½ ١ =1 1m/s 3.1furlong'.split(' '),
  ...['1 2', '1 3/2', '', ' ', '- 3', '1 23', '9'.repeat(61)],
])('%j is no number', (text) => {
  for (const style of [point, comma, open])
    expect(readNumber(text, style)).toEqual({ ok: false, why: 'not-a-number' });
});

test('an ambiguous number is refused with both meanings', () => {
  expect(readNumber('-1,234', point)).toEqual({ ok: false, why: 'ambiguous', one: '-1234', other: '-1.234' });
});

test('once the file proves that the comma sets off thousands, it does', () => {
  expect(readNumber('1,234', { decimal: '.', grouped: true })).toMatchObject({ ok: true, value: 1234 });
  expect(readNumber('1.234', { decimal: ',', grouped: true })).toMatchObject({ ok: true, value: 1234 });
});

test('what a cell shows about its file', () => {
  expect(markEvidence('12')).toBeNull();
  expect(markEvidence('x.y')).toBeNull();
  expect(markEvidence('1,234')).toBe('either');
  expect(markEvidence('0,123')).toEqual({ decimal: ',', grouped: false });
  expect(markEvidence('3.1 mm')).toEqual({ decimal: '.', grouped: false });
  expect(markEvidence('1,234.5')).toEqual({ decimal: '.', grouped: true });
});

describe('properties', () => {
  /** What a cell may hold: up to 6 decimals, as instruments and spreadsheets print them. */
  const cell = fc.tuple(fc.integer({ min: -9_999_999, max: 9_999_999 }), fc.integer({ min: 0, max: 6 }));
  const written = ([n, decimals]: [number, number]) => (n / 10 ** decimals).toFixed(decimals);

  test('a number printed with a point, and the same with a comma, come back exactly', () => {
    fc.assert(
      fc.property(cell, (c) => {
        const text = written(c);
        const value = Number(text) === 0 ? 0 : Number(text);
        expect(readNumber(text, point)).toMatchObject({ ok: true, value });
        expect(readNumber(text.replace('.', ','), comma)).toMatchObject({ ok: true, value });
      }),
    );
  });

  test('no text is read as two different numbers under the two marks without being refused when left open', () => {
    const text = fc.string({ unit: fc.constantFrom(...'0123456789.,- '), maxLength: 12 });
    fc.assert(
      fc.property(text, (t) => {
        const [a, b, c] = [point, comma, open].map((style) => readNumber(t.trim(), style));
        if (a!.ok && b!.ok) expect(a!.value).toBe(b!.value);
        if (c!.ok) expect([a, b].some((read) => read!.ok && read!.value === c!.value)).toBe(true);
      }),
      { numRuns: 5000 },
    );
  });

  test('never throws, and never yields anything but a finite number', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), fc.constantFrom(point, comma, open), (text, style) => {
        const read = readNumber(text.trim(), style);
        if (read.ok) expect(Number.isFinite(read.value)).toBe(true);
      }),
      { numRuns: 2000 },
    );
  });
});

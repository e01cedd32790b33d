/** Rounding and writing of figures: published rounding examples, limits that rounding must not cross, signs. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  baseUnits,
  coverageFactor,
  decimalsOf,
  judgedText,
  measuredColumn,
  measuredText,
  measuredWithUnit,
  numberText,
  plainNumber,
  plusMinus,
  positionColumn,
  positionText,
  probabilityText,
  reportUnits,
  roundTo,
  roundUncertainty,
  trimmedText,
  type ReportUnit,
} from '../../../src/results/words/format-quantity.js';

/** A unit that changes nothing, to test the rules by themselves. */
const plain: ReportUnit = { label: 'unit', fromBase: (x) => x, decimals: 1 };
const metric = reportUnits({ length: 'mm', deviation: 'um', slope: 'um/m' });
const inch = reportUnits({ length: 'in', deviation: 'thou', slope: 'thou/ft' });

describe('uncertainty to two significant digits', () => {
  test.each([
    // JCGM 100:2008, 7.2.6: "uc(y) = 10,47 mΩ might be rounded up to 11 mΩ", "28,05 kHz … down to 28 kHz".
    [10.47, 11, 0],
    [28.05, 28, 0],
    // The same example in ohms: U = 27 mΩ.
    [0.027, 0.027, 3],
    // Never more than 2.5 % too small (our option; EA-4/02 allows 5 %).
    [0.01049, 0.011, 3],
    [1.02, 1.0, 1],
    [1.03, 1.1, 1],
    [2.44, 2.4, 1],
    [2.45, 2.5, 1],
    // Rounding that reaches the next decade.
    [0.0996, 0.1, 2],
    [9.96, 10, 0],
    [122, 120, -1],
    [123.4, 130, -1],
    [9999, 10000, -3],
  ])('%d', (given, value, decimals) => {
    expect(roundUncertainty(given)).toEqual({ value, decimals });
  });

  test('never understates by more than it says, never has a third digit', () => {
    for (let i = 1; i < 3000; i++) {
      const u = 1.0037 ** i * 1e-3;
      const { value, decimals } = roundUncertainty(u);
      expect(value).toBeGreaterThanOrEqual(u * 0.975);
      expect(value).toBeLessThan(u * 1.1);
      expect(Number((value / 10 ** -decimals).toPrecision(12))).toBe(Math.round(value / 10 ** -decimals));
      expect(Math.round(value / 10 ** -decimals)).toBeLessThan(100);
    }
  });
});

describe('value to the decimal of its uncertainty', () => {
  test.each([
    // JCGM 100:2008, 7.2.6: y = 10,057 62 Ω with uc(y) = 27 mΩ is rounded to 10,058 Ω.
    [10.05762, 0.027, '10.058', '0.027'],
    [31.4159, 3.42, '31.4', '3.4'],
    [1234.5, 123, '1230', '120'],
    [-0.04, 0.9, '−0.04', '0.90'],
    [-0.004, 0.9, '0.00', '0.90'],
    [98765.4, 21, '98\u202f765', '21'],
  ])('%d ± %d', (value, expanded, valueText, expandedText) => {
    expect(measuredText(value, expanded, plain)).toEqual({ value: valueText, expanded: expandedText });
  });

  test('signed figures always carry their sign; nought has none', () => {
    expect(measuredText(3.14, 1.2, plain, { signed: true }).value).toBe('+3.1');
    expect(measuredText(-3.14, 1.2, plain, { signed: true }).value).toBe('−3.1');
    expect(measuredText(0.01, 1.2, plain, { signed: true }).value).toBe('0.0');
  });

  test('halves go away from zero in the digits that are seen', () => {
    expect(roundTo(0.145, 2)).toBe(0.15);
    expect(roundTo(-0.145, 2)).toBe(-0.15);
    expect(roundTo(1.005, 2)).toBe(1.01);
    expect(Object.is(roundTo(-0.001, 1), 0)).toBe(true);
  });

  test('the unit stands behind the number, after a space that does not break', () => {
    expect(measuredWithUnit(12.34, 2.4, metric.deviation)).toBe('12.3\u00a0±\u00a02.4\u00a0µm');
    expect(measuredWithUnit(25.4, 2.54, inch.deviation)).toBe('1.00\u00a0±\u00a00.10\u00a0thou');
  });
});

describe('rounding never contradicts a verdict', () => {
  const judged = (value: number, expanded: number, limit: number, signed = false) =>
    judgedText({ value, expanded, interval: null, limit, signed }, plain);

  test('0.0204 against 0.020: one more digit', () => {
    expect(judged(0.0204, 0.012, 0.02)).toMatchObject({ value: '0.0204', limit: '0.02', expanded: '0.0120' });
  });
  test('0.020 against 0.020: equal, and shown equal', () => {
    expect(judged(0.02, 0.012, 0.02)).toMatchObject({ value: '0.020', limit: '0.02', expanded: '0.012' });
  });
  test('just inside: 39.96 against 40', () => {
    expect(judged(39.96, 3.4, 40)).toMatchObject({ value: '39.96', limit: '40' });
  });
  test('as many digits as it takes', () => {
    expect(judged(40.00004, 3.4, 40).value).toBe('40.00004');
  });
  test('no more digits where there is no need', () => {
    expect(judged(39.94, 3.4, 40)).toMatchObject({ value: '39.9', expanded: '3.4' });
  });
  test('a signed figure beyond the negative limit', () => {
    expect(judged(-20.04, 2.2, 20, true)).toMatchObject({ value: '−20.04', limit: '20' });
  });
  test('the ends of the interval too', () => {
    const text = judgedText(
      { value: 37, expanded: 3.4, interval: [33.1, 40.02], limit: 40, signed: false },
      plain,
    );
    expect(text.interval).toEqual(['33.10', '40.02']);
  });
  test('a limit that is no round number in the report’s unit', () => {
    // 40 µm is 1.574803… thou; 40.001 µm lies above it.
    const text = judgedText(
      { value: 40.001, expanded: 3.4, interval: null, limit: 40, signed: false },
      inch.deviation,
    );
    expect(Number(text.value)).toBeGreaterThan(Number(text.limit));
    expect(
      judgedText({ value: 20, expanded: 3.4, interval: null, limit: 40, signed: false }, inch.deviation)
        .limit,
    ).toBe('1.575');
  });
  test('whatever the digits, printed order is true order', () => {
    let state = 12345;
    const next = () => (state = (Math.imul(state, 48271) >>> 0) % 2147483647) / 2147483647;
    for (let i = 0; i < 2000; i++) {
      const limit = Number((next() * 100).toPrecision(3));
      const value = limit * (1 + (next() - 0.5) * 10 ** (-6 * next()));
      const text = judged(value, 0.001 + next() * 10, limit);
      expect(Math.sign(Number(text.value) - Number(text.limit))).toBe(Math.sign(value - limit));
    }
  });
});

describe('probability', () => {
  test.each([
    [1, '>\u00a099.9\u00a0%'],
    [0.9996, '>\u00a099.9\u00a0%'],
    [0.9989, '99.9\u00a0%'],
    [0.993, '99.3\u00a0%'],
    [0.97, '97\u00a0%'],
    [0.5, '50\u00a0%'],
    [0.004, '0.4\u00a0%'],
    [0.0001, '<\u00a00.1\u00a0%'],
    [0, '<\u00a00.1\u00a0%'],
  ])('%d', (p, text) => expect(probabilityText(p)).toBe(text));
});

test('coverage factors: 2 by custom at 95 %, else the normal quantile (JCGM 100, table G.1), taken up', () => {
  expect(coverageFactor(0.95)).toBe(2);
  expect(coverageFactor(0.9)).toBe(1.65); // 1.645
  expect(coverageFactor(0.99)).toBe(2.58); // 2.576
  expect(coverageFactor(0.9973)).toBe(3); // 3.000
  expect(() => coverageFactor(1)).toThrow(RangeError);
});

test('positions: no needless decimals, and the same decimals in a column', () => {
  expect(positionText(500, metric.length)).toBe('500');
  expect(positionText(10500.25, metric.length)).toBe('10\u202f500.25');
  expect(positionText(609.6, inch.length)).toBe('24');
  expect(positionColumn([0, 500, 10500.5], metric.length)).toEqual(['0.0', '500.0', '10\u202f500.5']);
  expect(positionColumn([0, 5000, 10000], metric.length)).toEqual(['0', '5\u202f000', '10\u202f000']);
});

describe('a column of measured values', () => {
  const column = (...rows: [value: number, expanded: number][]) =>
    measuredColumn(
      rows.map(([value, expanded]) => ({ value, expanded })),
      baseUnits.deviation,
      { signed: true },
    ).map(plusMinus);
  test('has the same decimals in all rows, as the smallest uncertainty needs', () => {
    expect(column([0.4531, 0.0772], [-0.107, 0.1161])).toEqual([
      '+0.453\u00a0±\u00a00.077',
      '\u22120.107\u00a0±\u00a00.116',
    ]);
  });
  test('gives the largest uncertainty no more than three digits, and understates none by more than 2.5 %', () => {
    expect(column([1.234, 0.0511], [70, 13.24])).toEqual(['+1.2\u00a0±\u00a00.1', '+70.0\u00a0±\u00a013.2']);
  });
  test('whatever the rows', () => {
    const rows = fc.array(
      fc.record({
        value: fc.double({ min: -1e4, max: 1e4, noNaN: true }),
        expanded: fc.double({ min: 1e-3, max: 1e4, noNaN: true }),
      }),
      { minLength: 1, maxLength: 9 },
    );
    fc.assert(
      fc.property(rows, (given) => {
        const texts = measuredColumn(given, baseUnits.deviation);
        const decimals = texts.flatMap(({ value, expanded }) => [decimalsOf(value), decimalsOf(expanded)]);
        expect(new Set(decimals).size).toBe(1);
        const read = (text: string) => Number(text.replace('\u2212', '-').replaceAll('\u202f', ''));
        texts.forEach(({ value, expanded }, i) => {
          expect(read(expanded)).toBeGreaterThanOrEqual(given[i]!.expanded * 0.975 - 1e-12);
          if (decimals[0]! > 0)
            expect(Math.abs(read(value) - given[i]!.value)).toBeLessThanOrEqual(
              0.5000001 * 10 ** -decimals[0]!,
            );
        });
      }),
    );
  });
});

test('numbers for data files: plain, complete, no exponent, no minus nought', () => {
  for (const x of [0, -0.5, 1e-7, -1.25e-9, 1e21, 123456.789, 5e-324, 2.5e22]) {
    expect(plainNumber(x)).toMatch(/^-?\d+(\.\d+)?$/);
    expect(Number(plainNumber(x))).toBe(x);
  }
  expect(plainNumber(-0)).toBe('0');
});

test('small things', () => {
  expect(trimmedText(1.5, 3)).toBe('1.5');
  expect(trimmedText(2, 3)).toBe('2');
  expect(numberText(-0.04, 1, { signed: true })).toBe('0.0');
  expect(() => reportUnits({ length: 'cubit', deviation: 'um', slope: 'um/m' })).toThrow(/cubit/);
});

test.each([
  // A tenth of a micrometre in µm; else the last decimal is worth a micrometre at most, and the one before it more.
  ['m', 'm', 5, 6],
  ['mm', 'mm', 2, 3],
  ['um', 'um', 0, 1],
  ['in', 'in', 3, 5],
  ['ft', 'ft', 4, 6],
  ['thou', 'thou', 0, 2],
])('decimals of positions in %s and of deviations in %s', (length, deviation, ofLength, ofDeviation) => {
  const units = reportUnits({ length, deviation, slope: 'um/m' });
  expect(units.length.decimals).toBe(ofLength);
  expect(units.deviation.decimals).toBe(ofDeviation);
  if (deviation === 'um') return;
  const step = 10 ** -ofDeviation / units.deviation.fromBase(1);
  expect(step).toBeLessThan(1.000001);
  expect(10 * step).toBeGreaterThan(1);
});

test.each([
  ['um/m', 1],
  ['mm/m', 4],
  ['in/ft', 6],
  ['thou/ft', 3],
  ['arcsec', 2],
  ['arcmin', 4],
  ['deg', 6],
  ['mrad', 4],
  ['urad', 1],
])('decimals of slopes in %s: the last is worth a tenth of a µm/m at most', (slope, decimals) => {
  const unit = reportUnits({ length: 'mm', deviation: 'um', slope }).slope;
  expect(unit.decimals).toBe(decimals);
  const step = 10 ** -decimals / unit.fromBase(1);
  expect(step).toBeLessThan(0.1000001);
  expect(10 * step).toBeGreaterThan(0.1);
});

test('probabilities from one per cent to 99 are whole', () => {
  expect([0.01, 0.0099, 0.99, 0.991].map((p) => probabilityText(p))).toEqual(
    ['1', '1.0', '99', '99.1'].map((text) => `${text}\u00a0%`),
  );
});

/** Every printed figure is the figure of results.json, rounded: over random figures of all sizes, in both families of units. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { reportUnits, unitFor } from '../../../src/results/words/format-quantity.js';
import { viewModel } from '../../../src/pages/report/view-model.js';
import { isKnown } from '../../../src/results/known.js';
import type { CharacteristicResult, Quantity, Results } from '../../../src/results/results-schema.js';
import { usualResults } from './view-model-fixtures.js';

const text = (printed: string) => printed.replace(/[\u202f\u2009]/g, '').replace(/\u2212/g, '-');
/** The numbers of a text, each with half a step of its last digit. */
const numbersIn = (printed: string) =>
  [...text(printed).matchAll(/[+-]?\d+(?:\.(\d+))?/g)].map(([number, decimals = '']) => ({
    x: Number(number),
    half: 0.5 * 10 ** -decimals.length,
  }));

function assertRounded(printed: string, wanted: readonly number[], steps = 1): void {
  const found = numbersIn(printed);
  expect(found, printed).toHaveLength(wanted.length);
  found.forEach(({ x, half }, k) => {
    if (Math.abs(x - wanted[k]!) > steps * half * (1 + 1e-9) + 1e-9 * Math.abs(wanted[k]!))
      expect.fail(`'${printed}' is not ${wanted[k]}`);
  });
}

const size = fc.double({ min: -2, max: 3, noNaN: true }).map((x) => 10 ** x);
const figures = fc.record({
  values: fc.array(fc.record({ value: size, below: size, above: size, limit: size }), {
    minLength: 9,
    maxLength: 9,
  }),
  stations: fc.array(fc.record({ value: fc.double({ min: -300, max: 300, noNaN: true }), u: size }), {
    minLength: 5,
    maxLength: 5,
  }),
  inches: fc.boolean(),
});
type Drawn = typeof figures extends fc.Arbitrary<infer T> ? T : never;

function resultsWith({ values, stations, inches }: Drawn): Results {
  const results = usualResults();
  if (inches) Object.assign(results.style, { length: 'in', deviation: 'thou', slope: 'thou/ft' });
  const phase = Object.values(results.phases).at(-1)!;
  let k = 0;
  phase.characteristics = phase.characteristics.map((made): CharacteristicResult => {
    if (made.value === null || made.limit === null || made.signed) return made;
    const { value, below, above, limit } = values[k++ % values.length]!;
    const interval: [number, number] = [Math.max(0, value - below), value + above];
    return { ...made, value, interval, limit, verdict: interval[1] <= limit ? 'conforms' : 'undecided' };
  });
  const drawn = (quantity: Quantity | undefined, i: number) =>
    quantity !== undefined && isKnown(quantity)
      ? { ...quantity, ...stations[i % stations.length]! }
      : quantity;
  phase.stations = phase.stations.map((station, i) => ({
    ...station,
    deviation: {
      ...station.deviation,
      vertical: drawn(station.deviation.vertical, i),
      ...(station.deviation.horizontal && { horizontal: drawn(station.deviation.horizontal, i + 1) }),
    },
  })) as typeof phase.stations;
  return results;
}

test('property: Table 1, Figure 1 and the stations print what results.json has, rounded to the last digit that is printed', () => {
  fc.assert(
    fc.property(figures, (drawn) => {
      const results = resultsWith(drawn);
      const units = reportUnits(results.style);
      const phase = Object.values(results.phases).at(-1)!;
      const { parts, page1 } = viewModel(results, []);
      const judged = phase.characteristics.filter((c) => c.limit !== null);
      const rows = parts.results!.tolerances!.groups.flatMap((group) => group.rows);
      expect(rows).toHaveLength(judged.length);
      const byLimit = new Map(judged.map((c) => [`${c.limit} ${c.what} ${c.rail}`, c]));
      expect(byLimit.size).toBe(judged.length);
      for (const made of judged) {
        if (made.signed || made.value === null) continue;
        const unit = unitFor(units, made.unit);
        const value = unit.fromBase(made.value);
        const own = page1.bars!.rows.filter(({ values, limits }) =>
          [values[0]!, limits[0]!].every((printed, k) => {
            const [number] = numbersIn(printed);
            const wanted = k === 0 ? value : unit.fromBase(made.limit!);
            return number !== undefined && Math.abs(number.x - wanted) <= number.half * (1 + 1e-9);
          }),
        );
        expect(own.length, `${made.what} ${value}`).toBeGreaterThan(0);
        const range = made.interval!.map((end) => unit.fromBase(end));
        const inRow = own.some(({ spreads }) =>
          numbersIn(spreads[0]!).every(({ x, half }, k) => Math.abs(x - range[k]!) <= half * (1 + 1e-9)),
        );
        expect(inRow, `${made.what} ${range.join(' to ')}`).toBe(true);
      }
      // The first column of figures of Annex B: each rail's own vertical deviation, by station.
      const [table] = parts.stations!.tables;
      const first = phase.stations.filter(({ rail }) => rail === results.survey.rails[0]!.id);
      const cells = table!.groups.flatMap((group) => group.rows).map((row) => row.cells[2]!.text);
      cells.forEach((printed, i) => {
        const quantity = first[i]!.deviation.vertical!;
        if (isKnown(quantity))
          assertRounded(
            printed,
            [quantity.value, 2 * quantity.u].map((um) => units.deviation.fromBase(um)),
            2,
          );
      });
    }),
    { numRuns: 200 },
  );
}, 120_000);

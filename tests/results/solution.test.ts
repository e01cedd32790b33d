/** Suspects, noise above the claim, closures, drift and corrections, through made-up jobs with known answers. */
import { describe, expect, test } from 'vitest';
import type { OffsetReading } from '../../src/survey/readings/readings.js';
import { closuresOf } from '../../src/solution/solve/closures.js';
import type { Results } from '../../src/results/results-schema.js';
import { adjust } from '../../src/solution/solve/adjustment.js';
import { buildNetwork } from '../../src/solution/solve/network.js';
import { changeRows, copyOf, makeJob, judgedOf } from '../support/folders.js';
import { job, normal, rail, seeded, setup } from '../support/jobs.js';

const phase = (r: Results) => r.phases['as-left']!;

/** One rail of 11 stations from one levelled set-up, `passes` times; noise of standard deviation `sigma` µm. */
function oneRail(
  passes: number,
  noise: () => number,
  more: { drift?: number; setup?: object; perHour?: number; confirmed?: object[] } = {},
) {
  const rows = ['setup,rail,station,pass,time,vertical'];
  let minutes = 0;
  for (let pass = 1; pass <= passes; pass++) {
    const order = Array.from({ length: 11 }, (_, k) => (pass % 2 === 1 ? k : 10 - k));
    for (const k of order) {
      minutes += 3;
      const height = 12 * Math.sin(k);
      const time = `2026-04-01T${String(8 + Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;
      rows.push(
        `S1,A,${k + 1},${pass},${time},${(height - ((more.drift ?? 0) * minutes) / 60 + noise()).toFixed(4)}`,
      );
    }
  }
  return makeJob(
    {
      rails: [{ id: 'A', datum: true, across: 0, stations: { first: 0, spacing: 500, count: 11 } }],
      instruments: [
        {
          id: 'L1',
          reading: { u: 2, unit: 'um' },
          level: { u: 1, unit: 'arcsec' },
          drift: { u: 10, unit: 'um/h' },
        },
      ],
      setups: [{ id: 'S1', instrument: 'L1', along: -500, across: 300, levelled: true, ...more.setup }],
      readings: [{ file: 'r.csv', phase: 'as-left' }],
      ...(more.confirmed && { confirmed: more.confirmed }),
    },
    { 'r.csv': rows.join('\n') },
  );
}

const quiet = () => 0;
const noisy = (seed: number, sigma: number) => {
  const next = seeded(seed);
  return () => sigma * normal(next);
};

describe('suspects', () => {
  test('a blunder of 40 µm is found, by file and row, and changes nothing by itself', async () => {
    const folder = await copyOf('TH-2031');
    const before = await judgedOf(folder);
    await changeRows(folder, 'readings/as-left.csv', (header, rows) => {
      const row = rows[20]!;
      row[header.indexOf('vertical')] = String(Number(row[header.indexOf('vertical')]) + 40);
      return rows;
    });
    const { adjustment } = phase(await judgedOf(folder));
    expect(adjustment.suspects[0]).toMatchObject({
      file: 'readings/as-left.csv',
      row: 22,
      axis: 'vertical',
      prior: null,
    });
    expect(adjustment.suspects[0]!.standardised).toBeGreaterThan(8);
    // Observed − computed: the reading stands above what the others say.
    expect(adjustment.suspects[0]!.residual).toBeGreaterThan(15);
    expect(adjustment.readings).toBe(phase(before).adjustment.readings);
  });

  test('two readings that only check each other are listed together', async () => {
    const folder = await oneRail(2, quiet);
    await changeRows(folder, 'r.csv', (_, rows) => {
      rows[4]![5] = String(Number(rows[4]![5]) + 30);
      return rows;
    });
    const { suspects } = phase(await judgedOf(folder)).adjustment;
    expect(suspects.map((s) => s.row).sort((a, b) => a! - b!)).toEqual([6, 19]);
    expect(suspects[0]!.standardised).toBeCloseTo(-suspects[1]!.standardised, 6);
  });

  test('several blunders: each is found once the worse ones are set aside', async () => {
    const folder = await oneRail(5, noisy(3, 1));
    await changeRows(folder, 'r.csv', (_, rows) => {
      for (const [k, by] of [
        [7, 60],
        [30, -45],
        [41, 35],
      ] as const)
        rows[k]![5] = String(Number(rows[k]![5]) + by);
      return rows;
    });
    const { suspects } = phase(await judgedOf(folder)).adjustment;
    expect(suspects.map((s) => s.row)).toEqual([9, 32, 43]);
  });

  test('a row with use = no is left out and listed with its note', async () => {
    const r = await judgedOf(await copyOf('TH-0412'));
    expect(r.excluded).toHaveLength(1);
    expect(r.excluded[0]!.note).toContain('hose');
    expect(phase(r).adjustment.suspects).toEqual([]);
  });
});

describe('noise against the claim', () => {
  test('twice the claimed noise widens every u by σ₀ and says so', async () => {
    const r = await judgedOf(await oneRail(4, noisy(5, 5)));
    const quietly = await judgedOf(await oneRail(4, noisy(5, 1)));
    const { sigma0, scale } = phase(r).adjustment;
    expect(sigma0).toBeGreaterThan(1.8);
    expect(scale).toBe(sigma0);
    const u = (x: Results) => phase(x).stations[3]!.deviation.vertical as { u: number };
    expect(u(r).u / u(quietly).u).toBeCloseTo(scale, 9);
    expect(r.warnings.map((w) => w.code)).toContain('NOISE_ABOVE_CLAIM');
  });

  test('half the claimed noise narrows nothing', async () => {
    const { sigma0, scale } = phase(await judgedOf(await oneRail(4, noisy(5, 0.8)))).adjustment;
    expect(sigma0).toBeLessThan(0.7);
    expect(scale).toBe(1);
  });

  test('repeatability is pooled over repeated rows', async () => {
    const [entry] = phase(
      await judgedOf(
        await oneRail(2, quiet, {
          confirmed: [{ what: 'PASSES_IDENTICAL', by: 'a test', because: 'no noise' }],
        }),
      ),
    ).adjustment.repeatability;
    expect(entry).toMatchObject({ instrument: 'L1', axis: 'vertical', claimed: 2, degreesOfFreedom: 11 });
    expect(entry!.s).toBeCloseTo(0, 9);
  });
});

describe('closure and drift', () => {
  test('a drifting plane shows in the closure, and the report is warned', async () => {
    const r = await judgedOf(await oneRail(2, quiet, { drift: 30 }));
    const exceeded = phase(r).closures.filter((c) => c.exceeded);
    expect(exceeded.length).toBeGreaterThan(0);
    expect(exceeded[0]!.closure).toBeLessThan(0); // the plane rises, the targets read lower
    expect(r.warnings.map((w) => w.code)).toContain('CLOSURE_EXCEEDED');
  });

  test('the last look less the first is by the rows of the file where no time says otherwise', async () => {
    const look = (row: number, um: number): OffsetReading => ({
      kind: 'offset',
      source: { file: 'r.csv', row },
      pass: String(row),
      time: null,
      note: '',
      setup: 'S1',
      point: { kind: 'station', rail: 'A', station: 1 },
      target: 'T1',
      axis: 'vertical',
      um,
    });
    const one = job({ rails: [rail('A', 0, [0, 1000], { datum: true })], setups: [setup('S1', 0, 100)] });
    // As rows of several files may come: in any order.
    for (const list of [
      [look(2, 10), look(3, 11), look(9, 17)],
      [look(9, 17), look(3, 11), look(2, 10)],
      [look(3, 11), look(9, 17), look(2, 10)],
    ])
      expect(closuresOf(adjust(buildNetwork(one, list)))[0]).toMatchObject({
        closure: 7,
        looks: 3,
        first: { row: { row: 2 } },
        last: { row: { row: 9 } },
      });
  });

  test('where the set-up asks for it the rate is found, and it is significant', async () => {
    const r = await judgedOf(await oneRail(2, quiet, { drift: 30, setup: { drift: 'linear' } }));
    const [drift] = phase(r).setups[0]!.drift!;
    if (drift!.rate.value === null) throw new Error('the rate is determined');
    // Forward and return: the rate is seen at every station, and its prior pulls it a little towards none.
    expect(drift!.rate.value).toBeGreaterThan(25);
    expect(drift!.rate.value).toBeLessThan(30);
    expect(drift!.significant).toBe(true);
    expect(r.warnings.map((w) => w.code)).not.toContain('CLOSURE_EXCEEDED');
    const { closures } = phase(r);
    const widest = closures.reduce((a, b) => (Math.abs(b.closure) > Math.abs(a.closure) ? b : a));
    expect(Math.abs(widest.closure)).toBeGreaterThan(widest.allowed);
    expect(Math.abs(widest.closure - widest.drift!)).toBeLessThan(0.3 * Math.abs(widest.closure));
    expect(closures.filter((c) => c.exceeded)).toEqual([]);
    const still = await judgedOf(await oneRail(2, noisy(8, 2), { setup: { drift: 'linear' } }));
    expect(phase(still).setups[0]!.drift![0]!.significant).toBe(false);
  });

  test('a set-up that asks for drift and is knocked all the same: the closure beside the drift warns', async () => {
    const folder = await oneRail(2, quiet, { drift: 30, setup: { drift: 'linear' } });
    await changeRows(folder, 'r.csv', (header, rows) => {
      const at = header.indexOf('vertical');
      // The last of the return pass is the first station again.
      rows[rows.length - 1]![at] = String(Number(rows[rows.length - 1]![at]) + 25);
      return rows;
    });
    const r = await judgedOf(folder);
    expect(phase(r).closures.filter((c) => c.exceeded).length).toBeGreaterThan(0);
    expect(r.warnings.map((w) => w.code)).toContain('CLOSURE_EXCEEDED');
  });

  test('a set-up that asks for drift needs the time of every row', async () => {
    const folder = await oneRail(1, quiet, { setup: { drift: 'linear' } });
    await changeRows(folder, 'r.csv', (_, rows) => {
      rows[2]![4] = '';
      rows[5]![4] = '2026-04-01';
      return rows;
    });
    await expect(judgedOf(folder)).rejects.toThrow(/CELL_MISSING[\s\S]*"row": 4[\s\S]*"row": 7/);
  });
});

describe('physical corrections', () => {
  const levelled = async (corrections: object | undefined) => {
    // A level stepped along a perfectly straight rail of 40 m reads the earth's curve in reverse.
    const R = 6_371_000;
    const rows = Array.from(
      { length: 40 },
      (_, k) => `A,${k + 1},A,${k + 2},vertical,${(((k + 0.5 - 20) / R) * 1e6).toFixed(9)}`,
    );
    return judgedOf(
      await makeJob(
        {
          rails: [{ id: 'A', datum: true, across: 0, stations: { first: 0, spacing: 1000, count: 41 } }],
          readings: [{ file: 'level.csv', phase: 'as-left', kind: 'slope', instrument: 'E1', unit: 'um/m' }],
          ...(corrections && { corrections }),
        },
        { 'level.csv': ['from_rail,from_station,to_rail,to_station,axis,slope', ...rows].join('\n') },
      ),
    );
  };
  const straightness = (r: Results) =>
    phase(r).characteristics.find((c) => c.what === 'straightness-vertical' && c.reference === 'end-points')!
      .value!;

  test('earth’s curvature: L²/8R of bow in 40 m of levelled rail, gone when the job asks', async () => {
    const sagitta = (40 ** 2 / (8 * 6_371_000)) * 1e6;
    const plain = await levelled(undefined);
    expect(straightness(plain)).toBeCloseTo(sagitta, 4);
    expect(plain.curvature.sagittaUm).toBeCloseTo(sagitta, 6);
    const corrected = await levelled({ earthCurvature: true });
    expect(straightness(corrected)).toBeCloseTo(0, 4);
    expect(corrected.corrections.earthCurvature).toBe(true);
    expect(plain.corrections.earthCurvature).toBe(false);
  });

  test('earth’s curvature across: a level that reads nought 30 m to the left stands d²/2R lower', async () => {
    const drop = (30 ** 2 / (2 * 6_371_000)) * 1e6;
    const rows = [1, 2, 3].flatMap((k) => [
      `A,${k},B,${k},vertical,0`,
      ...(k < 3 ? [`A,${k},A,${k + 1},vertical,0`] : []),
    ]);
    const heightOfB = async (corrections: object) =>
      phase(
        await judgedOf(
          await makeJob(
            {
              rails: [
                { id: 'A', datum: true, across: 0, stations: { at: [0, 1000, 2000] } },
                { id: 'B', across: 30_000, stations: { at: [0, 1000, 2000] } },
              ],
              readings: [
                { file: 'level.csv', phase: 'as-left', kind: 'slope', instrument: 'E1', unit: 'um/m' },
              ],
              confirmed: [{ what: 'READINGS_CONSTANT', in: 'level.csv', by: 'test', because: 'no noise' }],
              corrections,
            },
            { 'level.csv': ['from_rail,from_station,to_rail,to_station,axis,slope', ...rows].join('\n') },
          ),
        ),
      ).characteristics.find((c) => c.what === 'height-difference')!.value!;
    expect(await heightOfB({ earthCurvature: false })).toBeCloseTo(0, 6);
    expect(await heightOfB({ earthCurvature: true })).toBeCloseTo(-drop, 6);
  });

  test('a span to 20 °C: a machine of steel at 25 °C, measured by an instrument that does not expand', async () => {
    const rows = ['rail,other,station,span', 'A,B,1,3000.180', 'A,B,2,3000.180'];
    const spans = async (corrections?: object) => {
      const r = await judgedOf(
        await makeJob(
          {
            rails: [
              { id: 'A', datum: true, across: 0, stations: { at: [0, 1000] } },
              { id: 'B', across: 3000, stations: { at: [0, 1000] } },
            ],
            instruments: [{ id: 'T1', reading: { u: 10, unit: 'um' } }],
            readings: [{ file: 's.csv', phase: 'as-left', kind: 'span', instrument: 'T1', unit: 'mm' }],
            ...(corrections && { corrections }),
          },
          { 's.csv': rows.join('\n') },
        ),
      );
      return phase(r).characteristics.find((c) => c.what === 'span')!.value!;
    };
    expect(await spans()).toBeCloseTo(180, 6);
    // 3 m · 12 ppm/K · 5 K = 180 µm too long for want of cold
    expect(await spans({ spanAt20: { temperature: 25, unit: 'C', machine: 12, instrument: 0 } })).toBeCloseTo(
      0,
      6,
    );
  });

  test.each([3000, -3000])('a span that is read longer is wider, with rail B at %d mm', async (across) => {
    const r = await judgedOf(
      await makeJob(
        {
          rails: [
            { id: 'A', datum: true, across: 0, stations: { at: [0, 1000] } },
            { id: 'B', across, stations: { at: [0, 1000] } },
          ],
          instruments: [{ id: 'T1', reading: { u: 10, unit: 'um' } }],
          readings: [{ file: 's.csv', phase: 'as-left', kind: 'span', instrument: 'T1', unit: 'mm' }],
        },
        { 's.csv': 'rail,other,station,span\nA,B,1,3000.020\nA,B,2,3000.050' },
      ),
    );
    const span = phase(r).characteristics.find((c) => c.what === 'span')!;
    expect(span.value).toBeCloseTo(50, 6);
    expect(span.at).toEqual([expect.objectContaining({ rail: 'B', station: 2 })]);
  });

  test('thermal bow, stated as a caution: α·ΔT·L²/(8h) (beam theory, closed form)', async () => {
    const r = await judgedOf(
      await makeJob(
        {
          rails: [
            {
              id: 'A',
              datum: true,
              across: 0,
              stations: { at: [0, 5000, 10000] },
              thermal: { height: 600, topWarmerBy: 0.5, expansion: 11.5 },
            },
          ],
          readings: [{ file: 'level.csv', phase: 'as-left', kind: 'slope', instrument: 'E1', unit: 'um/m' }],
        },
        {
          'level.csv':
            'from_rail,from_station,to_rail,to_station,axis,slope\nA,1,A,2,vertical,1\nA,2,A,3,vertical,2',
        },
      ),
    );
    expect(r.corrections.thermalBow[0]!.bowUm).toBeCloseTo(119.7917, 4);
  });
});

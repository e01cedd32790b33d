/** What must hold of all inputs: conventions, units, order and origin of the readings change no result. */
import { undetermined } from '../support/worded.js';
import { beforeAll, describe, expect, test } from 'vitest';
import type { CharacteristicResult, Results } from '../../src/results/results-schema.js';
import { changeJob, changeRows, copyOf, judgedOf, sample } from '../support/folders.js';
import { seeded } from '../support/jobs.js';

const FILES = ['readings/as-found.csv', 'readings/as-left.csv'];

let original: Results;
beforeAll(async () => {
  original = await judgedOf(sample('TH-2031'));
});

const characteristics = (r: Results): CharacteristicResult[] => r.phases['as-left']!.characteristics;

/** Values to rounding; intervals too, since the simulated surveys are the same ones. */
function expectSame(
  changed: Results,
  only: (c: CharacteristicResult) => boolean = () => true,
  intervals = true,
): void {
  const other = characteristics(changed);
  characteristics(original).forEach((c, i) => {
    if (!only(c)) return;
    const d = other[i]!;
    expect([d.what, d.rail, d.reference]).toEqual([c.what, c.rail, c.reference]);
    if (c.value === null) {
      expect(d.value).toBeNull();
      return;
    }
    expect(Math.abs(d.value! - c.value), `${c.what} ${c.rail}`).toBeLessThan(1e-5);
    expect(Math.abs(d.u! - c.u!), `u of ${c.what} ${c.rail}`).toBeLessThan(1e-5);
    if (!intervals) return;
    c.interval!.forEach((end, k) =>
      expect(Math.abs(d.interval![k]! - end), `interval of ${c.what} ${c.rail}`).toBeLessThan(0.02 * c.u!),
    );
  });
}

const column = (header: readonly string[], name: string): number => header.indexOf(name);

async function changed(
  job: Parameters<typeof changeJob>[1],
  row: (cells: string[], header: string[]) => void,
): Promise<Results> {
  const folder = await copyOf('TH-2031');
  await changeJob(folder, job);
  for (const file of FILES) {
    await changeRows(folder, file, (header, rows) => {
      for (const cells of rows) row(cells, header);
      return rows;
    });
  }
  return judgedOf(folder);
}

const unchanged = (): void => undefined;

describe('of the way the readings are written', () => {
  test('the other sign convention, with the readings to match', async () => {
    const negate = (text: string) => (text === '' ? '' : String(-Number(text)));
    const result = await changed(
      (job) => {
        for (const s of job.setups)
          s.plus = {
            vertical: 'down',
            horizontal: s.plus.horizontal === 'left' ? 'right' : 'left',
            along: 'back',
          };
      },
      (cells, header) => {
        for (const axis of ['vertical', 'horizontal', 'along'])
          cells[column(header, axis)] = negate(cells[column(header, axis)]!);
      },
    );
    expectSame(result);
  });

  test('readings in thousandths of an inch, lengths in feet', async () => {
    const result = await changed(
      (job) => {
        job.units = { length: 'ft', reading: 'thou' };
        const feet = (o: Record<string, number>, keys: string[]) =>
          keys.forEach((k) => (o[k] = o[k]! / 304.8));
        for (const r of job.rails) {
          feet(r, ['across']);
          feet(r.stations, ['first', 'spacing']);
        }
        for (const p of [...job.monuments, ...job.setups]) feet(p, ['along', 'across']);
        // Growing limits speak of the job's length unit; this one is the same limit in feet.
        job.tolerances = [{ what: 'straightness-vertical', limit: 40, unit: 'um' }];
      },
      (cells, header) => {
        for (const axis of ['vertical', 'horizontal', 'along']) {
          const text = cells[column(header, axis)]!;
          if (text !== '') cells[column(header, axis)] = (Number(text) / 25.4).toFixed(12);
        }
      },
    );
    const values = new Map(
      characteristics(result).map((c) => [`${c.what}${c.rail}${c.reference ?? ''}${c.over ?? ''}`, c]),
    );
    for (const c of characteristics(original)) {
      if (c.over !== undefined || c.value === null) continue;
      const d = values.get(`${c.what}${c.rail}${c.reference ?? ''}`)!;
      expect(d.value).toBeCloseTo(c.value, 5);
      expect(d.u).toBeCloseTo(c.u!, 5);
    }
  });

  test('rows in any order', async () => {
    const folder = await copyOf('TH-2031');
    const next = seeded(4);
    for (const file of FILES) {
      await changeRows(folder, file, (_, rows) =>
        rows
          .map((cells) => ({ cells, key: next() }))
          .sort((a, b) => a.key - b.key)
          .map(({ cells }) => cells),
      );
    }
    expectSame(await judgedOf(folder));
  });
});

describe('of the origin', () => {
  test('everything ten kilometres further along', async () => {
    const result = await changed((job) => {
      for (const r of job.rails) r.stations.first += 1e7;
      for (const p of [...job.monuments, ...job.setups]) p.along += 1e7;
    }, unchanged);
    expectSame(result, () => true, false);
  });

  test('a plane of light raised and tilted changes no straightness and no coplanarity', async () => {
    // Not levelled in either: a prior of level would speak of the tilt, and rightly so.
    const unlevelled: Parameters<typeof changeJob>[1] = (job) => {
      for (const s of job.setups) s.levelled = false;
    };
    const straight = await changed(unlevelled, unchanged);
    const tilted = await changed(unlevelled, (cells, header) => {
      const v = column(header, 'vertical');
      const isFirst = cells[column(header, 'setup')] === 'S1';
      const station = Number(cells[column(header, 'station')]);
      if (cells[v] !== '')
        cells[v] = (Number(cells[v]) + (isFirst ? 150 + 9 * station : -60 - 5 * station)).toFixed(6);
    });
    const shapes = (r: Results) =>
      characteristics(r).filter(
        (c) => /^straightness-vertical|^coplanarity/.test(c.what) && c.value !== null,
      );
    expect(shapes(straight).length).toBeGreaterThan(5);
    shapes(straight).forEach((c, i) => {
      expect(shapes(tilted)[i]!.value).toBeCloseTo(c.value!, 5);
      expect(shapes(tilted)[i]!.u).toBeCloseTo(c.u!, 5);
    });
    const level = characteristics(tilted).find((c) => c.what === 'level-along')!;
    expect(level.value).toBeNull();
    expect(undetermined(level).why).toMatch(/not levelled/);
  });

  test('a running plane turned changes no straightness', async () => {
    const result = await changed(unchanged, (cells, header) => {
      const h = column(header, 'horizontal');
      const station = Number(cells[column(header, 'station')]);
      if (cells[h] !== '') cells[h] = (Number(cells[h]) - 80 + 13 * station).toFixed(6);
    });
    expectSame(result, (c) => c.what.startsWith('straightness-horizontal'), false);
  });

  test('the other rail as datum: parallelism stays, signed differences turn round', async () => {
    const result = await changed((job) => {
      job.rails[0].datum = false;
      job.rails[1].datum = true;
      job.tolerances = [];
    }, unchanged);
    const value = (r: Results, what: string) =>
      characteristics(r).find((c) => c.what === what && c.value !== null)!.value!;
    expect(value(result, 'parallelism-vertical')).toBeCloseTo(value(original, 'parallelism-vertical'), 5);
    expect(value(result, 'parallelism-horizontal')).toBeCloseTo(value(original, 'parallelism-horizontal'), 5);
    expect(value(result, 'height-difference')).toBeCloseTo(-value(original, 'height-difference'), 5);
    expect(value(result, 'cross-level')).toBeCloseTo(-value(original, 'cross-level'), 5);
  });
});

test('the same inputs give the same document, to the last byte', async () => {
  expect(JSON.stringify(await judgedOf(await copyOf('TH-2031')))).toBe(JSON.stringify(original));
});

/** A figure is the sum of its cells: for every characteristic of every sample, added up from the CSV files themselves. */
import { parse } from 'csv-parse/sync';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { loadJob } from '../../src/solution/intake/load-job.js';
import { toUm, toUmPerM } from '../../src/base/units/units.js';
import { judge } from '../../src/pipeline.js';
import { findCharacteristics, trace } from '../../src/results/trace.js';
import { normalQuantile } from '../../src/base/statistics/normal.js';
import { sample } from '../support/folders.js';

describe.each(['TH-0412', 'TH-1175', 'TH-2031', 'TH-3318', 'TH-4520'])('%s', (id) => {
  test('Σ weight × cell + constant is the value', async () => {
    const folder = sample(id);
    const loaded = await loadJob(folder);
    if (!loaded.ok) throw new Error('refused');
    const { job, readings } = loaded.value;
    const { results } = await judge(loaded.value, loaded.diagnostics);
    const tables = new Map<string, string[][]>();
    const cell = (file: string, row: number, column: string): number => {
      const table = tables.get(file) ?? (parse(readFileSync(join(folder, file), 'utf8')) as string[][]);
      tables.set(file, table);
      return Number(table[row - 1]![table[0]!.indexOf(column)]);
    };
    let count = 0;
    for (const phase of ['as-found', 'as-left'] as const)
      for (const c of results.phases[phase]?.characteristics ?? []) {
        if (c.value === null) continue;
        const traced = trace(job, readings.phases.get(phase)!, phase, c)!;
        const sum = traced.readings.reduce((s, r) => s + r.weight * r.reading, traced.constant);
        expect(sum).toBeCloseTo(c.value, 5);
        const heaviest = traced.readings.slice(0, 6);
        for (const r of heaviest) {
          const base = r.unit.includes('/m') || r.unit === 'arcsec' ? toUmPerM : toUm;
          const stood = base(cell(r.file, r.row, r.column), r.unit as never);
          expect(stood).toBeCloseTo(base(r.reading, r.unit as never), 3);
        }
        const shares = [...traced.readings, ...traced.stated].reduce((s, { share }) => s + share, 0);
        expect(shares).toBeCloseTo(1, 4);
        count++;
      }
    expect(count).toBeGreaterThan(5);
  });

  test('the ends of each interval are what was read and a factor times its standard uncertainty', async () => {
    const loaded = await loadJob(sample(id));
    if (!loaded.ok) throw new Error('refused');
    const { results } = await judge(loaded.value, loaded.diagnostics);
    const z = normalQuantile((1 + results.settings.coverage) / 2);
    let count = 0;
    for (const { characteristics, adjustment } of Object.values(results.phases))
      for (const { limit, value, interval, ends, u } of characteristics) {
        if (limit === null || value === null) continue;
        const { lower, upper } = ends!;
        expect(lower.reads + lower.factor * lower.u).toBeCloseTo(interval![0], 9);
        expect(upper.reads + upper.factor * upper.u).toBeCloseTo(interval![1], 9);
        count++;
        // Of a signed one that surely lies below nought, the upper end is the nearer one of its magnitude.
        if (interval![1] < 0) continue;
        // The upper end is of one functional, with the normal factor; none is surer to reach it than that of the value.
        if (adjustment.scale === 1) expect(upper.factor).toBeCloseTo(z, 6);
        expect(upper.reads + upper.factor * upper.u).toBeGreaterThanOrEqual(value + upper.factor * u! - 1e-9);
        expect(upper.reads).toBeLessThanOrEqual(Math.abs(value) + 1e-9);
      }
    expect(count).toBeGreaterThan(3);
  });

  test('what is not asked for by phase is the last phase’s, with its limit', async () => {
    const loaded = await loadJob(sample(id));
    if (!loaded.ok) throw new Error('refused');
    const { results } = await judge(loaded.value, loaded.diagnostics);
    const typed = { what: 'straightness-vertical', rail: 'A', reference: null, over: null, between: null };
    const found = findCharacteristics(results, null, { ...typed, against: null });
    expect(found).toHaveLength(1);
    const { phase, characteristic } = found[0]!;
    expect(phase).toBe(results.phases['as-left'] ? 'as-left' : 'as-found');
    const list = results.phases[phase]!.characteristics.filter(
      ({ what, rail }) => what === 'straightness-vertical' && rail === 'A',
    );
    expect(characteristic.limit === null).toBe(list.every(({ limit }) => limit === null));
  });
});

/** A figure is the sum of its cells: for every characteristic of every sample, added up from the CSV files themselves. */
import { parse } from 'csv-parse/sync';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { loadJob } from '../../src/intake/load-job.js';
import { toUm, toUmPerM } from '../../src/job/units.js';
import { solve } from '../../src/pipeline.js';
import { findCharacteristic, trace } from '../../src/results/trace.js';
import { sample } from '../support/folders.js';

describe.each(['TH-0412', 'TH-1175', 'TH-2031', 'TH-3318', 'TH-4520'])('%s', (id) => {
  test('Σ weight × cell + constant is the value', async () => {
    const folder = sample(id);
    const loaded = await loadJob(folder);
    if (!loaded.ok) throw new Error('refused');
    const { job, readings } = loaded.value;
    const results = await solve(loaded.value, loaded.diagnostics);
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

  test('what is not asked for by phase is the last phase’s, with its limit', async () => {
    const loaded = await loadJob(sample(id));
    if (!loaded.ok) throw new Error('refused');
    const results = await solve(loaded.value, loaded.diagnostics);
    const found = findCharacteristic(results, {
      what: 'straightness-vertical',
      rail: null,
      phase: null,
      reference: null,
    });
    expect(found?.phase).toBe(results.phases['as-left'] ? 'as-left' : 'as-found');
  });
});

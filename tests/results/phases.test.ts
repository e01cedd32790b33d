/** Phases with facts of their own, and more than two of them. */
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { loadJob } from '../../src/solution/intake/load-job.js';
import { drawCharts, solve, writePage } from '../../src/pipeline.js';
import { resultsSchema } from '../../src/results/results-schema.js';
import { changeJob, copyOf, judgedOf } from '../support/folders.js';

/** TH-2031 with a round between as found and as left, whose readings lie in the middle. */
async function withRound(): Promise<string> {
  const folder = await copyOf('TH-2031');
  const rows = async (name: string) =>
    (await readFile(join(folder, `readings/${name}.csv`), 'utf8'))
      .trimEnd()
      .split('\n')
      .map((l) => l.split(','));
  const [found, left] = [await rows('as-found'), await rows('as-left')];
  const key = (cells: string[]) => cells.slice(0, 6).join(',');
  const byKey = new Map(left.map((cells) => [key(cells), cells]));
  const header = found[0]!;
  const columns = ['vertical', 'horizontal', 'along'].map((name) => header.indexOf(name));
  const between = found.slice(1).map((cells) => {
    const other = byKey.get(key(cells));
    return cells.map((cell, k) =>
      !columns.includes(k) || cell === '' || other === undefined || other[k] === ''
        ? cell
        : ((Number(cell) + Number(other[k])) / 2).toFixed(1),
    );
  });
  await writeFile(
    join(folder, 'readings/round.csv'),
    `${[header, ...between].map((cells) => cells.join(',')).join('\n')}\n`,
  );
  await changeJob(folder, (job) => {
    job.readings.push({ file: 'readings/round.csv', phase: 'after-first-round' });
    job.phases = {
      'as-found': {
        machineState: 'bridge parked at 0',
        conditions: { temperature: { from: 17, to: 18, unit: 'C' } },
      },
      'after-first-round': { surveyed: { by: 'I. Maddern', on: '2026-03-13' } },
      'as-left': { machineState: 'bridge taken off', instruments: ['L1'] },
    };
  });
  return folder;
}

describe('more than two phases', () => {
  test('each is solved by itself, in the order of the job; the verdict is that of the last', async () => {
    const folder = await withRound();
    const results = await judgedOf(folder);
    expect(Object.keys(results.phases)).toEqual(['as-found', 'after-first-round', 'as-left']);
    const straight = (name: string) =>
      results.phases[name]!.characteristics.find((c) => c.what === 'straightness-vertical' && c.rail === 'A')!
        .value!;
    // Solved alone, the round gives the same figures.
    await changeJob(folder, (job) => {
      job.readings = job.readings.filter((entry: { phase: string }) => entry.phase === 'after-first-round');
      job.readings[0].phase = 'as-left';
      delete job.phases;
    });
    const alone = await judgedOf(folder);
    expect(straight('after-first-round')).toBeCloseTo(
      alone.phases['as-left']!.characteristics.find(
        (c) => c.what === 'straightness-vertical' && c.rail === 'A',
      )!.value!,
      9,
    );
    expect(results.verdict).toBe(results.phases['as-left']!.verdict);
    expect(resultsSchema.safeParse(JSON.parse(JSON.stringify(results))).success).toBe(true);
  });

  test('the report has them side by side, and says that their conditions differ', async () => {
    const folder = await withRound();
    const loaded = await loadJob(folder);
    if (!loaded.ok) throw new Error(JSON.stringify(loaded.diagnostics));
    const results = await solve(loaded.value, loaded.diagnostics);
    const html = (await writePage(results, await drawCharts(results))).live;
    const page = html.replace(/<style>.*?<\/style>|<[^>]+>/gs, ' ').replace(/\s+/g, ' ');
    expect(page).toMatch(/Phase by phase/);
    expect(page).toMatch(/After first round/);
    expect(page).toMatch(/not surveyed under the same conditions/);
    expect(page).toMatch(
      /as found bridge parked at 0; after first round not recorded; as left bridge taken off/i,
    );
    expect(page).toMatch(/surveyed by I\. Maddern, 2026-03-13/);
  });

  test('a phase that the job does not name is refused, with those that there are', async () => {
    const folder = await copyOf('TH-2031');
    await changeJob(folder, (job) => {
      job.readings[0].phase = 'as-foun';
      job.phases = { 'after-round': {} };
    });
    const loaded = await loadJob(folder);
    expect(loaded.ok).toBe(false);
    const found = loaded.diagnostics.find(({ code }) => code === 'ID_UNKNOWN')!;
    expect(found.data).toMatchObject({ kind: 'phase', id: 'as-foun' });
    expect(JSON.stringify(found.data)).toMatch(/as-found/);
  });

  test('an instrument that is not there, and a reversed temperature, in a phase', async () => {
    const folder = await copyOf('TH-2031');
    await changeJob(folder, (job) => {
      job.phases = {
        'as-left': { instruments: ['L9'], conditions: { temperature: { from: 20, to: 18, unit: 'C' } } },
      };
    });
    const loaded = await loadJob(folder);
    expect(loaded.diagnostics.map(({ code }) => code)).toEqual(
      expect.arrayContaining(['ID_UNKNOWN', 'TEMPERATURE_WRONG']),
    );
  });
});

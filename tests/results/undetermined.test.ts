/** What the readings cannot determine is null, with a reason a crew can act on; never a number. */
import { describe, expect, test } from 'vitest';
import type { Results } from '../../src/results/results-schema.js';
import { expectWorded, undetermined } from '../support/worded.js';
import { changeJob, changeRows, copyOf, makeJob, judgedOf } from '../support/folders.js';

const FILE = 'readings/as-left.csv';

async function without(
  keep: (row: Record<string, string>) => boolean,
  job: Parameters<typeof changeJob>[1] = () => undefined,
): Promise<Results> {
  const folder = await copyOf('TH-2031');
  await changeJob(folder, (j) => {
    j.readings = [{ file: FILE, phase: 'as-left' }];
    job(j);
  });
  await changeRows(folder, FILE, (header, rows) =>
    rows.filter((cells) => keep(Object.fromEntries(header.map((h, k) => [h, cells[k] ?? ''])))),
  );
  const results = await judgedOf(folder);
  expectWorded(results);
  return results;
}

const find = (r: Results, what: string, rail: string) =>
  r.phases['as-left']!.characteristics.find((c) => c.what === what && c.rail === rail)!;

describe('a transfer that was not made', () => {
  test('no monument was read from the second set-up: no parallelism in the horizontal plane', async () => {
    const r = await without((row) => !(row['setup'] === 'S2' && row['monument'] !== ''));
    const c = find(r, 'parallelism-horizontal', 'B');
    expect(c.value).toBeNull();
    expect(c.interval).toBeNull();
    expect(c.u).toBeNull();
    expect(c.verdict).toBe('undecided');
    expect(undetermined(c).why).toContain('no monument pair was read in both S1 and S2');
    expect(undetermined(c).why).toContain(
      'read monuments M1 and M2 in the square plane (along) from both S1 and S2',
    );
    expect(undetermined(c).reasons).toEqual([
      { code: 'direction-not-carried', data: { from: 'S1', to: 'S2', monuments: ['M1', 'M2'] } },
    ]);
    expect(r.verdict).toBe('undecided');
    // What does not need the transfer is there all the same.
    for (const what of ['straightness-horizontal', 'straightness-vertical', 'parallelism-vertical', 'twist'])
      expect(find(r, what, 'B').value).not.toBeNull();
    const yaw = r.phases['as-left']!.setups.find((s) => s.id === 'S2')!.yaw;
    expect(yaw.value).toBeNull();
    const offset = r.phases['as-left']!.stations.find((s) => s.rail === 'B')!;
    expect(offset.offset!.value).toBeNull();
    expect(offset.deviation.horizontal!.value).not.toBeNull();
  });

  test('one monument alone carries no direction', async () => {
    const r = await without((row) => row['monument'] !== 'M2');
    expect(find(r, 'parallelism-horizontal', 'B').value).toBeNull();
  });

  test('the height was not carried: no height difference, but parallelism of two levelled planes', async () => {
    const r = await without((row) => !(row['setup'] === 'S2' && row['rail'] === 'A'));
    const c = find(r, 'height-difference', 'B');
    expect(c.value).toBeNull();
    expect(undetermined(c).why).toContain('the height was not carried from set-up S1 to set-up S2');
    expect(find(r, 'cross-level', 'B').value).toBeNull();
    // A constant between the rails changes neither of these, and both planes were levelled.
    expect(find(r, 'parallelism-vertical', 'B').value).not.toBeNull();
    expect(find(r, 'twist', 'B').value).not.toBeNull();
    const station = r.phases['as-left']!.stations.find((s) => s.rail === 'B')!;
    expect(station.height!.value).toBeNull();
  });

  test('another rod height on the second rail: the target assemblies were not compared', async () => {
    const folder = await copyOf('TH-2031');
    await changeJob(folder, (j) => {
      j.readings = [{ file: FILE, phase: 'as-left' }];
    });
    await changeRows(folder, FILE, (header, rows) =>
      rows.map((cells) => {
        if (cells[header.indexOf('rail')] === 'B') cells[header.indexOf('target')] = 'T2';
        return cells;
      }),
    );
    const c = find(await judgedOf(folder), 'height-difference', 'B');
    expect(c.value).toBeNull();
    expect(undetermined(c).why).toMatch(/target assemblies T1 and T2 were not compared/);
  });

  test('nothing was levelled: no level, but straightness', async () => {
    const r = await without(
      () => true,
      (job) => {
        for (const s of job.setups) s.levelled = false;
      },
    );
    const c = find(r, 'level-along', 'A');
    expect(c.value).toBeNull();
    expect(undetermined(c).why).toMatch(/set-up S1 was not levelled/);
    expect(find(r, 'straightness-vertical', 'A').value).not.toBeNull();
  });

  test('no span: the distance across is not known, and the offsets are about the mean of the rail', async () => {
    const r = await without(() => true);
    const span = find(r, 'span', 'B');
    expect(span.value).toBeNull();
    expect(undetermined(span).why).toContain('measure the span between rails A and B');
    expect(r.phases['as-left']!.offsetTied).toEqual({ B: false });
    const offsets = r.phases['as-left']!.stations.filter((s) => s.rail === 'B').map((s) => s.offset!.value!);
    expect(offsets.reduce((a, b) => a + b, 0) / offsets.length).toBeCloseTo(0, 6);
  });
});

describe('too little read', () => {
  test('two stations have no straightness; one has no slope', async () => {
    const r = await without((row) => row['rail'] !== 'B' || row['station'] === '1' || row['station'] === '9');
    expect(undetermined(find(r, 'straightness-vertical', 'B')).why).toContain('needs three stations');
    expect(find(r, 'parallelism-vertical', 'B').value).not.toBeNull();
    const one = await without((row) => row['rail'] !== 'B' || row['station'] === '1');
    expect(undetermined(find(one, 'parallelism-vertical', 'B')).why).toContain('two matching stations');
    expect(undetermined(find(one, 'level-along', 'B')).why).toContain('two stations');
  });

  test('a rail not read at all is said so', async () => {
    const r = await without((row) => row['rail'] !== 'B');
    expect(undetermined(find(r, 'straightness-vertical', 'B')).why).toContain(
      'rail B was not read in the vertical plane',
    );
    expect(r.phases['as-left']!.stations.some((s) => s.rail === 'B')).toBe(false);
  });

  test('beyond the datum rail’s stations nothing is extrapolated', async () => {
    const r = await without((row) => row['rail'] !== 'A' || Number(row['station']) <= 13);
    const c = find(r, 'parallelism-vertical', 'B');
    expect(c.value).not.toBeNull();
    expect(c.at.every(({ station }) => station <= 13)).toBe(true);
    const beyond = r.phases['as-left']!.stations.find((s) => s.rail === 'B' && s.station === 14)!;
    expect(beyond.difference).toBeUndefined();
  });
});

test('what is lacking is said in the same words whatever the order of the rows', async () => {
  const keep = (row: Record<string, string>) =>
    row['monument'] === '' && !(row['setup'] === 'S2' && row['rail'] === 'A');
  const folder = await copyOf('TH-2031');
  await changeJob(folder, (j) => {
    j.readings = [{ file: FILE, phase: 'as-left' }];
  });
  await changeRows(folder, FILE, (header, rows) =>
    rows.filter((cells) => keep(Object.fromEntries(header.map((h, k) => [h, cells[k] ?? ''])))).reverse(),
  );
  const [forward, backward] = [await without(keep), await judgedOf(folder)].map((r) => r.phases['as-left']!);
  expect(forward!.undetermined.length).toBeGreaterThan(1);
  expect(backward!.undetermined).toEqual(forward!.undetermined);
  expect(backward!.setups.map((s) => s.yaw)).toEqual(
    forward!.setups.map((s) => (s.yaw.value === null ? s.yaw : expect.anything())),
  );
});

test('two parts of a rail that nothing joins: the gap is named, and only the gap', async () => {
  const steps = [1, 2, 4, 5].map((k) => `A,${k},A,${k + 1},vertical,${3 * k}`);
  const r = await judgedOf(
    await makeJob(
      {
        rails: [{ id: 'A', datum: true, across: 0, stations: { first: 0, spacing: 500, count: 6 } }],
        readings: [{ file: 'level.csv', phase: 'as-left', kind: 'slope', instrument: 'E1', unit: 'um/m' }],
      },
      { 'level.csv': ['from_rail,from_station,to_rail,to_station,axis,slope', ...steps].join('\n') },
    ),
  );
  const { why } = undetermined(find(r, 'straightness-vertical', 'A'));
  expect(why).toContain('station 3 and station 4 are not joined by any reading');
  expect(why.match(/not joined/g)).toHaveLength(1);
});

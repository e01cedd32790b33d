/** Slope and span files: signs, sight lines, nominal distances, and what is refused. */
import { describe as group, expect, test } from 'vitest';
import { describe } from '../../../src/base/diagnostics/messages.js';
import type { JobInput } from '../../../src/survey/job/job-schema.js';
import { loadFiles as loadJob } from '../../support/load-files.js';
import { CSV, folderOf, madeUpJob } from '../job/made-up-job.js';

async function load(kind: 'slope' | 'span', csv: string, more: Partial<JobInput['readings'][number]> = {}) {
  const job = madeUpJob();
  const entry =
    kind === 'slope'
      ? { instrument: 'E1', unit: 'um/m' as const }
      : { instrument: 'T1', unit: 'mm' as const };
  job.readings.push({ file: 'x.csv', phase: 'as-left', kind, ...entry, ...more });
  const folder = await folderOf({
    'job.json': JSON.stringify(job),
    'readings/as-left.csv': CSV,
    'x.csv': csv,
  });
  const outcome = await loadJob(folder);
  return {
    list: outcome.diagnostics.map((d) => `${d.at?.row} ${d.code} ${d.at?.column ?? ''}`.trim()),
    said: outcome.diagnostics.map((d) => describe(d)),
    readings: outcome.ok ? outcome.value.readings.phases.get('as-left')!.filter((r) => r.kind === kind) : [],
    excluded: outcome.ok ? outcome.value.readings.excluded.map((row) => row.what) : [],
  };
}

group('slope', () => {
  const H = 'from_rail,from_station,to_rail,to_station,axis,slope,pass,time,use,note\n';

  test('vertical against gravity, horizontal against a sight line of its file, rail, axis and pass', async () => {
    const { list, readings } = await load(
      'slope',
      `${H}A,1,A,2,vertical,3.5,,,,\nA,2,A,1,horizontal,-2,2,,,\nA,1,B,1,vertical,4,,,,\n`,
    );
    expect(list).toEqual([]);
    expect(readings).toMatchObject([
      {
        from: { rail: 'A', station: 1 },
        to: { rail: 'A', station: 2 },
        axis: 'vertical',
        umPerM: 3.5,
        sight: null,
        instrument: 'E1',
      },
      { axis: 'horizontal', umPerM: -2, sight: 'x.csv|A|horizontal|2', pass: '2' },
      { from: { rail: 'A' }, to: { rail: 'B' }, sight: null },
    ]);
  });

  test('the job may say that vertical slopes are read along a sight line', async () => {
    const { readings } = await load('slope', `${H}A,1,A,2,vertical,3.5,,,,\nB,1,A,1,vertical,3.5,,,,\n`, {
      against: 'sight',
    });
    expect(readings).toMatchObject([{ sight: 'x.csv|A|vertical|1' }, { sight: 'x.csv|A>B|vertical|1' }]);
  });

  test('units of slopes: 1 arc second is 4.848 µm/m', async () => {
    const { readings } = await load('slope', `${H}A,1,A,2,vertical,1,,,,\nA,1,A,2,vertical,0.01 mm/m,,,,\n`, {
      unit: 'arcsec',
    });
    expect(readings.map((r) => r.kind === 'slope' && r.umPerM.toFixed(6))).toEqual(['4.848137', '10.000000']);
  });

  test('a cross rail is read in along instead of horizontal; positions do as well as numbers', async () => {
    const csv =
      'from_rail,from_position,to_rail,to_position,axis,slope\nC,0,C,800,along,1\nC,0,C,800,vertical,1\n';
    expect((await load('slope', csv)).list).toEqual([]);
  });

  test.each([
    ['from a station to itself', 'A,2,A,2,vertical,1,,,,', 'READING_SAME_POINT to_station'],
    ['between rails in plan', 'A,1,B,1,horizontal,1,,,,', 'READING_ACROSS_REFUSED axis'],
    ['a cross rail in horizontal', 'C,1,C,2,horizontal,1,,,,', 'READING_AXIS_REFUSED axis'],
    ['a rail along in along', 'A,1,A,2,along,1,,,,', 'READING_AXIS_REFUSED axis'],
    ['an axis that is none', 'A,1,A,2,height,1,,,,', 'CELL_WRONG axis'],
    ['no rail', ',1,A,2,vertical,1,,,,', 'CELL_MISSING from_rail'],
    ['an unknown rail', 'A,1,D,2,vertical,1,,,,', 'READING_RAIL_UNKNOWN to_rail'],
    ['an unknown station', 'A,1,A,22,vertical,1,,,,', 'READING_STATION_UNKNOWN to_station'],
    ['no number', 'A,1,A,2,vertical,1x,,,,', 'CELL_NOT_A_NUMBER slope'],
    ['a length', 'A,1,A,2,vertical,1 mm,,,,', 'UNIT_UNKNOWN slope'],
    ['nothing read', 'A,1,A,2,vertical,,,,,', 'READING_ROW_EMPTY'],
  ])('%s', async (_, row, problem) => {
    const { list } = await load('slope', `${H}A,1,A,2,vertical,1,,,,\n${row}\n`);
    expect(list).toEqual([`3 ${problem}`]);
  });

  test('gravity tells nothing in plan', async () => {
    const { list, said } = await load('slope', `${H}A,1,A,2,horizontal,1,,,,\n`, { against: 'gravity' });
    expect(list).toEqual(['2 READING_AXIS_REFUSED axis']);
    expect(said[0]).toContain('against gravity; expected: vertical');
  });

  test('a row that is left out', async () => {
    const { excluded } = await load('slope', `${H}A,1,A,2,vertical,1,,,,\nA,1,A,3,vertical,9,,,no,slipped\n`);
    expect(excluded).toEqual(['from A:1 to A:3, vertical slope 9 µm/m']);
  });
});

group('span', () => {
  const H = 'rail,other,station,span\n';

  test('the departure from the nominal distance, whichever rail is named first', async () => {
    const { list, readings } = await load('span', `${H}A,B,1,3200.012\nB,A,2,3199.9\n`);
    expect(list).toEqual([]);
    expect(readings).toMatchObject([
      { rail: 'A', other: 'B', station: 1, otherStation: 1, nominalMm: 3200, instrument: 'T1' },
      { rail: 'B', other: 'A', station: 2, otherStation: 2 },
    ]);
    expect(readings.map((r) => r.kind === 'span' && Number(r.departureUm.toFixed(6)))).toEqual([12, -100]);
  });

  test('stations are matched by position, not by number', async () => {
    const job = madeUpJob();
    job.rails[1]!.stations = { at: [1000, 1500] };
    job.readings = [{ file: 'x.csv', phase: 'as-left', kind: 'span', instrument: 'T1', unit: 'mm' }];
    delete job.setups;
    const outcome = await loadJob(
      await folderOf({ 'job.json': JSON.stringify(job), 'x.csv': `${H}A,B,3,3200\n` }),
    );
    expect(outcome.ok && outcome.value.readings.phases.get('as-left')).toMatchObject([
      { station: 3, otherStation: 1 },
    ]);
  });

  test.each([
    ['metres for millimetres', 'A,B,1,3.2', 'READING_SPAN_IMPLAUSIBLE span'],
    ['no station opposite', 'A,B,21,3200', 'READING_POSITION_UNKNOWN other'],
    ['a cross rail', 'A,C,1,3200', 'READING_AXIS_REFUSED other'],
    ['a rail to itself', 'A,A,1,3200', 'READING_SAME_POINT other'],
    ['nothing read', 'A,B,1,', 'READING_ROW_EMPTY'],
  ])('%s', async (_, row, problem) => {
    const { list } = await load('span', `${H}A,B,1,3200\n${row}\n`);
    expect(list).toEqual([`3 ${problem}`]);
  });

  test('what is said about an implausible span', async () => {
    const { said } = await load('span', `${H}A,B,1,126 in\nA,B,1,3.2\n`);
    expect(said).toEqual([
      'The span 3.2 mm differs by more than 5 % from the nominal span, 3200 mm. Check the unit and the rails of the row, and "across" of the rails in job.json.',
    ]);
  });
});

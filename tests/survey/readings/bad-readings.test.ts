/** Every way in which a row can contradict the job: its code, its place, and what is said. */
import { describe as group, expect, test } from 'vitest';
import { describe } from '../../../src/base/diagnostics/messages.js';
import type { JobInput } from '../../../src/survey/job/job-schema.js';
import { loadFiles as loadJob } from '../../support/load-files.js';
import { CSV, folderOf, HEADER, jobFolder, madeUpJob, ROWS } from '../job/made-up-job.js';

type Change = (job: JobInput) => void;
const nothing: Change = () => undefined;

async function problems(csv: string, change = nothing) {
  const { diagnostics } = await loadJob(await jobFolder(csv, change));
  return diagnostics.map((d) => ({ ...d, said: describe(d) }));
}
const withRow = (row: string) => `${CSV}${row}\n`;

/** what is wrong, one more row, the code, the column, part of what is said */
test.each([
  [
    'unknown set-up',
    'S3,A,1,,,,,1,,,,',
    'READING_SETUP_UNKNOWN',
    'setup',
    'no set-up "S3". The job declares: S1, S2.',
  ],
  ['no set-up', ',A,1,,,,,1,,,,', 'CELL_MISSING', 'setup', 'the id of a set-up'],
  [
    'unknown rail',
    'S1,D,1,,,,,1,,,,',
    'READING_RAIL_UNKNOWN',
    'rail',
    'no rail "D". The job declares: A, B, C.',
  ],
  [
    'unknown station',
    'S1,A,22,,,,,1,,,,',
    'READING_STATION_UNKNOWN',
    'station',
    'rail A has stations 1 to 21. Did you mean 21?',
  ],
  ['station 0', 'S1,A,0,,,,,1,,,,', 'READING_STATION_UNKNOWN', 'station', 'If the file counts from 0, add 1'],
  ['half a station', 'S1,A,1.5,,,,,1,,,,', 'READING_STATION_UNKNOWN', 'station', '"1.5"'],
  ['a station that is no number', 'S1,A,x,,,,,1,,,,', 'CELL_NOT_A_NUMBER', 'station', '"x"'],
  ['a station with a unit', 'S1,A,1 mm,,,,,1,,,,', 'CELL_WRONG', 'station', 'a station number'],
  ['no station', 'S1,A,,,,,,1,,,,', 'CELL_MISSING', 'station', 'a station of rail A'],
  ['unknown monument', 'S1,,,M3,,,,,,1,,', 'READING_MONUMENT_UNKNOWN', 'monument', 'M1, M2'],
  ['rail and monument', 'S1,A,1,M1,,,,1,,,,', 'READING_POINT_UNCLEAR', 'monument', 'rail A and monument M1'],
  [
    'station and monument',
    'S1,,1,M1,,,,1,,,,',
    'READING_POINT_UNCLEAR',
    'monument',
    'a station and monument M1',
  ],
  [
    'neither rail nor monument',
    'S1,,,,,,,1,,,,',
    'READING_POINT_UNCLEAR',
    'rail',
    'neither a rail nor a monument',
  ],
  ['a station alone', 'S1,,1,,,,,1,,,,', 'READING_POINT_UNCLEAR', 'rail', 'a station without its rail'],
  [
    'a monument in horizontal',
    'S1,,,M1,,,,,1,,,',
    'READING_AXIS_REFUSED',
    'horizontal',
    'monument M1; expected: along or vertical',
  ],
  ['a cross rail in horizontal', 'S1,C,1,,,,,,1,,,', 'READING_AXIS_REFUSED', 'horizontal', 'cross rail C'],
  [
    'beyond the range',
    'S1,A,1,,,,,12701,,,,',
    'READING_OUT_OF_RANGE',
    'vertical',
    '12701 µm is beyond the range of instrument L1, 12700 µm',
  ],
  [
    'use that is no word for it',
    'S1,A,1,,,,,1,,,skip,',
    'CELL_WRONG',
    'use',
    '"skip"; expected: yes, no or nothing',
  ],
  ['a time of day alone', 'S1,A,1,,,,08:12,1,,,,', 'CELL_TIME', 'time', 'Write it as 2026-03-14T08:12'],
])('%s', async (_, row, code, column, words) => {
  const list = await problems(withRow(row));
  expect(list.map((d) => d.code)).toEqual([code]);
  expect(list[0]).toMatchObject({ severity: 'error', at: { file: 'readings/as-left.csv', row: 6, column } });
  expect(list[0]!.said).toContain(words);
});

test('a near name comes first among the known ones', async () => {
  const [found] = await problems(withRow('S22,A,1,,,,,1,,,,'));
  expect(found!.said).toContain('The job declares: S2, S1.');
});

test('targets are known where the job declares them; a blank one is T', async () => {
  const declare: Change = (job) => (job.targets = [{ id: 'T1' }, { id: 'T3' }]);
  expect(await problems(CSV, declare)).toEqual([]);
  const [unknown, blank] = await problems(withRow('S1,A,1,,T2,,,1,,,,\nS1,A,1,,,,,1,,,,'), declare);
  expect(unknown).toMatchObject({ code: 'TARGET_UNKNOWN', at: { row: 6 }, data: { found: 'T2' } });
  expect(blank).toMatchObject({ code: 'TARGET_UNKNOWN', at: { row: 7 }, data: { found: 'T' } });
});

group('positions', () => {
  const csv = (position: string) => `setup,rail,position,vertical\nS1,A,${position},1\nS2,B,500,1\n`;

  test.each(['500', '500.5', '499.5', '0.5 m', '19.685 in'])('%s mm is station 2', async (position) => {
    const outcome = await loadJob(await jobFolder(csv(position)));
    expect(outcome.ok && outcome.value.readings.phases.get('as-left')![0]).toMatchObject({
      point: { station: 2 },
    });
  });

  test('any other names the nearest station and how far off it is', async () => {
    const [found] = await problems(csv('700'));
    expect(found).toMatchObject({ code: 'READING_POSITION_UNKNOWN', at: { row: 2, column: 'position' } });
    expect(found!.said).toContain('no station at 700. The nearest is station 2 at 500 mm, 200 mm away');
  });

  test('a station and another’s position contradict each other', async () => {
    const both = 'setup,rail,station,position,vertical\nS1,A,2,500,1\nS1,A,2,1000,1\nS2,A,1,,1\n';
    expect((await problems(both)).map((d) => [d.code, d.at?.row])).toEqual([['READING_POINT_UNCLEAR', 3]]);
  });
});

group('range', () => {
  test('above 80 % there is a warning, and after ten of them a count', async () => {
    const [found] = await problems(withRow('S1,A,1,,,,,-10200,,,,'));
    expect(found).toMatchObject({ code: 'READING_NEAR_RANGE', severity: 'warning', data: { percent: 80 } });
    const many = Array.from({ length: 15 }, (_, i) => `S1,A,${i + 2},,,,,${11000 + i},,,,`).join('\n');
    const list = await problems(withRow(many));
    expect(list.filter((d) => d.code === 'READING_NEAR_RANGE')).toHaveLength(10);
    expect(list.at(-1)).toMatchObject({ code: 'MORE_LIKE_THIS', severity: 'warning', data: { count: 5 } });
  });

  test('a reading at the limit is within it, in any unit', async () => {
    const list = await problems(withRow('S1,A,2,,,,,0.5in,,,,\nS1,A,3,,,,,12.7 mm,,,,'));
    expect(list.map((d) => d.code)).toEqual(['READING_NEAR_RANGE', 'READING_NEAR_RANGE']);
  });
});

group('rows that are left out', () => {
  test('their points are checked, their readings are not', async () => {
    const rows = 'S1,A,1,,,,,broken,,,no,bumped\nS1,A,99,,,,,1,,,no,';
    expect((await problems(withRow(rows))).map((d) => [d.code, d.at?.row])).toEqual([
      ['READING_STATION_UNKNOWN', 7],
    ]);
  });

  test('they are kept for the report with what they say', async () => {
    const outcome = await loadJob(await jobFolder(withRow('S1,A,1,,T9,,,99 thou,-2,,NO,bumped')));
    expect(outcome.ok && outcome.value.readings.excluded).toEqual([
      {
        source: { file: 'readings/as-left.csv', row: 6 },
        phase: 'as-left',
        what: 'A:1 from S1, target T9: vertical 99 thou, horizontal -2 µm',
        note: 'bumped',
        stations: [{ kind: 'station', rail: 'A', station: 1 }],
        setup: 'S1',
        pass: '1',
      },
    ]);
  });

  test('a set-up that only they read reads nothing', async () => {
    const csv = CSV.replaceAll(
      /^(S2.*),([^,]*)$/gm,
      (_, row: string, note: string) => `${row.slice(0, -1)},no,${note}`,
    );
    expect((await problems(csv)).map((d) => d.code)).toEqual(['SETUP_READS_NOTHING']);
  });
});

test('a row without readings is passed over with a warning', async () => {
  const list = await problems(withRow('S1,A,5,,T1,1,,,,,,'));
  expect(list.map((d) => [d.code, d.severity, d.at?.row])).toEqual([['READING_ROW_EMPTY', 'warning', 6]]);
});

test('a set-up that reads nothing is reported where it is declared', async () => {
  const list = await problems(`${HEADER}\n${ROWS[0]}\n`);
  expect(list).toMatchObject([
    { code: 'SETUP_READS_NOTHING', at: { file: 'job.json', column: 'setups[1].id' }, data: { setup: 'S2' } },
  ]);
  expect(list[0]!.at!.row).toBeGreaterThan(1);
});

test('a set-up that reads in one phase alone is enough', async () => {
  const job = madeUpJob();
  job.readings = [
    { file: 'a.csv', phase: 'as-found' },
    { file: 'b.csv', phase: 'as-left' },
  ];
  const outcome = await loadJob(
    await folderOf({ 'job.json': JSON.stringify(job), 'a.csv': CSV, 'b.csv': `${HEADER}\n${ROWS[0]}\n` }),
  );
  expect(outcome.diagnostics).toEqual([]);
  expect(outcome.ok && [...outcome.value.readings.phases].map(([name, list]) => [name, list.length])).toEqual(
    [
      ['as-found', 6],
      ['as-left', 2],
    ],
  );
});

test('a phase without a reading that is used is refused', async () => {
  const job = madeUpJob();
  job.readings.push({ file: 'found.csv', phase: 'as-found' });
  const found = `${HEADER}\n${ROWS[0]!.replace(/,,$/, ',no,')}\n`;
  const folder = await folderOf({
    'job.json': JSON.stringify(job),
    'readings/as-left.csv': CSV,
    'found.csv': found,
  });
  const list = (await loadJob(folder)).diagnostics;
  expect(list).toMatchObject([{ code: 'NO_READINGS_USED', data: { phase: 'as-found' } }]);
});

test('a form that is not filled in is said once a file, not once a row', async () => {
  const blank = ROWS.map((row) => row.replace(/,[\d.-]*,[\d.-]*,[\d.-]*,(?=[^,]*,[^,]*$)/, ',,,,'));
  const folder = await jobFolder([HEADER, ...blank].join('\n') + '\n');
  expect((await loadJob(folder)).diagnostics.map(({ code, data }) => [code, data])).toEqual([
    ['NO_READINGS_USED', { phase: 'as-left' }],
    ['READINGS_BLANK', { rows: 4 }],
  ]);
});

group('long files', () => {
  test('axis and reading', async () => {
    const csv = 'setup,rail,station,axis,reading\nS1,A,1,Vertical,3.1\nS2,A,1,HORIZONTAL,-1\n';
    const outcome = await loadJob(await jobFolder(csv));
    expect(outcome.ok && outcome.value.readings.phases.get('as-left')).toMatchObject([
      { axis: 'vertical', um: 3.1 },
      { axis: 'horizontal', um: -1 },
    ]);
  });

  test('a file without the column of rails says so', async () => {
    const list = await problems('setup,station,monument,vertical\nS1,1,,3.1\n');
    expect(describe(list.find(({ code }) => code === 'READING_POINT_UNCLEAR')!)).toBe(
      'The row names a station without its rail: the file has no column rail. Name one point in each row: a rail with a station or a position, or a monument.',
    );
  });

  test('an axis that is none, or missing', async () => {
    const csv = 'setup,rail,station,axis,reading\nS1,A,1,v,3.1\nS1,A,1,,3.1\nS2,A,1,along,1\nS1,A,1,,\n';
    expect((await problems(csv)).map((d) => [d.code, d.at?.row])).toEqual([
      ['CELL_WRONG', 2],
      ['CELL_MISSING', 3],
      ['READING_ROW_EMPTY', 5],
    ]);
  });
});

group('everything at once', () => {
  test('job file and readings together, by file and row, without what only follows', async () => {
    const list = await problems(withRow('S1,A,1,,,,,x,,,,\nS1,B,9,,,,,1,,,,\nS9,A,1,,,,,1,,,,'), (job) => {
      job.rails[0]!.stations = { first: 0, spacing: -1, count: 21 };
      job.units.reading = 'um';
      job.tolerances = [{ what: 'twist', rail: 'A', limit: 1, unit: 'um/m' }];
    });
    expect(list.map((d) => `${d.at!.file} ${d.code}`)).toEqual([
      'job.json VALUE_WRONG',
      'readings/as-left.csv CELL_NOT_A_NUMBER',
      'readings/as-left.csv READING_STATION_UNKNOWN',
      'readings/as-left.csv READING_SETUP_UNKNOWN',
    ]);
  });

  test('a mistake in every row is listed a hundred times and then counted', async () => {
    const all = await problems(withRow(Array.from({ length: 250 }, () => 'S1,A,1,,,,,x,,,,').join('\n')));
    const list = all.filter((d) => d.severity === 'error');
    expect(list).toHaveLength(101);
    expect(list.at(-1)).toMatchObject({ code: 'MORE_LIKE_THIS', severity: 'error', data: { count: 150 } });
  });

  test('without its units a job file is not followed by its readings', async () => {
    const list = await problems(withRow('S1,A,1,,,,,x,,,,'), (job) =>
      Object.assign(job, { units: undefined }),
    );
    expect(list.map((d) => d.code)).toEqual(['KEY_MISSING']);
  });
});

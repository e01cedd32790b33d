/** Everything that can be wrong with a job file: its code, its place, what stood there and what is wanted. */
import { describe as group, expect, test } from 'vitest';
import type { Diagnostic } from '../../../src/base/diagnostics/diagnostic.js';
import { describe } from '../../../src/base/diagnostics/messages.js';
import type { JobInput } from '../../../src/survey/job/job-schema.js';
import { parseJob } from '../../support/read-job.js';
import { madeUpJob } from './made-up-job.js';

/** A job as someone may write it: any shape. */
// eslint-disable-next-line @typescript-eslint/no-explicit-any
type Loose = any;

function problems(change: (job: Loose) => void): readonly Diagnostic[] {
  const job = madeUpJob() as Loose;
  change(job);
  return parseJob(JSON.stringify(job, null, 1)).diagnostics;
}

const one = (change: (job: Loose) => void): Diagnostic => {
  const list = problems(change);
  expect(list.map((d) => `${d.code} ${d.at?.column}`)).toHaveLength(1);
  return list[0]!;
};

/** what is wrong, the change that makes it so, the code, the key path, a part of what is said. */
const cases: [string, (job: Loose) => void, string, string, string][] = [
  ['unknown key', (j) => (j.tittle = 'x'), 'KEY_UNKNOWN', 'tittle', 'Did you mean "title"?'],
  [
    'unknown key unlike any',
    (j) => (j.setups[0].xyz = 1),
    'KEY_UNKNOWN',
    'setups[0].xyz',
    'Known here: id, instrument, along, across, levelled',
  ],
  [
    'unknown key inside',
    (j) => (j.instruments[0].reading.permetre = 1),
    'KEY_UNKNOWN',
    'instruments[0].reading.permetre',
    'Did you mean "perMetre"?',
  ],
  [
    'unknown key in a limit',
    (j) => (j.tolerances[0].limit = { upTo: 1, limit: 1, moer: 1, more: { each: 1, limit: 1 } }),
    'KEY_UNKNOWN',
    'tolerances[0].limit.moer',
    'Did you mean "more"?',
  ],
  ['missing key', (j) => delete j.id, 'KEY_MISSING', 'id', 'text in double quotes'],
  [
    'missing key inside',
    (j) => delete j.instruments[0].reading.u,
    'KEY_MISSING',
    'instruments[0].reading.u',
    'a number',
  ],
  ['no rails', (j) => delete j.rails, 'KEY_MISSING', 'rails', 'a list'],
  [
    'wrong type',
    (j) => (j.rails[1].across = '3200'),
    'VALUE_WRONG',
    'rails[1].across',
    'Found "3200"; expected: a number.',
  ],
  [
    'wrong type of a list',
    (j) => (j.setups = {}),
    'VALUE_WRONG',
    'setups',
    'Found {}; expected: a list in [ ].',
  ],
  ['wrong format', (j) => (j.format = 'waysheet-job/2'), 'FORMAT_UNKNOWN', 'format', '"waysheet-job/1"'],
  [
    'unknown unit',
    (j) => (j.units.length = 'cubit'),
    'UNIT_UNKNOWN',
    'units.length',
    'm mm um in ft thou'
      .split(' ')
      .map((u) => `"${u}"`)
      .join(' '),
  ],
  [
    'negative uncertainty',
    (j) => (j.instruments[0].reading.u = 0),
    'VALUE_WRONG',
    'instruments[0].reading.u',
    'more than 0',
  ],
  [
    'fraction of a station',
    (j) => (j.rails[0].stations.count = 2.5),
    'VALUE_WRONG',
    'rails[0].stations.count',
    'a whole number',
  ],
  [
    'date in another order',
    (j) => (j.surveyed = { on: '14.03.2026' }),
    'VALUE_WRONG',
    'surveyed.on',
    '2026-03-14',
  ],
  ['id that is no file name', (j) => (j.id = '../x'), 'VALUE_WRONG', 'id', 'a job id'],
  ['no datum', (j) => delete j.rails[0].datum, 'DATUM_COUNT', 'rails', 'No rail is the datum'],
  ['two datums', (j) => (j.rails[1].datum = true), 'DATUM_COUNT', 'rails[1].datum', '2 rails'],
  ['same rail id', (j) => (j.rails[1].id = 'A'), 'ID_DUPLICATE', 'rails[1].id', 'already a rail "A"'],
  ['same monument id', (j) => (j.monuments[1].id = 'M1'), 'ID_DUPLICATE', 'monuments[1].id', 'monument'],
  [
    'same instrument id',
    (j) => (j.instruments[2].id = 'E1'),
    'ID_DUPLICATE',
    'instruments[2].id',
    'instrument',
  ],
  ['same set-up id', (j) => (j.setups[1].id = 'S1'), 'ID_DUPLICATE', 'setups[1].id', 'set-up'],
  [
    'same target id',
    (j) => (j.targets = [{ id: 'T1' }, { id: 'T1' }]),
    'ID_DUPLICATE',
    'targets[1].id',
    'target',
  ],
  [
    'both kinds of stations',
    (j) => (j.rails[0].stations.at = [1]),
    'VALUE_WRONG',
    'rails[0].stations',
    'either first, spacing and count, or at',
  ],
  ['no stations', (j) => (j.rails[0].stations = {}), 'VALUE_WRONG', 'rails[0].stations', 'neither'],
  [
    'half of the stations',
    (j) => delete j.rails[0].stations.spacing,
    'KEY_MISSING',
    'rails[0].stations.spacing',
    'together',
  ],
  [
    'stations too near',
    (j) => (j.rails[0].stations.spacing = 0.4),
    'VALUE_WRONG',
    'rails[0].stations.spacing',
    'at least 0.5 mm',
  ],
  [
    'stations that go back',
    (j) => (j.rails[1].stations.at = [0, 500, 500.2]),
    'VALUE_WRONG',
    'rails[1].stations.at[2]',
    'Found 500.2 after 500',
  ],
  [
    'no place across',
    (j) => delete j.rails[1].across,
    'KEY_MISSING',
    'rails[1].across',
    'the distance across',
  ],
  [
    'place along of a rail along',
    (j) => (j.rails[1].along = 5),
    'KEY_MISPLACED',
    'rails[1].along',
    'runs along',
  ],
  [
    'cross rail without a place',
    (j) => delete j.rails[2].along,
    'KEY_MISSING',
    'rails[2].along',
    'place along',
  ],
  [
    'cross rail with two places',
    (j) => (j.rails[2].across = 1),
    'KEY_MISPLACED',
    'rails[2].across',
    'cross rail',
  ],
  [
    'set-up of no instrument',
    (j) => (j.setups[1].instrument = 'L2'),
    'ID_UNKNOWN',
    'setups[1].instrument',
    'The job declares: L1, E1, T1.',
  ],
  [
    'set-up of a level',
    (j) => (j.setups[1].instrument = 'E1'),
    'VALUE_WRONG',
    'setups[1].instrument',
    'reads lengths',
  ],
  [
    'levelled how well?',
    (j) => delete j.instruments[0].level,
    'KEY_MISSING',
    'instruments[0].level',
    'set-up S1 is levelled',
  ],
  [
    'perMetre of a level',
    (j) => (j.instruments[1].reading.perMetre = 1),
    'KEY_MISPLACED',
    'instruments[1].reading.perMetre',
    'slopes',
  ],
  [
    'range in another family',
    (j) => (j.instruments[0].range.unit = 'arcsec'),
    'UNIT_UNKNOWN',
    'instruments[0].range.unit',
    'm mm um',
  ],
  [
    'level in millimetres',
    (j) => (j.instruments[0].level.unit = 'mm'),
    'UNIT_UNKNOWN',
    'instruments[0].level.unit',
    '"arcsec"',
  ],
  [
    'slope file, no instrument',
    (j) => (j.readings[1] = { file: 'a.csv', phase: 'as-left', kind: 'slope', unit: 'um/m' }),
    'KEY_MISSING',
    'readings[1].instrument',
    'the instrument',
  ],
  [
    'slope file, no unit',
    (j) => (j.readings[1] = { file: 'a.csv', phase: 'as-left', kind: 'slope', instrument: 'E1' }),
    'KEY_MISSING',
    'readings[1].unit',
    'um/m',
  ],
  [
    'slope file in mm',
    (j) => (j.readings[1] = { file: 'a.csv', phase: 'as-left', kind: 'slope', instrument: 'E1', unit: 'mm' }),
    'UNIT_UNKNOWN',
    'readings[1].unit',
    'for slope readings',
  ],
  [
    'slopes from a tape',
    (j) =>
      (j.readings[1] = { file: 'a.csv', phase: 'as-left', kind: 'slope', instrument: 'T1', unit: 'um/m' }),
    'VALUE_WRONG',
    'readings[1].instrument',
    'T1, which reads lengths',
  ],
  [
    'against for spans',
    (j) =>
      (j.readings[1] = {
        file: 'a.csv',
        phase: 'as-left',
        kind: 'span',
        instrument: 'T1',
        unit: 'mm',
        against: 'sight',
      }),
    'KEY_MISPLACED',
    'readings[1].against',
    'slope files',
  ],
  [
    'instrument for offsets',
    (j) => (j.readings[0].instrument = 'L1'),
    'KEY_MISPLACED',
    'readings[0].instrument',
    'set-up in each row',
  ],
  [
    'file twice',
    (j) => (j.readings[1] = { file: './readings//as-left.csv', phase: 'as-left' }),
    'FILE_REPEATED',
    'readings[1].file',
    'named twice for as left',
  ],
  ['no set-ups', (j) => delete j.setups, 'KEY_MISSING', 'setups', 'where each instrument stood'],
  [
    'unknown characteristic',
    (j) => (j.tolerances[0].what = 'flatness'),
    'VALUE_WRONG',
    'tolerances[0].what',
    'straightness-vertical',
  ],
  [
    'tolerance of no rail',
    (j) => (j.tolerances[0].rail = 'D'),
    'ID_UNKNOWN',
    'tolerances[0].rail',
    'A, B, C',
  ],
  [
    'tolerance unit',
    (j) => (j.tolerances[0].unit = 'um/m'),
    'UNIT_UNKNOWN',
    'tolerances[0].unit',
    'for straightness-vertical',
  ],
  [
    'local without a window',
    (j) => (j.tolerances[0].what = 'straightness-vertical-local'),
    'KEY_MISSING',
    'tolerances[0].over',
    'window',
  ],
  [
    'window of the whole',
    (j) => (j.tolerances[0].over = { length: 1, unit: 'm' }),
    'KEY_MISPLACED',
    'tolerances[0].over',
    '-local',
  ],
  [
    'reference of twist',
    (j) => (j.tolerances[0] = { what: 'twist', rail: 'B', limit: 1, unit: 'um/m', reference: 'end-points' }),
    'KEY_MISPLACED',
    'tolerances[0].reference',
    'no choice of reference',
  ],
  [
    'end points of a plane',
    (j) =>
      (j.tolerances[0] = { what: 'coplanarity', rail: 'B', limit: 1, unit: 'um', reference: 'end-points' }),
    'VALUE_WRONG',
    'tolerances[0].reference',
    'least-squares minimum-zone',
  ],
  [
    'datum against itself',
    (j) => (j.tolerances[0] = { what: 'twist', rail: 'A', limit: 1, unit: 'um/m' }),
    'TOLERANCE_NOT_APPLICABLE',
    'tolerances[0].rail',
    'it is the datum rail',
  ],
  [
    'cross rail against datum',
    (j) => (j.tolerances[0] = { what: 'span', rail: 'C', limit: 1, unit: 'um' }),
    'TOLERANCE_NOT_APPLICABLE',
    'tolerances[0].rail',
    'it is a cross rail',
  ],
  [
    'squareness of a rail along',
    (j) => (j.tolerances[0] = { what: 'squareness', rail: 'B', limit: 1, unit: 'um/m' }),
    'TOLERANCE_NOT_APPLICABLE',
    'tolerances[0].rail',
    'it runs along',
  ],
  [
    'cross-level at no distance',
    (j) => {
      j.rails[1].across = 0;
      j.tolerances[0] = { what: 'cross-level', rail: 'B', limit: 1, unit: 'um/m' };
    },
    'TOLERANCE_NOT_APPLICABLE',
    'tolerances[0].rail',
    'no distance across',
  ],
  [
    'two limits for one thing',
    (j) => (j.tolerances[1] = { ...j.tolerances[0], limit: 5 }),
    'ID_DUPLICATE',
    'tolerances[1].what',
    'already a tolerance',
  ],
  [
    'limit that shrinks',
    (j) => (j.tolerances[0].limit = { upTo: 1, limit: 9, more: { each: 1, limit: 1 }, most: 8 }),
    'VALUE_WRONG',
    'tolerances[0].limit.most',
    'at least the limit 9',
  ],
  [
    'limit of no kind',
    (j) => (j.tolerances[0].limit = '40'),
    'VALUE_WRONG',
    'tolerances[0].limit',
    'a number, or an object',
  ],
  [
    'hostile key',
    (j) => Object.defineProperty(j, '__proto__', { value: { polluted: 1 }, enumerable: true }),
    'KEY_UNKNOWN',
    '__proto__',
    'not known',
  ],
];

test.each(cases)('%s', (_, change, code, column, words) => {
  const found = one(change);
  expect(found.code).toBe(code);
  expect(found.at?.column).toBe(column);
  expect(found.at?.file).toBe('job.json');
  expect(found.at?.row).toBeGreaterThan(0);
  expect(describe(found)).toContain(words);
});

test('a tolerance that no rail of the job can have is passed over with a warning', () => {
  const found = one((j) => {
    j.rails.pop();
    j.tolerances[0] = { what: 'squareness', limit: 1, unit: 'um/m' };
  });
  expect(found).toMatchObject({ code: 'TOLERANCE_NOT_APPLICABLE', severity: 'warning' });
});

test('calibration overdue on the day of the survey is a warning', () => {
  const found = one((j) => {
    j.surveyed = { on: '2026-10-01' };
    j.instruments[0].calibrationDue = '2026-09-30';
  });
  expect(found).toMatchObject({ code: 'CALIBRATION_OVERDUE', severity: 'warning' });
});

group('all problems at once, and no noise that follows from the first', () => {
  test('schema and cross checks together, in the order of the lines', () => {
    const list = problems((j) => {
      j.tittle = 1;
      j.rails[0].datum = false;
      j.setups[1].instrument = 'L2';
      j.tolerances[0].unit = 'arcsec';
      j.instruments[0].reading.u = 'x';
    });
    expect(list.map((d) => d.code).sort()).toEqual(
      ['DATUM_COUNT', 'ID_UNKNOWN', 'KEY_UNKNOWN', 'UNIT_UNKNOWN', 'VALUE_WRONG'].sort(),
    );
    const rows = list.map((d) => d.at!.row!);
    expect(rows).toEqual([...rows].sort((a, b) => a - b));
  });

  test('a faulty instrument is still known by its id', () => {
    expect(one((j) => (j.instruments[0].reading.u = 'x')).code).toBe('VALUE_WRONG');
  });

  test('an instrument without an id leaves open which one a set-up means', () => {
    expect(one((j) => delete j.instruments[0].id).code).toBe('KEY_MISSING');
  });

  test('a misspelt datum mark is not also a missing datum', () => {
    const list = problems((j) => {
      j.rails[0].datun = true;
      delete j.rails[0].datum;
    });
    expect(list.map((d) => d.code)).toEqual(['KEY_UNKNOWN']);
  });
});

test('every mistake of the table at once is still one list', () => {
  const job = madeUpJob() as Loose;
  for (const [, change] of cases) {
    try {
      change(job);
    } catch {
      // a change may find its place gone
    }
  }
  expect(parseJob(JSON.stringify(job)).ok).toBe(false);
});

test('the made-up job itself is sound', () => {
  const settled = parseJob(JSON.stringify(madeUpJob() satisfies JobInput));
  expect(settled.diagnostics).toEqual([]);
  expect(settled.ok).toBe(true);
});

test('faults of the units and two datum rails bring no others after them', () => {
  const codes = (change: (job: Loose) => void) => problems(change).map((d) => `${d.code} ${d.at?.column}`);
  expect(codes((j) => delete j.units.reading)).toEqual(['KEY_MISSING units.reading']);
  expect(
    codes((j) => {
      j.rails[1].datum = true;
      j.tolerances = [{ what: 'twist', rail: 'B', limit: 1, unit: 'um/m' }];
    }),
  ).toEqual(['DATUM_COUNT rails[1].datum']);
  const [spacing] = problems((j) => {
    delete j.units.reading;
    j.rails[0].stations.spacing = 0.1;
  }).filter((d) => d.code === 'VALUE_WRONG');
  expect(describe(spacing!)).toContain('0.5 mm');
});

test.each(['constructor', 'toString', 'hasOwnProperty', 'valueOf'])(
  'a key that every object of the language has, %s: an unknown key like any other',
  (key) => {
    const parsed = parseJob(JSON.stringify({ [key]: { length: 'mm', unit: 'mm' }, units: { [key]: 'mm' } }));
    expect(parsed.ok).toBe(false);
    expect(parsed.diagnostics.map(({ code }) => code)).toContain('KEY_UNKNOWN');
  },
);

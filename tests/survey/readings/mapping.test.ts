/**
 * Foreign files: each goes through loading, by a mapping in job.json, to the same readings as
 * the plain file, or to the stated refusal.
 */
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe as group, expect, test } from 'vitest';
import { Findings } from '../../../src/base/diagnostics/diagnostic.js';
import { describe } from '../../../src/base/diagnostics/messages.js';
import type { JobInput } from '../../../src/survey/job/job-schema.js';
import { frameOf, parseJob } from '../../support/read-job.js';
import { resolveJob } from '../../../src/survey/job/resolve-job.js';
import { loadFiles as loadJob } from '../../support/load-files.js';
import { parseReadings } from '../../../src/survey/readings/parse-readings.js';
import type { Reading } from '../../../src/survey/readings/readings.js';
import type { Sink } from '../../../src/survey/readings/sink.js';
import { jobFolder, madeUpJob } from '../job/made-up-job.js';
import { changeJob, copyOf, resultsOf } from '../../support/folders.js';

type Entry = JobInput['readings'][number];
type Mapping = Pick<
  Entry,
  'columns' | 'rows' | 'values' | 'ignore' | 'dates' | 'unit' | 'kind' | 'instrument'
>;

const oneSetup = (job: JobInput): void => {
  job.setups = job.setups!.slice(0, 1);
};

async function load(csv: string | Uint8Array, mapping: Mapping = {}) {
  const folder = await jobFolder(csv, (job) => {
    oneSetup(job);
    Object.assign(job.readings[0]!, mapping);
  });
  const outcome = await loadJob(folder);
  const diagnostics = outcome.diagnostics.map((d) =>
    `${d.at?.file === 'job.json' ? 'job.json' : d.at?.row}: ${d.code} ${d.at?.column ?? ''}`.trim(),
  );
  const said = outcome.diagnostics.map((d) => describe(d));
  if (!outcome.ok) return { diagnostics, said, readings: null, rows: null, read: '', excluded: [] };
  const { readings, inputs } = outcome.value;
  const list = [...readings.phases.get('as-left')!];
  return {
    diagnostics,
    said,
    readings: keys(list),
    rows: list.map((r) => r.source.row),
    read: inputs.at(-1)!.read,
    excluded: readings.excluded,
  };
}

/** Everything but the line and the order, in which sheets differ. */
const keys = (list: readonly Reading[]): string[] =>
  list
    .map((r) => {
      // eslint-disable-next-line @typescript-eslint/no-unused-vars
      const { source, ...rest } = r;
      const rounded = 'um' in rest ? { ...rest, um: Number(rest.um.toPrecision(12)) } : rest;
      return JSON.stringify(rounded);
    })
    .sort();

/** Stations 1 to 3 of two rails, two passes, both planes. */
const PLAIN = [
  'setup,rail,station,target,pass,vertical,horizontal,note',
  'S1,A,1,T1,1,3.1,-1.2,',
  'S1,A,2,T1,1,4.5,0.25,x',
  'S1,A,3,T1,1,5.75,2,',
  'S1,B,1,T1,1,-3.1,-11.2,',
  'S1,B,2,T1,1,-4.5,10.25,x',
  'S1,B,3,T1,1,-5.75,12,',
  'S1,A,1,T1,2,3.3,-1.5,',
  'S1,A,2,T1,2,4.6,0.5,x',
  'S1,A,3,T1,2,5.5,2.25,',
  'S1,B,1,T1,2,-3.3,-11.5,',
  'S1,B,2,T1,2,-4.6,10.5,x',
  'S1,B,3,T1,2,-5.5,12.25,',
].join('\n');

const T1 = { setup: 'S1', target: 'T1' };

/** A row of the sheet for each station; a column for each rail, pass and plane. */
const WIDE = [
  'Stn No.,A V1,A H1,A V2,A H2,B V1,B H1,B V2,B H2,Remarks',
  '1,3.1,-1.2,3.3,-1.5,-3.1,-11.2,-3.3,-11.5,',
  '2,4.5,0.25,4.6,0.5,-4.5,10.25,-4.6,10.5,x',
  '3,5.75,2,5.5,2.25,-5.75,12,-5.5,12.25,',
].join('\n');
const WIDE_MAPPING: Mapping = {
  columns: { station: 'Stn No.', note: 'Remarks' },
  values: T1,
  rows: ['A', 'B'].flatMap((rail) =>
    ['1', '2'].map((pass) => ({
      columns: { vertical: `${rail} V${pass}`, horizontal: `${rail} H${pass}` },
      values: { rail, pass },
    })),
  ),
};

/** The same as a logger writes it: a reading a line, its own words, the day apart. */
const LOGGER = [
  'Survey 77;;;;;',
  'Place;Track;Trial;Plane;Result;Memo;Battery',
  ...PLAIN.split('\n')
    .slice(1)
    .flatMap((line) => {
      const [, rail, station, , pass, v, h, note] = line.split(',') as string[];
      const place = String((Number(station) - 1) * 0.5).replace('.', ',');
      return [
        `${place};${rail === 'A' ? 'Left' : 'Right'};${pass};Up/down;${v!.replace('.', ',')};${note};99`,
        `${place};${rail === 'A' ? 'Left' : 'Right'};${pass};Sideways;${h!.replace('.', ',')};${note};98`,
      ];
    }),
].join('\n');
const LOGGER_MAPPING: Mapping = {
  columns: {
    position: { column: 'Place', unit: 'm' },
    rail: { column: 'Track', words: { Left: 'A', Right: 'B' } },
    pass: 'Trial',
    axis: { column: 'Plane', words: { 'Up/down': 'vertical', Sideways: 'horizontal' } },
    reading: 'Result',
    note: 'Memo',
  },
  values: T1,
  ignore: ['Battery'],
};

/** The plain file with some of its columns under other names. */
const renamed = (names: Record<string, string>) => {
  const [header, ...rows] = PLAIN.split('\n');
  return [
    header!
      .split(',')
      .map((name) => names[name] ?? name)
      .join(','),
    ...rows,
  ].join('\n');
};
const without = (column: string) => {
  const at = PLAIN.split('\n')[0]!.split(',').indexOf(column);
  return PLAIN.split('\n')
    .map((line) =>
      line
        .split(',')
        .filter((_, i) => i !== at)
        .join(','),
    )
    .join('\n');
};
const inMm = (csv: string) => csv.replace(/(?<=,)-?\d+(?:\.\d+)?(?=,(?!T))/g, (n) => n);

const accepted: [string, string | Uint8Array, Mapping][] = [
  ['the plain file', PLAIN, {}],
  [
    'other names',
    renamed({ station: 'Stn', vertical: 'Vert. rdg' }),
    { columns: { station: 'Stn', vertical: 'Vert. rdg' } },
  ],
  [
    'names in other case and with other blanks',
    renamed({ station: 'STN   No' }),
    { columns: { station: 'stn no' } },
  ],
  ['a name over two lines', renamed({ vertical: '"Vert.\nrdg"' }), { columns: { vertical: 'Vert. rdg' } }],
  [
    'a micro sign of the other kind',
    renamed({ vertical: 'V \u03bcm' }),
    { columns: { vertical: 'V \u00b5m' } },
  ],
  ['a set-up that the file does not say', without('setup'), { values: { setup: 'S1' } }],
  [
    'columns that are left out on purpose',
    PLAIN.replace(/$/gm, ',7').replace(',7', ',Operator'),
    { ignore: ['Operator'] },
  ],
  [
    'a column of ours that does not count',
    renamed({ note: 'monument' }).replaceAll(',x', ',?'),
    { ignore: ['monument'], values: { note: '' } },
  ],
  ['a wide sheet', WIDE, WIDE_MAPPING],
  [
    'a wide sheet in UTF-16 with tabs and decimal commas',
    Buffer.from(`\ufeff${WIDE.replaceAll(',', '\t').replaceAll('.', ',').replace('No,', 'No.')}`, 'utf16le'),
    WIDE_MAPPING,
  ],
  [
    'a wide sheet with the same names under each rail',
    ['Rail A,,,,Rail B', WIDE.replace('A V1,A H1,A V2,A H2,B V1,B H1,B V2,B H2', 'V,H,V,H,V,H,V,H')].join(
      '\n',
    ),
    {
      ...WIDE_MAPPING,
      rows: WIDE_MAPPING.rows!.map(({ values }, i) => ({
        columns: { vertical: { column: 'V', nth: i + 1 }, horizontal: { column: 'H', nth: i + 1 } },
        values,
      })),
    },
  ],
  ['a logger’s file', LOGGER, LOGGER_MAPPING],
  [
    'a unit that only the mapping says',
    inMm(renamed({ vertical: 'V (microns)' })),
    { columns: { vertical: { column: 'V (microns)', unit: 'um' } } },
  ],
  [
    'a unit at the end of the header that is the file’s own',
    renamed({ vertical: 'V_um', horizontal: 'H - microns' }),
    { columns: { vertical: 'V_um', horizontal: 'H - microns' } },
  ],
];

/** Of files whose notes are not the plain file's. */
const bare = (list: readonly string[] | null) =>
  list?.map((line) => line.replace(/"note":"[^"]*"/, '"note":""')).sort();

test.each(accepted)('%s: the same readings', async (quirk, csv, mapping) => {
  const plain = await load(PLAIN);
  const values = mapping.values?.note === '' ? { ...mapping, values: undefined } : mapping;
  const found = await load(csv, values as Mapping);
  expect(found.diagnostics).toEqual([]);
  expect(plain.readings).toHaveLength(24);
  if (quirk.includes('does not count')) expect(bare(found.readings)).toEqual(bare(plain.readings));
  else expect(found.readings).toEqual(plain.readings);
});

const change = (text: string, from: string, to: string) => {
  if (!text.includes(from)) throw new Error(from);
  return text.replace(from, to);
};

/** quirk, file, mapping, the diagnostics, part of what is said */
const refused: [string, string, Mapping, string[], string][] = [
  [
    'a header that the file has not',
    WIDE,
    { ...WIDE_MAPPING, columns: { station: 'Stn Nr.', note: 'Remarks' } },
    ['1: CSV_MAPPED_MISSING Stn Nr.', '1: CSV_COLUMN_UNKNOWN Stn No.'],
    'which job.json names for station. Did you mean "Stn No."?',
  ],
  [
    'a column that nothing is said of',
    change(WIDE, 'Remarks', 'Operator'),
    { ...WIDE_MAPPING, columns: { station: 'Stn No.' } },
    ['1: CSV_COLUMN_UNKNOWN Operator'],
    'or list it under "ignore"',
  ],
  [
    'two columns of the name',
    change(WIDE, 'A V2', 'A V1'),
    {
      ...WIDE_MAPPING,
      rows: WIDE_MAPPING.rows!.slice(0, 1),
      ignore: ['A H2', 'B V1', 'B H1', 'B V2', 'B H2'],
    },
    ['1: CSV_MAPPED_UNCLEAR A V1'],
    'There are 2 columns "A V1"',
  ],
  [
    'a column of ours beside a mapped one',
    change(PLAIN, 'note', 'Stn'),
    { columns: { station: 'Stn' } },
    ['1: CSV_COLUMN_OVERRULED station'],
    'list the column under "ignore"',
  ],
  [
    'a column of ours beside a fixed value',
    PLAIN,
    { values: { setup: 'S1' } },
    ['1: CSV_COLUMN_OVERRULED setup'],
    'takes setup from elsewhere: "S1"',
  ],
  [
    'something every row needs that nothing says',
    WIDE,
    { ...WIDE_MAPPING, values: { target: 'T1' } },
    ['1: CSV_COLUMN_MISSING'],
    'A column is missing: setup',
  ],
  [
    'readings of a wide sheet without their axis',
    'Stn,P1,P2\n1,2,3\n2,3,4\n',
    {
      columns: { station: 'Stn' },
      values: { ...T1, rail: 'A' },
      rows: [{ columns: { reading: 'P1' } }, { columns: { reading: 'P2' } }],
    },
    ['1: CSV_COLUMN_MISSING'],
    'axis with reading',
  ],
  [
    'a header with a unit that may be two',
    change(WIDE, 'A V1', 'A V1 (mils)'),
    {
      ...WIDE_MAPPING,
      rows: [{ columns: { vertical: 'A V1 (mils)' }, values: { rail: 'A' } }],
      ignore: ['A H1', 'A V2', 'A H2', 'B V1', 'B H1', 'B V2', 'B H2'],
    },
    ['1: UNIT_UNKNOWN A V1 (mils)'],
    'expected: the unit next to the column in job.json',
  ],
  [
    'a unit at the end of the header that is not the file’s',
    renamed({ vertical: 'V_mm' }),
    { columns: { vertical: 'V_mm' } },
    ['1: UNIT_UNKNOWN V_mm'],
    '"column": "V_mm", "unit": "mm"',
  ],
  [
    'a unit in the header that contradicts the entry',
    renamed({ vertical: 'V (mm)' }),
    { columns: { vertical: 'V (mm)' }, unit: 'um' },
    ['1: CSV_UNIT_CLASH V (mm)'],
    'in mm, but job.json says that the file is in um',
  ],
  [
    'a bad cell of a wide sheet: its own header',
    change(WIDE, '-4.6', '-4.6.'),
    WIDE_MAPPING,
    ['3: CELL_NOT_A_NUMBER B V2'],
    '"-4.6."',
  ],
  [
    'a bad station of a wide sheet: said once for each rail',
    change(WIDE, '\n3,', '\n22,'),
    WIDE_MAPPING,
    ['4: READING_STATION_UNKNOWN Stn No.', '4: READING_STATION_UNKNOWN Stn No.'],
    'rail A has stations 1 to 21. Did you mean 21?',
  ],
  [
    'a fixed value that the job does not know: said once, where it stands',
    without('setup'),
    { values: { setup: 'S9' } },
    ['job.json: READING_SETUP_UNKNOWN readings[0].values.setup'],
    'There is no set-up "S9". The job declares: S1.',
  ],
  [
    'a row that is too long in a wide sheet',
    change(WIDE, '3.1,', '3,1,'),
    WIDE_MAPPING,
    ['2: CSV_ROW_LENGTH'],
    'decimal comma',
  ],
  [
    'a header that is not found at all',
    'a,b\n1,2\n',
    WIDE_MAPPING,
    ['1: CSV_COLUMN_MISSING'],
    'Stn No., Remarks, A V1',
  ],
];

test.each(refused)('%s is refused', async (_, csv, mapping, diagnostics, words) => {
  const found = await load(csv, mapping);
  expect(found.readings).toBeNull();
  expect(found.diagnostics).toEqual(diagnostics);
  expect(found.said[0]).toContain(words);
});

group('a wide sheet', () => {
  test('says how it was read, and rows are those of the real file', async () => {
    const found = await load(`title\n\n${WIDE}`, WIDE_MAPPING);
    expect(found.read).toBe(
      'UTF-8, comma, decimal point, 1 line above the header, columns as job.json maps them, each row read as 4',
    );
    expect(found.rows).toEqual([4, 5, 6].flatMap((row) => Array.from({ length: 8 }, () => row)));
  });

  test('blank cells are not read, also where their rail has no such station', async () => {
    const found = await load(`${WIDE}\n5,1,2,3,4,,,,,\n`, WIDE_MAPPING);
    expect(found.diagnostics).toEqual([]);
    expect(found.rows!.filter((row) => row === 5)).toHaveLength(4);
  });

  test('a row without any reading is warned of once', async () => {
    const found = await load(`${WIDE}\n4,,,,,,,,,\n`, WIDE_MAPPING);
    expect(found.diagnostics).toEqual(['5: READING_ROW_EMPTY']);
  });

  test('a whole pass can be left out by a person, with a note', async () => {
    const rows = WIDE_MAPPING.rows!.map((row, i) =>
      i === 1 ? { ...row, values: { ...row.values, use: 'no' } } : row,
    );
    const found = await load(WIDE, { ...WIDE_MAPPING, rows });
    expect(found.readings).toHaveLength(18);
    expect(found.excluded).toHaveLength(3);
    expect(found.excluded[1]).toMatchObject({
      source: { row: 3 },
      what: 'A:2 from S1, target T1, pass 2: vertical 4.6 µm, horizontal 0.5 µm',
      note: 'x',
    });
  });

  test('a row says more than the entry', async () => {
    const csv = 'Stn,P1,P2\n1,2,3\n';
    const found = await load(csv, {
      columns: { station: 'Stn' },
      values: { setup: 'S1', rail: 'A', axis: 'vertical', target: 'T1' },
      rows: [
        { columns: { reading: 'P1' } },
        { columns: { reading: 'P2' }, values: { target: 'T2', pass: '2' } },
      ],
    });
    expect(found.readings!.map((r) => (JSON.parse(r) as { target: string }).target)).toEqual(['T1', 'T2']);
  });

  test('units differ from column to column', async () => {
    const csv = 'Dist (m),P1 (thou),P2\n0.5,1,25.4\n';
    const found = await load(csv, {
      columns: { position: 'Dist (m)' },
      values: { ...T1, rail: 'A', axis: 'vertical' },
      rows: [{ columns: { reading: 'P1 (thou)' } }, { columns: { reading: 'P2' }, values: { pass: '2' } }],
    });
    expect(found.diagnostics).toEqual([]);
    expect(found.read).toContain('position in m, reading in thou');
    expect(found.readings!.map((r) => (JSON.parse(r) as { um: number }).um)).toEqual([25.4, 25.4]);
  });
});

test('slopes and spans are mapped alike', async () => {
  const slope = await load('From,To,Rail,Tilt\n1,2,A,3.5\n2,3,A,4.5\n', {
    kind: 'slope',
    instrument: 'E1',
    unit: 'um/m',
    columns: { from_station: 'From', to_station: 'To', from_rail: 'Rail', to_rail: 'Rail', slope: 'Tilt' },
    values: { axis: 'vertical' },
  } as Mapping);
  expect(slope.diagnostics).toEqual(['job.json: SETUP_READS_NOTHING setups[0].id']);
  const span = await load('Stn,1st (mm),2nd (mm)\n1,3200.1,3200.2\n', {
    kind: 'span',
    instrument: 'T1',
    unit: 'mm',
    columns: { station: 'Stn' },
    values: { rail: 'A', other: 'B' },
    rows: [{ columns: { span: '1st (mm)' } }, { columns: { span: '2nd (mm)' }, values: { pass: '2' } }],
  } as Mapping);
  expect(span.diagnostics).toEqual(['job.json: SETUP_READS_NOTHING setups[0].id']);
});

test('a sample rewritten as a wide sheet: the same results', async () => {
  const [plain, wide] = [await copyOf('TH-0412'), await copyOf('TH-0412')];
  const read = async (folder: string) =>
    (await readFile(join(folder, 'readings/as-left.csv'), 'utf8'))
      .trimEnd()
      .split('\n')
      .slice(1)
      .map((line) => line.split(','))
      .filter((cells) => cells[10] !== 'no');
  const rows = await read(wide);
  const groups = ['A', 'B'].flatMap((rail) => ['1', '2'].map((pass) => ({ rail, pass })));
  const sheet = Array.from({ length: 9 }, (_, k) => [
    String(k + 1),
    ...groups.flatMap(({ rail, pass }) => {
      const row = rows.find((r) => r[1] === rail && r[2] === String(k + 1) && r[5] === pass)!;
      return [row[7]!.replace('.', ','), row[8]!.replace('.', ',')];
    }),
  ]);
  const header = ['Stn', ...groups.flatMap(({ rail, pass }) => [`${rail}V${pass}`, `${rail}H${pass}`])];
  const text = [header, ...sheet].map((cells) => cells.join(';')).join('\r\n');
  await writeFile(join(wide, 'readings/as-left.csv'), text);
  await changeJob(wide, (job: JobInput) => {
    Object.assign(job.readings[0]!, {
      columns: { station: 'Stn' },
      values: { setup: 'S1', target: 'T1' },
      rows: groups.map((values) => ({
        columns: {
          vertical: `${values.rail}V${values.pass}`,
          horizontal: `${values.rail}H${values.pass}`,
        },
        values,
      })),
    });
  });
  // The readings come in another order, which moves the last digits of sums.
  const rounded = (value: unknown): unknown =>
    JSON.parse(
      JSON.stringify(value, (_, v: unknown) => (typeof v === 'number' ? Number(v.toPrecision(9)) : v)),
    );
  const [one, other] = [await resultsOf(plain), await resultsOf(wide)].map((r) => r.phases['as-left']!);
  // Lines of a file are where they are: the wide sheet has others, in another order and with other placings of the target.
  const figures = (list: object[]) =>
    rounded(list.map((made) => ({ ...made, readings: null, holdsUpTo: null })));
  expect(figures(other!.characteristics)).toEqual(figures(one!.characteristics));
  expect(rounded(other!.setups)).toEqual(rounded(one!.setups));
});

group('dates', () => {
  const csv = (date: string, time: string) =>
    `setup,rail,station,vertical,Day,Clock\nS1,A,1,1,${date},${time}\n`;
  const columns = { date: 'Day', time: 'Clock' };
  const timeOf = async (date: string, time: string, dates?: 'day-month' | 'month-day') => {
    const found = await load(csv(date, time), { columns, ...(dates && { dates }) });
    return found.readings === null
      ? found.diagnostics
      : (JSON.parse(found.readings[0]!) as { time: string }).time;
  };

  test.each([
    ['2026-03-14', '08:12', undefined, '2026-03-14 08:12'],
    ['2026-03-14', '', undefined, '2026-03-14'],
    ['14/03/2026', '8:12', 'day-month', '2026-03-14T08:12'],
    ['03/04/2026', '08:12:30', 'day-month', '2026-04-03T08:12:30'],
    ['03/04/2026', '08:12', 'month-day', '2026-03-04T08:12'],
    ['3.4.2026', '', 'day-month', '2026-04-03'],
    ['03/14/2026', '12:05 AM', 'month-day', '2026-03-14T00:05'],
    ['03/14/2026', '1:05 pm', 'month-day', '2026-03-14T13:05'],
    ['2026/03/14', '9:05', 'day-month', '2026-03-14T09:05'],
  ] as const)('%s %s, %s: %s', async (date, time, order, iso) => {
    expect(await timeOf(date, time, order)).toBe(iso);
  });

  test.each([
    ['03/04/2026', '08:12', undefined],
    ['14/03/2026', '08:12', 'month-day'],
    ['31/02/2026', '08:12', 'day-month'],
    ['14/03/26', '08:12', 'day-month'],
    ['14/03-2026', '08:12', 'day-month'],
    ['14/03/2026', '13:12 PM', 'day-month'],
    ['14/03/2026', '25:12', 'day-month'],
    ['', '08:12', 'day-month'],
  ] as const)('%s %s, %s is refused', async (date, time, order) => {
    expect(await timeOf(date, time, order)).toEqual(['2: CELL_TIME Clock']);
  });
});

group('any good file rewritten as a wide sheet', () => {
  const settled = resolveJob({ ...madeUpJob(), setups: madeUpJob().setups!.slice(0, 1) });
  if (!settled.ok) throw new Error(JSON.stringify(settled.diagnostics));
  const read = (csv: string, mapping: object) => {
    const job = madeUpJob();
    Object.assign(job.readings[0]!, mapping);
    const outcome = resolveJob(job);
    if (!outcome.ok) throw new Error(JSON.stringify(outcome.diagnostics));
    const frame = frameOf(outcome.value);
    const findings = new Findings();
    const sink: Sink = { readings: [], excluded: [], checks: [], setupsSeen: new Set() };
    parseReadings(Buffer.from(csv), frame.files[0]!, frame, sink, findings);
    expect(findings.list.map((d) => [d.code, describe(d)])).toEqual([]);
    return keys(sink.readings);
  };

  const tenths = fc.integer({ min: -9999, max: 9999 }).map((n) => n / 10);
  const header = fc.string({ minLength: 1, maxLength: 12 }).filter((s) => {
    const text = s.normalize('NFKC').trim();
    // No name of ours, no unit, nothing that a header cannot hold as it stands.
    return text === s && /^[\p{L}\p{N} .#/&+-]+$/u.test(s) && /\p{L}/u.test(s);
  });
  const columnsOf = (job: { readonly rails: readonly string[]; readonly passes: number }) =>
    job.rails.flatMap((rail) =>
      Array.from({ length: job.passes }, (_, p) => ({ rail, pass: String(p + 1) })),
    );

  test('gives the same readings, whatever its columns are called and however its numbers are written', () => {
    let runs = 0;
    fc.assert(
      fc.property(
        fc.record({
          rails: fc.constantFrom(['A'], ['B'], ['A', 'B'], ['B', 'A']),
          passes: fc.integer({ min: 1, max: 3 }),
          stations: fc.uniqueArray(fc.integer({ min: 1, max: 4 }), { minLength: 1, maxLength: 4 }),
          values: fc.array(tenths, { minLength: 48, maxLength: 48 }),
          blanks: fc.array(fc.boolean(), { minLength: 48, maxLength: 48 }),
          headers: fc.uniqueArray(header, {
            minLength: 14,
            maxLength: 14,
            selector: (s) => s.toLowerCase().replace(/\s+/g, ' '),
          }),
          delimiter: fc.constantFrom(',', ';', '\t'),
          comma: fc.boolean(),
          shuffle: fc.array(fc.nat(1000), { minLength: 14, maxLength: 14 }),
        }),
        ({ rails, passes, stations, values, blanks, headers, delimiter, comma, shuffle }) => {
          runs++;
          const groups = columnsOf({ rails, passes });
          const value = (s: number, g: number, axis: number): number | null => {
            const i = (s * groups.length + g) * 2 + axis;
            return blanks[i]! && i > 0 ? null : values[i]!;
          };
          const long = ['setup,rail,station,pass,vertical,horizontal'];
          for (const [s, station] of stations.entries()) {
            for (const [g, { rail, pass }] of groups.entries()) {
              const [v, h] = [value(s, g, 0), value(s, g, 1)];
              if (v !== null || h !== null) long.push(`S1,${rail},${station},${pass},${v ?? ''},${h ?? ''}`);
            }
          }
          // Marks the decimal in each number, so that the file shows which mark it uses.
          const decimal = comma && delimiter !== ',' ? ',' : '.';
          const text = (n: number | null) => (n === null ? '' : n.toFixed(1).replace('.', decimal));
          const stationHeader = `${headers[0]!} q`;
          const name = (g: number, axis: number) => `${headers[1 + 2 * g + axis]!} q`;
          const cells = (of: (g: number, axis: number) => string) =>
            groups.flatMap((_, g) => [of(g, 0), of(g, 1)]);
          const sheet = [
            [stationHeader, ...cells(name)],
            ...stations.map((station, s) => [
              String(station),
              ...cells((g, axis) => text(value(s, g, axis))),
            ]),
          ];
          const order = sheet[0]!.map((_, i) => i).sort((a, b) => shuffle[a]! - shuffle[b]! || a - b);
          const rows = sheet.filter((row, i) => i === 0 || row.slice(1).some((cell) => cell !== ''));
          const csv = `${rows.map((row) => order.map((i) => row[i]).join(delimiter)).join('\n')}\n`;
          const mapping = {
            columns: { station: stationHeader },
            values: { setup: 'S1' },
            rows: groups.map((values, g) => ({
              columns: { vertical: name(g, 0), horizontal: name(g, 1) },
              values,
            })),
          };
          expect(read(csv, mapping)).toEqual(read(`${long.join('\n')}\n`, {}));
        },
      ),
      { numRuns: 200 },
    );
    console.log(`wide sheets: ${runs} cases`);
  });
});

group('mutations', () => {
  const read = (csv: string, mapping: unknown) => {
    const job = { ...madeUpJob(), readings: [{ ...madeUpJob().readings[0], ...(mapping as object) }] };
    const outcome = parseJob(JSON.stringify(job));
    expect(outcome.diagnostics.every((d) => describe(d) !== '')).toBe(true);
    if (!outcome.ok) return null;
    const frame = frameOf(outcome.value);
    const findings = new Findings();
    const sink: Sink = { readings: [], excluded: [], checks: [], setupsSeen: new Set() };
    const table = parseReadings(Buffer.from(csv), frame.files[0]!, frame, sink, findings);
    expect(findings.list.every((d) => describe(d) !== '')).toBe(true);
    return table === null || findings.hasErrors ? null : bare(keys(sink.readings))!;
  };
  const sound = new Set(read(WIDE, WIDE_MAPPING));
  let cases = 0;

  test('a character too many or too few in a wide sheet: the same numbers, or a refusal', () => {
    // Only a digit lost or added within a number is beyond noticing.
    const marks = [',', ';', '"', '\n', '\t', '\0', '-', "'", 'x'];
    for (let i = 0; i <= WIDE.length; i++) {
      for (const mark of marks) {
        cases++;
        const isNote = i >= WIDE.indexOf(',x') && WIDE.slice(i).startsWith('\n');
        if (mark === '-' && /^[\d.]/.test(WIDE.slice(i)) && /[,\n]$/.test(WIDE.slice(0, i))) continue;
        const found = read(WIDE.slice(0, i) + mark + WIDE.slice(i), WIDE_MAPPING);
        const wrong = (found ?? []).filter((reading) => !sound.has(reading));
        if (wrong.length > 0 && !isNote) expect.fail(`${JSON.stringify(mark)} at ${i}: ${wrong.join('\n')}`);
      }
      if (/[\d.-]/.test(WIDE[i] ?? '') && i > WIDE.indexOf('\n')) continue;
      cases++;
      const found = read(WIDE.slice(0, i) + WIDE.slice(i + 1), WIDE_MAPPING);
      const wrong = (found ?? []).filter((reading) => !sound.has(reading));
      if (wrong.length > 0) expect.fail(`without ${i}: ${wrong.join('\n')}`);
    }
    expect(sound.size).toBe(24);
  });

  test('a mapping with anything at all in it: never a crash', () => {
    const header = fc.constantFrom(...WIDE.split('\n')[0]!.split(','), 'no such', '', '__proto__');
    const name = fc.constantFrom(
      'station',
      'vertical',
      'horizontal',
      'reading',
      'axis',
      'note',
      'use',
      'time',
      'date',
      'rail',
    );
    const column = fc.oneof(
      header,
      fc.record(
        {
          column: header,
          nth: fc.integer({ min: 0, max: 3 }),
          unit: fc.constantFrom('mm', 'thou', 'arcsec'),
        },
        { requiredKeys: ['column'] },
      ),
    );
    const columns = fc.dictionary(name, column, { maxKeys: 4 });
    const values = fc.dictionary(
      fc.oneof(name, fc.constantFrom('setup', 'target', 'pass')),
      fc.constantFrom('A', 'S1', '1', 'vertical', 'no', 'x', '', '2026-03-14'),
      { maxKeys: 4 },
    );
    const anything = fc.anything({ maxDepth: 2, withNullPrototype: false });
    const mapping = fc.record(
      {
        columns: fc.oneof({ weight: 9, arbitrary: columns }, anything),
        values: fc.oneof({ weight: 9, arbitrary: values }, anything),
        rows: fc.oneof(
          { weight: 9, arbitrary: fc.array(fc.record({ columns, values }), { maxLength: 3 }) },
          anything,
        ),
        ignore: fc.array(header, { maxLength: 10 }),
        dates: fc.constantFrom('day-month', 'month-day'),
      },
      { requiredKeys: [] },
    );
    fc.assert(
      fc.property(mapping, fc.boolean(), (m, complete) => {
        cases++;
        const all = WIDE.split('\n')[0]!.split(',');
        let safe: unknown = {};
        try {
          safe = JSON.parse(JSON.stringify(complete ? { ...m, ignore: all } : m)) as unknown;
        } catch {
          return; // cannot stand in a JSON file
        }
        read(WIDE, safe);
      }),
      { numRuns: 1000 },
    );
    console.log(`mapped files: ${cases} cases`);
  });
});

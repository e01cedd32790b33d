/**
 * Quirks of real files (issue 4): each goes through loading to the same readings as the plain file, or to the
 * stated refusal. The plain file has positions, all three axes, a note and an excluded row.
 */
import { expect, test } from 'vitest';
import type { Reading } from '../../src/readings/readings.js';
import { loadJob } from '../../src/readings/load-job.js';
import type { JobInput } from '../../src/job/job-schema.js';
import { jobFolder } from '../job/made-up-job.js';

const HEADER = 'setup,rail,station,position,monument,target,pass,time,vertical,horizontal,along,use,note';
const ROWS = [
  'S1,A,1,,,T1,1,2026-03-14T08:12,3.1,-1.25,,,',
  'S1,A,,500,,T1,1,2026-03-14T08:14,1234.5,0.012,,,',
  'S1,,,,M1,T3,1,2026-03-14T09:40,,,0.5,,',
  'S2,A,2,,,T1,2,2026-03-14T10:31,0.25,,,,height carried over',
  'S2,B,1,,,T1,1,2026-03-14T10:36,-4,99.1,,,',
  'S2,B,2,,,T1,1,2026-03-14T10:37,7.5,1.5,,no,bumped',
];
const PLAIN = [HEADER, ...ROWS].join('\n') + '\n';

/** Everything but the line, which a quirk may shift; notes without the quirk's own marks. */
const bare = (reading: Reading) => ({ ...reading, source: undefined });

async function load(bytes: string | Uint8Array, change?: (job: JobInput) => void) {
  const outcome = await loadJob(await jobFolder(bytes, change));
  if (!outcome.ok)
    return {
      diagnostics: outcome.diagnostics.map((d) => `${d.at?.row}: ${d.code} ${d.at?.column ?? ''}`.trim()),
    };
  const { readings, inputs } = outcome.value;
  return {
    readings: [...readings.phases.get('as-left')!].map(bare),
    excluded: readings.excluded.map((row) => row.note),
    read: inputs.at(-1)!.read,
    rows: [...readings.phases.get('as-left')!].map((r) => r.source.row),
    diagnostics: outcome.diagnostics.map((d) => `${d.at?.row}: ${d.code} ${d.at?.column ?? ''}`.trim()),
  };
}

const map = (change: (cells: string[]) => string[]) =>
  PLAIN.trimEnd()
    .split('\n')
    .map((line) => change(line.split(',')).join(','))
    .join('\n') + '\n';
/** Cells with another delimiter and, in number columns, another decimal mark. */
const written = (delimiter: string, decimal: string) =>
  PLAIN.replaceAll(',', delimiter).replace(/(?<=[\d])\.(?=\d)/g, decimal);
const replaced = (from: string, to: string) => {
  if (!PLAIN.includes(from)) throw new Error(from);
  return PLAIN.replace(from, to);
};
const utf16be = (text: string) => Buffer.from(text, 'utf16le').swap16();

/** quirk, bytes, what is said to have been read */
const accepted: [string, string | Uint8Array, string][] = [
  ['plain', PLAIN, 'UTF-8, comma, decimal point'],
  ['UTF-8 with BOM', `\ufeff${PLAIN}`, 'UTF-8 with BOM, comma, decimal point'],
  ['UTF-16 LE with BOM', Buffer.from(`\ufeff${PLAIN}`, 'utf16le'), 'UTF-16 LE, comma, decimal point'],
  ['UTF-16 LE without BOM', Buffer.from(PLAIN, 'utf16le'), 'UTF-16 LE, comma, decimal point'],
  ['UTF-16 BE with BOM', utf16be(`\ufeff${PLAIN}`), 'UTF-16 BE, comma, decimal point'],
  [
    'Windows-1252',
    Buffer.from(replaced('vertical', 'vertical (\xb5m)'), 'latin1'),
    'Windows-1252, comma, decimal point, vertical in um',
  ],
  ['CR LF', PLAIN.replaceAll('\n', '\r\n'), 'UTF-8, comma, decimal point'],
  ['CR', PLAIN.replaceAll('\n', '\r'), 'UTF-8, comma, decimal point'],
  ['mixed line ends', PLAIN.replace('\n', '\r\n').replace(/\n(?=S2,A)/, '\r'), 'UTF-8, comma, decimal point'],
  ['no line end at the end', PLAIN.trimEnd(), 'UTF-8, comma, decimal point'],
  ['semicolons', written(';', '.'), 'UTF-8, semicolon, decimal point'],
  ['semicolons and decimal comma', written(';', ','), 'UTF-8, semicolon, decimal comma'],
  ['tabs', written('\t', '.'), 'UTF-8, tab, decimal point'],
  ['tabs and decimal comma', written('\t', ','), 'UTF-8, tab, decimal comma'],
  ['sep= line', `sep=;\n${written(';', ',')}`, 'UTF-8, semicolon, decimal comma'],
  ['sep= line in quotes, CR LF', `"sep=,"\r\n${PLAIN}`, 'UTF-8, comma, decimal point'],
  ['sep= another separator', `sep=|\n${written('|', '.')}`, 'UTF-8, bar, decimal point'],
  ['every cell quoted', map((cells) => cells.map((c) => `"${c}"`)), 'UTF-8, comma, decimal point'],
  [
    'quoted decimal commas between commas',
    map((cells) => cells.map((c) => (/^-?\d+\.\d+$/.test(c) ? `"${c.replace('.', ',')}"` : c))),
    'UTF-8, comma, decimal comma',
  ],
  ['thousands separators', replaced('1234.5', '"1,234.5"'), 'UTF-8, comma, decimal point'],
  [
    'thousands set off by points',
    written(';', ',').replace('1234,5', '1.234,5'),
    'UTF-8, semicolon, decimal comma',
  ],
  [
    'thousands set off by narrow no-break spaces',
    written(';', ',').replace('1234,5', '1\u202f234,5'),
    'UTF-8, semicolon, decimal comma',
  ],
  [
    'Unicode minus',
    PLAIN.replaceAll('-1.25', '\u22121.25').replaceAll(',-4,', ',\u22124,'),
    'UTF-8, comma, decimal point',
  ],
  ['no-break spaces round cells', replaced(',3.1,', ',\u00a03.1\u00a0,'), 'UTF-8, comma, decimal point'],
  ['spaces round cells', map((cells) => cells.map((c) => ` ${c} `)), 'UTF-8, comma, decimal point'],
  ['scientific form', replaced('1234.5', '1.2345E+03'), 'UTF-8, comma, decimal point'],
  ['fractions', replaced('0.25', '1/4'), 'UTF-8, comma, decimal point'],
  ['unit behind the number', replaced(',3.1,', ',0.0031 mm,'), 'UTF-8, comma, decimal point'],
  ['unit right behind the number', replaced(',3.1,', ',3.1um,'), 'UTF-8, comma, decimal point'],
  [
    'unit in the header',
    replaced('position', 'Position [cm]').replace('[cm]', '(m)').replace(',500,', ',0.5,'),
    'UTF-8, comma, decimal point, position in m',
  ],
  ['header in capitals', PLAIN.replace(HEADER, HEADER.toUpperCase()), 'UTF-8, comma, decimal point'],
  ['header with a hyphen', replaced('setup', 'Set-up'), 'UTF-8, comma, decimal point'],
  [
    'header over two lines',
    replaced('vertical', '"Vertical\n(um)"'),
    'UTF-8, comma, decimal point, vertical in um',
  ],
  [
    'titles and comments above',
    `Bed rails, east bay\n# a comment; with 14" rails\n\n${PLAIN}`,
    'UTF-8, comma, decimal point, 2 lines above the header',
  ],
  [
    'blank rows between and below',
    `${PLAIN.replace(/\n(?=S2)/g, '\n\n')}\n,,,,,,,,,,,,\n  \n`,
    'UTF-8, comma, decimal point',
  ],
  ['empty columns at the end', map((cells) => [...cells, '', '']), 'UTF-8, comma, decimal point'],
  [
    'an empty column between',
    map((cells) => [...cells.slice(0, 5), '', ...cells.slice(5)]),
    'UTF-8, comma, decimal point',
  ],
  [
    'a separator at the end of each row',
    `${HEADER}\n${ROWS.map((r) => `${r},`).join('\n')}\n`,
    'UTF-8, comma, decimal point',
  ],
  ['columns in another order', map((cells) => [...cells].reverse()), 'UTF-8, comma, decimal point'],
  [
    'words for use in any case',
    replaced(',no,', ',FALSE,').replace(',,,\n', ',,Yes,\n'),
    'UTF-8, comma, decimal point',
  ],
  [
    'times with seconds, a blank and a zone',
    replaced('2026-03-14T08:12', '2026-03-14 08:12:00.5+01:00'),
    'UTF-8, comma, decimal point',
  ],
];

test.each(accepted)('%s', async (quirk, bytes, read) => {
  const plain = await load(PLAIN);
  const found = await load(bytes);
  expect(found.diagnostics).toEqual([]);
  expect(found.read).toBe(read);
  const near = (list: typeof found.readings) =>
    list!.map((r) => ({
      ...r,
      time: quirk.startsWith('times') ? null : r.time,
      ...('um' in r && { um: Number(r.um.toPrecision(12)) }),
    }));
  expect(near(found.readings)).toEqual(near(plain.readings));
  expect(found.excluded).toEqual(['bumped']);
});

test('rows keep the numbers that an editor shows', async () => {
  const found = await load(
    `title\n\n${PLAIN.replace('height carried over', '"height\ncarried over"').replace(/\n(?=S2,B,1)/, '\n\n')}`,
  );
  expect(found.rows).toEqual([4, 4, 5, 5, 6, 7, 10, 10]);
});

test('rows whose blank ends were dropped throughout', async () => {
  const rows = ROWS.map((row) => row.replace(/,+$/, ''));
  expect(await load([HEADER, ...rows].join('\n') + '\n')).toMatchObject({
    diagnostics: [],
    rows: [2, 2, 3, 3, 4, 5, 6, 6],
  });
});

/** quirk, bytes, the diagnostics */
const refused: [string, string | Uint8Array, string[]][] = [
  ['1,234 where both meanings fit', replaced('1234.5', '"1,234"'), ['3: CELL_NUMBER_AMBIGUOUS vertical']],
  [
    '1.234 in a file that shows no mark',
    'setup;rail;station;vertical\nS1;A;1;1.234\nS2;A;1;2\n',
    ['2: CELL_NUMBER_AMBIGUOUS vertical'],
  ],
  ['both marks in one file', written(';', ',').replace('3,1', '3.1'), ['2: CELL_NOT_A_NUMBER vertical']],
  ['bare decimal comma between commas', replaced('3.1,-1.25,,,', '3,1,,,,'), ['2: CSV_ROW_LENGTH']],
  [
    'bare decimal comma and a separator at the end',
    'setup,rail,station,vertical,horizontal\nS1,A,1,3,1,\nS2,A,1,2,5,\n',
    ['2: CSV_ROW_LENGTH', '3: CSV_ROW_LENGTH'],
  ],
  ['a cell too many', replaced('height carried over', 'height, carried over'), ['5: CSV_ROW_LENGTH']],
  [
    'a cell too few',
    replaced('T3,1,2026-03-14T09:40,,,0.5', 'T3,1,2026-03-14T09:40,,0.5'),
    ['4: CSV_ROW_LENGTH'],
  ],
  ['a file that breaks off', PLAIN.slice(0, PLAIN.indexOf('99.1') + 2), ['6: CSV_ROW_LENGTH']],
  ['an unclosed quote', replaced('height carried over', '"height carried over'), ['5: CSV_QUOTE_OPEN']],
  ['a quote within a cell', replaced('height carried over', 'rod 5" long'), ['5: CSV_QUOTE_STRAY']],
  ['a zero byte', replaced('height', 'hei\0ght'), ['5: CSV_NUL']],
  ['a workbook', Buffer.from('PK\x03\x04 and so on'), ['undefined: CSV_ENCODING']],
  ['an unknown column', replaced('vertical', 'vertikal'), ['1: CSV_COLUMN_UNKNOWN vertikal']],
  ['a column twice', replaced('pass', 'vertical'), ['1: CSV_COLUMN_DUPLICATE vertical']],
  [
    'a column twice in other letters',
    replaced('pass', 'VERTICAL (um)'),
    ['1: CSV_COLUMN_DUPLICATE vertical'],
  ],
  ['a hostile column', replaced('note', '__proto__'), ['1: CSV_COLUMN_UNKNOWN __proto__']],
  ['wide and long columns together', replaced('pass', 'axis'), ['1: CSV_COLUMNS_CLASH axis']],
  ['a column missing', PLAIN.replace('setup', ''), ['1: CSV_COLUMN_MISSING']],
  ['no header', ROWS.join('\n'), ['1: CSV_COLUMN_MISSING']],
  [
    'something under no name',
    map((cells) => [...cells, cells[0] === 'S1' ? 'x' : '']),
    ['2: CSV_CELL_UNNAMED', '3: CSV_CELL_UNNAMED', '4: CSV_CELL_UNNAMED'],
  ],
  ['a unit that is none', replaced('vertical', 'vertical (mils)'), ['1: UNIT_UNKNOWN vertical (mils)']],
  ['a station that is a length', replaced('station', 'Station (m)'), ['1: UNIT_UNKNOWN Station (m)']],
  ['a slope unit behind a length', replaced(',3.1,', ',3.1 um/m,'), ['2: UNIT_UNKNOWN vertical']],
  ['an unknown sep=', `sep=x\n${PLAIN}`, ['1: CSV_DELIMITER_UNCLEAR']],
  ['nothing', '', ['undefined: CSV_EMPTY']],
  ['blanks', ' \n\n\t\n', ['undefined: CSV_EMPTY']],
  ['a header alone', `${HEADER}\n`, ['1: CSV_NO_ROWS']],
  ['a date that could be two days', replaced('2026-03-14T08:12', '03/04/2026 08:12'), ['2: CELL_TIME time']],
  ['a day that no calendar has', replaced('2026-03-14T08:12', '2026-02-30T08:12'), ['2: CELL_TIME time']],
  ['a formula', replaced(',3.1,', ',=3.1,'), ['2: CELL_NOT_A_NUMBER vertical']],
  ['a spreadsheet’s error', replaced(',3.1,', ',#REF!,'), ['2: CELL_NOT_A_NUMBER vertical']],
];

test.each(refused)('%s is refused', async (_, bytes, diagnostics) => {
  const found = await load(bytes);
  expect(found.readings).toBeUndefined();
  expect(found.diagnostics).toEqual(diagnostics);
});

test('the job may state the decimal mark of a file that does not show it', async () => {
  const csv = 'setup;rail;station;vertical\nS1;A;1;1.234\nS2;A;1;2\n';
  const um = async (decimal: 'point' | 'comma') =>
    (await load(csv, (job) => (job.readings[0]!.decimal = decimal))).readings!.map((r) => 'um' in r && r.um);
  expect(await um('point')).toEqual([1.234, 2]);
  expect(await um('comma')).toEqual([1234, 2]);
});

test('a header’s unit counts where the job states none for the file, and must agree where it does', async () => {
  const csv = 'setup,rail,station,Vertical (thou)\nS1,A,1,1\nS2,A,1,2\n';
  const found = await load(csv);
  expect(found.readings!.map((r) => 'um' in r && r.um)).toEqual([25.4, 50.8]);
  expect(await load(csv, (job) => (job.readings[0]!.unit = 'um'))).toEqual({
    diagnostics: ['1: CSV_UNIT_CLASH Vertical (thou)'],
  });
});

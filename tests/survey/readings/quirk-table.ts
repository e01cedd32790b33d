/**
 * Quirks of real files, each with a file that has it: either it means the same as the plain file, or it
 * is refused. The plain file has positions, all three axes, a note and an excluded row.
 */
import type { JobInput } from '../../../src/survey/job/job-schema.js';

type Entry = JobInput['readings'][number];

export const HEADER =
  'setup,rail,station,position,monument,target,pass,time,vertical,horizontal,along,use,note';
export const ROWS = [
  'S1,A,1,,,T1,1,2026-03-14T08:12,3.1,-1.25,,,',
  'S1,A,,500,,T1,1,2026-03-14T08:14,1234.5,0.012,,,',
  'S1,,,,M1,T3,1,2026-03-14T09:40,,,0.5,,',
  'S2,A,2,,,T1,2,2026-03-14T10:31,0.25,,,,height carried over',
  'S2,B,1,,,T1,1,2026-03-14T10:36,-4,99.1,,,',
  'S2,B,2,,,T1,1,2026-03-14T10:37,7.5,1.5,,no,bumped',
  'S1,A,3,,,T1,1,2026-03-14T08:16,2.75,0.8,,,',
  'S2,B,3,,,T1,1,2026-03-14T10:38,6,2.25,,,',
  'S2,B,4,,,T1,1,2026-03-14T10:39,-1.5,0.35,,,',
];
export const PLAIN = [HEADER, ...ROWS].join('\n') + '\n';

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
/** With a vertical column in inches, each number of it written by `write`. */
const inInches = (write: (inches: string) => string) =>
  replaced('vertical', 'Vertical (inch)').replaceAll(/(?<=T\d\d:\d\d,)-?[\d.]+/g, (um) =>
    write(String(Number(um) / 25400)),
  );
const utf16be = (text: string) => Buffer.from(text, 'utf16le').swap16();

/** quirk, bytes, what is said to have been read, what the file's entry in job.json says besides */
export const accepted: [string, string | Uint8Array, string, Partial<Entry>?][] = [
  ['plain', PLAIN, 'UTF-8, comma, decimal point'],
  ['UTF-8 with BOM', `\ufeff${PLAIN}`, 'UTF-8 with BOM, comma, decimal point'],
  ['UTF-16 LE with BOM', Buffer.from(`\ufeff${PLAIN}`, 'utf16le'), 'UTF-16 LE, comma, decimal point'],
  ['UTF-16 LE without BOM', Buffer.from(PLAIN, 'utf16le'), 'UTF-16 LE, comma, decimal point'],
  ['UTF-16 BE with BOM', utf16be(`\ufeff${PLAIN}`), 'UTF-16 BE, comma, decimal point'],
  ['UTF-16 BE without BOM', utf16be(PLAIN), 'UTF-16 BE, comma, decimal point'],
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
    'thousands set off by no-break spaces',
    written(';', ',').replace('1234,5', '1\u00a0234,5'),
    'UTF-8, semicolon, decimal comma',
  ],
  ['thousands set off by apostrophes', replaced('1234.5', "1'234.5"), 'UTF-8, comma, decimal point'],
  [
    'Unicode minus',
    PLAIN.replaceAll('-1.25', '\u22121.25').replaceAll(',-4,', ',\u22124,'),
    'UTF-8, comma, decimal point',
  ],
  ['no-break spaces round cells', replaced(',3.1,', ',\u00a03.1\u00a0,'), 'UTF-8, comma, decimal point'],
  ['spaces round cells', map((cells) => cells.map((c) => ` ${c} `)), 'UTF-8, comma, decimal point'],
  ['scientific form', replaced('1234.5', '1.2345E+03'), 'UTF-8, comma, decimal point'],
  ['fractions', replaced('0.25', '1/4'), 'UTF-8, comma, decimal point'],
  ['a fraction behind a whole number', replaced(',6,2.25', ',6,2 1/4'), 'UTF-8, comma, decimal point'],
  ['unit behind the number', replaced(',3.1,', ',0.0031 mm,'), 'UTF-8, comma, decimal point'],
  ['unit right behind the number', replaced(',3.1,', ',3.1um,'), 'UTF-8, comma, decimal point'],
  ['µm, the micro sign', replaced(',3.1,', ',3.1 \u00b5m,'), 'UTF-8, comma, decimal point'],
  ['μm, the Greek letter', replaced(',3.1,', ',3.1\u00a0\u03bcm,'), 'UTF-8, comma, decimal point'],
  ['inches behind the number', replaced(',99.1,', `,${99.1 / 25400}in,`), 'UTF-8, comma, decimal point'],
  [
    'inch marks behind the numbers of a column in inches',
    inInches((inches) => `${inches}"`),
    'UTF-8, comma, decimal point, vertical in in',
  ],
  [
    'an inch mark at the end of a note',
    replaced('height carried over', 'rod of 5"'),
    'UTF-8, comma, decimal point',
  ],
  [
    'inch marks in quoted cells',
    inInches((inches) => `"${inches}"""`),
    'UTF-8, comma, decimal point, vertical in in',
  ],
  [
    'unit in the header',
    replaced('position', 'Position [cm]').replace('[cm]', '(m)').replace(',500,', ',0.5,'),
    'UTF-8, comma, decimal point, position in m',
  ],
  ['header in capitals', PLAIN.replace(HEADER, HEADER.toUpperCase()), 'UTF-8, comma, decimal point'],
  [
    'header in capitals with a unit',
    replaced('vertical', 'VERTICAL [MM]').replaceAll(/(?<=T\d\d:\d\d,)-?[\d.]+/g, (um) =>
      String(Number(um) / 1000),
    ),
    'UTF-8, comma, decimal point, vertical in mm',
  ],
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
  [
    'dates by day and month, as the job says',
    PLAIN.replaceAll('2026-03-14T', '14.03.2026 '),
    'UTF-8, comma, decimal point, columns as job.json maps them',
    { dates: 'day-month' },
  ],
  [
    'dates by month and day, as the job says',
    PLAIN.replaceAll('2026-03-14T', '3/14/2026 '),
    'UTF-8, comma, decimal point, columns as job.json maps them',
    { dates: 'month-day' },
  ],
  [
    'decimal commas of three digits, as the job says',
    written(';', ',').replace('-1,25', '-1,250').replace('3,1', '3,100'),
    'UTF-8, semicolon, decimal comma',
    { decimal: 'comma' },
  ],
];

/** quirk, bytes, the diagnostics */
export const refused: [string, string | Uint8Array, string[]][] = [
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
    ['2: CSV_CELL_UNNAMED', '3: CSV_CELL_UNNAMED', '4: CSV_CELL_UNNAMED', '8: CSV_CELL_UNNAMED'],
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
  [
    'an inch mark in a column that is not in inches',
    replaced(',3.1,', ',3.1",'),
    ['2: UNIT_UNKNOWN vertical'],
  ],
  ['a minus behind the number', replaced(',3.1,', ',3.1-,'), ['2: CELL_NOT_A_NUMBER vertical']],
  ['a bookkeeper’s minus', replaced(',3.1,', ',(3.1),'), ['2: CELL_NOT_A_NUMBER vertical']],
  ['two numbers in a cell', replaced(',3.1,', ',3.1/3.2,'), ['2: CELL_NOT_A_NUMBER vertical']],
  ['a number in another base', replaced(',3.1,', ',0x10,'), ['2: CELL_NOT_A_NUMBER vertical']],
  ['digits set off by underscores', replaced('1234.5', '1_234.5'), ['3: CELL_NOT_A_NUMBER vertical']],
  ['words for no number', replaced(',3.1,', ',NaN,'), ['2: CELL_NOT_A_NUMBER vertical']],
  ['an approximate number', replaced(',3.1,', ',~3.1,'), ['2: CELL_NOT_A_NUMBER vertical']],
  ['a formula', replaced(',3.1,', ',=3.1,'), ['2: CELL_NOT_A_NUMBER vertical']],
  ['a spreadsheet’s error', replaced(',3.1,', ',#REF!,'), ['2: CELL_NOT_A_NUMBER vertical']],
];

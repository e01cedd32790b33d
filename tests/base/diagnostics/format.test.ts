import { expect, test } from 'vitest';
import { capPerCode } from '../../../src/base/diagnostics/cap.js';
import { Findings, sortDiagnostics } from '../../../src/base/diagnostics/diagnostic.js';
import type { Diagnostic } from '../../../src/base/diagnostics/diagnostic.js';
import {
  countWords,
  diagnosticsToJson,
  formatDiagnostics,
  formatScreen,
} from '../../../src/base/diagnostics/format.js';
import { describe } from '../../../src/base/diagnostics/messages.js';

function findings(): Findings {
  const found = new Findings();
  found.error(
    'READING_STATION_UNKNOWN',
    { rail: 'A', found: '22', count: 21, nearest: '21' },
    { file: 'readings/b.csv', row: 17, column: 'Station' },
  );
  found.warn('READING_ROW_EMPTY', {}, { file: 'readings/b.csv', row: 3 });
  found.error('CSV_EMPTY', {}, { file: 'readings/a.csv' });
  found.error(
    'KEY_UNKNOWN',
    { key: 'tittle', nearest: 'title', known: 'id, title' },
    { file: 'job.json', row: 3, column: 'tittle' },
  );
  found.warn('SETUP_UNUSED', { setup: 'S9' });
  return found;
}

test('job file first, then by file and line; what has no place comes before all', () => {
  expect(sortDiagnostics(findings().list).map((d) => `${d.at?.file} ${d.at?.row}`)).toEqual([
    'undefined undefined',
    'job.json 3',
    'readings/a.csv undefined',
    'readings/b.csv 3',
    'readings/b.csv 17',
  ]);
});

test('file, row, column, what it is, what to do; then the counts', () => {
  expect(formatDiagnostics(sortDiagnostics(findings().list), { root: 'jobs/T-1' })).toBe(
    [
      'warning: Set-up S9 is not used. (SETUP_UNUSED)',
      'error: jobs/T-1/job.json, row 3, tittle: The key "tittle" is not known here. Did you mean "title"? (KEY_UNKNOWN)',
      'error: jobs/T-1/readings/a.csv: The file is empty. Put the readings in, or delete its entry in job.json. (CSV_EMPTY)',
      'warning: jobs/T-1/readings/b.csv, row 3: The row names a point but has no reading. It is not used. (READING_ROW_EMPTY)',
      'error: jobs/T-1/readings/b.csv, row 17, Station: There is no station "22": rail A has stations 1 to 21. Did you mean 21? (READING_STATION_UNKNOWN)',
      '',
      '3 errors, 2 warnings',
      '',
    ].join('\n'),
  );
  expect(formatDiagnostics([])).toBe('');
  expect(countWords([])).toBe('no problems');
});

test('for other programs', () => {
  expect(diagnosticsToJson(findings().list)[0]).toEqual({
    code: 'READING_STATION_UNKNOWN',
    severity: 'error',
    file: 'readings/b.csv',
    row: 17,
    column: 'Station',
    message: 'There is no station "22": rail A has stations 1 to 21. Did you mean 21?',
    data: { rail: 'A', found: '22', count: 21, nearest: '21' },
  });
  expect(diagnosticsToJson(findings().list)[4]).toMatchObject({ file: null, row: null, column: null });
});

test('text from a file can neither move a cursor nor turn text round', () => {
  const hostile: Diagnostic<'CELL_NOT_A_NUMBER'> = {
    code: 'CELL_NOT_A_NUMBER',
    severity: 'error',
    at: { file: 'a.csv', row: 2, column: 'x\u001b[2J' },
    data: { found: '\u001b]0;owned\u0007\u202e12\n', meant: '' },
  };
  expect(describe(hostile)).toBe(
    '"\\u001b]0;owned\\u0007\\u202e12\\u000a" is not a number as this file writes them. Write digits with a sign and at most one decimal mark. Leave the cell blank if nothing was read.',
  );
  expect(formatDiagnostics([hostile])).not.toMatch(/[\u001b\u0007\u202e]/);
});

test('many of a kind are counted, per code, after the first ones', () => {
  const many = new Findings();
  for (let row = 2; row < 252; row++)
    many.error('CELL_NOT_A_NUMBER', { found: 'x', meant: '' }, { file: 'a.csv', row });
  many.error('CSV_QUOTE_OPEN', {}, { file: 'a.csv', row: 300 });
  const capped = capPerCode(many.list);
  expect(capped.list).toHaveLength(102);
  expect(capped.list.at(-1)).toEqual({
    code: 'MORE_LIKE_THIS',
    severity: 'error',
    at: { file: 'a.csv', row: 101 },
    data: { like: 'CELL_NOT_A_NUMBER', count: 150 },
  });
});

const source = (delimiter: string | null, lines: string[], columns: string[] = []) => ({
  lines,
  delimiter,
  headerRow: 1,
  columns,
});

/** What stands under the message of one error at `column` of line 2. */
function shown(column: string, of: ReturnType<typeof source>): string[] {
  const found = new Findings();
  found.error('CELL_MISSING', { wanted: 'x' }, { file: 'f', row: 2, column });
  return formatDiagnostics(found.list, { sources: new Map([['f', of]]) })
    .split('\n')
    .slice(1, -3);
}

test('the cell is marked under its line', () => {
  const columns = ['rail', 'station', 'note'];
  expect(shown('station', source(',', ['rail,station,note', 'A,22,"x, y"'], columns))).toEqual([
    '     2 | A,22,"x, y"',
    '       |   ^^',
  ]);
  expect(shown('note', source(',', ['rail,station,note', '"A, 1",22,'], columns))).toEqual([
    '     2 | "A, 1",22,',
    '       |           ^',
  ]);
  expect(shown('note', source(',', ['rail,station,note', 'A,1.5",x'], columns))).toEqual([
    '     2 | A,1.5",x',
    '       |        ^',
  ]);
});

test('tabs, line ends within a cell and marks that turn text round keep the line whole', () => {
  const columns = ['rail', 'station', 'note'];
  const [line, marks] = shown('note', source('\t', ['rail\tstation\tnote', 'A\t2\t"x\u202e', 'y"'], columns));
  expect(line).toBe('     2 | A    2    "x\\u202e y"');
  expect(marks!.slice(line!.indexOf('"'))).toBe('^'.repeat('"x\\u202e y"'.length));
});

test('of job.json the key is marked', () => {
  expect(shown('rails[0].id', source(null, ['{', '  "rails": [ { "id": 1, "datum": true } ]', '}']))).toEqual(
    ['     2 |   "rails": [ { "id": 1, "datum": true } ]', '       |                ^^^^^^^'],
  );
});

test('nothing is shown where no cell is meant, or no such column stands in the file', () => {
  expect(shown('elsewhere', source(',', ['rail', 'A'], ['rail']))).toEqual([]);
});

test('what is said of many rows alike is said once, with the rows', () => {
  const wrong = (row: number) => ({
    code: 'READING_SETUP_UNKNOWN' as const,
    severity: 'error' as const,
    at: { file: 'r.csv', row, column: 'setup' },
    data: { found: 's1', known: 'S1' },
  });
  const text = formatDiagnostics([2, 3, 4, 5].map(wrong));
  expect(text.match(/READING_SETUP_UNKNOWN/g)).toHaveLength(1);
  expect(text).toContain('(READING_SETUP_UNKNOWN); the same in rows 2 to 5\n');
  expect(text).toContain('4 errors');
  expect(formatDiagnostics([2, 9, 20].map(wrong))).toContain('; the same in 3 rows from 2 to 20');
});

const screen = (list: readonly Diagnostic[], lines = 10, width = Infinity) =>
  formatScreen(list, { lines, width, rest: 'check --all shows them' });
const notNumber = (row: number, column = 'vertical', file = 'r.csv'): Diagnostic => ({
  code: 'CELL_NOT_A_NUMBER',
  severity: 'error',
  at: { file, row, column },
  data: { found: `x${row}`, meant: '' },
});

test('a screen has no more lines than there is room for, and every finding is on it or counted', () => {
  for (const n of [1, 2, 9, 10, 11, 50, 400]) {
    for (const lines of [3, 5, 10]) {
      const list = Array.from({ length: n }, (_, k) =>
        notNumber(k + 2, k % 2 === 0 ? 'vertical' : 'horizontal', `${k % 7}.csv`),
      );
      const shown = screen(list, lines);
      expect(shown.length).toBeLessThanOrEqual(lines);
      const alone = shown.filter((line) => line.startsWith('error: ')).length;
      const alike = shown.flatMap((line) => /; (\d+) more of this kind/.exec(line)?.[1] ?? []);
      const rest = shown.flatMap((line) => /^… and (\d+) more findings?; /.exec(line)?.[1] ?? []);
      expect(alone + [...alike, ...rest].reduce((sum, text) => sum + Number(text), 0)).toBe(n);
    }
  }
});

test('one mistake in every row is one line, with how many more and where', () => {
  const [line, ...others] = screen(Array.from({ length: 200 }, (_, k) => notNumber(k + 2)));
  expect(others).toEqual([]);
  expect(line).toMatch(
    /^error: r\.csv, row 2, vertical: "x2" is not a number .*; 199 more of this kind in rows 3 to 201$/,
  );
});

test('what was cut from the list is counted with what it was cut from', () => {
  const many = new Findings();
  for (let row = 2; row < 252; row++)
    many.error('CELL_NOT_A_NUMBER', { found: `x${row}`, meant: '' }, { file: 'a.csv', row });
  const shown = screen(capPerCode(many.list).list);
  expect(shown).toHaveLength(1);
  expect(shown[0]).toContain('; 249 more of this kind');
});

test('the worst is shown first', () => {
  const found = findings();
  found.ask('IDS_ALIKE', { kind: 'target', one: 'T1', other: 't1' }, { file: 'readings/b.csv' });
  const kinds = screen(found.list).map((line) => line.split(':')[0]);
  expect(kinds).toEqual(['error', 'error', 'error', 'to be confirmed', 'warning', 'warning']);
});

test('lines are broken between words for a narrow terminal, and still fit', () => {
  const shown = screen(findings().list, 8, 60);
  expect(shown.length).toBeLessThanOrEqual(8);
  for (const line of shown) expect(line.length).toBeLessThanOrEqual(60);
});

const misfit: Diagnostic = {
  code: 'MISFIT_EXPLAINED',
  severity: 'confirm',
  data: {
    phase: 'as left',
    sigma0: '1.62',
    redundancy: 53,
    way: 'misfit',
    count: 4,
    causes: ['first', 'second', 'third', 'fourth'].map((n) => `the ${n} cause`).join('\n'),
    mend: ['Do this in readings/a.csv, rows 2 to 9.', '', 'Do that.', 'Do something else.'].join('\n'),
    apart: 'Read A:7 again.',
  },
  at: { file: 'readings/a.csv' },
};

test('causes are a numbered list, each with its fix directly after it, and last what tells them apart', () => {
  const lines = formatDiagnostics([misfit]).split('\n');
  expect(lines.slice(1, 10)).toEqual([
    '  Each of 4 changes explains it, the likeliest first:',
    '  1. the first cause',
    '     Do this in rows 2 to 9.',
    '  2. the second cause',
    '  3. the third cause',
    '     Do that.',
    '  4. the fourth cause',
    '     Do something else.',
    '  To tell them apart: Read A:7 again.',
  ]);
});

test('on a screen the likeliest causes are named, and how many more there are; no line is longer than the screen', () => {
  const causes = ['first', 'second', 'third', 'fourth'];
  for (const [width, rows] of [
    [40, 12],
    [80, 10],
    [200, 10],
  ] as const) {
    const lines = formatScreen([misfit], { lines: rows, width, rest: '' });
    const text = lines.map((line) => line.trim()).join(' ');
    const named = causes.filter((n) => text.includes(`the ${n} cause`));
    expect(named).toEqual(causes.slice(0, named.length));
    expect(named.length).toBeGreaterThanOrEqual(2);
    const more = causes.length - named.length;
    expect(text.includes(`and ${more} more`)).toBe(more > 0);
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(width);
    if (width >= 80) expect(lines.length).toBeLessThanOrEqual(rows);
  }
});

test('in one line the fix of a cause follows its cause', () => {
  expect(describe(misfit)).toContain(
    '(1) the first cause. Do this in readings/a.csv, rows 2 to 9. (2) the second',
  );
});

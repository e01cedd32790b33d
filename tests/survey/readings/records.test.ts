/** Against csv-parse on the whole text, and against the lines of an editor. */
import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { recordsOf, unifyLineEnds } from '../../../src/survey/readings/records.js';
import type { RecordProblem } from '../../../src/survey/readings/records.js';

function read(text: string, delimiter = ',') {
  const problems: RecordProblem[] = [];
  const records = [
    ...recordsOf(unifyLineEnds(text), delimiter, { offset: 0, line: 1 }, (p) => problems.push(p)),
  ];
  return { records: records.map((r) => [r.line, ...r.cells]), problems, records0: records };
}

test('a record has the line on which it begins: blank lines and quoted line breaks count', () => {
  const { records } = read('a,b\r\n\r\n1,"two\r\nlines"\r3,4\n"5\n\n",6');
  expect(records).toEqual([
    [1, 'a', 'b'],
    [2, ''],
    [3, '1', 'two\nlines'],
    [5, '3', '4'],
    [6, '5\n\n', '6'],
  ]);
});

test('a quote that is never closed is reported where it opens, not where the file ends', () => {
  const { records, problems } = read('a,b\n1,2\n3,"4\n5,6\n7,8\n');
  expect(records).toEqual([
    [1, 'a', 'b'],
    [2, '1', '2'],
  ]);
  expect(problems).toEqual([{ kind: 'quote-open', line: 3 }]);
  expect(read('a\n"x\ny","z\n').problems).toEqual([{ kind: 'quote-open', line: 3 }]);
});

test('a quote inside a cell is reported with the cell, and the next line is read', () => {
  const { records, problems } = read('a,b\n1,rod 5" long\n2,"x"y\n3,4\n');
  expect(records).toEqual([
    [1, 'a', 'b'],
    [4, '3', '4'],
  ]);
  expect(problems).toEqual([
    { kind: 'quote-stray', line: 2, found: 'rod 5" long' },
    { kind: 'quote-stray', line: 3, found: '"x"y' },
  ]);
});

test('a line without end is refused, and the next one read', () => {
  const { records, problems } = read(`a\n${'x'.repeat(100_001)}\nb\n`);
  expect(records).toEqual([
    [1, 'a'],
    [3, 'b'],
  ]);
  expect(problems).toEqual([{ kind: 'too-long', line: 2, characters: 100_001 }]);
});

test('the last record says whether its line was ended', () => {
  expect(read('a\nb\n').records0.map((r) => r.ended)).toEqual([true, true]);
  expect(read('a\n"b"').records0.map((r) => r.ended)).toEqual([true, false]);
});

test('cells come out as csv-parse reads the whole text', () => {
  const cell = fc.oneof(
    fc.constantFrom('', '1', 'a b', '-3.1', ' x '),
    fc.string({ unit: fc.constantFrom(...'ab",;\n '), maxLength: 6 }),
  );
  const quoted = (c: string) => (/[",;\n]/.test(c) ? `"${c.replaceAll('"', '""')}"` : c);
  const rows = fc
    .integer({ min: 1, max: 5 })
    .chain((n) => fc.array(fc.array(cell, { minLength: n, maxLength: n }), { minLength: 1, maxLength: 8 }));
  fc.assert(
    fc.property(rows, fc.constantFrom(',', ';'), (table, delimiter) => {
      const text = table.map((row) => row.map(quoted).join(delimiter)).join('\n') + '\n';
      const expected = parse(text, { delimiter, record_delimiter: '\n' });
      const { records, problems } = read(text, delimiter);
      expect(problems).toEqual([]);
      expect(records.map(([, ...cells]) => cells)).toEqual(expected);
      const lines = text.split('\n');
      for (const [line, first] of records)
        expect(lines[Number(line) - 1]!.replace(/^"/, '')).toContain(String(first).split(/[\n"]/)[0]);
    }),
    { numRuns: 500 },
  );
});

import { expect, test } from 'vitest';
import { parseJsonSource } from '../../../src/survey/job/json-source.js';

const parse = (text: string) => parseJsonSource(text, 'job.json');
const first = (text: string) => parse(text).diagnostics[0];

test('keeps the line of every key, whatever the line ends', () => {
  for (const end of ['\n', '\r\n', '\r']) {
    const source = parse(
      ['{', ' "rails": [', '  { "id": "A" },', '  { "id": "B",', '    "across": 1 }', ' ]', '}'].join(end),
    );
    if (!source.ok) throw new Error(JSON.stringify(source.diagnostics));
    expect(source.value.at(['rails', 1, 'across'])).toEqual({
      file: 'job.json',
      row: 5,
      column: 'rails[1].across',
    });
    expect(source.value.at(['rails', 1])).toMatchObject({ row: 4 });
    expect(source.value.at(['rails', 1, 'gone', 'deeper'])).toMatchObject({
      row: 4,
      column: 'rails[1].gone.deeper',
    });
  }
});

test.each([
  ['', 1, 'the file is empty'],
  ['{"a": 1,}', 1, ''],
  ['{"a": 1} x', 1, 'no JSON value'],
  ['{"a": 1} {}', 1, 'something follows'],
  ['{\n"a": 1\n"b": 2}', 3, 'comma is missing'],
  ['{"a" 1}', 1, 'colon'],
  ['{"a": "x\n}', 1, 'closing double quote'],
  ['// note\n{}', 1, 'no comments'],
  ["{'a': 1}", 1, ''],
  ['{"a": 01}', 1, ''],
  ['[1, 2', 1, 'closing ]'],
  ['{"a": NaN}', 1, ''],
])('%j is refused at its line', (text, row, words) => {
  const found = first(text);
  expect(found?.code).toBe('JSON_INVALID');
  expect(found?.at?.row).toBe(row);
  expect((found?.data as { reason: string }).reason).toContain(words);
});

test('a repeated key is refused: readers differ in which one they believe', () => {
  expect(first('{"a": 1,\n "b": {"c": 1,\n "c": 2}}')).toMatchObject({
    code: 'KEY_DUPLICATE',
    at: { row: 3, column: 'b.c' },
  });
});

test('nesting that would exhaust the stack is refused', () => {
  const deep = '['.repeat(1_000_000);
  expect(first(deep)?.code).toBe('JSON_INVALID');
  expect(parse(`{"a": ${JSON.stringify('['.repeat(1000))}}`).ok).toBe(true);
});

test('__proto__ is a key like any other', () => {
  const source = parse('{"__proto__": {"polluted": true}}');
  if (!source.ok) throw new Error();
  expect(Object.keys(source.value.value as object)).toEqual(['__proto__']);
  expect(({} as Record<string, unknown>)['polluted']).toBeUndefined();
});

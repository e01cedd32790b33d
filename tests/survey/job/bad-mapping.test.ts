/** Everything that can be wrong with the mapping of a foreign file, in job.json itself. */
import { expect, test } from 'vitest';
import { z } from 'zod';
import { describe } from '../../../src/base/diagnostics/messages.js';
import { jobSchema } from '../../../src/survey/job/job-schema.js';
import { mappedNames } from '../../../src/survey/job/mapping-schema.js';
import { parseJob } from '../../support/read-job.js';
import { columnsOf } from '../../../src/survey/job/columns.js';
import { madeUpJob } from './made-up-job.js';

function problems(entry: object, kind: 'offset' | 'slope' = 'offset') {
  const job = madeUpJob();
  const base = kind === 'slope' ? { kind, instrument: 'E1', unit: 'um/m' } : {};
  Object.assign(job.readings[0]!, base, entry);
  return parseJob(JSON.stringify(job, null, 1)).diagnostics.map((d) => ({
    ...d,
    column: d.at?.column?.replace('readings[0].', ''),
    said: describe(d),
  }));
}

/** what is wrong, the entry's keys, the code, the key path under readings[0], part of what is said */
test.each([
  [
    'a column that is none of ours',
    { columns: { staton: 'x' } },
    'KEY_UNKNOWN',
    'columns.staton',
    'Did you mean "station"?',
  ],
  [
    'a fixed value that is none of ours',
    { values: { rails: 'A' } },
    'KEY_UNKNOWN',
    'values.rails',
    'Did you mean "rail"?',
  ],
  [
    'a column of another kind',
    { columns: { slope: 'x' } },
    'KEY_MISPLACED',
    'columns.slope',
    'no such column',
  ],
  [
    'a fixed value of another kind',
    { values: { other: 'B' } },
    'KEY_MISPLACED',
    'values.other',
    'no such column',
  ],
  [
    'a reading as a fixed value',
    { values: { vertical: '3' } },
    'KEY_MISPLACED',
    'values.vertical',
    'never the same',
  ],
  [
    'both a column and a fixed value',
    { columns: { rail: 'x' }, values: { rail: 'A' } },
    'KEY_MISPLACED',
    'values.rail',
    'Keep one',
  ],
  [
    'a header that is no text',
    { columns: { rail: 3 } },
    'VALUE_WRONG',
    'columns.rail',
    'the header of a column',
  ],
  ['a header of blanks', { columns: { rail: ' ' } }, 'VALUE_WRONG', 'columns.rail', 'the text of a header'],
  [
    'a key of a column that is not known',
    { columns: { rail: { column: 'x', unti: 'mm' } } },
    'KEY_UNKNOWN',
    'columns.rail.unti',
    'Did you mean "unit"?',
  ],
  [
    'a column without its header',
    { columns: { rail: { nth: 2 } } },
    'KEY_MISSING',
    'columns.rail.column',
    'text in double quotes',
  ],
  [
    'a unit that is none',
    { columns: { vertical: { column: 'x', unit: 'mil' } } },
    'UNIT_UNKNOWN',
    'columns.vertical.unit',
    '"thou"',
  ],
  [
    'a unit of the wrong family',
    { columns: { vertical: { column: 'x', unit: 'arcsec' } } },
    'UNIT_UNKNOWN',
    'columns.vertical.unit',
    'for vertical',
  ],
  [
    'a unit of what has none',
    { columns: { rail: { column: 'x', unit: 'mm' } } },
    'KEY_MISPLACED',
    'columns.rail.unit',
    'only readings and positions',
  ],
  [
    'words of readings',
    { columns: { vertical: { column: 'x', words: { a: '1' } } } },
    'KEY_MISPLACED',
    'columns.vertical.words',
    'readings are numbers',
  ],
  [
    'a fixed axis that is none',
    { values: { axis: 'v' } },
    'VALUE_WRONG',
    'values.axis',
    'vertical, horizontal, along',
  ],
  [
    'a fixed use that is no word for it',
    { values: { use: 'maybe' } },
    'VALUE_WRONG',
    'values.use',
    'yes or no',
  ],
  ['a fixed value that says nothing', { values: { rail: '' } }, 'VALUE_WRONG', 'values.rail', 'left out'],
  ['no rows', { rows: [] }, 'VALUE_WRONG', 'rows', 'a list of at least 1'],
  [
    'a row without columns',
    { rows: [{ values: { pass: '1' } }] },
    'KEY_MISSING',
    'rows[0].columns',
    'an object',
  ],
  [
    'a wrong key of a row',
    { rows: [{ columns: { reading: 'x' }, set: {} }] },
    'KEY_UNKNOWN',
    'rows[0].set',
    'not known',
  ],
  [
    'a column read twice',
    { rows: [{ columns: { reading: 'x' } }, { columns: { reading: 'X ' } }] },
    'MAPPED_TWICE',
    'rows[1].columns.reading',
    'twice',
  ],
  [
    'a column of the entry read in each row',
    {
      columns: { vertical: 'x' },
      rows: [{ columns: { horizontal: 'a' } }, { columns: { horizontal: 'b' } }],
    },
    'MAPPED_TWICE',
    'columns.vertical',
    'twice',
  ],
  ['an order of dates that is none', { dates: 'dmy' }, 'VALUE_WRONG', 'dates', '"day-month" "month-day"'],
])('%s', (_, entry, code, column, words) => {
  const list = problems(entry);
  expect(list.map((d) => d.code)).toEqual([code]);
  expect(list[0]).toMatchObject({ severity: 'error', column });
  expect(list[0]!.at!.row).toBeGreaterThan(1);
  expect(list[0]!.said).toContain(words);
});

test('the same column may stand for two of ours that are no readings', () => {
  expect(problems({ columns: { from_rail: 'Rail', to_rail: 'Rail' } }, 'slope')).toEqual([]);
});

test('two columns of one name are told apart by their number', () => {
  const row = (nth: number) => ({ columns: { reading: { column: 'V', nth } } });
  expect(problems({ rows: [row(1), row(2)] })).toEqual([]);
  expect(problems({ rows: [row(2), row(2)] }).map((d) => d.code)).toEqual(['MAPPED_TWICE']);
});

test('every column of every kind can be mapped', () => {
  const ours = new Set(Object.values(columnsOf).flat());
  expect(new Set(mappedNames)).toEqual(new Set([...ours, 'date']));
});

test('hostile keys are keys like any other', () => {
  const job = JSON.stringify(madeUpJob()).replace(
    '"phase":"as-left"',
    '"phase":"as-left","columns":{"__proto__":"x","rail":{"column":"r","words":{"__proto__":"A","constructor":"B"}}}',
  );
  const list = parseJob(job).diagnostics;
  expect(list.map((d) => `${d.code} ${d.at?.column}`)).toEqual(['KEY_UNKNOWN readings[0].columns.__proto__']);
});

test('the schema can be written as a JSON Schema, with its words', () => {
  const json = JSON.stringify(z.toJSONSchema(jobSchema, { io: 'input', unrepresentable: 'any' }));
  expect(json).toContain('The header as it is in the file.');
});

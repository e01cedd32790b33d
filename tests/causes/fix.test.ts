import fc from 'fast-check';
import { parse } from 'jsonc-parser';
import { expect, test } from 'vitest';
import { applyFix, type JobEdit } from '../../src/causes/fix.js';

const fix = (...edits: JobEdit[]) => ({ kind: 'job', text: '', edits }) as const;

const JOB = `{
  "id": "J-1",
  "setups": [
    { "id": "S1", "plus": { "vertical": "up", "horizontal": "left" } },
    { "id": "S2", "levelled": true }
  ]
}
`;

test('one value changes, and not one other character', () => {
  const done = applyFix(JOB, fix({ path: ['setups', 0, 'plus', 'vertical'], value: 'down' }));
  expect(done).toBe(JOB.replace('"up"', '"down"'));
});

test('keys that are missing on the way are made', () => {
  const done = applyFix(JOB, fix({ path: ['setups', 1, 'plus', 'along'], value: 'back' }));
  expect((parse(done) as { setups: object[] }).setups[1]).toEqual({
    id: 'S2',
    levelled: true,
    plus: { along: 'back' },
  });
});

test('a list gets one element more, also one that is not there yet', () => {
  const edit: JobEdit = { path: ['confirmed', -1], value: { what: 'X' }, insert: true };
  const once = applyFix(JOB, fix({ path: ['confirmed'], value: [] }, edit));
  expect(parse(applyFix(once, fix(edit)))).toMatchObject({ confirmed: [{ what: 'X' }, { what: 'X' }] });
});

test('line ends and indentation stay as they are', () => {
  const windows = JSON.stringify(parse(JOB), null, '\t').replaceAll('\n', '\r\n');
  const done = applyFix(windows, fix({ path: ['setups', 1, 'heading'], value: 180 }));
  expect(done).toContain('\r\n\t\t\t"heading": 180');
  expect(done.replaceAll('\r\n', '')).not.toContain('\n');
});

test('whatever the value, the file holds it afterwards and everything else as before', () => {
  fc.assert(
    fc.property(fc.oneof(fc.string(), fc.boolean(), fc.integer()), (value) => {
      const done = parse(applyFix(JOB, fix({ path: ['title'], value }))) as Record<string, unknown>;
      expect(done).toEqual({ ...(parse(JOB) as object), title: value });
    }),
  );
});

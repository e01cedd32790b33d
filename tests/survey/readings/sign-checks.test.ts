/** Sign checks: a target moved by a known amount tells a turned sign and a wrong unit, and enters no solution. */
import { describe, expect, test } from 'vitest';
import { loadJob } from '../../../src/solution/intake/load-job.js';
import { movedBy } from '../../../src/survey/readings/sign-checks.js';
import { changeJob, changeRows, copyOf, judgedOf } from '../../support/folders.js';

describe('what is written', () => {
  test.each([
    ['left 1 mm', 'horizontal', 1000],
    ['right 1 mm', 'horizontal', -1000],
    ['Up 0.05 in', 'vertical', 1270],
    ['down by 40 thou', 'vertical', -1016],
    ['ahead 2 mm', 'along', 2000],
  ] as const)('%s', (text, axis, um) => {
    const moved = movedBy(text)!;
    expect(moved.axis).toBe(axis);
    expect(moved.um).toBeCloseTo(um, 9);
  });
  test.each(['left', '1 mm', 'left 1', 'left -1 mm', 'left 1 kg', 'sideways 1 mm', 'left 0 mm'])(
    '%s is nothing',
    (text) => expect(movedBy(text)).toBeNull(),
  );
});

/** TH-0412 with a check of A:3 behind its first reading from S1; `change` is what the reading changed by, µm. */
async function checked(text: string, change: number, column = 'horizontal'): Promise<string> {
  const folder = await copyOf('TH-0412');
  await changeRows(folder, 'readings/as-left.csv', (header, rows) => {
    const at = header.indexOf(column);
    const k = rows.findIndex((row) => row[0] === 'S1' && row[1] === 'A' && row[2] === '3');
    const check = rows[k]!.map((cell, i) => (i === at ? (Number(cell) + change).toFixed(1) : cell));
    for (const other of ['vertical', 'horizontal', 'along'])
      if (other !== column) check[header.indexOf(other)] = '';
    header.push('check');
    const all = rows.map((row) => [...row, '']);
    all.splice(k + 1, 0, [...check, text]);
    return all;
  });
  return folder;
}

const codesOf = async (folder: string) => (await loadJob(folder)).diagnostics.map(({ code }) => code);

describe('a survey with a check', () => {
  test('that agrees: nothing is said, nothing changes, and the report lists it', async () => {
    const plain = await judgedOf(await copyOf('TH-0412'));
    const folder = await checked('left 1 mm', 998);
    expect((await codesOf(folder)).filter((code) => code.startsWith('SIGN_'))).toEqual([]);
    const results = await judgedOf(folder);
    const values = (r: typeof results) => r.phases['as-left']!.characteristics.map(({ value }) => value);
    expect(values(results)).toEqual(values(plain));
    expect(results.excluded.map(({ what, note }) => `${what}; ${note}`).join()).toMatch(
      /A:3 from S1.*the target moved left 1 mm; sign check/,
    );
  });

  test('a turned sign is to be confirmed, with the mend', async () => {
    const loaded = await loadJob(await checked('left 1 mm', -1003));
    expect(loaded.ok).toBe(false);
    const found = loaded.diagnostics.find(({ code }) => code === 'SIGN_CHECK_TURNED')!;
    expect(found.severity).toBe('confirm');
    expect(found.data).toMatchObject({ setup: 'S1', axis: 'horizontal', plus: 'right' });
  });

  test('the mend mends it', async () => {
    const folder = await checked('left 1 mm', -1003);
    await changeJob(folder, (job) => {
      for (const setup of job.setups) setup.plus.horizontal = 'right';
    });
    expect(await codesOf(folder)).not.toContain('SIGN_CHECK_TURNED');
  });

  test.each([
    ['up 1 mm', 1000, 'vertical', []],
    ['up 1 mm', 1200, 'vertical', ['SIGN_CHECK_SCALE']],
    ['up 1 mm', 39.4, 'vertical', ['SIGN_CHECK_SCALE']],
    ['nonsense', 1000, 'vertical', ['SIGN_CHECK_UNREADABLE']],
    // Smaller than the noise: nothing can be said.
    ['up 0.005 mm', -5, 'vertical', []],
  ] as const)('%s, read as a change of %f', async (text, change, column, wanted) => {
    const codes = (await codesOf(await checked(text, change, column))).filter((code) =>
      code.startsWith('SIGN_'),
    );
    expect(codes).toEqual(wanted);
  });

  test('without a reading before it there is nothing to compare', async () => {
    const folder = await checked('left 1 mm', 998);
    await changeRows(folder, 'readings/as-left.csv', (header, rows) =>
      rows.map((row) =>
        row.at(-1) === '' ? row : row.map((cell, i) => (header[i] === 'target' ? 'T9' : cell)),
      ),
    );
    expect(await codesOf(folder)).toContain('SIGN_CHECK_ALONE');
  });
});

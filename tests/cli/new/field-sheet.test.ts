/** The field sheet has a place for every planned reading, and says on which side plus is. */
import { expect, test } from 'vitest';
import { answer } from '../../../src/cli/new/answer.js';
import { fieldSheet } from '../../../src/cli/new/field-sheet.js';
import { offsetRows, slopeRows, spanRows } from '../../../src/cli/new/planned-rows.js';
import type { Plan } from '../../../src/cli/new/plan.js';
import { renderFieldSheet } from '../../../src/cli/new/render-field-sheet.js';
import { missingGlyphs } from '../../../src/pages/fonts/widths.js';

async function planOf(given: Record<string, string>): Promise<Plan> {
  const answered = await answer({ given, folderName: 'GM-1', ask: null });
  if (!answered.ok) throw new Error(answered.wrong.join('\n'));
  return answered.plan;
}

test.each([
  [{}],
  [{ setups: 'two', rails: '4', passes: '3', phases: 'both' }],
  [{ units: 'in', rails: '1', first: '-12.5' }],
  [{ rails: '3', across: '2000, 1400', slopes: 'both', crews: '2' }],
] as Record<string, string>[][])('%j: a row for every planned row, in the same order', async (given) => {
  const plan = await planOf(given!);
  for (const { setups, others } of fieldSheet(plan, 'waysheet').phases) {
    const names = setups.flatMap(({ tables }) =>
      tables.flatMap(({ rows }) => rows.map((cells) => cells[0]!.text)),
    );
    expect(names).toEqual(
      offsetRows(plan)
        .filter(({ part }) => part !== 'sign')
        .map(({ rail, station, monument }) => monument ?? `${rail} ${station}`),
    );
    expect(others.flatMap(({ tables }) => tables).flatMap(({ rows }) => rows)).toHaveLength(
      spanRows(plan).length + slopeRows(plan).length,
    );
    for (const { columns, rows } of setups.flatMap(({ tables }) => tables))
      for (const cells of rows) expect(cells).toHaveLength(columns.length);
  }
});

test('sign boxes for the planes that are read, the planned side marked', async () => {
  const sheet = fieldSheet(await planOf({ setups: 'two' }), 'waysheet');
  const { signs } = sheet.phases[0]!.setups[0]!;
  expect(
    signs.map(({ axis, sides }) => [
      axis,
      ...sides.map(({ side, isPlanned }) => `${side}${isPlanned ? '!' : ''}`),
    ]),
  ).toEqual([
    ['Vertical', 'above!', 'below'],
    ['Horizontal', 'left of!', 'right of'],
    ['Along', 'ahead of!', 'behind'],
  ]);
  const one = fieldSheet(await planOf({}), 'waysheet');
  expect(one.phases[0]!.setups[0]!.signs.map(({ axis }) => axis)).toEqual(['Vertical', 'Horizontal']);
});

test('the page: cautions, every caption, rows that a hand can write in, nothing the font lacks', async () => {
  const plan = await planOf({ setups: 'two' });
  const sheet = fieldSheet(plan, 'waysheet');
  const html = renderFieldSheet(sheet);
  for (const lead of ['Stored energy.', 'Supported loads', 'Laser and eyes.']) expect(html).toContain(lead);
  expect(html).toContain('S2: rail A, which carries the height over');
  expect(html).toContain('S1: closing look at the monuments');
  expect(html).toContain('page " counter(page) " of " counter(pages)');
  expect(Number(/\.sheet td \{ height: (\d+)mm/.exec(html)![1])).toBeGreaterThanOrEqual(7);
  const words = html.replace(/<style>[\s\S]*?<\/style>/, '').replace(/<[^>]*>/g, ' ');
  expect(missingGlyphs(words)).toEqual([]);
  expect(html).not.toMatch(/undefined|NaN|\[object/);
});

test('a customer who is not known yet is a line to write on', async () => {
  const blank = fieldSheet(await planOf({}), 'waysheet');
  const known = fieldSheet(await planOf({ customer: 'Q & Sons', machine: 'Planer' }), 'waysheet');
  expect(blank.phases[0]!.blanks).toEqual(expect.arrayContaining(['Customer', 'Machine']));
  expect(known.phases[0]!.blanks).not.toContain('Customer');
  expect(renderFieldSheet(known)).toContain('Q &amp; Sons');
});

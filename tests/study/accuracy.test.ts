/**
 * The tables of study and attack are a gate: they are of the method as it stands, they keep what was promised, and the
 * worst rails that the attack found are surveyed anew here.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
/**
 * The intervals are those of this edition: 2026-12.3 changed which end of two-sided limits is told, 2026-12.4 the order of moves, and
 * 2026-12.5 which moves are listed, not how intervals are made.
 */
const METHOD = '2026-12.2';
import { confirmRail, type Task } from './attack-arena.js';

const attack = readFileSync('tests/study/attack.md', 'utf8');
const coverage = readFileSync('tests/study/coverage.md', 'utf8');
const rails = JSON.parse(readFileSync('tests/study/worst-rails.json', 'utf8')) as (Task & {
  profile: number[];
})[];

/** Cells of a table's rows. */
const rowsOf = (text: string): string[][] =>
  text
    .split('\n')
    .filter((line) => line.startsWith('| ') && !line.startsWith('| ---') && !line.startsWith('| survey'))
    .map((line) =>
      line
        .split('|')
        .map((cell) => cell.trim())
        .slice(1, -1),
    );

describe('the attack', () => {
  test('is of this METHOD, and of every survey and characteristic', () => {
    expect(attack).toContain(`METHOD ${METHOD}.`);
    const [, done, all] = /Done: (\d+) of (\d+) pairs/.exec(attack)!;
    expect(done).toBe(all);
    expect(rowsOf(attack).length).toBe(rails.length);
  });

  test.each([
    ['0.95', 0.94, 0.03],
    ['0.99', 0.985, 0.01],
    ['0.8', 0.79, 0.12],
  ])(
    'at %s no rail is covered less than %d, nor has its truth above more often than %d',
    (stated, least, most) => {
      const rows = rowsOf(attack).filter((row) => row[2] === stated);
      expect(rows.length).toBeGreaterThan(0);
      for (const row of rows) {
        expect(Number(row[4]), row.join(' | ')).toBeGreaterThanOrEqual(least);
        expect(Number(row[6]), row.join(' | ')).toBeLessThanOrEqual(most);
      }
    },
  );

  // 3,600 surveys: a standard deviation of 0.0036 in what is covered.
  test('the worst rails of short surveys, with fresh noise', () => {
    const short = rails.filter(({ coverage: stated, profile }) => stated === 0.95 && profile.length <= 25);
    expect(short.length).toBeGreaterThan(12);
    const tallies = short.slice(0, 12).map((rail, k) => confirmRail(rail, rail.profile, 300, 9000 + k));
    const sum = (of: (t: (typeof tallies)[number]) => number) => tallies.reduce((a, t) => a + of(t), 0);
    const count = sum((t) => t.count);
    expect(1 - sum((t) => t.below + t.above) / count).toBeGreaterThan(0.94);
    expect(sum((t) => t.above) / count).toBeLessThan(0.03);
  });
});

test('the study is of this METHOD, and keeps its promise where noise is as stated', () => {
  expect(coverage).toContain(`METHOD ${METHOD}.`);
  const surveys = Number(/: (\d+) simulated surveys a cell/.exec(coverage)![1]);
  const three = 3 * Math.sqrt((0.95 * 0.05) / surveys);
  const asStated = rowsOf(coverage).filter(([survey]) => !/noise 1.5 times|in steps of u/.test(survey!));
  expect(asStated.length).toBeGreaterThan(500);
  // Of so many cells one or two lie beyond three standard deviations by chance.
  const beyond = asStated.filter((row) => Number(row[3]) < 0.95 - three);
  expect(beyond.map((row) => row.join(' | ')).length).toBeLessThanOrEqual(3);
});

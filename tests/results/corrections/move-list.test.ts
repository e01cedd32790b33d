/** What the one list of moves keeps to, and that its moves, carried out, give what it predicts. */
import { english } from '../../../src/pages/words/words.js';
import { describe, expect, test } from 'vitest';
import { correctionSheet, turnsText } from '../../../src/pages/report/correction-sheet.js';
import { shapeFunctions } from '../../../src/results/corrections/beam.js';
import type { CharacteristicResult, Results } from '../../../src/results/results-schema.js';
import { levelledShot, makeJob, resultsOf } from '../../support/folders.js';
import { normal, seeded } from '../../support/jobs.js';

const SPACING = 500;
const IDS = ['A', 'B'] as const;

interface Made {
  /** By rail, µm; null: not read. */
  readonly heights: readonly (readonly (number | null)[])[];
  readonly tolerances: readonly object[];
  readonly corrections?: object;
  /** false: the job names no adjusters. */
  readonly hasAdjusters?: boolean;
  /** Standard uncertainty of the levelled plane, µm/m: 2 m lie between the rails. */
  readonly levelU?: number;
  /** Of each screw, mm either way. */
  readonly travel?: number;
}

const placesOf = (count: number) => Array.from({ length: count }, (_, k) => k * SPACING);

async function survey({
  heights,
  tolerances,
  corrections = {},
  hasAdjusters = true,
  travel = 2,
  levelU = 0.5,
}: Made): Promise<Results> {
  const rows = heights.flatMap((own, r) =>
    own.flatMap((h, i) => (h === null ? [] : [`S1,${IDS[r]!},${i + 1},${h.toFixed(4)}`])),
  );
  const folder = await makeJob(
    {
      ...levelledShot('as-found', 1, levelU),
      rails: heights.map((own, r) => ({
        id: IDS[r],
        across: 2000 * r,
        ...(r === 0 && { datum: true }),
        stations: { first: 0, spacing: SPACING, count: own.length },
      })),
      tolerances,
      ...(hasAdjusters && {
        adjusters: heights.flatMap((own, r) =>
          placesOf(own.length).map((along, k) => ({
            id: `${IDS[r]!}${k + 1}`,
            rail: IDS[r],
            along,
            moves: { vertical: { up: travel, down: travel, unit: 'mm', pitch: 1.5 } },
          })),
        ),
      }),
      corrections,
      decision: { rule: 'guarded', coverage: 0.95 },
    },
    { 'r.csv': ['setup,rail,station,vertical', ...rows, ''].join('\n') },
  );
  return resultsOf(folder);
}

/** The heights after the moves of a list, each adjuster under a station. */
const carriedOut = (heights: Made['heights'], { corrections }: Results) =>
  heights.map((own, r) => {
    const at = placesOf(own.length).map((mm) => mm / 1000);
    const shape = shapeFunctions(at, at, false);
    return own.map(
      (h, i) =>
        h! +
        corrections.moves!.reduce((sum, { rail, along, move }) => {
          const k = Math.round(along / SPACING);
          return rail === IDS[r] ? sum + shape[i * at.length + k]! * move : sum;
        }, 0),
    );
  });

const level = (what: string, limit: number, rail = 'B') => ({ what, rail, limit, unit: 'um' });

test('property: carried out in simulation, the moves give the predicted verdicts; each place once, none too small', async () => {
  const next = seeded(29);
  let [moved, wholes] = [0, 0];
  for (let k = 0; k < 6; k++) {
    // Every third rail B is too high from end to end, and more so at its first.
    const [rough, high] = k % 3 === 0 ? [2, 95] : [14, 0];
    const heights = IDS.map((_, r) =>
      Array.from({ length: 7 }, (_x, i) => rough * normal(next) + r * high * (1 - i / 20)),
    );
    const least = [10, 4, 20][k % 3]!;
    const tolerances = [
      level('straightness-vertical', 30, 'A'),
      level('straightness-vertical', 30),
      level('parallelism-vertical', 40),
      level('height-difference', 45),
    ];
    const found = await survey({ heights, tolerances, corrections: { least: { value: least, unit: 'um' } } });
    const { moves, wholes: rails = [], predicted, status } = found.corrections;
    expect(new Set(moves!.map(({ adjuster, axis }) => `${adjuster} ${axis}`)).size).toBe(moves!.length);
    expect(new Set(moves!.map(({ step }) => step)).size).toBe(moves!.length);
    for (const { move, amount, direction } of moves!) {
      expect(amount).toBeGreaterThanOrEqual(least - 1e-6);
      expect(amount).toBe(Math.abs(move));
      expect(direction).toBe(move > 0 ? 'raise' : 'lower');
    }
    moved += moves!.length;
    wholes += rails.length;
    const after = await survey({ heights: carriedOut(heights, found), tolerances });
    const then = after.phases['as-found']!.characteristics;
    predicted!.forEach((p, c) => {
      if (p.value === null) return;
      // Where both ends of a signed figure are as far out, either may be its value.
      const ends = ({ value, extremes }: CharacteristicResult) =>
        extremes ? [extremes.least.value, extremes.greatest.value] : [value!];
      ends(p).forEach((end, e) => expect(Math.abs(ends(then[c]!)[e]! - end), p.what).toBeLessThan(0.05));
      expect(then[c]!.verdict, p.what).toBe(p.verdict);
      if (status !== 'impossible' && p.limit !== null) expect(p.verdict).toBe('conforms');
    });
  }
  expect(moved).toBeGreaterThan(20);
  expect(wholes).toBeGreaterThan(0);
});

describe('what a whole rail does', () => {
  const tolerances = [level('height-difference', 20)];
  const flat = [0, 0, 0, 0, 0];

  test('a rail that is too high everywhere goes down as a whole: one amount, no sign', async () => {
    const { corrections } = await survey({
      heights: [flat, flat.map(() => 60)],
      tolerances,
      corrections: { response: { u: 2, unit: '%' } },
    });
    expect(corrections.status).toBe('best');
    const [whole, ...more] = corrections.wholes!;
    expect(more).toEqual([]);
    expect(whole!.ends.map(({ direction }) => direction)).toEqual(['lower', 'lower']);
    expect(corrections.moves!.map(({ step }) => step).sort()).toEqual(['1a', '1b', '1c', '1d', '1e']);
    // In proportion: a dial is read to a micrometre.
    const [from, to] = whole!.ends.map(({ amount }) => amount) as [number, number];
    for (const { along, amount } of corrections.moves!)
      expect(Math.abs(amount! - (from + ((to - from) * along) / 2000))).toBeLessThan(1);
  });

  test('one that leans is tilted: first and last end differ', async () => {
    const { corrections } = await survey({
      heights: [flat, flat.map((_, i) => 40 + 20 * i)],
      tolerances: [...tolerances, level('parallelism-vertical', 10)],
    });
    const [from, to] = corrections.wholes![0]!.ends.map(({ amount }) => amount) as [number, number];
    expect(to - from).toBeGreaterThan(60);
  });
});

describe('what nobody should carry out is not asked for', () => {
  const flat = [0, 0, 0, 0, 0];

  test('the datum stays, unless a limit of its own asks for a move or the job lets it', async () => {
    const heights = [[0, 0, 30, 0, 0], flat.map(() => 60)];
    const other = [level('height-difference', 20)];
    const stays = await survey({ heights, tolerances: other });
    expect(stays.corrections.datum).toEqual({ rail: 'A', moves: false });
    expect(stays.corrections.moves!.every(({ rail }) => rail === 'B')).toBe(true);
    const own = await survey({
      heights: [heights[0]!, flat],
      tolerances: [level('straightness-vertical', 15, 'A')],
    });
    expect(own.corrections.moves!.map(({ adjuster }) => adjuster)).toEqual(['A3']);
    expect(own.corrections.datum!.moves).toBe(true);
    const free = await survey({
      heights: [flat, [0, 0, 60, 0, 0]],
      tolerances: other,
      corrections: { datum: 'moves', untouched: ['B'] },
    });
    expect(free.corrections.moves!.every(({ rail }) => rail === 'A')).toBe(true);
    expect(free.corrections.moves!.length).toBeGreaterThan(0);
  });

  test('a limit that only smaller moves would meet is named, and no move is asked for', async () => {
    // 8 µm too high in the middle, no move below 60 µm, and no screw that goes farther than 50 µm.
    const { corrections } = await survey({
      heights: [[0, 0, 20, 0, 0]],
      tolerances: [level('straightness-vertical', 12, 'A')],
      corrections: { least: { value: 60, unit: 'um' } },
      travel: 0.05,
    });
    expect(corrections.moves).toEqual([]);
    expect(corrections.why).toMatch(/only moves would help that are smaller than what is asked for \(60 um/);
  });

  test('a whole rail is not moved by less than its height is known, nor by less than the job says', async () => {
    // ±2 m · 15 µm/m · 2 = ±60 µm at every place of rail B, which is straight.
    const vague = { tolerances: [level('height-difference', 75)], levelU: 15 };
    const small = await survey({ heights: [flat, flat.map(() => 45)], ...vague });
    expect(small.phases['as-found']!.characteristics.find((c) => c.limit === 75)!.verdict).toBe('undecided');
    expect(small.corrections.moves).toEqual([]);
    expect(small.corrections.why).toMatch(/only moves would help that are smaller than what is asked for/);
    const large = await survey({ heights: [flat, flat.map(() => 110)], ...vague });
    expect(large.corrections.wholes).toHaveLength(1);
    for (const { amount, u } of large.corrections.wholes![0]!.ends)
      expect(amount).toBeGreaterThanOrEqual(1.95 * u!);
    const told = await survey({
      heights: [flat, flat.map(() => 45)],
      tolerances: [level('height-difference', 40)],
      corrections: { least: { value: 90, unit: 'um' } },
    });
    expect(told.corrections.moves).toEqual([]);
    expect(told.corrections.why).toMatch(/only moves would help that are smaller than what is asked for/);
  });

  test('what was not measured asks for a reading, not for a move', async () => {
    const { corrections, phases } = await survey({
      heights: [[0, 20, 0, -20, 0]],
      tolerances: [level('straightness-vertical', 80, 'A'), level('straightness-horizontal', 20, 'A')],
    });
    expect(corrections.moves).toEqual([]);
    const { characteristics } = phases['as-found']!;
    expect(corrections.toRead!.map((k) => characteristics[k]!.what)).toEqual(['straightness-horizontal']);
  });

  test('of what conforms nothing is moved, though the rail next to it is', async () => {
    const { corrections } = await survey({
      heights: [
        [0, 12, -12, 12, 0],
        [0, 0, 60, 0, 0],
      ],
      tolerances: [level('straightness-vertical', 30, 'A'), level('straightness-vertical', 30)],
    });
    expect(corrections.moves!.map(({ adjuster }) => adjuster)).toEqual(['B3']);
  });

  test('of stations without adjusters as few are named as meet the limit', async () => {
    const heights = [Array.from({ length: 21 }, (_, i) => 4 * Math.sin(7 * i) + (i === 12 ? 60 : 0))];
    const { corrections } = await survey({
      heights,
      tolerances: [level('straightness-vertical', 40, 'A')],
      hasAdjusters: false,
    });
    expect(corrections.of).toBe('stations');
    expect(corrections.moves!.map(({ adjuster }) => adjuster)).toEqual(['A:13']);
  });
});

describe('the sheet', () => {
  test.each([
    [0.034, 'under 1/16 turn (12°)'],
    [0.072, '1/16 turn (26°)'],
    [-0.5, '1/2 turn (180°)'],
    [1.19, '1 3/16 turns'],
    [2, '2 turns'],
  ])('%f turns: %s', (turns, text) => expect(turnsText(turns, english)).toBe(text));

  test('it names machine, serial, survey and report, has a target for each round, and the same order as the list', async () => {
    const results = await survey({
      heights: [
        [0, 0, 0, 0, 0],
        [60, 60, 60, 60, 60],
      ],
      tolerances: [level('height-difference', 20)],
    });
    const html = correctionSheet({
      ...results,
      subject: { ...results.subject, machine: { name: 'Bed "Plover"', serial: 'P-17' } },
    })!;
    const text = html.replace(/<style>[\s\S]*?<\/style>/, '').replace(/<[^>]+>/g, ' ');
    for (const part of [
      'P-17',
      'Serial no.',
      'Surveyed',
      `Correction sheet ${results.job}`,
      'as a whole',
      'Round 2',
    ])
      expect(text).toContain(part);
    const order = results.corrections.moves!.map(({ step }) => text.indexOf(` ${step!} `));
    expect([...order].sort((a, b) => a - b)).toEqual(order);
    // A word for the direction, and no sign.
    expect(text).not.toMatch(/(?:raise|lower)\s+[-+\u2212]/);
    expect(text.match(/dial to/g)).toHaveLength(2 * results.corrections.moves!.length);
  });
});

/** From flags and answers to a plan: every flag read, every mistake said, stations where they belong. */
import { describe, expect, test } from 'vitest';
import { answer } from '../../../src/cli/new/answer.js';
import { plannedJob } from '../../../src/cli/new/planned-job.js';
import { placeStations } from '../../../src/cli/new/place-stations.js';
import { offsetFiles, type Plan } from '../../../src/cli/new/plan.js';

const planOf = async (given: Record<string, string>, folderName = 'GM-1'): Promise<Plan> => {
  const answered = await answer({ given, folderName, ask: null });
  if (!answered.ok) throw new Error(answered.wrong.join('\n'));
  return answered.plan;
};
const wrongIn = async (given: Record<string, string>): Promise<readonly string[]> => {
  const answered = await answer({ given, folderName: 'GM-1', ask: null });
  return answered.ok ? [] : answered.wrong;
};

describe('without a word', () => {
  test('everything is as usual, and the folder names the job', async () => {
    expect(await planOf({})).toEqual({
      id: 'GM-1',
      title: null,
      customer: null,
      site: null,
      machine: null,
      by: null,
      on: null,
      units: 'mm',
      rails: 2,
      stations: Array.from({ length: 13 }, (_, k) => 500 * k),
      across: [0, 2000],
      setups: 'one',
      passes: 2,
      phases: ['as-left'],
      u: 1.5,
      perMetre: 0.3,
      level: { value: 1, unit: 'arcsec' },
      air: null,
      targetScale: null,
      range: 12.7,
      spans: 3,
      spanU: 0.05,
      slopes: 'none',
      slopeU: 4,
      crews: 1,
      toleranceSet: null,
      tolerances: [],
      rule: 'guarded',
      adjusterSpacing: null,
      travel: null,
      paper: 'A4',
      language: 'en',
    } satisfies Plan);
  });

  test('a folder that cannot name a job', async () => {
    expect((await planOf({}, 'new job!')).id).toBe('JOB-1');
  });

  test('what was taken as usual is said', async () => {
    const answered = await answer({ given: { length: '1000', spans: '0' }, folderName: 'x', ask: null });
    const taken = answered.ok ? answered.taken : [];
    expect(taken).toContain('--across 2000');
    expect(taken).toContain('--spacing 125');
    expect(taken.join(' ')).not.toMatch(/--length|--spans|--span-u|--title/);
  });
});

test('inches bring their own usual figures', async () => {
  expect(await planOf({ units: 'in' })).toMatchObject({
    stations: Array.from({ length: 11 }, (_, k) => 24 * k),
    across: [0, 84],
    u: 0.06,
    range: 0.5,
    paper: 'Letter',
  });
});

test('a unit may stand behind a number', async () => {
  const plan = await planOf({
    units: 'in',
    length: '10ft',
    spacing: '1 ft',
    across: '2.54 m',
    u: '1.27um',
    'level-u': '5 um/m',
    range: '12.7mm',
    'span-u': '2 thou',
  });
  expect(plan).toMatchObject({
    across: [0, 100],
    u: 0.05,
    level: { value: 5, unit: 'um/m' },
    range: 0.5,
    spanU: 0.002,
  });
  expect(plan.stations).toEqual(Array.from({ length: 11 }, (_, k) => 12 * k));
});

test('rails at unequal distances: one distance for each, and another count is refused', async () => {
  const plan = await planOf({ rails: '3', across: '2 m, 1400' });
  expect(plan.across).toEqual([0, 2000, 3400]);
  expect(plannedJob(plan).rails.map(({ across }) => across)).toEqual([0, 2000, 3400]);
  expect(await wrongIn({ rails: '4', across: '2000, 1400' })).toEqual([
    expect.stringContaining('wanted: one distance, or 3'),
  ]);
});

test('crews have files of their own, which hold every pass once', async () => {
  const plan = await planOf({ passes: '3', crews: '2', slopes: 'along' });
  expect(plannedJob(plan).readings.map(({ file }) => file)).toEqual([
    'readings/as-left-crew-1.csv',
    'readings/as-left-crew-2.csv',
    'readings/as-left-span.csv',
    'readings/as-left-level.csv',
  ]);
  const files = offsetFiles('as-left', plan);
  expect([1, 2, 3, 4].map((pass) => files.findIndex(({ holds }) => holds(pass)))).toEqual([0, 1, 0, 0]);
  expect(await wrongIn({ passes: '2', crews: '3' })).toHaveLength(1);
});

test('one rail has no distance across, one set-up and no spans', async () => {
  expect(await planOf({ rails: '1' })).toMatchObject({ across: [0], setups: 'one', spans: 0 });
});

test.each([
  [{ id: '../x' }, /^--id "\.\.\/x": wanted: a job id/],
  [{ units: 'cm' }, /^--units "cm": wanted: mm or in$/],
  [{ rails: '0' }, /^--rails "0": wanted: a whole number from 1 to 8$/],
  [{ rails: '2.5' }, /^--rails/],
  [{ length: '3,5' }, /^--length "3,5": wanted: a number such as/],
  [{ length: '1e400' }, /^--length/],
  [{ length: '10 arcsec' }, /^--length .* wanted: one of m, mm/],
  [{ length: '-5' }, /^--length "-5": wanted: more than nothing/],
  [{ spacing: '7000' }, /^--spacing .* at most the length of the rail, 6000 mm/],
  [{ spacing: '0.1' }, /^--spacing .* more than 1 mm apart/],
  [{ spacing: '2' }, /^--spacing .* at most 1000 stations/],
  [{ count: '5', spacing: '100', length: '700' }, /5 stations 100 mm apart reach over 400 mm, not 700 mm/],
  [{ count: '1' }, /^--count "1": wanted: a whole number from 2 to 1000/],
  [{ rails: '1', across: '5' }, /^--across "5": there is one rail/],
  [{ rails: '1', setups: 'two' }, /^--setups "two": there is one rail/],
  [{ rails: '1', spans: '2' }, /^--spans "2": wanted: 0/],
  [{ spans: '99' }, /^--spans "99": wanted: a whole number from 0 to 13/],
  [{ phases: 'after' }, /^--phases "after": wanted: as-found or as-left or both/],
  [{ 'level-u': '1mm' }, /^--level-u "1mm": wanted: arcsec or um\/m/],
  [{ 'level-u': '0' }, /^--level-u "0": wanted: more than nothing/],
  [{ paper: 'A3' }, /^--paper/],
  [{ title: 'x'.repeat(2001) }, /^--title .* at most 2000/],
  [{ passes: '20', rails: '8', length: '900', spacing: '2' }, /rows a phase; at most 5000/],
])('wrong: %j', async (given, said) => {
  const wrong = await wrongIn(given as Record<string, string>);
  expect(wrong).toHaveLength(1);
  expect(wrong[0]).toMatch(said);
});

test('all mistakes at once', async () => {
  const wrong = await wrongIn({ id: '', units: 'x', rails: 'two', passes: '0', paper: 'B5' });
  expect(wrong.map((line) => line.split(' ')[0])).toEqual([
    '--id',
    '--units',
    '--rails',
    '--passes',
    '--paper',
  ]);
});

describe('stations', () => {
  test.each([
    [{ length: 2000, spacing: 500 }, [0, 500, 1000, 1500, 2000]],
    [{ first: -100, length: 400, count: 3 }, [-100, 100, 300]],
    [{ spacing: 10, count: 3 }, [0, 10, 20]],
    [{ length: 20, spacing: 10, count: 3 }, [0, 10, 20]],
    // The end of the rail is a station, whatever the spacing.
    [{ length: 1000, spacing: 300 }, [0, 300, 600, 900, 1000]],
    // Less than two stations can be told apart by is rounding.
    [{ length: 1000.4, spacing: 250 }, [0, 250, 500, 750, 1000]],
    [{ length: 999.8, spacing: 250 }, [0, 250, 500, 750, 1000]],
    [{ length: 0.3 * 3 * 100, spacing: 30 }, [0, 30, 60, 90]],
  ])('%j', (asked, places) => {
    expect(placeStations(asked, 'mm')).toEqual(places);
  });
});

test('count and spacing are enough, and lengths are read as a crew says them', async () => {
  expect((await planOf({ count: '21', spacing: '500' })).stations).toEqual(
    Array.from({ length: 21 }, (_, k) => 500 * k),
  );
  expect((await planOf({ length: '10.8 m', spacing: '2.7m' })).stations).toEqual([
    0, 2700, 5400, 8100, 10800,
  ]);
  const inches = await planOf({ units: 'in', length: '35 ft 5 in', count: '2', across: `7' 6"` });
  expect(inches).toMatchObject({ stations: [0, 425], across: [0, 90] });
  expect(await wrongIn({ length: '35 ft 5 um/m' })).toHaveLength(1);
  expect(await wrongIn({ length: '35 ft 5' })).toHaveLength(1);
});

test('tolerances, in the unit of the readings or in their own, and the rule that judges them', async () => {
  const plan = await planOf({
    'straightness-vertical': '40',
    'level-along': '2 arcsec',
    span: '0.2 mm',
    decision: 'simple',
  });
  expect(plan).toMatchObject({
    rule: 'simple',
    tolerances: [
      { what: 'straightness-vertical', limit: 40, unit: 'um' },
      { what: 'level-along', limit: 2, unit: 'arcsec' },
      { what: 'span', limit: 200, unit: 'um' },
    ],
  });
  expect(await wrongIn({ rails: '1', 'cross-level': '20' })).toHaveLength(1);
  expect(await wrongIn({ 'straightness-vertical': 'fine' })).toHaveLength(1);
});

test('a plan judged without a word is judged guarded, and that is said', async () => {
  const answered = await answer({ given: { 'straightness-vertical': '40' }, folderName: 'x', ask: null });
  expect(answered).toMatchObject({ ok: true, plan: { rule: 'guarded' } });
  expect(answered.ok && answered.taken).toContain('--decision guarded');
});

describe('someone is asked', () => {
  const asked = async (given: Record<string, string>, answers: Record<string, string[]>) => {
    const heard: string[] = [];
    const answered = await answer({
      given,
      folderName: 'GM-1',
      ask: (question, usual, wrong) => {
        heard.push(`${wrong === null ? '' : `(${wrong}) `}${question} [${usual}]`);
        const word = Object.keys(answers).find((start) => question.startsWith(start));
        return Promise.resolve(word === undefined ? '' : (answers[word]!.shift() ?? ''));
      },
    });
    return { answered, heard };
  };

  test('nothing answered: as usual, and nothing is said of it', async () => {
    const { answered, heard } = await asked({}, {});
    expect(answered).toMatchObject({ ok: true, taken: [], plan: { id: 'GM-1', rails: 2, spans: 3 } });
    expect(heard[0]).toBe('Number of the job [GM-1]');
    expect(heard).toHaveLength(38);
  });

  test('only what makes sense after the answers so far, in their units', async () => {
    const { answered, heard } = await asked({ units: 'in' }, { 'How many rails': ['1'] });
    expect(answered).toMatchObject({ ok: true, plan: { rails: 1, units: 'in' } });
    expect(heard.join('\n')).not.toMatch(/Units|Distance across|Set-ups|parallelism/);
    expect(heard).toContain('Length of a rail from its first to its last station, in [240]');
  });

  test('? explains, < goes back as far as one likes, and the plan is shown before it is made', async () => {
    const typed = ['GM-7', '?', 'Bed', '<', '<', 'GM-8', 'Bed two'];
    const heard: string[] = [];
    const shown: string[] = [];
    const lines: string[] = [];
    const answered = await answer({
      given: {},
      folderName: 'GM-1',
      summary: (plan) => {
        shown.push(`${plan.id} ${plan.passes}`);
        return 'the plan';
      },
      ask: (question, _, said) => {
        heard.push(question);
        lines.push(said ?? '');
        if (question.startsWith('Make this folder')) {
          if (shown.length === 1) return Promise.resolve('back');
          return Promise.resolve('yes');
        }
        if (question.startsWith('Paper') && shown.length === 1) return Promise.resolve('letter');
        return Promise.resolve(typed.shift() ?? '');
      },
    });
    expect(answered).toMatchObject({ ok: true, plan: { id: 'GM-8', title: 'Bed two', paper: 'Letter' } });
    expect(shown).toHaveLength(2);
    expect(lines.join('\n')).toContain('It is on the first page');
    expect(lines).toContain('the plan');
  });

  test('< at the first question stays there; no at the end writes nothing', async () => {
    const answers = ['<', ''];
    const answered = await answer({
      given: {},
      folderName: 'GM-1',
      summary: () => '',
      ask: (question) => Promise.resolve(question.startsWith('Make this') ? 'no' : (answers.shift() ?? '')),
    });
    expect(answered).toEqual({ ok: false, wrong: ['stopped; nothing was written'] });
  });

  test('again until it fits, also where a flag did not', async () => {
    const { answered, heard } = await asked(
      { passes: 'x' },
      { 'How many rails': ['many', '99', '3'], Passes: ['0', '4'] },
    );
    expect(answered).toMatchObject({ ok: true, plan: { rails: 3, passes: 4 } });
    expect(heard.filter((line) => line.includes('How many rails'))).toEqual([
      'How many rails side by side [2]',
      '(wanted: a whole number from 1 to 8) How many rails side by side [2]',
      '(wanted: a whole number from 1 to 8) How many rails side by side [2]',
    ]);
    expect(heard.filter((line) => line.includes('Passes'))).toHaveLength(2);
  });
});

test('thermometers, targets and adjusters, as a crew tells them', async () => {
  const plan = await planOf({
    thermometers: '21.0 C, 21.3 C, 1.5 m',
    'target-scale': '0.2 %',
    adjusters: '1 m',
    travel: '1.5',
  });
  const job = plannedJob(plan);
  expect(job.setups![0]!.air).toEqual({ vertical: { gradient: 0.2, u: 0.0942809042, unit: 'K/m' } });
  expect(job.targets).toEqual([{ id: 'T1', scale: { u: 0.2, unit: '%' } }]);
  expect(job.adjusters).toHaveLength(14);
  expect(job.adjusters![8]).toEqual({
    id: 'B2',
    rail: 'B',
    along: 1000,
    moves: { vertical: { up: 1.5, down: 1.5, unit: 'mm' } },
  });
  expect((await planOf({ thermometers: '70 F, 70.9 F, 5 ft' })).air!.value).toBeCloseTo(0.5 / 1.524, 6);
  for (const text of ['21, 22, 1 m', '21 C, 70 F, 1 m', '21 C, 22 C', '21 C, 22 C, 0 m'])
    expect(await answer({ given: { thermometers: text }, folderName: 'x', ask: null })).toMatchObject({
      ok: false,
    });
});

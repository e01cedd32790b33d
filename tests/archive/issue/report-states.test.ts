/** What the log says of each report on a day, and which lines cannot have been written in their order. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { parseLog, type LogEntry } from '../../../src/archive/issue-log.js';
import { sha256 } from '../../../src/pages/deliverables/manifest.js';
import { againstReport, endOf, orderProblems, statesOn } from '../../../src/archive/report-states.js';

type Part = Partial<LogEntry> & Pick<LogEntry, 'number'>;

/** Lines that are written as the parts say; the rest is filled in. */
const lines = (...parts: Part[]): LogEntry[] =>
  parts.map((part, i) => ({
    format: 'waysheet-issued/1',
    line: i + 1,
    act: part.amends === undefined ? 'issued' : 'amended',
    job: 'GM-1',
    on: `2026-03-${String(10 + i)}`,
    by: 'O. Tressel',
    manifest: sha256(Buffer.from(part.number)),
    previous: '',
    ...part,
  }));

const one = lines(
  { number: 'GM-1-1' },
  { number: 'GM-2-1', job: 'GM-2' },
  { number: 'GM-1-2', amends: 'GM-1-1', because: 'a name' },
  { number: 'GM-2-1', job: 'GM-2', act: 'withdrawn', because: 'the wrong rail' },
);

const statesAt = (day: string | null) =>
  [...statesOn(one, day).values()].map(({ number, state }) => `${number} ${state}`);

describe('states on a day', () => {
  test.each([
    ['2026-03-09', ['GM-1-1 draft', 'GM-2-1 draft', 'GM-1-2 draft']],
    ['2026-03-10', ['GM-1-1 in-force', 'GM-2-1 draft', 'GM-1-2 draft']],
    ['2026-03-12', ['GM-1-1 amended', 'GM-2-1 in-force', 'GM-1-2 in-force']],
    ['2026-03-13', ['GM-1-1 amended', 'GM-2-1 withdrawn', 'GM-1-2 in-force']],
    [null, ['GM-1-1 amended', 'GM-2-1 withdrawn', 'GM-1-2 in-force']],
  ])('%s', (day, wanted) => {
    expect(statesAt(day)).toEqual(wanted);
    expect(orderProblems(one)).toEqual([]);
  });

  test('an amended report names the one that took its place, the day, why, and the line', () => {
    expect(statesOn(one).get('GM-1-1')).toEqual({
      ...{ number: 'GM-1-1', job: 'GM-1', state: 'amended', since: '2026-03-12', amendedBy: 'GM-1-2' },
      ...{ because: 'a name', line: 3 },
    });
  });
});

describe('lines that cannot have been written in this order', () => {
  const first = { number: 'GM-1-1' };
  const withdrawn: Part = { number: 'GM-1-1', act: 'withdrawn', because: 'a rail' };
  const wrong: [string, Part[], number, RegExp][] = [
    ['a second report in force', [first, { number: 'GM-1-2' }], 2, /GM-1-1 of GM-1 is in force/],
    ['a number twice', [first, withdrawn, first], 3, /is issued a second time/],
    [
      'one report under two numbers',
      [first, { number: 'GM-9-1', job: 'GM-9', manifest: sha256(Buffer.from('GM-1-1')) }],
      2,
      /byte for byte, report GM-1-1 of line 1/,
    ],
    ['amends what is not there', [{ ...first, amends: 'GM-1-0', because: 'x' }], 1, /which was never issued/],
    [
      'amends what was withdrawn',
      [first, withdrawn, { number: 'GM-1-2', amends: 'GM-1-1', because: 'x' }],
      3,
      /which was withdrawn before/,
    ],
    [
      'amends a report of another job',
      [first, { number: 'GM-2-1', job: 'GM-2', amends: 'GM-1-1', because: 'x' }],
      2,
      /is of job GM-1, not GM-2/,
    ],
    [
      'amends before it was issued',
      [first, { number: 'GM-1-2', amends: 'GM-1-1', because: 'x', on: '2026-03-01' }],
      2,
      /is before 2026-03-10/,
    ],
    [
      'amends without a reason',
      [first, { number: 'GM-1-2', amends: 'GM-1-1', because: ' ' }],
      2,
      /does not say why/,
    ],
    ['amends, and does not say which', [{ ...first, act: 'amended' }], 1, /which report it amends/],
    ['withdrawn twice', [first, withdrawn, withdrawn], 3, /was withdrawn before/],
    ['withdrawn, never issued', [withdrawn], 1, /never issued/],
    [
      'withdrawn before it was issued',
      [first, { ...withdrawn, on: '2026-01-01' }],
      2,
      /is before 2026-03-10/,
    ],
    ['withdrawn under another job', [first, { ...withdrawn, job: 'GM-2' }], 2, /is of job GM-1, not GM-2/],
    ['withdrawn under another hash', [first, { ...withdrawn, manifest: 'x' }], 2, /under another hash/],
    ['withdrawn without a reason', [first, { number: 'GM-1-1', act: 'withdrawn' }], 2, /does not say why/],
    ['by nobody', [{ ...first, by: ' ' }], 1, /names nobody/],
    ['on no day', [{ ...first, on: '2026-02-30' }], 1, /its day is '2026-02-30'/],
  ];
  test.each(wrong)('%s', (_, parts, line, words) => {
    const found = orderProblems(lines(...parts));
    expect(found.map(({ line: at }) => at)).toContain(line);
    expect(
      found
        .filter(({ line: at }) => at === line)
        .map((one) => one.words)
        .join(),
    ).toMatch(words);
  });

  test('a new report after a withdrawal is in order', () => {
    expect(orderProblems(lines(first, withdrawn, { number: 'GM-1-2' }))).toEqual([]);
  });

  test('whatever order issuing, amending and withdrawing took, nothing is found; with two lines exchanged, something is', () => {
    fc.assert(
      fc.property(
        fc.array(fc.record({ job: fc.nat(2), act: fc.constantFrom('report', 'withdraw') }), {
          minLength: 2,
          maxLength: 12,
        }),
        fc.nat(),
        (steps, at) => {
          const live = new Map<number, string>();
          const parts: Part[] = [];
          steps.forEach(({ job, act }, i) => {
            const [id, old] = [`GM-${String(job)}`, live.get(job)];
            if (act === 'withdraw' && old !== undefined) {
              parts.push({ number: old, job: id, act: 'withdrawn', because: 'x' });
              live.delete(job);
            } else if (act === 'report') {
              const number = `${id}-${String(i)}`;
              parts.push({ number, job: id, ...(old !== undefined && { amends: old, because: 'x' }) });
              live.set(job, number);
            }
          });
          const whole = lines(...parts);
          expect(orderProblems(whole)).toEqual([]);
          expect(
            [...statesOn(whole).values()]
              .filter(({ state }) => state === 'in-force')
              .map(({ number }) => number)
              .sort(),
          ).toEqual([...live.values()].sort());
          // Two neighbours of one job depend on each other.
          const k = at % Math.max(1, whole.length - 1);
          const [a, b] = [whole[k], whole[k + 1]];
          if (a === undefined || b === undefined || a.job !== b.job) return;
          const exchanged = [...whole];
          [exchanged[k], exchanged[k + 1]] = [
            { ...b, line: a.line },
            { ...a, line: b.line },
          ];
          expect(orderProblems(exchanged).length).toBeGreaterThan(0);
        },
      ),
      { seed: 24 },
    );
  });
});

describe('a report against the lines that name it', () => {
  const manifest = Buffer.from('GM-1-2');
  const issue = {
    ...{ number: 'GM-1-2', on: '2026-03-12', by: 'O. Tressel' },
    amends: { number: 'GM-1-1', because: 'a name', changes: [] },
  };
  const head = { job: 'GM-1', issue };
  const of = (report: Parameters<typeof againstReport>[1], bytes: Uint8Array | null = manifest) =>
    againstReport({ entries: one }, report, bytes).join('; ');

  test('the same; a draft; a PDF alone', () => {
    expect(of(head)).toBe('');
    expect(of({ job: 'GM-1' })).toBe('');
    expect(of(head, null)).toBe('');
  });

  test.each([
    [
      'by',
      { ...head, issue: { ...issue, by: 'N. Obody' } },
      /line 3: .*issued by O\. Tressel; the report itself says N\. Obody/,
    ],
    ['day', { ...head, issue: { ...issue, on: '2026-03-11' } }, /line 3: .*issued on 2026-03-12.*2026-03-11/],
    ['job', { ...head, job: 'GM-2' }, /line 3: .*of job GM-1; the report itself says GM-2/],
    [
      'reason',
      { ...head, issue: { ...issue, amends: { ...issue.amends, because: 'a figure' } } },
      /line 3: .*a name.*a figure/,
    ],
    [
      'what it amends',
      { ...head, issue: { ...issue, amends: { ...issue.amends, number: 'GM-1-0' } } },
      /line 3: .*amends GM-1-1.*GM-1-0/,
    ],
    [
      'that it amends none',
      { ...head, issue: { number: 'GM-1-2', on: '2026-03-12', by: 'O. Tressel' } },
      /line 3: .*amends GM-1-1.*no report/,
    ],
    [
      'without',
      { ...head, issue: { ...issue, without: ['approver'] } },
      /line 3: .*nothing left out.*approver/,
    ],
    [
      'number',
      { ...head, issue: { ...issue, number: 'GM-1-3' } },
      /^it says that it is report GM-1-3, which the log does not know$/,
    ],
  ] as const)('%s', (_, report, words) => {
    expect(of(report as Parameters<typeof of>[0])).toMatch(words);
  });

  test('other bytes; and a withdrawal under another job or hash', () => {
    expect(of(head, Buffer.from('x'))).toMatch(/line 3: .*SHA-256 of its manifest\.json differs/);
    const forged = lines(
      { number: 'GM-1-1' },
      { number: 'GM-1-1', act: 'withdrawn', because: 'x', job: 'GM-2', manifest: 'x' },
    );
    const report = { job: 'GM-1', issue: { number: 'GM-1-1', on: '2026-03-10', by: 'O. Tressel' } };
    expect(againstReport({ entries: forged }, report, Buffer.from('GM-1-1'))).toEqual([
      expect.stringMatching(/line 2: .*job GM-2/),
      expect.stringMatching(/line 2: .*SHA-256/),
    ]);
  });
});

test('the end of the log: the noted hash is the last line’s, an earlier one’s, or none', () => {
  const log = parseLog('a\nb\nc\n');
  expect(log.hashes).toEqual(['a', 'b', 'c'].map((line) => sha256(Buffer.from(line))));
  expect(endOf(log, null).end).toBe('not-noted');
  expect(endOf(log, log.head).end).toBe('proven');
  expect(endOf(log, log.hashes[1]!)).toMatchObject({
    end: 'differs',
    words: expect.stringMatching(/line 2 of 3/),
  });
  expect(endOf(log, 'x')).toMatchObject({
    end: 'differs',
    words: expect.stringMatching(/lines are missing/),
  });
});

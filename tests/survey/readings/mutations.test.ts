/**
 * Mutated files: whatever is done to a good file, loading ends with the same numbers or with a
 * refusal, and never throws. The number of cases is printed.
 */
import fc from 'fast-check';
import { afterAll, expect, test } from 'vitest';
import { Findings } from '../../../src/base/diagnostics/diagnostic.js';
import type { Diagnostic } from '../../../src/base/diagnostics/diagnostic.js';
import { describe } from '../../../src/base/diagnostics/messages.js';
import { frameOf, parseJob } from '../../support/read-job.js';
import { resolveJob } from '../../../src/survey/job/resolve-job.js';
import { parseReadings } from '../../../src/survey/readings/parse-readings.js';
import type { Sink } from '../../../src/survey/readings/sink.js';
import { HEADER, madeUpJob, ROWS } from '../job/made-up-job.js';

const job = resolveJob(madeUpJob());
if (!job.ok) throw new Error(JSON.stringify(job.diagnostics));
const frame = frameOf(job.value);
const entry = frame.files[0]!;

const CSV =
  [
    HEADER,
    ...ROWS,
    'S1,A,2,,T1,1,2026-03-14T08:14,1234.5,0.012,,,',
    'S2,B,3,,T1,2,2026-03-14T10:37,-7.25,15,,no,"bumped, and ""left out"""',
    'S1,A,3,,T1,2,,,0.3,,,',
    'S2,C,4,,T1,2,2026-03-14T11:02,0.7,,0.9,,last row',
  ].join('\n') + '\n';

let cases = 0;
afterAll(() => console.log(`mutations: ${cases} cases`));

interface Result {
  readonly refused: boolean;
  /** What was read, without the line: point, axis, pass and number. */
  readonly readings: string[];
}

/** Every diagnostic can be put into words. */
function expectWords(list: readonly Diagnostic[]): void {
  if (list.some((d) => describe(d) === '')) expect.fail(JSON.stringify(list));
}

function read(bytes: Uint8Array): Result {
  cases++;
  const findings = new Findings();
  const sink: Sink = { readings: [], excluded: [], checks: [], setupsSeen: new Set() };
  const table = parseReadings(bytes, entry, frame, sink, findings);
  expectWords(findings.list);
  const readings = sink.readings.map((r) =>
    r.kind === 'offset'
      ? [r.setup, JSON.stringify(r.point), r.axis, r.target, r.pass, r.um].join(' ')
      : r.kind,
  );
  return { refused: table === null || findings.hasErrors, readings };
}

const plain = read(Buffer.from(CSV));
const sound = new Set(plain.readings);

/** Fewer rows may be read, when rows are gone; but none that was not there. */
function expectNoWrongNumber(bytes: Uint8Array): void {
  const found = read(bytes);
  const wrong = found.refused ? [] : found.readings.filter((reading) => !sound.has(reading));
  if (wrong.length > 0) expect.fail([...wrong, 'from', Buffer.from(bytes).toString()].join('\n'));
}

const at = fc.nat({ max: CSV.length - 1 });
const insert = (i: number, what: string) => CSV.slice(0, i) + what + CSV.slice(i);
const remove = (i: number) => CSV.slice(0, i) + CSV.slice(i + 1);

test('the plain file is sound', () => {
  expect(plain.refused).toBe(false);
  expect(plain.readings).toHaveLength(11);
});

test('broken off anywhere', () => {
  for (let i = 0; i < CSV.length; i++) expectNoWrongNumber(Buffer.from(CSV.slice(0, i)));
});

test('a separator, quote or line end lost anywhere', () => {
  for (let i = 0; i < CSV.length; i++) {
    // Two lines without the end between them, the first with a note at its end, become one row and a longer note.
    if (',"\n'.includes(CSV[i]!)) expectNoWrongNumber(Buffer.from(remove(i)));
  }
});

test('a separator, quote, line end or zero byte too many anywhere', () => {
  for (const what of [',', ';', '\t', '"', '\n', '\0', ',,', '\r\n']) {
    for (let i = 0; i < CSV.length; i++) {
      // Within a number it makes two of it that no one can tell from two cells that were meant.
      if (/\d$/.test(CSV.slice(0, i)) && /^[\d.]/.test(CSV.slice(i))) continue;
      expectNoWrongNumber(Buffer.from(insert(i, what)));
    }
  }
});

test('one cell emptied, doubled or exchanged with its neighbour', () => {
  const lines = CSV.trimEnd().split('\n');
  const rows = fc.integer({ min: 1, max: lines.length - 1 });
  fc.assert(
    fc.property(rows, fc.nat({ max: 11 }), fc.constantFrom('dropped', 'doubled'), (r, c, how) => {
      const cells = lines[r]!.split(',');
      if (how === 'dropped') cells.splice(c, 1);
      else cells.splice(c, 0, cells[c]!);
      const changed = lines.map((line, i) => (i === r ? cells.join(',') : line)).join('\n') + '\n';
      expectNoWrongNumber(Buffer.from(changed));
    }),
    { numRuns: 400 },
  );
});

test('rewritten as another office writes it: the same readings', () => {
  const encodings: ((text: string) => Uint8Array)[] = [
    (t) => Buffer.from(t),
    (t) => Buffer.from(`\ufeff${t}`),
    (t) => Buffer.from(`\ufeff${t}`, 'utf16le'),
    (t) => Buffer.from(t, 'utf16le').swap16(),
    (t) => Buffer.from(t, 'latin1'),
  ];
  const rewrite = fc.record({
    encode: fc.constantFrom(...encodings),
    delimiter: fc.constantFrom(',', ';', '\t'),
    decimal: fc.constantFrom('.', ','),
    lineEnd: fc.constantFrom('\n', '\r\n', '\r'),
    quoteAll: fc.boolean(),
    title: fc.constantFrom('', 'East bay\n', '# note\n\n'),
    sep: fc.boolean(),
    upper: fc.boolean(),
    blanks: fc.boolean(),
    emptyColumns: fc.nat({ max: 3 }),
  });
  const rows = CSV.trimEnd()
    .split('\n')
    .map((line) =>
      line.includes('"') ? [...line.split(',').slice(0, 11), 'bumped, and "left out"'] : line.split(','),
    );
  fc.assert(
    fc.property(rewrite, (w) => {
      const quote = (cell: string) =>
        w.quoteAll || cell.includes(w.delimiter) || cell.includes('"')
          ? `"${cell.replaceAll('"', '""')}"`
          : cell;
      const number = (cell: string) => (/^-?\d+\.\d+$/.test(cell) ? cell.replace('.', w.decimal) : cell);
      const lines = rows.map((cells, i) =>
        [
          ...cells.map((c) => (i === 0 && w.upper ? c.toUpperCase() : number(c))),
          ...Array<string>(w.emptyColumns).fill(''),
        ]
          .map(quote)
          .join(w.delimiter),
      );
      const body = lines.join(w.blanks ? '\n\n' : '\n') + '\n';
      const text = `${w.sep ? `sep=${w.delimiter}\n` : ''}${w.title}${body}`;
      const found = read(w.encode(text.replaceAll('\n', w.lineEnd)));
      expect(found).toEqual(plain);
    }),
    { numRuns: 500 },
  );
});

test('any bytes at all, and any flipped bits: never a crash', () => {
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 300 }), (bytes) => void read(bytes)),
    { numRuns: 800 },
  );
  const flips = fc.array(fc.tuple(at, fc.integer({ min: 1, max: 255 })), { minLength: 1, maxLength: 5 });
  fc.assert(
    fc.property(flips, (list) => {
      const bytes = Buffer.from(CSV);
      for (const [i, mask] of list) bytes[i] = bytes[i]! ^ mask;
      read(bytes);
    }),
    { numRuns: 800 },
  );
});

test('job files with characters lost, added or replaced: never a crash', () => {
  const text = JSON.stringify(madeUpJob(), null, 1);
  const place = fc.nat({ max: text.length - 1 });
  const what = fc.oneof(
    fc.constantFrom('', '"', '{', '}', '[', ',', ':', '-', '9', 'null', '\n'),
    fc.string({ maxLength: 3 }),
  );
  fc.assert(
    fc.property(place, place, what, (i, length, put) => {
      cases++;
      const outcome = parseJob(text.slice(0, i) + put + text.slice(i + (length % 4)));
      expectWords(outcome.diagnostics);
      expect(outcome.ok || outcome.diagnostics.some((d) => d.severity !== 'warning')).toBe(true);
    }),
    { numRuns: 800 },
  );
});

test('job files with values of other kinds: never a crash', () => {
  const base = madeUpJob();
  const paths: (string | number)[][] = [];
  const walk = (value: unknown, path: (string | number)[]) => {
    if (path.length > 0) paths.push(path);
    if (typeof value === 'object' && value !== null) {
      for (const [k, v] of Object.entries(value)) walk(v, [...path, Array.isArray(value) ? Number(k) : k]);
    }
  };
  walk(base, []);
  fc.assert(
    fc.property(fc.constantFrom(...paths), fc.jsonValue({ maxDepth: 2 }), (path, value) => {
      cases++;
      const changed = structuredClone(base) as unknown as Record<string | number, unknown>;
      const parent = path
        .slice(0, -1)
        .reduce<Record<string | number, unknown>>(
          (o, k) => o[k] as Record<string | number, unknown>,
          changed,
        );
      parent[path.at(-1)!] = value;
      const outcome = parseJob(JSON.stringify(changed));
      expectWords(outcome.diagnostics);
    }),
    { numRuns: 800 },
  );
});

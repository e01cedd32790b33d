import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { Findings, sortDiagnostics } from '../../../src/base/diagnostics/diagnostic.js';
import type { Diagnostic } from '../../../src/base/diagnostics/diagnostic.js';
import { describe, explain } from '../../../src/base/diagnostics/messages.js';
import { problemPage } from '../../../src/pages/report/problem-page.js';
import { english } from '../../../src/pages/words/words.js';
import { piecesOf } from '../../../src/base/diagnostics/source-lines.js';
import type { SourceLines } from '../../../src/base/diagnostics/source-lines.js';

const source: SourceLines = {
  lines: ['setup,rail,station,vertical,note', 'S1,A,22,3.1,', 'S1,A,2,<b>,"a, b"', 'S1,A,3'],
  delimiter: ',',
  headerRow: 1,
  columns: ['setup', 'rail', 'station', 'vertical', 'note'],
};

function findings(): Findings {
  const found = new Findings();
  const file = 'readings/b.csv';
  found.error(
    'READING_STATION_UNKNOWN',
    { rail: 'A', found: '22', count: 21, nearest: '21' },
    { file, row: 2, column: 'station' },
  );
  found.error('CELL_WRONG', { found: '<b>', wanted: 'a <i>' }, { file, row: 3, column: 'vertical' });
  found.warn('READING_ROW_EMPTY', {}, { file, row: 4 });
  found.error(
    'KEY_UNKNOWN',
    { key: 'tittle', nearest: 'title', known: 'id, title' },
    { file: 'job.json', row: 1, column: 'tittle' },
  );
  found.warn('SETUP_UNUSED', { setup: 'S9' });
  return found;
}
const page = (list: readonly Diagnostic[], title = 'GM-1') =>
  problemPage({
    title,
    diagnostics: list,
    sources: new Map([['readings/b.csv', source]]),
    words: english,
  });

test('by file and line: the line with its cell marked, what it is, what was expected, what to do', () => {
  const html = page(sortDiagnostics(findings().list));
  const text = html.replace(/<style>.*<\/style>/s, '');
  expect(text).toContain('<title>GM-1: 3 errors, 2 warnings</title>');
  expect([...text.matchAll(/<h2>(.*?)<\/h2>/g)].map((m) => m[1])).toEqual([
    'The job as a whole',
    'job.json',
    'readings/b.csv',
  ]);
  expect(text).toContain(
    '<pre class="header"><span class="number">1</span>setup,rail,station,vertical,note</pre>',
  );
  expect(text).toContain('<pre class="line"><span class="number">2</span>S1,A,<mark>22</mark>,3.1,</pre>');
  expect(text).toContain(
    '<b class="column">station</b> There is no station &quot;22&quot;: rail A has stations 1 to 21. <code>READING_STATION_UNKNOWN</code>',
  );
  expect(text).toContain('<dt>What to do</dt><dd>Did you mean 21?</dd>');
  expect(text).toContain('S1,A,2,<mark>&lt;b&gt;</mark>,&quot;a, b&quot;');
  expect(text).toContain('<dt>Expected</dt><dd>a &lt;i&gt;</dd>');
});

test('problems of one line stand together; a file that cannot be shown is named all the same', () => {
  const found = new Findings();
  for (const column of ['station', 'vertical'])
    found.error('CELL_NOT_A_NUMBER', { found: 'x', meant: '' }, { file: 'readings/b.csv', row: 2, column });
  found.error('CSV_ENCODING', { found: 'a PDF' }, { file: 'readings/c.csv' });
  const html = page(found.list);
  expect(html).toContain('S1,A,<mark>22</mark>,<mark>3.1</mark>,');
  expect(html.match(/<article>/g)).toHaveLength(2);
  expect(html).toContain('<h2>readings/c.csv</h2>');
});

test('no problems is said', () => {
  expect(page([])).toContain('Nothing in the files needs to be looked at.');
});

test('nothing can run or be fetched: no script, and a policy that knows the style sheet alone', () => {
  const html = page(findings().list);
  const style = /<style>(.*?)<\/style>/s.exec(html)![1]!;
  const hash = createHash('sha256').update(style).digest('base64');
  const policy = /http-equiv="Content-Security-Policy" content="([^"]*)"/
    .exec(html)![1]!
    .replaceAll('&#39;', "'");
  expect(policy).toBe(`default-src 'none'; style-src 'sha256-${hash}'; base-uri 'none'; form-action 'none'`);
  expect(html).not.toMatch(/<script|<link|<img|<iframe|href=|src=(?!')|url\(|\son\w+=|javascript:/i);
});

test('text from a file never becomes markup, whatever it is', () => {
  const text = fc.oneof(
    fc.string(),
    fc.constantFrom(
      '</style><script>alert(1)</script>',
      '"><img src=x onerror=alert(1)>',
      "' onload='x",
      '<!--',
      '\u202e',
      '\u0000\u001b[2J',
      '&lt;',
      ']]>',
    ),
  );
  let runs = 0;
  fc.assert(
    fc.property(text, text, text, text, (title, file, cell, column) => {
      runs++;
      const list: Diagnostic[] = [
        {
          code: 'CELL_WRONG',
          severity: 'error',
          at: { file, row: 1, column },
          data: { found: cell, wanted: title },
        },
      ];
      const sources = new Map([
        [file, { lines: [cell, title], delimiter: ',', headerRow: 2, columns: [column] } as SourceLines],
      ]);
      const html = problemPage({ title, diagnostics: list, sources, words: english });
      const tags = [...html.replace(/<style>.*?<\/style>/s, '').matchAll(/<[^>]*>/g)].map((m) => m[0]);
      const known =
        /^<(?:!doctype html|\/?(?:html|head|body|header|main|section|article|title|h1|h2|h3|p|pre|span|mark|dl|dt|dd|b|code)(?: (?:class|lang)="[\w ]+")?|meta [^<>]*)>$/;
      for (const tag of tags)
        if (!known.test(tag)) expect.fail(`${tag} from ${JSON.stringify([title, file, cell, column])}`);
      expect(tags.filter((tag) => tag.startsWith('<meta'))).toHaveLength(3);
      expect(html).not.toMatch(/[\u0000-\u0008\u000b-\u001f\u202a-\u202e]/);
    }),
    { numRuns: 500 },
  );
  console.log(`problem pages: ${runs} cases`);
});

test('a line as it stands, in pieces', () => {
  const pieces = (row: number, columns: string[], s = source) =>
    piecesOf(
      s,
      row,
      columns.map((column) => ({ column })),
    )
      ?.map(({ text, marked }) => (marked ? `[${text}]` : text))
      .join('') ?? null;
  expect(pieces(2, ['rail'])).toBe('S1,[A],22,3.1,');
  expect(pieces(2, ['note'])).toBe('S1,A,22,3.1,[]');
  expect(pieces(3, ['note'])).toBe('S1,A,2,<b>,["a, b"]');
  expect(pieces(4, ['note'])).toBe('S1,A,3,,[]');
  expect(pieces(2, ['unheard of'])).toBe('S1,A,22,3.1,');
  expect(pieces(9, [])).toBeNull();
  const broken = {
    ...source,
    lines: ['setup,note', 'S1,"two', 'lines"', 'S1,x'],
    columns: ['setup', 'note'],
  };
  expect(pieces(2, ['note'], broken)).toBe('S1,["two\nlines"]');
  const job = { ...source, lines: ['  "id": "a,b", "x": [1, 2],'], delimiter: null };
  expect(pieces(1, ['rails[0].x'], job)).toBe('  "id": "a,b", ["x": [1, 2]],');
});

test('of a long line what stands round the mark', () => {
  const cells = Array.from({ length: 60 }, (_, i) => `cell ${i}`);
  const long = { ...source, lines: [cells.join(',')], columns: cells };
  const text = piecesOf(long, 1, [{ column: 'cell 30' }])!
    .map((piece) => (piece.marked ? `[${piece.text}]` : piece.text))
    .join('');
  expect(text).toBe(
    ' … cell 25,cell 26,cell 27,cell 28,cell 29,[cell 30],cell 31,cell 32,cell 33,cell 34,cell 35, … ',
  );
  const wide = { ...source, lines: ['x'.repeat(1000)], columns: ['a'] };
  expect(piecesOf(wide, 1, [{ column: 'a' }])![0]!.text).toHaveLength(80);
});

test('the parts of a message are those of the line', () => {
  for (const d of findings().list) {
    const { what, expected, fix } = explain(d);
    expect(describe(d)).toBe(
      `${what}${expected === null ? '' : `; expected: ${expected}`}.${fix === null ? '' : ` ${fix}`}`,
    );
  }
});

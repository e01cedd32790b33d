/**
 * Text never becomes markup: every free text of a job and of its readings is an attack, and the whole way is
 * gone, to the page, the charts and the print.
 */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { createServer, type AddressInfo } from 'node:net';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Deliverables } from '../../src/pages/deliverables/deliverables.js';
import { loadJob } from '../../src/solution/intake/load-job.js';
import { makeDeliverables } from '../../src/pipeline.js';
import { openPrinter } from '../../src/pages/report/pdf.js';
import { fieldSheet } from '../../src/cli/new/field-sheet.js';
import { renderFieldSheet } from '../../src/cli/new/render-field-sheet.js';
import { answer } from '../../src/cli/new/answer.js';
import { hostileJob } from './hostile-job.js';
import { join } from 'node:path';
import { root } from '../support/folders.js';

/** Nothing listens there but the test itself. */
let at = 'http://127.0.0.1:9';
let connections = 0;
const server = createServer((socket) => {
  connections++;
  socket.destroy();
});

const attacks = (): string[] => [
  `<script>fetch('${at}/a')</script>`,
  `<img src="${at}/b" onerror="fetch('${at}/c')">`,
  `"><svg onload=fetch('${at}/d')>`,
  `</style></title></table><link rel=stylesheet href=${at}/e>`,
  `'); } @import url(${at}/f); /*`,
  `{{constructor}}{{{this}}}{{> cover}}`,
  `]]></svg><foreignObject><body xmlns="http://www.w3.org/1999/xhtml" onload="fetch('${at}/g')">`,
  `<a href="javascript:fetch('${at}/h')">x</a>&lt;b&gt;&#60;b&#62;`,
  `\u202e<b>turned</b>\u2066`,
];
let next = 0;
/** Another attack each time. */
const attack = (where: string): string => `${where} ${attacks()[next++ % attacks().length]!}`;

let files: Deliverables;
let sheet: string;
const notes: string[] = [];

beforeAll(async () => {
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  at = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  const folder = await hostileJob(attack);
  const loaded = await loadJob(folder);
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.diagnostics, null, 1));
  const answered = await answer({
    given: {
      title: attack('title'),
      customer: attack('customer'),
      machine: attack('machine'),
      setups: 'two',
    },
    folderName: '<b>',
    ask: null,
  });
  if (!answered.ok) throw new Error(answered.wrong.join('\n'));
  sheet = renderFieldSheet(fieldSheet(answered.plan, 'waysheet'));
  const printer = await openPrinter();
  const onNote = ({ code, data }: { code: string; data: object }) =>
    notes.push(`${code} ${JSON.stringify(data)}`);
  const noting = {
    ...printer,
    print: (job: Parameters<typeof printer.print>[0]) => printer.print({ ...job, onNote }),
  };
  try {
    files = (await makeDeliverables(folder, loaded.value, loaded.diagnostics, Promise.resolve(noting))).files;
    await noting.print({ html: sheet, title: 'sheet', createdOn: '2026-01-01', paper: 'A4' });
  } finally {
    await printer.close();
  }
});
afterAll(() => server.close());

const decoded = (bytes: Uint8Array): string => new TextDecoder().decode(bytes);

/** The tags of a page, each once, with the names of their attributes; what our own templates never write stands out. */
function tagsOf(html: string): string[] {
  const body = html.replace(/<style>[^<]*<\/style>/g, '<style></style>').replace(/<!doctype html>/i, '');
  const found = new Set<string>();
  for (const [, name, attributes] of body.matchAll(/<([a-z!/?][^\s>]*)((?:"[^"]*"|[^">])*)>/gi)) {
    found.add(name!.replace('/', '').toLowerCase());
    for (const [, attribute] of attributes!.matchAll(/\s([^\s=>"]+)(?:="[^"]*")?/g))
      found.add(`@${attribute!.toLowerCase()}`);
  }
  return [...found].sort();
}
const dangerous =
  /^(script|iframe|object|embed|link|foreignobject|a|b|body xmlns|form|@on.*|@href|@xmlns|@style)$/;

describe('the page of the report', () => {
  test('holds the texts, escaped', () => {
    const html = decoded(files.get('report.html')!);
    expect(html).toContain('&lt;script&gt;fetch');
    expect(html.match(/&lt;/g)!.length).toBeGreaterThan(20);
  });

  test('and no tag or attribute that is not ours', () => {
    const html = decoded(files.get('report.html')!);
    // Our own contents lead to places of the page itself, in one list at its head, and name sections alone.
    const [contents = ''] = /<nav class="contents"[^>]*>[\s\S]*?<\/nav>/.exec(html) ?? [];
    const links =
      /^<nav class="contents" aria-label="Contents">\s*(?:<a href="#[a-z]+">(?:\d+ )?[A-Za-z -]+<\/a>\s*)+<\/nav>$/;
    expect(contents).toMatch(links);
    // Three scripts are ours, the data, the words and the code, and the policy names the code by its hash.
    const scripts = [...html.matchAll(/<script[^>]*>([\s\S]*?)<\/script>/g)];
    expect(scripts.map(([tag], i) => tag!.slice(0, i === 1 ? 49 : 52))).toEqual([
      '<script type="application/json" id="stations-data">[',
      '<script type="application/json" id="live-words">{',
      `<script>${readFileSync(join(root, 'templates/live.js'), 'utf8')}`.slice(0, 52),
    ]);
    expect(html.match(/<script/gi)).toHaveLength(3);
    const hash = createHash('sha256').update(scripts[2]![1]!).digest('base64');
    expect(html).toContain(`script-src 'sha256-${hash}'"`);
    // A mark is drawn once and used in each row. The list of sections on page 1 leads to places of the page.
    const rest = html
      .replace(contents, '')
      .replace(/<a href="#[a-z]+">[^<]*(?:<span data-page="[a-z]+">\d*<\/span>)?<\/a>/g, '')
      .replace(/<script[^>]*>[\s\S]*?<\/script>/g, '')
      .replace(/<use href="#mark-[a-z-]+"\/?>/g, '');
    expect(tagsOf(rest).filter((tag) => dangerous.test(tag))).toEqual([]);
  });

  test('and leads to nothing outside', () => {
    const html = decoded(files.get('report.html')!);
    expect(html).not.toMatch(/(src|href|action|poster|srcset)\s*=\s*["']?(?!["']?data:)[^"'\s>]*:/i);
    const style = /<style>([\s\S]*?)<\/style>/.exec(html)![1]!;
    expect(style).not.toMatch(/url\((?!data:)|@import(?![^"]*")|expression\(/);
  });
});

test('the field sheet: the same', () => {
  expect(sheet).toContain('&lt;');
  expect(tagsOf(sheet).filter((tag) => dangerous.test(tag))).toEqual([]);
  expect(/<style>([\s\S]*?)<\/style>/.exec(sheet)![1]!).not.toMatch(/url\((?!data:)/);
});

test('the charts: no script, no foreign content, nothing outside', () => {
  const charts = [...files].filter(([path]) => path.endsWith('.svg'));
  expect(charts.length).toBeGreaterThan(4);
  for (const [path, bytes] of charts) {
    const svg = decoded(bytes);
    const inOurTags = svg.replace(/>[^<]*</g, '><');
    expect(inOurTags, path).not.toMatch(/<(script|foreignObject|image|iframe|a|animate|set|use)\b/i);
    expect(inOurTags, path).not.toMatch(/\son[a-z]+\s*=/i);
    expect(inOurTags.replace(/aria-[a-z]+="[^"]*"/g, ''), path).not.toMatch(/href\s*=\s*"(?!#|data:)/i);
  }
});

test('the print: nothing is asked for, nothing is fetched', () => {
  expect(decoded(files.get('report.pdf')!.subarray(0, 5))).toBe('%PDF-');
  expect(notes.filter((note) => note.startsWith('PRINT_REQUEST_BLOCKED'))).toEqual([]);
  expect(connections).toBe(0);
});

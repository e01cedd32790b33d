import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import type { PDFHexString, PDFRawStream, PDFString } from '@cantoo/pdf-lib';
import { decodePDFRawStream, PDFArray, PDFDict, PDFDocument, PDFName } from '@cantoo/pdf-lib';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { openPress } from '../../../src/pages/report/browser/print-html.js';
import type { BrowserNote } from '../../../src/pages/report/browser/trouble.js';
import { unpackChromium } from '../../../src/pages/report/browser/unpack-chromium.js';
import { fontFaceCss, svgFontStyle, withoutFonts } from '../../../src/pages/fonts/fonts.js';
import { finishPdf } from '../../../src/pages/report/pdf-file/finish.js';
import { openPrinter, type Printer } from '../../../src/pages/report/pdf.js';
import type { PrintJob } from '../../../src/pages/report/print-job.js';
import { temporary } from '../../support/folders.js';

const chart = (label: string) =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="500" height="150">${svgFontStyle(label, { chart: label.replace(/\W/g, '-') })}` +
  `<text x="9" y="40" font-family="Waysheet Sans" font-size="12">${label}</text><path d="M9 90L490 70" stroke="#0072B2"/></svg>`;
const image = (svg: string, alt: string) =>
  `<img alt="${alt}" width="500" height="150" src="data:image/svg+xml;base64,${Buffer.from(svg).toString('base64')}">`;
const rows = (count: number) =>
  Array.from({ length: count }, (_, i) => `<tr><th scope="row">${i + 1}</th><td>−${i}.5</td></tr>`).join('');

/** A page as the report has it: furniture in page margins, charts as pictures, a table over two pages. */
const page = (
  body = '',
  head = '',
) => `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>t</title><style>
  ${fontFaceCss()}
  @page { size: A4; margin: 20mm;
    @top-left { content: "Report GM-2031"; font: 700 8pt "Waysheet Sans" }
    @bottom-right { content: "page " counter(page) " of " counter(pages); font: 400 8pt "Waysheet Sans" } }
  body { font: 10pt/1.4 "Waysheet Sans" } th { font-weight: 400 }
  </style>${head}</head><body><h1 style="font-weight:400">Straightness</h1><h2 style="font-weight:400">Rail A</h2>
  ${image(chart('deviation, µm'), 'Straightness of rail A: 31 µm')}
  <table><thead><tr><th scope="col">Station</th><th scope="col">Height</th></tr></thead><tbody>${rows(45)}</tbody></table>
  ${body}</body></html>`;

const csv = Buffer.from('setup,rail\nS1,A\n');
const job = (html: string, more: Partial<PrintJob> = {}): PrintJob => ({
  html,
  title: 'Acceptance report GM-2031',
  author: 'Vermessung Süd',
  subject: 'Bed rails',
  createdOn: '2026-03-16',
  paper: 'A4',
  attachments: [
    {
      name: 'results.json',
      bytes: Buffer.from('{"job":"GM-2031"}'),
      mime: 'application/json',
      description: 'All results',
      relationship: 'Alternative',
    },
    {
      name: 'as-left (2).csv',
      bytes: csv,
      mime: 'text/csv',
      description: 'Readings, Größe',
      relationship: 'Source',
    },
  ],
  ...more,
});

let printer: Printer;
let report: Uint8Array;
let pdf: PDFDocument;
beforeAll(async () => {
  printer = await openPrinter({ pages: 2 });
  report = await printer.print(job(page()));
  pdf = await PDFDocument.load(report, { updateMetadata: false });
});
afterAll(() => printer.close());

/** The text of each page, and its fonts. The library ends every glyph's piece of text with a line break. */
const textOf = (document: PDFDocument) =>
  document.getPages().map((sheet) => {
    const items = sheet.extractContents().flatMap((item) => (item.kind === 'text' ? item : []));
    const text = items.map((item) => item.getText().replaceAll('\n', '')).join('');
    return { text, fonts: items.map((item) => item.fontFamily) };
  });
const wordsOf = async (bytes: Uint8Array) =>
  textOf(await PDFDocument.load(bytes, { updateMetadata: false }))
    .map(({ text }) => text)
    .join('');
const name = (text: string) => PDFName.of(text);
const elements = (document: PDFDocument) =>
  document.context
    .enumerateIndirectObjects()
    .flatMap(([, object]) =>
      object instanceof PDFDict && object.get(name('Type')) === name('StructElem') ? object : [],
    );

describe('a printed report', () => {
  test('names the browser that printed it', () => {
    expect(printer.browser).toMatch(/\d+\.\d+\.\d+\.\d+$/);
  });

  test('has its number and "page n of N" on every page', () => {
    const pages = textOf(pdf);
    expect(pages).toHaveLength(2);
    pages.forEach(({ text }, i) => {
      expect(text).toContain('Report GM-2031');
      expect(text).toContain(`page ${i + 1} of 2`);
    });
  });

  test('is set in the bundled font throughout: page, page margins, and pictures, on the first print', () => {
    const fonts = new Set(textOf(pdf).flatMap((sheet) => sheet.fonts));
    // Bold stands in a page margin alone, where Chromium does not load it by itself.
    expect([...fonts].sort()).toEqual(['WaysheetSans-Bold', 'WaysheetSans-Regular']);
    expect(textOf(pdf)[0]!.text).toContain('deviation, µm');
  });

  test('has the title and the dates of the job', () => {
    expect(pdf.getTitle()).toBe('Acceptance report GM-2031');
    expect(pdf.getAuthor()).toBe('Vermessung Süd');
    expect(pdf.getSubject()).toBe('Bed rails');
    expect(pdf.getCreator()).toBe('waysheet');
    expect(pdf.getProducer()).toMatch(/^Skia\/PDF m\d+; waysheet$/);
    expect(pdf.getCreationDate()).toEqual(new Date('2026-03-16T00:00:00Z'));
    expect(pdf.getModificationDate()).toEqual(new Date('2026-03-16T00:00:00Z'));
    const { catalog } = pdf;
    expect((catalog.lookup(name('Lang')) as PDFString).asString()).toBe('en');
    expect(catalog.lookup(name('ViewerPreferences'), PDFDict).get(name('DisplayDocTitle'))?.toString()).toBe(
      'true',
    );
  });

  test('gives each chart its alternative text', () => {
    const figures = elements(pdf).filter((element) => element.get(name('S')) === name('Figure'));
    const alts = figures.map((figure) =>
      (figure.lookup(name('Alt')) as PDFString | PDFHexString).decodeText(),
    );
    expect(alts).toEqual(['Straightness of rail A: 31 µm']);
  });

  test('carries the files byte for byte, with their part in the report', () => {
    const found = pdf.getAttachments();
    expect(found.map((file) => [file.name, Buffer.from(file.data).toString()])).toEqual([
      ['as-left (2).csv', csv.toString()],
      ['results.json', '{"job":"GM-2031"}'],
    ]);
    const specs = pdf.catalog
      .lookup(name('AF'), PDFArray)
      .asArray()
      .map((ref) => pdf.context.lookup(ref, PDFDict));
    expect(specs.map((spec) => spec.get(name('AFRelationship'))?.toString())).toEqual([
      '/Source',
      '/Alternative',
    ]);
    expect(specs.map((spec) => (spec.get(name('Desc')) as PDFHexString).decodeText())).toEqual([
      'Readings, Größe',
      'All results',
    ]);
    const stream = specs[0]!.lookup(name('EF'), PDFDict).lookup(name('F')) as PDFRawStream;
    expect(Buffer.from(decodePDFRawStream(stream).decode())).toEqual(csv);
    expect(stream.dict.get(name('Subtype'))).toBe(name('text/csv'));
    const params = stream.dict.lookup(name('Params'), PDFDict);
    expect(params.get(name('CreationDate'))?.toString()).toBe('(D:20260316000000Z)');
  });
});

test('finishing keeps every tag, bookmark and cell reference', async () => {
  const press = await openPress();
  try {
    const printed = await press.print({
      html: page(),
      paper: 'A4',
      timeoutMs: 60_000,
      onNote: () => undefined,
    });
    const [before, after] = await Promise.all(
      [printed, await finishPdf(printed, job(''))].map((bytes) =>
        PDFDocument.load(bytes, { updateMetadata: false }),
      ),
    );
    const kinds = (document: PDFDocument) =>
      elements(document)
        .map((element) => element.get(name('S'))?.toString())
        .sort();
    expect(kinds(before!).length).toBeGreaterThan(200);
    expect(kinds(after!)).toEqual(kinds(before!));
    const bookmarks = (document: PDFDocument) =>
      document.context
        .enumerateIndirectObjects()
        .flatMap(([, o]) =>
          o instanceof PDFDict && o.has(name('Dest'))
            ? (o.lookup(name('Title')) as PDFString).decodeText()
            : [],
        );
    expect(bookmarks(before!)).toEqual(['Straightness', 'Rail A']);
    expect(bookmarks(after!)).toEqual(bookmarks(before!));
    for (const key of ['StructTreeRoot', 'MarkInfo', 'Outlines', 'Lang'])
      expect(after!.catalog.has(name(key))).toBe(true);
    expectSoundIds(after!);
  } finally {
    await press.close();
  }
});

/** Every header that a cell names exists, and the tree of ids is in order, as a reader's search needs. */
function expectSoundIds(document: PDFDocument): void {
  const ids = elements(document).flatMap(
    (element) => (element.lookup(name('ID')) as PDFString | undefined)?.asString() ?? [],
  );
  expect([...ids].sort()).toEqual(
    Array.from({ length: ids.length }, (_, i) => `node${String(i + 1).padStart(8, '0')}`),
  );
  const tree: string[] = [];
  const walk = (node: PDFDict): void => {
    const names = node.lookupMaybe(name('Names'), PDFArray);
    for (let i = 0; i < (names?.size() ?? 0); i += 2) tree.push((names!.lookup(i) as PDFString).asString());
    const kids = node.lookupMaybe(name('Kids'), PDFArray);
    for (let i = 0; i < (kids?.size() ?? 0); i++) walk(kids!.lookup(i, PDFDict));
  };
  walk(document.catalog.lookup(name('StructTreeRoot'), PDFDict).lookup(name('IDTree'), PDFDict));
  expect(tree).toEqual([...ids].sort());
  const attributes = elements(document).flatMap((element) => element.get(name('A'))?.toString() ?? []);
  const named = attributes.flatMap((text) => [...text.matchAll(/\((node\d+)\)/g)].map(([, id]) => id!));
  expect(new Set(named).size).toBeGreaterThan(40);
  expect(ids).toEqual(expect.arrayContaining([...new Set(named)]));
}

describe('the same job gives the same bytes', () => {
  test('again, after other jobs, and beside them', async () => {
    const other = job(page('<p>another</p>'));
    const prints = await Promise.all(
      [job(page()), other, job(page()), other, job(page())].map((each) => printer.print(each)),
    );
    for (const i of [0, 2, 4]) expect(Buffer.compare(prints[i]!, report)).toBe(0);
    expect(Buffer.compare(prints[1]!, prints[3]!)).toBe(0);
    expect(Buffer.compare(prints[1]!, report)).not.toBe(0);
  });

  /** Pictures whose fonts an earlier page may have left in the browser's memory. */
  const charts = (...labels: string[]) =>
    job(page(labels.map((label) => image(chart(label), label)).join('')));
  const plain = ({ html, ...more }: PrintJob): PrintJob => ({
    ...more,
    html: `${html}<!-- not this one -->`,
    fontless: html.replace(/src="data:image\/svg\+xml;base64,([^"]*)"/g, (_, data: string) => {
      const svg = withoutFonts(Buffer.from(data, 'base64').toString());
      return `src="data:image/svg+xml;base64,${Buffer.from(svg).toString('base64')}"`;
    }),
  });

  test.each([
    ['with its fonts inside', (each: PrintJob) => each],
    ['with the fonts installed', plain],
  ])('%s, first on its page or after other charts', async (_, variant) => {
    const [one, other] = [
      variant(charts('vertical', 'plan')),
      variant(charts('horizontal', 'twist', 'span')),
    ];
    const order = async (...jobs: PrintJob[]) => {
      const fresh = await openPrinter();
      const prints: Uint8Array[] = [];
      for (const each of jobs) prints.push(await fresh.print(each));
      await fresh.close();
      return prints;
    };
    const [a, b] = await order(one, other);
    const [c, d, e] = await order(other, one, other);
    expect(Buffer.compare(a!, d!)).toBe(0);
    expect(Buffer.compare(b!, c!)).toBe(0);
    expect(Buffer.compare(b!, e!)).toBe(0);
  });

  test('from another browser, whatever the time', async () => {
    const second = await openPrinter();
    try {
      expect(Buffer.compare(await second.print(job(page())), report)).toBe(0);
    } finally {
      await second.close();
    }
  });

  test('and its identifier is its own', async () => {
    const identifier = (bytes: Uint8Array) =>
      /\/ID \[<([0-9A-F]{32})> <\1>\]/.exec(Buffer.from(bytes).toString('latin1'))?.[1];
    expect(identifier(report)).toMatch(/[1-9A-F]/);
    expect(identifier(await printer.print(job(page(), { title: 'Another' })))).not.toBe(identifier(report));
  });
});

test('a page without its fonts is set as the one with them, glyph by glyph, where the browser has them', async () => {
  const html = page();
  const fontless = withoutFonts(html).replace(/(?<=src="data:image\/svg\+xml;base64,)[^"]*/, (data) =>
    Buffer.from(withoutFonts(Buffer.from(data, 'base64').toString())).toString('base64'),
  );
  expect(fontless.length).toBeLessThan(html.length - 90_000);
  const placed = async (each: PrintJob) =>
    (await PDFDocument.load(await printer.print(each), { updateMetadata: false }))
      .getPages()
      .map((sheet) =>
        sheet
          .extractContents()
          .flatMap((item) => (item.kind === 'text' ? [[item.getText(), item.x, item.y, item.fontSize]] : [])),
      );
  expect(await placed(job(html, { fontless }))).toEqual(await placed(job(html)));
});

test.each([
  ['A4', [595, 842]],
  ['Letter', [612, 792]],
] as const)('paper %s where the page itself names no size', async (paper, expected) => {
  const bytes = await printer.print(job('<!doctype html><title>t</title><p>x', { paper }));
  const { width, height } = (await PDFDocument.load(bytes)).getPage(0).getSize();
  // Whole pixels of 1/96 in.
  expect(Math.abs(width - expected[0])).toBeLessThan(1);
  expect(Math.abs(height - expected[1])).toBeLessThan(1);
});

test("the page's own size wins", async () => {
  const bytes = await printer.print(
    job('<!doctype html><style>@page { size: Letter }</style><p>x', { paper: 'A4' }),
  );
  expect(Math.round((await PDFDocument.load(bytes)).getPage(0).getWidth())).toBe(612);
});

describe('what a page may not do', () => {
  test('nothing is fetched, by whatever way it is asked for', async () => {
    let connections = 0;
    const server = createServer((socket) => {
      connections++;
      socket.destroy();
    }).listen(0, '127.0.0.1');
    await new Promise((resolve) => server.once('listening', resolve));
    const at = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
    const notes: BrowserNote[] = [];
    const head = `<link rel="preconnect" href="${at}"><link rel="dns-prefetch" href="${at}"><link rel="stylesheet" href="${at}/a.css">
      <style>@import url(${at}/b.css); p { background: url(${at}/c.png) }</style><meta http-equiv="refresh" content="0;url=${at}/d">`;
    const body = `<p>still here</p><img alt="remote" src="${at}/e.png"><img src="file:///etc/hostname"><iframe src="${at}/f"></iframe>
      <object data="${at}/g"></object><video poster="${at}/h"></video><iframe srcdoc="<img src='${at}/i.png'>"></iframe>
      ${image(`<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><image href="${at}/j.png"/></svg>`, 'x')}`;
    try {
      const bytes = await printer.print(job(page(body, head), { onNote: (note) => notes.push(note) }));
      expect(await wordsOf(bytes)).toContain('still here');
      expect(connections).toBe(0);
    } finally {
      server.close();
    }
    const urls = notes.filter(({ code }) => code === 'PRINT_REQUEST_BLOCKED').map(({ data }) => data['url']);
    expect(urls).toEqual(expect.arrayContaining([`${at}/e.png`, `${at}/a.css`]));
  });

  test('no script runs', async () => {
    const body = `<p id="p">as written</p><script>document.getElementById('p').textContent = 'as scripted'</script>
      <img src="data:," onerror="document.body.textContent = 'as scripted'"><iframe srcdoc="<script>document.write('as scripted')</script>"></iframe>`;
    const words = await wordsOf(await printer.print(job(page(body.replace(/<img[^>]*>/, '')))));
    expect(words).toContain('as written');
    expect(words).not.toContain('as scripted');
  });
});

describe('what is said about a page', () => {
  test('a character that the font lacks is set in another font, by name', async () => {
    const notes: BrowserNote[] = [];
    await printer.print(job(page('<p>7000 \u20ab</p>'), { onNote: (note) => notes.push(note) }));
    expect(notes).toEqual([{ code: 'PRINT_OTHER_FONT', data: { font: expect.any(String) as string } }]);
  });

  test('a report in the bundled font has nothing to say', async () => {
    const notes: BrowserNote[] = [];
    await printer.print(job(page(), { onNote: (note) => notes.push(note) }));
    expect(notes).toEqual([]);
  });

  test('a font that cannot be read is an error, and the next job prints', async () => {
    const broken =
      '<!doctype html><style>@font-face{font-family:Broken;src:url(data:font/woff2;base64,AAAA)}</style><p>x';
    await expect(printer.print(job(broken))).rejects.toMatchObject({
      code: 'PRINT_FONT_FAILED',
      data: { font: expect.stringContaining('Broken') as string },
    });
    expect(Buffer.compare(await printer.print(job(page())), report)).toBe(0);
  });

  test('so is a picture', async () => {
    const broken = page('<img alt="Cross-level" src="data:image/svg+xml;base64,AAAA">');
    await expect(printer.print(job(broken))).rejects.toMatchObject({
      code: 'PRINT_IMAGE_FAILED',
      data: { image: 'Cross-level' },
    });
  });

  test('a date that is none, and two attachments of one name, are refused before printing', async () => {
    await expect(printer.print(job(page(), { createdOn: 'last week' }))).rejects.toThrow(
      "createdOn is 'last week'",
    );
    const twice = [...job('').attachments!, job('').attachments![0]!];
    await expect(printer.print(job(page(), { attachments: twice }))).rejects.toThrow(
      "two attachments are called 'results.json'",
    );
  });
});

describe('when things break', () => {
  test('a job over its limit is stopped, and the next one prints', async () => {
    const endless = `<!doctype html>${'<p>endless</p>'.repeat(40_000)}`;
    await expect(printer.print(job(endless, { timeoutMs: 200 }))).rejects.toMatchObject({
      code: 'PRINT_TIMEOUT',
    });
    expect(Buffer.compare(await printer.print(job(page())), report)).toBe(0);
  });

  /** Process numbers of the browsers that this process has started. */
  const browsers = () =>
    readdirSync('/proc/self/task').flatMap((task) =>
      readFileSync(`/proc/self/task/${task}/children`, 'utf8').split(' ').filter(Boolean).map(Number),
    );
  const profiles = () =>
    readdirSync(tmpdir()).filter((entry) => entry.startsWith(`waysheet-browser-${process.pid}-`));

  test.runIf(process.platform === 'linux')(
    'a browser that is killed, idle or at work, is replaced; nothing is left of it',
    async () => {
      const before = profiles();
      const others = new Set(browsers());
      const second = await openPrinter();
      const kill = () => {
        for (const pid of browsers().filter((each) => !others.has(each))) process.kill(pid, 'SIGKILL');
      };
      kill();
      expect(Buffer.compare(await second.print(job(page())), report)).toBe(0);
      const printing = second.print(job(page(`<p>${'long '.repeat(20_000)}</p>`)));
      setTimeout(kill, 30);
      expect(Buffer.from(await printing).toString('latin1', 0, 5)).toBe('%PDF-');
      await second.close();
      expect(profiles()).toEqual(before);
      expect(browsers().filter((pid) => !others.has(pid))).toEqual([]);
    },
  );

  test('a printer that is closed refuses what waits and what comes', async () => {
    const second = await openPrinter();
    const outcomes = [1, 2, 3].map(() =>
      second.print(job(page())).then(
        () => 'printed',
        (error: { code: string }) => error.code,
      ),
    );
    await second.close();
    expect((await Promise.all(outcomes)).slice(1)).toEqual(['BROWSER_CLOSED', 'BROWSER_CLOSED']);
    await expect(second.print(job(page()))).rejects.toMatchObject({ code: 'BROWSER_CLOSED' });
  });

  test('a browser that does not start is told in its own words', async () => {
    await expect(openPrinter({ browser: process.execPath })).rejects.toMatchObject({ code: 'BROWSER_NONE' });
    await expect(openPrinter({ browser: process.execPath })).rejects.toThrow(process.execPath);
  });

  test.runIf(process.platform === 'linux')(
    'a browser that ends at its first start, and says nothing, is started again',
    async () => {
      const { executable, libraries } = await unpackChromium();
      const place = await temporary();
      const [program, once] = [join(place, 'browser'), join(place, 'once')];
      const script = `#!/bin/sh\n[ -e ${once} ] || { touch ${once}; kill -9 $$; }\nLD_LIBRARY_PATH=${libraries} exec ${executable} "$@"\n`;
      writeFileSync(program, script, { mode: 0o755 });
      const second = await openPrinter({ browser: program });
      expect(Buffer.compare(await second.print(job(page())), report)).toBe(0);
      await second.close();
      expect(existsSync(once)).toBe(true);
    },
  );
});

test('pages and browsers are replaced after their number of prints, and nobody notices', async () => {
  const second = await openPrinter({ pages: 2, printsPerPage: 2, printsPerBrowser: 3 });
  const prints = await Promise.all(Array.from({ length: 8 }, () => second.print(job(page()))));
  await second.close();
  for (const bytes of prints) expect(Buffer.compare(bytes, report)).toBe(0);
});

test('a PDF that nobody holds any more is given back while the browser lives', async () => {
  setFlagsFromString('--expose-gc');
  const collect = runInNewContext('gc') as () => void;
  const press = await openPress();
  const printed: WeakRef<Uint8Array>[] = [];
  const one = { html: '<p>one</p>', paper: 'A4', timeoutMs: 60_000, onNote: () => undefined } as const;
  for (let k = 0; k < 12; k++) printed.push(new WeakRef(await press.print(one)));
  const held = () => printed.filter((one) => one.deref() !== undefined);
  // What was looked at in a turn of the event loop is held until its end, and a print may end some turns after its answer.
  for (let turn = 0; turn < 20; turn++) {
    await new Promise((done) => setTimeout(done, 10));
    collect();
    if (held().length <= 5) break;
  }
  const count = held().length;
  await press.close();
  // A page holds its last prints, and is replaced after a few.
  expect(count).toBeLessThanOrEqual(5);
});

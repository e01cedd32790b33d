/** `waysheet new`: what it writes, what it refuses, and that a folder which is filled in reports everything. */
import { existsSync } from 'node:fs';
import { mkdir, readdir, readFile, symlink, writeFile } from 'node:fs/promises';
import { PassThrough } from 'node:stream';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { PDFDocument } from '@cantoo/pdf-lib';
import { runNew, type NewOptions } from '../../src/cli/new.js';
import { runCheck } from '../../src/cli/check.js';
import { BrowserTrouble } from '../../src/pages/report/browser/trouble.js';
import { textOfPages } from '../support/pdf-text.js';
import { openPrinter, type Printer } from '../../src/pages/report/pdf.js';
import { fillIn, truth } from './new/fill.js';
import { resultsOf, temporary } from '../support/folders.js';

async function make(
  folder: string,
  flags: Record<string, string | boolean> = {},
  more: Partial<NewOptions> = {},
): Promise<{ status: number; out: string; err: string }> {
  let [out, err] = ['', ''];
  const status = await runNew(folder, {
    flags: { 'no-pdf': true, ...flags },
    terminal: null,
    json: false,
    today: '2026-03-01',
    console: { out: (text) => (out += text), err: (text) => (err += text), isInteractive: false },
    ...more,
  });
  return { status, out, err };
}
const inNew = async (): Promise<string> => join(await temporary(), 'GM-1');
const filesIn = async (folder: string): Promise<string[]> =>
  (await readdir(folder, { recursive: true, withFileTypes: true }))
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).slice(folder.length + 1))
    .sort();

describe('a new folder', () => {
  test('holds all that a crew and an office need, and nothing else', async () => {
    const folder = await inNew();
    const { status, out, err } = await make(folder, { phases: 'both' });
    expect({ status, err }).toEqual({ status: 0, err: '' });
    expect(await filesIn(folder)).toEqual([
      'field-sheet.html',
      'job.json',
      'job.schema.json',
      'readings/as-found-span.csv',
      'readings/as-found.csv',
      'readings/as-left-span.csv',
      'readings/as-left.csv',
    ]);
    expect(await readdir(join(folder, '..'))).toEqual(['GM-1']);
    expect(out).toMatch(/then: .* check .*GM-1\n/);
    expect(out).toContain('taken as usual, because not said: --id GM-1 --units mm --rails 2');
    expect(out).toContain('As long as as-left is not measured, its files may stay empty.');
  });

  test('its $schema leads to a file that stands beside it', async () => {
    const folder = await inNew();
    await make(folder);
    const job = JSON.parse(await readFile(join(folder, 'job.json'), 'utf8')) as { $schema: string };
    const schema = JSON.parse(await readFile(join(folder, job.$schema), 'utf8')) as { title: string };
    expect(schema.title).toBe('waysheet job');
  });

  test('one shot: a row for each rail, station and pass, forward and return', async () => {
    const folder = await inNew();
    await make(folder, { length: '1000', spacing: '500' });
    expect((await readFile(join(folder, 'readings/as-left.csv'), 'utf8')).split('\n')).toEqual([
      'setup,rail,station,monument,target,pass,time,vertical,horizontal,along,check,use,note',
      'S1,A,1,,T1,1,,,,,up 1 mm,,sign check',
      'S1,A,1,,T1,1,,,,,left 1 mm,,sign check',
      ...['A,1', 'A,2', 'A,3', 'B,1', 'B,2', 'B,3'].map((point) => `S1,${point},,T1,1,,,,,,,`),
      ...['B,3', 'B,2', 'B,1', 'A,3', 'A,2', 'A,1'].map((point) => `S1,${point},,T1,2,,,,,,,`),
      '',
    ]);
  });

  test('two set-ups: monuments and one target carry direction and height over, with a closing look', async () => {
    const folder = await inNew();
    await make(folder, { length: '1000', spacing: '500', setups: 'two', passes: '1', spans: '2' });
    expect((await readFile(join(folder, 'readings/as-left.csv'), 'utf8')).split('\n').slice(1)).toEqual([
      'S1,,,M1,T2,1,,,,,,,direction carried over',
      'S1,,,M2,T2,1,,,,,,,direction carried over',
      'S1,A,1,,T1,1,,,,,up 1 mm,,sign check',
      'S1,A,1,,T1,1,,,,,left 1 mm,,sign check',
      'S1,,,M1,T2,1,,,,,ahead 1 mm,,sign check',
      'S1,A,1,,T1,1,,,,,,,',
      'S1,A,2,,T1,1,,,,,,,',
      'S1,A,3,,T1,1,,,,,,,',
      'S1,,,M1,T2,2,,,,,,,closing look',
      'S1,,,M2,T2,2,,,,,,,closing look',
      'S2,,,M1,T2,1,,,,,,,direction carried over',
      'S2,,,M2,T2,1,,,,,,,direction carried over',
      'S2,B,1,,T1,1,,,,,up 1 mm,,sign check',
      'S2,B,1,,T1,1,,,,,left 1 mm,,sign check',
      'S2,,,M1,T2,1,,,,,ahead 1 mm,,sign check',
      'S2,A,1,,T1,1,,,,,,,height carried over',
      'S2,A,3,,T1,1,,,,,,,height carried over',
      'S2,B,1,,T1,1,,,,,,,',
      'S2,B,2,,T1,1,,,,,,,',
      'S2,B,3,,T1,1,,,,,,,',
      'S2,,,M1,T2,2,,,,,,,closing look',
      'S2,,,M2,T2,2,,,,,,,closing look',
      '',
    ]);
    expect(await readFile(join(folder, 'readings/as-left-span.csv'), 'utf8')).toBe(
      'rail,other,station,span,pass,time,use,note\nA,B,1,,1,,,\nA,B,3,,1,,,\n',
    );
  });

  test('is refused as it is, and only because nothing is filled in', async () => {
    const folder = await inNew();
    await make(folder);
    let text = '';
    const sink = { write: (words: string) => (text += words) };
    expect(await runCheck([folder], { json: true, stdout: sink, stderr: sink })).toBe(3);
    const [report] = JSON.parse(text) as [{ diagnostics: { code: string; severity: string }[] }];
    const errors = report.diagnostics.filter(({ severity }) => severity === 'error').map(({ code }) => code);
    expect(new Set(errors)).toEqual(new Set(['NO_READINGS_USED']));
    expect(new Set(report.diagnostics.map(({ code }) => code))).toEqual(
      new Set(['NO_READINGS_USED', 'READINGS_BLANK']),
    );
  });

  test('--json', async () => {
    const folder = await inNew();
    const { out } = await make(folder, { id: 'K-7', length: '2000' }, { json: true });
    expect(JSON.parse(out)).toMatchObject({ folder, ok: true, job: 'K-7' });
    const { out: refused, status } = await make(folder, {}, { json: true });
    expect(status).toBe(3);
    expect(JSON.parse(refused)).toMatchObject({
      ok: false,
      problems: [expect.stringContaining('not empty')],
    });
  });
});

describe('filled in, everything that is asked is determined', () => {
  test.each([
    [{}],
    [{ setups: 'two' }],
    [{ rails: '1', length: '12m' }],
    [{ rails: '3', setups: 'two', passes: '3', spans: '2', phases: 'both' }],
    [{ units: 'in', setups: 'two', passes: '1' }],
    [{ units: 'in', length: '100', spacing: '30', spans: '1', first: '-20' }],
    [{ rails: '3', across: '2000, 1400', slopes: 'both', crews: '2' }],
    [{ rails: '3', across: '84; 60', units: 'in', setups: 'two', slopes: 'along', passes: '3', crews: '3' }],
  ] as Record<string, string>[][])('%j', async (flags) => {
    const folder = await inNew();
    expect((await make(folder, flags!)).status).toBe(0);
    await fillIn(folder);
    const results = await resultsOf(folder);
    for (const phase of Object.values(results.phases)) {
      const open = phase.characteristics.flatMap((c) =>
        c.value === null ? [`${c.what} ${c.rail}: ${c.why}`] : [],
      );
      expect(open).toEqual([]);
      expect(phase.undetermined).toEqual([]);
      expect(phase.adjustment.scale).toBe(1);
      // Against what the readings were made from; 25 µm of rail B over rail A, with waves of their own.
      const height = phase.characteristics.find(({ what }) => what === 'height-difference');
      if (height === undefined) continue;
      const at = phase.stations.find(
        ({ rail, station }) => rail === height.rail && station === height.at[0]!.station,
      )!;
      const x = at.along / 1000;
      const expected = truth.height(height.rail, x) - truth.height('A', x);
      expect(Math.abs(height.value! - expected)).toBeLessThan(5 * height.u!);
    }
    // One pass from two set-ups checks the carried-over points only, and that is said.
    const unchecked = flags!['passes'] === '1' ? ['READINGS_UNCHECKED'] : [];
    expect(results.warnings.map(({ code }) => code)).toEqual(unchecked);
  });
});

describe('nothing is overwritten', () => {
  test.each(['a file in it', 'a hidden file in it', 'a folder in it'])('%s', async (what) => {
    const folder = await inNew();
    await mkdir(folder);
    if (what === 'a folder in it') await mkdir(join(folder, 'readings'));
    else await writeFile(join(folder, what.includes('hidden') ? '.x' : 'job.json'), 'mine');
    const before = await readdir(folder);
    const { status, out, err } = await make(folder);
    expect({ status, out }).toEqual({ status: 3, out: '' });
    expect(err).toBe(`${folder}: the folder is not empty; nothing was written\n`);
    expect(await readdir(folder)).toEqual(before);
  });

  test('a file or a link in the way', async () => {
    const folder = await inNew();
    await writeFile(folder, 'mine');
    expect((await make(folder)).status).toBe(3);
    expect(await readFile(folder, 'utf8')).toBe('mine');
    const link = await inNew();
    await symlink(await temporary(), link);
    expect((await make(link)).status).toBe(3);
  });

  test('an empty folder is taken', async () => {
    const folder = await inNew();
    await mkdir(folder);
    expect((await make(folder)).status).toBe(0);
    expect(existsSync(join(folder, 'job.json'))).toBe(true);
  });

  test('the folder one stands in, and the root', async () => {
    expect((await make('.')).status).toBe(2);
    expect((await make('/')).status).toBe(2);
  });

  test('wrong flags: status 2, all of them, and no folder', async () => {
    const folder = await inNew();
    const { status, err } = await make(folder, { units: 'cm', rails: 'x' });
    expect(status).toBe(2);
    expect(err.split('\n')).toHaveLength(3);
    expect(existsSync(folder)).toBe(false);
  });

  test('whole or not at all: a printer that breaks leaves nothing', async () => {
    const folder = await inNew();
    const openPrinter = () => Promise.reject(new TypeError('a defect'));
    await expect(make(folder, { 'no-pdf': false }, { openPrinter })).rejects.toThrow('a defect');
    expect(await readdir(join(folder, '..'))).toEqual([]);
  });
});

/** Every question answered beforehand, as usual. */
const flagsOfAll = Object.fromEntries(
  Object.entries({
    id: 'GM-1',
    title: '',
    customer: '',
    site: '',
    machine: '',
    by: '',
    on: '',
    language: 'en',
    units: 'mm',
    thermometers: 'none',
    'target-scale': 'none',
    adjusters: 'none',
    rails: '2',
    first: '0',
    count: '',
    length: '6000',
    spacing: '500',
    across: '2000',
    setups: 'one',
    passes: '2',
    crews: '1',
    phases: 'as-left',
    u: '1.5',
    'per-metre': '0.3',
    'level-u': '1',
    range: '12.7',
    spans: '3',
    'span-u': '0.05',
    slopes: 'none',
    'slope-u': '4',
    'tolerance-set': 'none',
    grade: 'none',
    'straightness-horizontal': '',
    'level-along': '',
    'parallelism-vertical': '',
    'parallelism-horizontal': '',
    'cross-level': '',
    span: '',
    decision: 'guarded',
    paper: 'A4',
  }),
);

describe('on a terminal', () => {
  const asked = async (lines: string[], flags: Record<string, string | boolean> = {}) => {
    const folder = await inNew();
    const [input, output] = [new PassThrough(), new PassThrough()];
    let seen = '';
    let typed = 0;
    output.on('data', (data: Buffer) => {
      seen += data.toString();
      if (!seen.endsWith(': ')) return;
      const line = lines[typed++];
      if (line === undefined) input.end();
      else setImmediate(() => input.write(`${line}\n`));
    });
    const made = await make(folder, flags, { terminal: { input, output } });
    return { ...made, folder, seen };
  };

  test('each question shows its usual answer; an empty line takes it', async () => {
    const { status, seen, folder, out } = await asked([
      'Q-9',
      'Planer bed',
      ...Array<string>(5).fill(''),
      'in',
      'two',
      '1',
      ...Array<string>(31).fill(''),
    ]);
    expect(status).toBe(0);
    expect(seen).toContain('Number of the job [GM-1]: ');
    expect(seen).toContain('wanted: a whole number from 1 to 8');
    expect(out).not.toContain('taken as usual');
    const job = JSON.parse(await readFile(join(folder, 'job.json'), 'utf8')) as unknown;
    expect(job).toMatchObject({
      id: 'Q-9',
      title: 'Planer bed',
      units: { length: 'in' },
      rails: [{ id: 'A' }],
    });
  });

  test('the plan is shown, with a drawing, before anything is written', async () => {
    const { status, seen, folder } = await asked([], {
      yes: false,
      'straightness-vertical': '40',
      ...flagsOfAll,
    });
    expect(status).toBe(1);
    expect(seen).toContain('guarded acceptance of: straightness-vertical 40 µm');
    expect(seen).toMatch(/ A {3}1 {2}\+-+\+.*\+ {2}13 {2}datum/);
    expect(existsSync(folder)).toBe(false);
  });

  test('a line that ends early: nothing is written', async () => {
    const { status, folder, err } = await asked(['Q-9', '']);
    expect(status).toBe(1);
    expect(err).toContain('stopped; nothing was written');
    expect(existsSync(folder)).toBe(false);
  });

  test('--yes asks nothing', async () => {
    const { status, seen } = await asked([], { yes: true });
    expect({ status, seen }).toEqual({ status: 0, seen: '' });
  });
});

describe('the printed field sheet', () => {
  let printer: Printer;
  beforeAll(async () => {
    printer = await openPrinter();
  });
  afterAll(() => printer.close());
  const print = { openPrinter: async () => Promise.resolve({ ...printer, close: () => Promise.resolve() }) };

  test.each([
    ['A4', 'mm', 595],
    ['Letter', 'in', 612],
  ])('%s, in the bundled font, the same bytes again', async (paper, units, width) => {
    const flags = { 'no-pdf': false, units, paper, title: 'Bed <b>rails</b>', setups: 'two' };
    const [one, two] = [await inNew(), await inNew()];
    expect((await make(one, flags, print)).status).toBe(0);
    expect((await make(two, flags, print)).status).toBe(0);
    expect(await filesIn(one)).toContain('field-sheet.pdf');
    expect(await filesIn(one)).not.toContain('field-sheet.html');
    const bytes = await readFile(join(one, 'field-sheet.pdf'));
    expect(bytes.equals(await readFile(join(two, 'field-sheet.pdf')))).toBe(true);
    const pdf = await PDFDocument.load(bytes, { updateMetadata: false });
    expect(pdf.getTitle()).toBe('Field sheet GM-1');
    expect(pdf.getPageCount()).toBeGreaterThan(3);
    expect(Math.abs(pdf.getPage(0).getWidth() - width)).toBeLessThan(1);
    const fonts = pdf.context
      .enumerateIndirectObjects()
      .flatMap(([, object]) => /\/BaseFont \/([\w+-]+)/.exec(object.toString())?.[1] ?? []);
    expect(fonts.length).toBeGreaterThan(0);
    expect(fonts.filter((font) => !font.includes('WaysheetSans'))).toEqual([]);
  });

  test('in German on Letter: all that comes before the first set-up is on the first page', async () => {
    const flags = { 'no-pdf': false, paper: 'Letter', setups: 'two', language: 'de' };
    const folder = await inNew();
    expect((await make(folder, flags, print)).status).toBe(0);
    const [first, second] = await textOfPages(await readFile(join(folder, 'field-sheet.pdf')));
    expect(first!.join(' ')).toMatch(/Wer das darf\./);
    expect(second!.join(' ')).toMatch(/Aufstellung S1/);
    expect(second!.join(' ')).not.toMatch(/Wer das darf/);
  });

  test('without a browser the page is written in its place, and that is said', async () => {
    const folder = await inNew();
    const openPrinter = () => Promise.reject(new BrowserTrouble('BROWSER_NONE', 'There is no browser.'));
    const { status, err } = await make(folder, { 'no-pdf': false }, { openPrinter });
    expect(status).toBe(0);
    expect(err).toContain('could not be printed: There is no browser.');
    expect(await filesIn(folder)).toContain('field-sheet.html');
  });
});

/** The page of `waysheet form`, in the packed browser, from a file: nothing is lost, and a job can be made with it. */
import { readFile, writeFile } from 'node:fs/promises';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { ElementHandle, Page } from 'puppeteer-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { runForm } from '../../../src/cli/form.js';
import { formPage } from '../../../src/pages/form/form-page.js';
import { launchBrowser, type RunningBrowser } from '../../../src/pages/report/browser/launch-browser.js';
import { changeRows, copyOf, root, sample, temporary } from '../../support/folders.js';
import { randomFolder } from '../../support/second-opinion/random-folder.js';

let running: RunningBrowser;
let page: Page;
let place: string;
/** `FORM_JOBS=200` for a full run. */
const RANDOM_JOBS = Number(process.env['FORM_JOBS'] ?? 60);
const troubles: string[] = [];
/** What `npm test` builds first. */
const script = readFileSync(join(root, 'dist/pages/form/page.js'), 'utf8');
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

beforeAll(async () => {
  place = await temporary();
  running = await launchBrowser();
  page = await running.browser.newPage();
  page.on('pageerror', (error) => troubles.push(String(error)));
  page.on('console', (message) => troubles.push(message.text()));
  page.on('request', (request) => {
    if (!/^(?:file|data|blob):/.test(request.url())) troubles.push(request.url());
  });
});
afterAll(() => running?.close());

const inPage = <T>(expression: string) => page.evaluate(expression) as Promise<T>;
const openForm = async (job: string): Promise<void> => {
  const html = formPage({ job, folder: '', software: 'waysheet 0', command: 'waysheet' }, script);
  await writeFile(join(place, 'form.html'), html);
  const address = pathToFileURL(join(place, 'form.html')).href;
  await page.goto(address);
  // As in a browser that never showed it.
  await page.evaluate('localStorage.clear()');
  await page.goto(address);
};
const saved = async (): Promise<unknown> =>
  JSON.parse(await inPage<string>(`document.getElementById('json').value`));

/** Every field says what it shows once more, as if a person had typed it. */
const TOUCH = `for (const field of document.querySelectorAll('main input:not([type=file]):not([type=radio]), main select, main textarea')) {
  if (!field.id.startsWith('kind.') && field.value !== '') field.dispatchEvent(new Event('change', { bubbles: true }));
}`;

/** Fills in a value as a person does: buttons that add, choices, fields. */
const FILL = `
  const put = (id, value) => {
    const field = document.getElementById(id);
    if (!field) throw new Error('no field ' + id);
    field.value = value;
    if (field.value !== value) throw new Error(id + ' does not take ' + value);
    field.dispatchEvent(new Event('change', { bubbles: true }));
  };
  const fill = (path, value) => {
    const id = path.join('.');
    const kind = document.getElementById('kind.' + id);
    const type = Array.isArray(value) ? 'array' : typeof value;
    if (kind && ((type === 'object' && path.at(-1) === 'limit') || (type === 'string' && path.at(-1) === 'tolerances'))) {
      kind.value = '1';
      kind.dispatchEvent(new Event('change', { bubbles: true }));
    }
    if (type === 'array') {
      if (value.every((v) => typeof v !== 'object')) return put(id, value.join(typeof value[0] === 'number' ? ', ' : '\\n'));
      value.forEach((entry, k) => {
        document.getElementById('add.' + id).click();
        fill([...path, k], entry);
      });
    } else if (type === 'object') {
      document.getElementById('add.' + id)?.click();
      for (const [key, inner] of Object.entries(value)) if (key !== '$schema') fill([...path, key], inner);
    } else put(id, String(value));
  };`;

describe('round trips: every field is said again, and the job is the same', () => {
  test.each(['TH-0412', 'TH-2031', 'TH-1175', 'TH-3318'])('%s', async (id) => {
    const text = await readFile(join(sample(id), 'job.json'), 'utf8');
    await openForm(text);
    await inPage(TOUCH);
    expect(await saved()).toEqual(JSON.parse(text));
    expect(await inPage<string>(`document.getElementById('count').textContent`)).toMatch(
      /Nothing is missing|^0 to be corrected/,
    );
  });

  test(`${RANDOM_JOBS} random jobs, each shown in its turn`, async () => {
    await openForm('');
    for (let k = 0; k < RANDOM_JOBS; k++) {
      const { job } = randomFolder(1 + k);
      const text = JSON.stringify(job);
      await inPage(`(async () => {
        const files = new DataTransfer();
        files.items.add(new File([${JSON.stringify(text)}], 'job-${k}.json'));
        const input = document.getElementById('other');
        input.files = files.files;
        input.dispatchEvent(new Event('change'));
        while (document.getElementById('opened').textContent !== 'job-${k}.json is shown.') await new Promise((r) => setTimeout(r, 1));
        ${TOUCH}
      })()`);
      expect(await saved()).toEqual(JSON.parse(text));
    }
  }, 300_000);
});

describe('what must be confirmed', () => {
  const asked = [
    { code: 'PASSES_IDENTICAL', file: 'readings/as-left.csv', messages: ['Passes 1 and 2 are the same.'] },
    { code: 'READINGS_CONSTANT', file: 'readings/as-left.csv', messages: ['All are <b>0</b>.'] },
  ];
  const openAsked = async (): Promise<void> => {
    const job = await readFile(join(sample('TH-0412'), 'job.json'), 'utf8');
    const html = formPage({ job, folder: '', software: 'waysheet 0', command: 'waysheet', asked }, script);
    await writeFile(join(place, 'asked.html'), html);
    await page.goto(pathToFileURL(join(place, 'asked.html')).href);
  };
  const confirmed = async () => ((await saved()) as { confirmed?: unknown }).confirmed;

  test('a tick with name and reason becomes the entry of that finding alone; without the tick it goes', async () => {
    await openAsked();
    expect(await confirmed()).toBeUndefined();
    await page.click('#confirm\\.0');
    await page.type('#confirm\\.0\\.by', 'J. Mill');
    await page.type('#confirm\\.0\\.because', 'read off a chart');
    await page.keyboard.press('Tab');
    expect(await confirmed()).toEqual([
      { what: 'PASSES_IDENTICAL', in: 'readings/as-left.csv', by: 'J. Mill', because: 'read off a chart' },
    ]);
    await page.click('#confirm\\.0');
    expect(await confirmed()).toBeUndefined();
  });

  test('a tick without a name is a problem that the page shows', async () => {
    await openAsked();
    await page.click('#confirm\\.1');
    expect(await inPage<string>(`document.getElementById('problems').textContent`)).toContain(
      'confirmed[0].by',
    );
  });

  test('the page of a job says what its check asks, and names no path of the installation', async () => {
    const folder = await copyOf('TH-2031');
    await changeRows(folder, 'readings/as-left.csv', (_, rows) => [...rows, ...rows.map((r) => [...r])]);
    const to = join(place, 'of-job.html');
    const none = { out: () => undefined, err: () => undefined, isInteractive: false };
    expect(await runForm(folder, { page: to, json: false, console: none })).toBe(0);
    const html = await readFile(to, 'utf8');
    expect(html).toContain('"code":"ROWS_REPEATED"');
    expect(html).not.toContain(root);
    expect(html).not.toContain(process.argv[1]!);
  });
});

describe('a job from an empty page', () => {
  test('TH-2031, by its fields alone', async () => {
    const wanted = JSON.parse(await readFile(join(sample('TH-2031'), 'job.json'), 'utf8')) as Record<
      string,
      unknown
    >;
    const folder = await temporary();
    let out = '';
    const console = { out: (text: string) => (out += text), err: () => undefined, isInteractive: false };
    expect(await runForm(folder, { page: undefined, json: false, console })).toBe(0);
    expect(out).toContain('form.html');
    await page.goto(pathToFileURL(join(folder, 'form.html')).href);
    await inPage(
      `{ ${FILL} for (const [key, value] of Object.entries(${JSON.stringify(wanted)})) if (key !== '$schema' && key !== 'format') fill([key], value); }`,
    );
    const rest = Object.fromEntries(Object.entries(wanted).filter(([key]) => key !== '$schema'));
    expect(await saved()).toEqual(rest);
    expect(await inPage<string>(`document.getElementById('count').textContent`)).toMatch(
      /^(?:Nothing|0 to be)/,
    );
  });

  test('what is missing is said, and leads to its field', async () => {
    await openForm('');
    const list = await inPage<string[]>(
      `[...document.querySelectorAll('#problems li')].map((li) => li.textContent)`,
    );
    expect(list.join('\n')).toMatch(/^id: /m);
    await page.click('#problems a');
    expect(await inPage<string>(`document.activeElement.id`)).toBe('id');
  });
});

describe('by hand', () => {
  test('the plan: a set-up moves by arrow keys and by dragging, and its fields follow', async () => {
    await openForm(await readFile(join(sample('TH-2031'), 'job.json'), 'utf8'));
    const before = (await saved()) as { setups: { along: number; across: number }[] };
    await inPage(`document.querySelector('[data-thing="setups.0"]').focus()`);
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('ArrowUp');
    const moved = (await saved()) as typeof before;
    expect(moved.setups[0]!.along).toBeGreaterThan(before.setups[0]!.along);
    expect(moved.setups[0]!.across).toBeGreaterThan(before.setups[0]!.across);
    expect(await inPage<string>(`document.getElementById('setups.0.along').value`)).toBe(
      String(moved.setups[0]!.along),
    );
    const mark = (await page.$('[data-thing="setups.0"] path')) as ElementHandle;
    await mark.scrollIntoView();
    const box = (await mark.boundingBox())!;
    await page.mouse.move(box.x + box.width / 2, box.y + 0.7 * box.height);
    await page.mouse.down();
    await page.mouse.move(box.x - 60, box.y + 6, { steps: 4 });
    await page.mouse.up();
    const dragged = (await saved()) as typeof before;
    expect(dragged.setups[0]!.along).toBeLessThan(moved.setups[0]!.along);
  });

  test('the side of plus is chosen by a picture', async () => {
    await openForm(await readFile(join(sample('TH-2031'), 'job.json'), 'utf8'));
    await inPage(`document.getElementById('setups.0').closest('details').open = true`);
    await page.click('[id="sign.0.vertical.down"]');
    expect(await saved()).toMatchObject({ setups: [{ plus: { vertical: 'down' } }, {}] });
    expect(await inPage<string>(`document.getElementById('setups.0.plus.vertical').value`)).toBe('down');
  });

  test('a foreign sheet: its rows are shown, its heads tell what they can, and a click says the rest', async () => {
    await openForm(
      JSON.stringify({
        format: 'waysheet-job/1',
        id: 'W-1',
        units: { length: 'mm', reading: 'um' },
        rails: ['A', 'B'].map((id, k) => ({
          id,
          ...(k === 0 && { datum: true }),
          across: 2000 * k,
          stations: { first: 0, spacing: 500, count: 3 },
        })),
        instruments: [{ id: 'L1', reading: { u: 1.5, unit: 'um' } }],
        setups: [{ id: 'S1', instrument: 'L1', along: 500, across: 1000 }],
        readings: [{ file: 'readings/sheet.csv', phase: 'as-left' }],
      }),
    );
    const csv = join(place, 'sheet.csv');
    await writeFile(csv, 'Stn,A V,B V,Extra\n1,3.1,1.0,x\n2,4.5,1.2,y\n3,4.0,1.1,z\nMean,3.9,1.1,\n');
    const input = (await page.$('[id="sheet.0"]')) as unknown as { uploadFile(path: string): Promise<void> };
    await input.uploadFile(csv);
    await page.waitForSelector('[id="propose.0"]', { timeout: 5000 }).catch(async () => {
      throw new Error(await inPage<string>(`document.querySelector('.sheet').outerHTML`));
    });
    expect(await inPage<string>(`document.getElementById('read.0').textContent`)).toContain('problem');
    await page.click('[id="propose.0"]');
    expect(await inPage<string>(`document.getElementById('read.0').textContent`)).toContain(
      '6 readings are read',
    );
    expect(await saved()).toMatchObject({
      readings: [
        {
          ignore: ['Extra'],
          ignoreRows: ['Mean'],
          rows: [{ values: { rail: 'A' } }, { values: { rail: 'B' } }],
        },
      ],
    });
    // The column that was left out holds notes.
    await page.click('[id="column.0.3"]');
    await page.select('[id="meaning.0"]', 'note');
    expect(await saved()).toMatchObject({
      readings: [
        {
          columns: { station: 'Stn', note: 'Extra' },
          rows: [{ columns: { vertical: 'A V' } }, { columns: { vertical: 'B V' } }],
        },
      ],
    });
    expect(await inPage<string>(`document.getElementById('read.0').textContent`)).toContain(
      '6 readings are read',
    );
  });

  test('by keyboard alone: a rail is added, named, moved and taken out', async () => {
    await openForm('');
    await page.focus('[id="add.rails"]');
    await page.keyboard.press('Enter');
    expect(await inPage<string>(`document.activeElement.id`)).toBe('rails.0.id');
    await page.keyboard.type('A');
    await page.keyboard.press('Tab');
    expect(await saved()).toMatchObject({ rails: [{ id: 'A' }] });
    await page.focus('[id="remove.rails.0"]');
    await page.keyboard.press('Enter');
    expect(await saved()).toMatchObject({ rails: [] });
    expect(await inPage<string>(`document.activeElement.id`)).toBe('add.rails');
  });
});

describe('nothing is lost by a slip', () => {
  const click = (id: string) => inPage(`document.getElementById('${id}').click()`);
  const done = () => inPage<string>(`document.getElementById('done').textContent`);
  let text: string;
  beforeAll(async () => {
    text = await readFile(join(sample('TH-2031'), 'job.json'), 'utf8');
  });

  test('what is taken out comes back, and goes again', async () => {
    await openForm(text);
    const whole = await saved();
    await click('remove.rails.1');
    expect(await done()).toBe('B is taken out. Undo brings it back.');
    const without = await saved();
    expect(without).not.toEqual(whole);
    await click('undo');
    expect(await saved()).toEqual(whole);
    expect(await inPage(`document.getElementById('rails.1.id').value`)).toBe('B');
    await click('redo');
    expect(await saved()).toEqual(without);
    // What is typed after an undo is the new last change.
    await click('undo');
    await inPage(
      `(() => { const title = document.getElementById('title'); title.value = 'Another'; title.dispatchEvent(new Event('change')); })()`,
    );
    expect(await inPage(`document.getElementById('redo').disabled`)).toBe(true);
    await page.focus('#save');
    await page.keyboard.down('Control');
    await page.keyboard.press('z');
    await page.keyboard.up('Control');
    expect(await saved()).toEqual(whole);
    expect(await inPage(`document.getElementById('undo').disabled`)).toBe(true);
  });

  test('what was typed outlasts a reload, until the page is made of another job', async () => {
    await openForm(text);
    await click('remove.rails.1');
    const typed = await saved();
    await page.reload();
    expect(await saved()).toEqual(typed);
    expect(await done()).toMatch(/typed before is shown/);
    await click('undo');
    expect(await saved()).toEqual(JSON.parse(text));
    const other = { ...(JSON.parse(text) as object), title: 'Made anew' };
    const html = formPage({ job: JSON.stringify(other), folder: '', software: 'w', command: 'w' }, script);
    await writeFile(join(place, 'form.html'), html);
    await page.reload();
    expect(await saved()).toEqual(other);
  });

  test('ids that exist are offered, labels are words, and what is not said is closed', async () => {
    await openForm(text);
    expect(
      await inPage(`[...document.getElementById('setups.0.instrument').list.options].map((o) => o.value)`),
    ).toEqual((JSON.parse(text) as { instruments: { id: string }[] }).instruments.map(({ id }) => id));
    const labels = await inPage<string[]>(
      `[...document.querySelectorAll('main label, main legend')].map((l) => l.textContent.trim())`,
    );
    expect(labels.filter((label) => /[a-z][A-Z]|^(?:u|id|what|at)$/.test(label))).toEqual([]);
    expect(await inPage(`document.getElementById('add.readings').textContent`)).toBe('Add a readings file');
    const [closed, open] = await inPage<[number, number]>(`(() => {
      const height = () => document.documentElement.scrollHeight;
      const before = height();
      for (const one of document.querySelectorAll('details.more')) one.open = true;
      return [before, height()];
    })()`);
    expect(closed).toBeLessThan(open / 2);
    console.log(`form of TH-2031: ${closed} px, all open ${open} px`);
  });
});

describe('for everyone', () => {
  test.each([1280, 390])('no finding of axe, nothing wider than %d px', async (width) => {
    await page.setViewport({ width, height: 900 });
    await openForm(await readFile(join(sample('TH-2031'), 'job.json'), 'utf8'));
    await inPage(axe);
    const found = await inPage<{ violations: { id: string; nodes: { html: string }[] }[] }>('axe.run()');
    expect(found.violations.map(({ id, nodes }) => `${id}: ${nodes[0]!.html.slice(0, 200)}`)).toEqual([]);
    expect(await inPage<number>('document.documentElement.scrollWidth')).toBeLessThanOrEqual(width);
    await page.setViewport({ width: 1280, height: 900 });
  });

  test('text of a job is never markup, and ends no element', async () => {
    const title = '</script><script>document.title="owned"</script><img src=x onerror=alert(1)>';
    await openForm(JSON.stringify({ format: 'waysheet-job/1', id: 'X-1', title }));
    expect(await inPage<string>('document.title')).toBe('Job X-1');
    expect(await saved()).toMatchObject({ title });
  });
});

test('a job that is no JSON is not shown in fields: what is wrong is said', async () => {
  const folder = await copyOf('TH-0412');
  await writeFile(join(folder, 'job.json'), '{ "id": ');
  let err = '';
  const console = { out: () => undefined, err: (text: string) => (err += text), isInteractive: false };
  expect(await runForm(folder, { page: undefined, json: false, console })).toBe(3);
  expect(err).toContain('JSON_INVALID');
});

test('the page asks nothing of any network, and complains of nothing', () => expect(troubles).toEqual([]));

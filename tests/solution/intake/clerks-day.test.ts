/**
 * A clerk's day: each mistake that is made over a field book, and where it should end. What is asked is mended by doing
 * exactly what the message says, and then nothing more is asked.
 */
import { waysheet } from '../../support/command.js';
import { copyFile, mkdir, readdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { describe as words } from '../../../src/base/diagnostics/messages.js';
import { runCheck } from '../../../src/cli/check.js';
import { inspectJob } from '../../../src/solution/intake/load-job.js';
import { changeJob, changeRows, copyOf, temporary } from '../../support/folders.js';

const FILE = 'readings/as-left.csv';
const edit = (
  folder: string,
  change: (row: Record<string, string>, k: number) => Record<string, string> | null,
) =>
  changeRows(folder, FILE, (header, rows) =>
    rows.flatMap((cells, k) => {
      const changed = change(Object.fromEntries(header.map((name, i) => [name, cells[i] ?? ''])), k);
      return changed === null ? [] : [header.map((name) => changed[name] ?? '')];
    }),
  );
const number = (text: string | undefined, change: (v: number) => number): string =>
  text === undefined || text === '' ? '' : String(Number(change(Number(text)).toFixed(4)));

interface Case {
  readonly mistake: string;
  readonly make: (folder: string) => Promise<void>;
  /** What the worst of what is said is called, and one code of it. */
  readonly ends: readonly ['refused' | 'asked' | 'told', ...string[]];
}

const cases: readonly Case[] = [
  {
    mistake: 'as left typed in mm',
    make: (f) =>
      edit(f, (r) => ({
        ...r,
        vertical: number(r['vertical'], (v) => v / 1000),
        horizontal: number(r['horizontal'], (v) => v / 1000),
        along: number(r['along'], (v) => v / 1000),
      })),
    ends: ['asked', 'MISFIT_EXPLAINED'],
  },
  {
    mistake: 'a pass of a rail with its sign turned',
    make: (f) =>
      edit(f, (r) =>
        r['rail'] === 'B' && r['setup'] === 'S2' && r['pass'] === '2'
          ? { ...r, horizontal: number(r['horizontal'], (v) => -v) }
          : r,
      ),
    ends: ['asked', 'MISFIT_EXPLAINED'],
  },
  {
    mistake: 'station 8 typed as 9',
    make: (f) =>
      edit(f, (r) =>
        r['rail'] === 'A' && r['pass'] === '1' && r['setup'] === 'S1' && r['station'] === '8'
          ? { ...r, station: '9' }
          : r,
      ),
    ends: ['told', 'STATIONS_MISSING'],
  },
  {
    mistake: 'T9 for T1 in one row',
    make: (f) => edit(f, (r, k) => (k === 30 ? { ...r, target: 'T9' } : r)),
    ends: ['told', 'TARGET_ONCE', 'TARGET_UNKNOWN'],
  },
  {
    mistake: 'the file pasted below itself',
    make: async (f) => {
      const text = await readFile(join(f, FILE), 'utf8');
      await writeFile(join(f, FILE), text + text.slice(text.indexOf('\n') + 1));
    },
    ends: ['asked', 'ROWS_REPEATED'],
  },
  {
    mistake: 'both phases with the same file',
    make: async (f) => {
      const [other] = (await readdir(join(f, 'readings'))).filter((n) => n.includes('found'));
      await copyFile(join(f, 'readings', other!), join(f, FILE));
    },
    ends: ['asked', 'FILES_IDENTICAL'],
  },
  {
    mistake: 'a file that is named and not there',
    make: (f) => rename(join(f, FILE), join(f, 'readings/left.csv')),
    ends: ['refused', 'FILE_MISSING'],
  },
  {
    mistake: 'a row left out without a word',
    make: (f) => edit(f, (r, k) => (k === 12 ? { ...r, use: 'no', note: '' } : r)),
    ends: ['told', 'LEFT_OUT_WITHOUT_NOTE'],
  },
  {
    mistake: 'small letters and blanks in the ids',
    make: (f) => edit(f, (r, k) => (k < 5 ? { ...r, setup: (r['setup'] ?? '').toLowerCase() } : r)),
    ends: ['told', 'ID_TAKEN_AS'],
  },
  {
    mistake: 'a CSV that nothing names',
    make: (f) => writeFile(join(f, 'readings/extra.csv'), 'x\n'),
    ends: ['told', 'FILE_UNNAMED'],
  },
  {
    mistake: 'a comma too many in job.json',
    make: async (f) => {
      const text = await readFile(join(f, 'job.json'), 'utf8');
      await writeFile(join(f, 'job.json'), text.replace(/\}\s*$/, ',}'));
    },
    ends: ['refused', 'JSON_INVALID'],
  },
  {
    mistake: 'two rails are the datum',
    make: (f) =>
      changeJob(f, (job) => {
        job.rails[1].datum = true;
      }),
    ends: ['refused', 'DATUM_COUNT'],
  },
  {
    mistake: 'sums typed below',
    make: async (f) => {
      const text = await readFile(join(f, FILE), 'utf8');
      await writeFile(
        join(f, FILE),
        `${text}Mean${','.repeat(text.split('\n')[0]!.split(',').length - 1)}\n`,
      );
    },
    ends: ['refused', 'CSV_ROWS_BELOW'],
  },
];

const rank = { error: 2, confirm: 1, warning: 0 } as const;
const endOf = ['told', 'asked', 'refused'] as const;

test.each(cases)('$mistake: $ends', async ({ make, ends: [end, ...codes] }) => {
  const folder = await copyOf('TH-2031');
  const before = new Set((await inspectJob(folder, null)).diagnostics.map((d) => d.code));
  await make(folder);
  const { diagnostics } = await inspectJob(folder, null);
  const said = diagnostics.filter(({ code }) => !before.has(code));
  expect(
    said.some(({ code }) => codes.includes(code)),
    said.map(words).join('\n'),
  ).toBe(true);
  expect(endOf[Math.max(...said.map(({ severity }) => rank[severity]))]).toBe(end);
});

test.each(cases)(
  '$mistake: on one screen a clerk reads what it is, where, and what to do',
  async ({ make, ends }) => {
    const [end, ...codes] = ends;
    const folder = await copyOf('TH-2031');
    await make(folder);
    let screen = '';
    const sink = { write: (text: string) => (screen += text) };
    const status = await runCheck([folder], { json: false, stdout: sink, stderr: sink });
    const lines = screen.trimEnd().split('\n');
    // Four lines more for each further explanation: all that explain it are told, and what to do for each.
    const rivals = Math.max(0, lines.filter((line) => /^ +\d\. /.test(line)).length - 1);
    expect(lines.length - 4 * rivals, screen).toBeLessThanOrEqual(10);
    expect(lines.length, screen).toBeLessThanOrEqual(24);
    expect(status).toBe(end === 'told' ? 0 : 3);
    expect(lines[0]).toContain(end === 'told' ? 'accepted' : 'refused');
    // The mistake itself is on the screen, the worst first, with the file that it is in.
    const said = lines.find((line) => codes.some((code) => line.includes(`(${code})`)))!;
    expect(said, screen).toMatch(/^(?:error|to be confirmed|warning): (?:job\.json|readings\/[\w.-]+)/);
    const firstOf = { refused: 'error', asked: 'to be confirmed', told: 'warning' } as const;
    expect(lines.find((line) => /^(?:error|to be confirmed|warning): /.test(line))).toMatch(
      new RegExp(`^${firstOf[end]}: `),
    );
    // What can be confirmed says how, once; nothing is to be typed as JSON for that.
    expect(lines.filter((line) => line.includes('--fix asks'))).toHaveLength(end === 'asked' ? 1 : 0);
    expect(screen).not.toContain('"confirmed"');
  },
);

test('a turned pass, mended as the message says: a set-up of its own; then nothing is asked, and nothing more is warned of', async () => {
  const folder = await copyOf('TH-2031');
  const own = (r: Record<string, string>) => r['setup'] === 'S2' && r['pass'] === '2' && r['rail'] === 'B';
  await edit(folder, (r) => (own(r) ? { ...r, horizontal: number(r['horizontal'], (v) => -v) } : r));
  const asked = (await inspectJob(folder)).diagnostics.filter(({ severity }) => severity === 'confirm');
  expect(asked.map(({ code }) => code).join()).toMatch(/MISFIT_EXPLAINED/);
  await changeJob(folder, (job) => {
    const s2 = job.setups.find(({ id }: { id: string }) => id === 'S2');
    const other = s2.plus.horizontal === 'left' ? 'right' : 'left';
    job.setups.push({ ...s2, id: 'S2-turned', plus: { ...s2.plus, horizontal: other } });
  });
  // The rows hold both axes: the horizontal reading moves to a row of its own.
  await changeRows(folder, FILE, (header, rows) =>
    rows.flatMap((cells) => {
      const r = Object.fromEntries(header.map((name, i) => [name, cells[i] ?? '']));
      if (!own(r) || r['horizontal'] === '') return [cells];
      const line = (more: Record<string, string>) => header.map((name) => ({ ...r, ...more })[name] ?? '');
      return [line({ horizontal: '' }), line({ setup: 'S2-turned', vertical: '' })];
    }),
  );
  const after = await inspectJob(folder, null);
  expect(after.diagnostics.map(words)).toEqual([]);
  expect(after.loaded).not.toBeNull();
});

test('the whole day by the command: nothing is written for what is refused or asked, the rest is done', async () => {
  const place = await temporary();
  const jobs = join(place, 'jobs');
  await mkdir(jobs);
  for (const [k, { make }] of cases.slice(0, 5).entries()) {
    const folder = await copyOf('TH-2031');
    await make(folder);
    await changeJob(folder, (job) => {
      job.id = `DAY-${k}`;
    });
    await rename(folder, join(jobs, `DAY-${k}`));
  }
  const out = join(place, 'out');
  expect((await waysheet('batch', jobs, '--out', out, '--no-pdf')).status).toBe(3);
  expect((await readdir(out)).filter((name) => name.startsWith('DAY')).sort()).toEqual(['DAY-2', 'DAY-3']);
  await rm(place, { recursive: true, force: true });
});

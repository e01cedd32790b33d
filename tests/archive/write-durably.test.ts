/**
 * What a power cut leaves. Every call to the disk is written down; a model of the disk keeps only what was flushed: a file's
 * bytes by its own flush, a name by the flush of the folder that holds it (POSIX.1-2017, fsync). At every moment the model
 * must hold the earlier state or the new one, and after the call the new one.
 */
import type * as Promises from 'node:fs/promises';
import { mkdir } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { beforeEach, expect, test, vi } from 'vitest';
import { temporary } from '../support/folders.js';

type Step =
  | { readonly act: 'write' | 'sync'; readonly path: string }
  | { readonly act: 'rename'; readonly path: string; readonly to: string };

const steps = vi.hoisted(() => [] as unknown[]) as Step[];

vi.mock('node:fs/promises', async (original) => {
  const real = await original<typeof Promises>();
  return {
    ...real,
    rename: async (path: string, to: string) => {
      await real.rename(path, to);
      steps.push({ act: 'rename', path, to });
    },
    writeFile: async (path: string, ...rest: [never]) => {
      await real.writeFile(path, ...rest);
      steps.push({ act: 'write', path });
    },
    appendFile: async (path: string, ...rest: [never]) => {
      await real.appendFile(path, ...rest);
      steps.push({ act: 'write', path });
    },
    open: async (path: string, flags: string) => {
      const file = await real.open(path, flags);
      return new Proxy(file, {
        get(target, key) {
          const value = Reflect.get(target, key) as unknown;
          if (typeof value !== 'function') return value;
          return async (...args: unknown[]) => {
            const result = (await (value as (...all: unknown[]) => unknown).apply(target, args)) as unknown;
            if (key === 'sync' || key === 'datasync') steps.push({ act: 'sync', path });
            if (key === 'writeFile' || key === 'write') steps.push({ act: 'write', path });
            return result;
          };
        },
      });
    },
  };
});

const { writeFileWhole, writeWhole } = await import('../../src/archive/write-whole.js');
const { appendToLog, readLog } = await import('../../src/archive/issue-log.js');

beforeEach(() => void (steps.length = 0));

/** Steps of a kind, by their place in the order. */
const at = (is: (step: Step) => boolean): number[] => steps.flatMap((step, i) => (is(step) ? [i] : []));

/** In words, what a power cut could spoil. */
function troubles(final: (path: string) => boolean): string[] {
  const found: string[] = [];
  steps.forEach((step, i) => {
    if (step.act === 'write') {
      if (final(step.path)) found.push(`${basename(step.path)} was written in place`);
      const flushed = at((s) => s.act === 'sync' && s.path === step.path).some((k) => k > i);
      if (!flushed) found.push(`${basename(step.path)} was not flushed`);
      const renamed = at(
        (s) => s.act === 'rename' && (step.path === s.path || step.path.startsWith(`${s.path}/`)),
      );
      const sync = at((s) => s.act === 'sync' && s.path === step.path).find((k) => k > i) ?? Infinity;
      if (renamed.length === 0 || sync > renamed[0]!)
        found.push(`${basename(step.path)} was named before it was flushed`);
      // A file in a new folder has its name there by that folder's flush, before the folder gets its own.
      const inside = renamed.map((k) => steps[k]!.path).find((path) => path !== step.path);
      if (inside !== undefined)
        for (let folder = dirname(step.path); ; folder = dirname(folder)) {
          const named = at((s) => s.act === 'sync' && s.path === folder).find((k) => k > i) ?? Infinity;
          if (named > renamed[0]!) found.push(`the name of ${basename(step.path)} was not flushed`);
          if (folder === inside) break;
        }
    }
    if (step.act === 'rename')
      for (const folder of new Set([dirname(step.path), dirname(step.to)]))
        if (!at((s) => s.act === 'sync' && s.path === folder).some((k) => k > i))
          found.push(`${basename(folder)} was not flushed after a name in it was changed`);
  });
  return found;
}

const files = (text: string) =>
  new Map([
    ['results.json', Buffer.from(text)],
    ['charts/a.svg', Buffer.from('<svg/>')],
    [
      'manifest.json',
      Buffer.from(
        JSON.stringify({
          format: 'waysheet-manifest/1',
          outputs: [{ path: 'results.json' }, { path: 'charts/a.svg' }],
        }),
      ),
    ],
  ]);

test.each([
  ['a new folder', null],
  ['in place of an earlier one', null],
  ['the earlier one is kept', 'earlier-reports/T-1-1'],
])('a folder of a report is on the disk, with all its names: %s', async (what, kept) => {
  const parent = join(await temporary(), 'out');
  if (what !== 'a new folder') await writeWhole(parent, 'T-1', files('one'));
  steps.length = 0;
  await writeWhole(parent, 'T-1', files('two'), kept === null ? null : join(parent, kept));
  expect(at(({ act }) => act === 'write')).toHaveLength(3);
  expect(troubles((path) => path.startsWith(`${parent}/T-1/`))).toEqual([]);
});

test('a folder that is made for it is named on the disk too', async () => {
  const place = await temporary();
  await writeWhole(join(place, 'a/b'), 'T-1', files('one'));
  for (const folder of [place, join(place, 'a'), join(place, 'a/b')])
    expect(at((s) => s.act === 'sync' && s.path === folder)).not.toEqual([]);
});

test('a single file is on the disk, with its name', async () => {
  const parent = await temporary();
  await writeFileWhole(parent, 'register.json', Buffer.from('{}'));
  expect(at(({ act }) => act === 'write')).toHaveLength(1);
  expect(troubles((path) => path === join(parent, 'register.json'))).toEqual([]);
});

test('a line of the log is on the disk, and never half of it', async () => {
  const out = await temporary();
  await mkdir(out, { recursive: true });
  const entry = {
    ...{ act: 'issued' as const, number: 'T-1-1', job: 'T-1', on: '2026-03-16', by: 'O. Tressel' },
    manifest: 'x',
  };
  await appendToLog(out, readLog(out), entry);
  steps.length = 0;
  await appendToLog(out, readLog(out), { ...entry, number: 'T-2-1', job: 'T-2' });
  expect(at(({ act }) => act === 'write')).toHaveLength(1);
  expect(troubles((path) => path === join(out, 'issued.jsonl'))).toEqual([]);
  expect(readLog(out).entries).toHaveLength(2);
});

test('a log that somebody else added to meanwhile is not written over', async () => {
  const out = await temporary();
  const entry = {
    ...{ act: 'issued' as const, number: 'T-1-1', job: 'T-1', on: '2026-03-16', by: 'O. Tressel' },
    manifest: 'x',
  };
  const empty = readLog(out);
  await appendToLog(out, empty, entry);
  await expect(appendToLog(out, empty, { ...entry, number: 'T-2-1' })).rejects.toThrow(
    /changed by somebody else/,
  );
});

test('an issued report is never replaced, whoever writes and however late', async () => {
  const parent = await temporary();
  const issued = new Map([
    ...files('one'),
    [
      'manifest.json',
      Buffer.from(
        '{"format":"waysheet-manifest/1","issue":"T-1-1","outputs":[{"path":"results.json"},{"path":"charts/a.svg"}]}',
      ),
    ],
  ]);
  await writeWhole(parent, 'T-1', issued);
  await expect(writeWhole(parent, 'T-1', files('two'))).rejects.toThrow(/report T-1-1 was issued there/);
  const { readFile, readdir } = await import('node:fs/promises');
  expect(await readFile(join(parent, 'T-1/results.json'), 'utf8')).toBe('one');
  expect(await readdir(parent)).toEqual(['T-1']);
});

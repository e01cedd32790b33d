/** Names that mean something to JavaScript mean nothing here. */
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, expect, test } from 'vitest';
import { makeDeliverables } from '../../src/pipeline.js';
import { loadJob } from '../../src/solution/intake/load-job.js';
import { copyOf, judgedOf, sample } from '../support/folders.js';

const before = Object.getOwnPropertyNames(Object.prototype).sort();
afterEach(() => {
  expect(Object.getOwnPropertyNames(Object.prototype).sort()).toEqual(before);
  expect(({} as Record<string, unknown>)['polluted']).toBeUndefined();
});

const keys = [
  '__proto__',
  'constructor',
  'prototype',
  'toString',
  'hasOwnProperty',
  '__defineGetter__',
  'valueOf',
];

/** Every object of a job file, by the text that opens it. */
test.each(keys)('the key %s, anywhere in job.json', async (key) => {
  const folder = await copyOf('TH-2031');
  const text = await readFile(join(folder, 'job.json'), 'utf8');
  const opens = [...text.matchAll(/\{/g)].map(({ index }) => index);
  expect(opens.length).toBeGreaterThan(15);
  for (const at of opens) {
    for (const value of key === '__proto__' ? ['{"polluted":true}', '"x"', '[]'] : ['{"polluted":true}']) {
      await writeFile(
        join(folder, 'job.json'),
        `${text.slice(0, at + 1)}"${key}":${value},${text.slice(at + 1)}`,
      );
      const loaded = await loadJob(folder);
      expect(
        loaded.diagnostics.filter((d) => d.code === 'KEY_UNKNOWN' && d.severity === 'error'),
      ).toHaveLength(1);
      expect(loaded.ok).toBe(false);
    }
  }
});

test('the same in a tolerance set', async () => {
  const folder = await copyOf('TH-2031');
  const path = join(folder, 'tolerances/bed-rails.json');
  const text = await readFile(path, 'utf8');
  for (const key of keys) {
    await writeFile(path, text.replace('{', `{"${key}":{"polluted":true},`));
    expect((await loadJob(folder)).diagnostics).toMatchObject([{ code: 'KEY_UNKNOWN' }]);
  }
});

test.each(keys)('the column %s', async (key) => {
  const folder = await copyOf('TH-2031');
  const path = join(folder, 'readings/as-left.csv');
  await writeFile(path, (await readFile(path, 'utf8')).replace('note', key));
  const loaded = await loadJob(folder);
  expect(loaded.diagnostics.map(({ code }) => code)).toContain('CSV_COLUMN_UNKNOWN');
});

/** Replaces an id in job.json, tolerances and readings alike. */
async function renamed(names: Readonly<Record<string, string>>): Promise<string> {
  const folder = await copyOf('TH-2031');
  for (const file of [
    'job.json',
    'tolerances/bed-rails.json',
    'readings/as-found.csv',
    'readings/as-left.csv',
  ]) {
    let text = await readFile(join(folder, file), 'utf8');
    for (const [from, to] of Object.entries(names)) {
      text = file.endsWith('.json')
        ? text.replaceAll(`"${from}"`, `"${to}"`)
        : text.replaceAll(new RegExp(`(?<=[,\\n])${from}(?=,)`, 'g'), to);
    }
    await writeFile(join(folder, file), text);
  }
  return folder;
}

test('ids that are names of JavaScript: the same numbers', async () => {
  const names = {
    A: 'constructor',
    B: 'toString',
    S1: 'valueOf',
    S2: 'hasOwnProperty',
    M1: 'isPrototypeOf',
    M2: 'propertyIsEnumerable',
    L1: 'prototype',
    T1: 'toLocaleString',
    T3: 'then',
  };
  const folder = await renamed(names);
  const loaded = await loadJob(folder);
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.diagnostics, null, 1));
  const { results, files } = await makeDeliverables(folder, loaded.value, loaded.diagnostics, null);
  const plain = await judgedOf(sample('TH-2031'));
  for (const name of ['as-found', 'as-left'] as const) {
    const [one, other] = [results, plain].map((from) => from.phases[name]!.characteristics);
    expect(one).toHaveLength(other!.length);
    one!.forEach((found, i) => {
      const wanted = other![i]!;
      expect(found).toMatchObject({ what: wanted.what, verdict: wanted.verdict });
      // The last digits follow the order of the ids; the interval's draws, seeded by names, are not compared.
      if (wanted.value === null) expect(found.value).toBeNull();
      else expect(found.value).toBeCloseTo(wanted.value, 9);
    });
  }
  expect(Object.entries(results.phases['as-left']!.offsetTied)).toEqual([['toString', false]]);
  expect(files.has('report.html')).toBe(true);
});

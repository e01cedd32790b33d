/**
 * Forgeries of a folder whose manifest was renewed afterwards, so that every hash agrees: each is caught because the same
 * inputs make other bytes. Seeded mutations, and their count.
 */
import { cp, readFile, rm, writeFile } from 'node:fs/promises';
import { createHash } from 'node:crypto';
import { join } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { audit } from '../../../src/archive/audit/audit.js';
import { readDeliverables } from '../../../src/archive/issued-report.js';
import { differs } from '../../../src/archive/audit/statements.js';
import { loadJob } from '../../../src/solution/intake/load-job.js';
import { makeDeliverables } from '../../../src/pipeline.js';
import { mkdir } from 'node:fs/promises';
import { dirname } from 'node:path';
import { sample, temporary } from '../../support/folders.js';
import { seeded } from '../../support/jobs.js';

interface Entry {
  path: string;
  bytes: number;
  sha256: string;
}
interface Manifest {
  verdict: string;
  job: string;
  software: { version: string };
  outputs: Entry[];
  digests?: { job: string };
}

let sound: string;
const where = { job: sample('TH-0412'), tolerances: null, print: null, trust: null };

beforeAll(async () => {
  const loaded = await loadJob(sample('TH-0412'));
  if (!loaded.ok) throw new Error('refused');
  const { files } = await makeDeliverables(sample('TH-0412'), loaded.value, loaded.diagnostics, null);
  sound = join(await temporary(), 'TH-0412');
  for (const [path, bytes] of files) {
    await mkdir(dirname(join(sound, path)), { recursive: true });
    await writeFile(join(sound, path), bytes);
  }
});

/** Renews the hashes of all that the manifest lists. */
async function forged(change: (folder: string, manifest: Manifest) => Promise<void> | void): Promise<string> {
  const folder = join(await temporary(), 'TH-0412');
  await cp(sound, folder, { recursive: true });
  const path = join(folder, 'manifest.json');
  const manifest = JSON.parse(await readFile(path, 'utf8')) as Manifest;
  await change(folder, manifest);
  for (const entry of manifest.outputs) {
    const bytes = await readFile(join(folder, entry.path));
    entry.bytes = bytes.length;
    entry.sha256 = createHash('sha256').update(bytes).digest('hex');
  }
  await writeFile(path, `${JSON.stringify(manifest, null, 2)}\n`);
  return folder;
}

const isCaught = async (folder: string): Promise<boolean> => differs(await audit(folder, where));

test('nothing is said of a folder that nobody touched', async () => {
  expect(await isCaught(await forged(() => undefined))).toBe(false);
});

const statements: [string, (m: Manifest) => void][] = [
  ['the verdict', (m) => (m.verdict = 'does-not-conform')],
  ['the job', (m) => (m.job = 'TH-9999')],
  ['the version', (m) => (m.software.version = '9.9.9')],
  ['the digests', (m) => (m.digests = { ...m.digests!, job: '0'.repeat(64) })],
];
test.each(statements)('a manifest that says otherwise of %s', async (_, change) => {
  expect(await isCaught(await forged((_folder, manifest) => change(manifest)))).toBe(true);
});

test('a chart that is taken off the list and out of the folder', async () => {
  const folder = await forged(async (place, manifest) => {
    const chart = manifest.outputs.find(({ path }) => path.startsWith('charts/'))!;
    manifest.outputs = manifest.outputs.filter((entry) => entry !== chart);
    await rm(join(place, chart.path));
  });
  expect(await isCaught(folder)).toBe(true);
});

test('a digit anywhere, in any file', async () => {
  const next = seeded(29);
  const caught: boolean[] = [];
  for (let k = 0; k < 20; k++) {
    const folder = await forged(async (place, { outputs }) => {
      const path = join(place, outputs[Math.floor(next() * outputs.length)]!.path);
      const text = await readFile(path, 'utf8');
      const digits = [...text.matchAll(/\d/g)];
      const at = digits[Math.floor(next() * digits.length)]!.index;
      const other = String((Number(text[at]) + 1 + Math.floor(next() * 9)) % 10);
      await writeFile(path, text.slice(0, at) + other + text.slice(at + 1));
    });
    caught.push(await isCaught(folder).catch(() => true));
  }
  console.log(`${caught.filter(Boolean).length} of ${caught.length} caught`);
  expect(caught.every(Boolean)).toBe(true);
});

test('Every file that a report is made of has a name that the audit reads', async () => {
  const loaded = await loadJob(sample('TH-0412'));
  if (!loaded.ok) throw new Error('refused');
  const { files } = await makeDeliverables(sample('TH-0412'), loaded.value, loaded.diagnostics, null);
  const read = readDeliverables(sound);
  expect(read.strange).toEqual([]);
  expect([...read.files.keys()].sort()).toEqual([...files.keys()].sort());
});

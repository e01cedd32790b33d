/** Many forgeries of the log of issued reports, by somebody who knows its format and renews its hashes: how many are caught. */
import { createHash, createPublicKey, generateKeyPairSync, sign, type KeyObject } from 'node:crypto';
import { mkdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { appendToLog, LOG, readLog } from '../../../src/archive/issue-log.js';
import { sha256 } from '../../../src/pages/deliverables/manifest.js';
import { signingKey, type SigningKey, type TrustedKey } from '../../../src/archive/signing.js';
import { auditArchive } from '../../../src/archive/audit/audit-log.js';
import { SOFTWARE } from '../../../src/base/version.js';
import { temporary } from '../../support/folders.js';
import { seeded } from '../../support/jobs.js';
import type { Tally } from './forge-many.js';

interface Key {
  readonly own: SigningKey;
  readonly trusted: TrustedKey;
}

function newKey(name: string): Key {
  const { privateKey } = generateKeyPairSync('ed25519');
  const own = signingKey(privateKey.export({ type: 'pkcs8', format: 'pem' }) as string);
  return { own, trusted: { name, publicKey: createPublicKey(privateKey), keyid: own.keyid } };
}

interface Archive {
  readonly out: string;
  /** SHA-256 of the last line. */
  readonly head: string;
}

/**
 * Nine reports, two of them amended, one withdrawn. A withdrawal at the very end of a log could be cut off without a trace:
 * for that its last hash is noted elsewhere.
 */
async function issuedArchive(key: SigningKey | null): Promise<Archive> {
  const out = await temporary();
  let head = '';
  const put = async (job: string, number: string, folder: string, more: object = {}) => {
    const manifest = Buffer.from(
      JSON.stringify({
        format: 'waysheet-manifest/1',
        job,
        issue: number,
        verdict: 'conforms',
        software: SOFTWARE,
        browser: null,
        inputs: [],
        outputs: [],
      }),
    );
    await mkdir(join(out, folder), { recursive: true });
    await writeFile(join(out, folder, 'manifest.json'), manifest);
    const entry = {
      act: 'issued' as const,
      number,
      job,
      on: '2026-09-01',
      by: 'O. Tressel',
      manifest: sha256(manifest),
      ...more,
    };
    head = await appendToLog(out, readLog(out), entry, key);
  };
  for (let k = 1; k <= 8; k++)
    await put(`TH-${k}`, `TH-${k}-1`, k <= 2 ? `earlier-reports/TH-${k}-1` : `TH-${k}`);
  for (let k = 1; k <= 2; k++)
    await put(`TH-${k}`, `TH-${k}-2`, `TH-${k}`, { act: 'amended', amends: `TH-${k}-1`, because: 'a name' });
  const log = readLog(out);
  const last = log.entries.find(({ number }) => number === 'TH-7-1')!;
  const { number, job, manifest } = last;
  head = await appendToLog(
    out,
    log,
    {
      act: 'withdrawn',
      number,
      job,
      manifest,
      on: '2026-09-02',
      by: 'O. Tressel',
      because: 'the wrong rail',
    },
    key,
  );
  await put('TH-9', 'TH-9-1', 'TH-9');
  return { out, head };
}

const sha = (text: string): string => createHash('sha256').update(text).digest('hex');
type Entry = Record<string, unknown>;
const pick = <T>(list: readonly T[], next: () => number): T => list[Math.floor(next() * list.length)]!;

/** Numbers and hashes of lines renewed, as they would have been written. */
function chained(entries: readonly Entry[], signer: ((unsigned: Entry) => object) | null = null): string[] {
  let previous = '';
  return entries.map((entry, i) => {
    const { signature, ...rest } = entry;
    const unsigned: Entry = { ...rest, line: i + 1, previous };
    const text = JSON.stringify({
      ...unsigned,
      ...(signer === null ? signature !== undefined && { signature } : { signature: signer(unsigned) }),
    });
    previous = sha(text);
    return text;
  });
}

interface LogForgery {
  readonly name: string;
  readonly forge: (lines: readonly string[], next: () => number, other: Key) => string;
}

const entriesOf = (lines: readonly string[]): Entry[] => lines.map((line) => JSON.parse(line) as Entry);
const whole = (lines: readonly string[]): string => lines.map((line) => `${line}\n`).join('');
const without = <T>(list: readonly T[], at: number): T[] => list.filter((_, i) => i !== at);

function changed(entry: Entry, next: () => number): Entry {
  const key = pick(['by', 'on', 'number', 'job', 'manifest', 'act', 'because'], next);
  const text = String(entry[key] ?? '');
  const at = Math.floor(next() * text.length);
  const other =
    key === 'act'
      ? pick(
          ['issued', 'amended', 'withdrawn'].filter((a) => a !== text),
          next,
        )
      : `${text.slice(0, at)}${text[at] === '0' ? '1' : '0'}${text.slice(at + 1)}`;
  return { ...entry, [key]: other };
}

const kinds: readonly LogForgery[] = [
  { name: 'a bit of the log', forge: (lines, next) => flipped(whole(lines), next) },
  {
    name: 'a line taken out',
    forge: (lines, next) => whole(without(lines, Math.floor(next() * lines.length))),
  },
  {
    name: 'a line taken out, hashes renewed',
    forge: (lines, next) => whole(chained(without(entriesOf(lines), Math.floor(next() * lines.length)))),
  },
  {
    name: 'the last lines taken out',
    forge: (lines, next) => whole(lines.slice(0, Math.floor(next() * lines.length))),
  },
  {
    name: 'two lines change places, hashes renewed',
    forge(lines, next) {
      const list = entriesOf(lines);
      const at = Math.floor(next() * (list.length - 1));
      [list[at], list[at + 1]] = [list[at + 1]!, list[at]!];
      return whole(chained(list));
    },
  },
  {
    name: 'a word of a line, hashes renewed',
    forge(lines, next) {
      const list = entriesOf(lines);
      const at = Math.floor(next() * list.length);
      list[at] = changed(list[at]!, next);
      return whole(chained(list));
    },
  },
  {
    name: 'a line written twice, hashes renewed',
    forge(lines, next) {
      const list = entriesOf(lines);
      const at = Math.floor(next() * list.length);
      list.splice(at, 0, list[at]!);
      return whole(chained(list));
    },
  },
  {
    name: 'all signed anew by another key, a line taken out',
    forge(lines, next, { own }) {
      const list = without(entriesOf(lines), Math.floor(next() * lines.length));
      return whole(
        chained(list, (unsigned) => ({ keyid: own.keyid, sig: signedBy(own.privateKey, unsigned) })),
      );
    },
  },
];

function flipped(text: string, next: () => number): string {
  const bytes = Buffer.from(text);
  const at = Math.floor(next() * bytes.length);
  bytes[at] = bytes[at]! ^ (1 << Math.floor(next() * 8));
  return bytes.toString('utf8');
}

const signedBy = (key: KeyObject, unsigned: Entry): string => {
  const [type, body] = ['application/vnd.waysheet.issued+json', JSON.stringify(unsigned)];
  return sign(
    null,
    Buffer.from(`DSSEv1 ${type.length} ${type} ${Buffer.byteLength(body)} ${body}`),
    key,
  ).toString('base64');
};

/** @returns By kind, of a signed log, and of one whose last hash was noted elsewhere. */
export async function forgeLogs(count: number, seed: number): Promise<Map<string, Tally>> {
  const next = seeded(seed);
  const [office, other] = [newKey('office'), newKey('other')];
  const archives = [
    {
      name: 'signed',
      archive: await issuedArchive(office.own),
      trusted: { keys: [office.trusted], certificates: [] },
      isNoted: false,
    },
    { name: 'last hash noted', archive: await issuedArchive(null), trusted: null, isNoted: true },
  ];
  const tallies = new Map<string, Tally>();
  for (let k = 0; k < count; k++) {
    const { name, archive, trusted, isNoted } = archives[k % 2]!;
    const kind = kinds[(k >> 1) % kinds.length]!;
    const path = join(archive.out, LOG);
    const text = await readFile(path, 'utf8');
    const forged = kind.forge(text.trimEnd().split('\n'), next, other);
    if (forged === text) continue;
    await writeFile(path, forged);
    const { troubles } = await auditArchive(archive.out, {
      head: isNoted ? archive.head : null,
      trust: trusted,
      day: null,
    });
    await writeFile(path, text);
    const key = `the log, ${name}: ${kind.name}`;
    const tally = tallies.get(key) ?? { tried: 0, caught: 0, missed: [] };
    tallies.set(key, tally);
    tally.tried++;
    if (troubles.length > 0) tally.caught++;
    else tally.missed.push(forged.slice(0, 300));
  }
  for (const { archive } of archives) {
    const trust = archive === archives[0]!.archive ? { keys: [office.trusted], certificates: [] } : null;
    const { troubles } = await auditArchive(archive.out, { head: archive.head, trust, day: null });
    if (troubles.length > 0)
      throw new Error(`the log itself does not stand: ${troubles.map(({ what }) => what).join('; ')}`);
    await rm(archive.out, { recursive: true, force: true });
  }
  return tallies;
}

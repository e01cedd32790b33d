/**
 * `issued.jsonl`: which reports were issued, amended and withdrawn, a line each, never rewritten. Each line holds the
 * SHA-256 of the one before, so that none can be taken out, put in or changed without all behind it changing; a copy
 * of the last hash, kept elsewhere, then tells of a log that was written anew.
 */
import { appendFile, mkdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import { omissible } from '../results/results-schema.js';
import { jsonOf } from '../base/input/json-of.js';
import { sha256 } from '../pages/deliverables/manifest.js';
import { checkSignature, LOG_LINE_TYPE, signatureOf, type SigningKey, type TrustedKey } from './signing.js';

export const LOG = 'issued.jsonl';

const entrySchema = z.strictObject({
  format: z.literal('waysheet-issued/1'),
  /** From 1. */
  line: z.int().positive(),
  act: z.enum(['issued', 'amended', 'withdrawn']),
  /** Of the report that was issued or withdrawn. */
  number: z.string(),
  job: z.string(),
  on: z.string(),
  by: z.string(),
  /** The report that an amended one takes the place of. */
  amends: z.string().optional(),
  because: z.string().optional(),
  /** What the report lacks by ISO/IEC 17025, 7.8.2 or 6.5, and was issued without all the same. */
  without: z.array(z.enum(omissible)).optional(),
  /** SHA-256 of the report's manifest.json, which holds the hashes of all its files. */
  manifest: z.string(),
  /** SHA-256 of the line before; '' in the first. */
  previous: z.string(),
  /** Over the line without this key. */
  signature: z.strictObject({ keyid: z.string(), sig: z.string() }).optional(),
});
export type LogEntry = z.infer<typeof entrySchema>;

export interface IssueLog {
  readonly entries: readonly LogEntry[];
  /** SHA-256 of the last line; '' of an empty log. */
  readonly head: string;
  /** SHA-256 of each line, in their order. */
  readonly hashes: readonly string[];
  /** In words, what is wrong with the log itself. */
  readonly troubles: readonly string[];
}

const hashOf = (line: string): string => sha256(new TextEncoder().encode(line));

/** @returns An empty log where there is none. */
export async function readLog(out: string): Promise<IssueLog> {
  const text = await readFile(join(out, LOG), 'utf8').catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return '';
    throw error;
  });
  return parseLog(text);
}

/** Never throws: what is wrong with the log is among its troubles. */
export function parseLog(text: string): IssueLog {
  const lines = text.split('\n');
  const troubles: string[] = [];
  // Every line ends with a line feed: one that does not was cut off while it was written.
  if (lines.pop() !== '') troubles.push(`${LOG}: the last line is cut off`);
  const entries: LogEntry[] = [];
  const hashes: string[] = [];
  lines.forEach((line, i) => {
    const head = hashes[i - 1] ?? '';
    const entry = entryOf(line);
    const place = `${LOG}, line ${i + 1}`;
    if (entry === null) troubles.push(`${place}: no entry that this version reads`);
    else {
      if (entry.previous !== head)
        troubles.push(`${place}: it does not follow the line before; a line was changed, added or taken out`);
      if (entry.line !== i + 1) troubles.push(`${place}: it says that it is line ${entry.line}`);
      entries.push(entry);
    }
    hashes.push(hashOf(line));
  });
  return { entries, head: hashes[hashes.length - 1] ?? '', hashes, troubles };
}

const entryOf = (line: string): LogEntry | null => entrySchema.safeParse(jsonOf(line)).data ?? null;

const unsignedSchema = entrySchema.omit({ signature: true });

/** What is signed: the keys in the order of the schema, however they were put together. */
const bytesOf = (unsigned: Omit<LogEntry, 'signature'>): Uint8Array =>
  new TextEncoder().encode(JSON.stringify(unsignedSchema.parse(unsigned)));

/** In words, each line that none of the keys has signed. */
export function unsignedLines({ entries }: IssueLog, trusted: readonly TrustedKey[]): string[] {
  return entries.flatMap(({ signature, ...unsigned }) => {
    const place = `${LOG}, line ${unsigned.line}`;
    if (signature === undefined) return [`${place}: it is not signed`];
    const state = checkSignature(LOG_LINE_TYPE, bytesOf(unsigned), signature, trusted);
    if (state.state === 'good') return [];
    return [
      state.state === 'bad'
        ? `${place}: its signature is bad: ${state.why}`
        : `${place}: signed by a key that is not among the trusted ones (${state.keyid.slice(0, 16)}…)`,
    ];
  });
}

/** @returns SHA-256 of the line that was written: worth keeping elsewhere. */
export async function appendToLog(
  out: string,
  log: IssueLog,
  entry: Omit<LogEntry, 'format' | 'line' | 'previous' | 'signature'>,
  key: SigningKey | null = null,
): Promise<string> {
  const unsigned = {
    format: 'waysheet-issued/1',
    line: log.entries.length + 1,
    ...entry,
    previous: log.head,
  } satisfies LogEntry;
  const line = JSON.stringify({
    ...unsigned,
    ...(key !== null && {
      signature: { keyid: key.keyid, sig: signatureOf(LOG_LINE_TYPE, bytesOf(unsigned), key) },
    }),
  });
  await mkdir(out, { recursive: true });
  await appendFile(join(out, LOG), `${line}\n`, { flush: true });
  return hashOf(line);
}

export type Standing = 'issued' | 'amended' | 'withdrawn';

/** What became of each issued report, by its number. */
export function standings(entries: readonly LogEntry[]): Map<string, Standing> {
  const found = new Map<string, Standing>();
  for (const { act, number, amends } of entries) {
    if (amends !== undefined) found.set(amends, 'amended');
    found.set(number, act === 'withdrawn' ? 'withdrawn' : 'issued');
  }
  return found;
}

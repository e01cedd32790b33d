/**
 * `issued.jsonl`: the reports that were issued, amended and withdrawn, one line per event, never rewritten. Each line has the SHA-256
 * of the line before, so that no line can be removed, added or changed without changing all lines after it. A copy of the
 * last hash, kept elsewhere, shows whether the whole log was written again.
 */
import { createPublicKey } from 'node:crypto';
import { join } from 'node:path';
import * as z from 'zod';
import { omissible } from '../results/omissible.js';
import { jsonOf } from '../base/input/json-of.js';
import { sha256 } from '../pages/deliverables/manifest.js';
import { readRegularFile } from './regular-file.js';
import { writeFileWhole } from './write-whole.js';
import { checkSignature, LOG_LINE_TYPE, signatureOf, type SigningKey, type TrustedKey } from './signing.js';

export const LOG = 'issued.jsonl';

const entrySchema = z.strictObject({
  format: z.literal('waysheet-issued/1'),
  /** From 1. */
  line: z.int().positive(),
  act: z.enum(['issued', 'amended', 'withdrawn']),
  /** Number of the report that was issued or withdrawn. */
  number: z.string(),
  job: z.string(),
  on: z.string(),
  by: z.string(),
  /** Number of the report that an amended one replaces. */
  amends: z.string().optional(),
  because: z.string().optional(),
  /** What is missing in the report by ISO/IEC 17025, 7.8.2 or 6.5; it was issued without it. */
  without: z.array(z.enum(omissible)).optional(),
  /** SHA-256 of the report's manifest.json, which holds the hashes of all its files. */
  manifest: z.string(),
  /** SHA-256 of the line before; '' in the first line. */
  previous: z.string(),
  /** Signature of the line without this key. */
  signature: z.strictObject({ keyid: z.string(), sig: z.string() }).optional(),
});
export type LogEntry = z.infer<typeof entrySchema>;

export interface IssueLog {
  readonly entries: readonly LogEntry[];
  /** The text of the file. */
  readonly text: string;
  /** SHA-256 of the last line; '' of an empty log. */
  readonly head: string;
  /** SHA-256 of each line, in their order. */
  readonly hashes: readonly string[];
  /** What is wrong with the log itself. */
  readonly troubles: readonly LineProblem[];
}

export interface LineProblem {
  /** From 1; null: it is about the whole log. */
  readonly line: number | null;
  readonly words: string;
}

export const problemWords = ({ line, words }: LineProblem): string =>
  line === null ? `${LOG} ${words}` : `${LOG}, line ${line}: ${words}`;

const hashOf = (line: string): string => sha256(new TextEncoder().encode(line));

/** Largest log, bytes: more than a hundred thousand lines. */
const MAX_LOG_BYTES = 64 * 2 ** 20;

/** @returns An empty log if there is no file; if it cannot be read, its troubles say so. */
export function readLog(out: string): IssueLog {
  try {
    const bytes = readRegularFile(join(out, LOG), MAX_LOG_BYTES);
    const log = parseLog(bytes.toString('utf8'));
    return bytes.equals(Buffer.from(log.text))
      ? log
      : {
          ...log,
          troubles: [...log.troubles, { line: null, words: 'holds bytes that are no text (UTF-8)' }],
        };
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return parseLog('');
    return {
      ...parseLog(''),
      troubles: [{ line: null, words: `cannot be read: ${(error as Error).message}` }],
    };
  }
}

/** Never throws: problems of the log are in its troubles. */
export function parseLog(text: string): IssueLog {
  const lines = text.split('\n');
  const troubles: LineProblem[] = [];
  // Every line ends with a line feed: one that does not was cut off while it was written.
  if (lines.pop() !== '') troubles.push({ line: null, words: 'ends with half a line: it was cut off' });
  const entries: LogEntry[] = [];
  const hashes: string[] = [];
  lines.forEach((line, i) => {
    const head = hashes[i - 1] ?? '';
    const entry = entryOf(line);
    const say = (words: string) => void troubles.push({ line: i + 1, words });
    if (entry === null) say('no entry that this version reads');
    else {
      if (entry.previous !== head)
        say('it does not follow the line before; a line was changed, added or removed');
      // If a key is there twice, a program reads the last one, but a person may read the first.
      if (JSON.stringify(jsonOf(line)) !== line) say('it is not written as waysheet writes a line');
      if (entry.line !== i + 1) say(`it says that it is line ${entry.line}`);
      entries.push(entry);
    }
    hashes.push(hashOf(line));
  });
  return { text, entries, head: hashes[hashes.length - 1] ?? '', hashes, troubles };
}

const entryOf = (line: string): LogEntry | null => entrySchema.safeParse(jsonOf(line)).data ?? null;

const unsignedSchema = entrySchema.omit({ signature: true });

/** The bytes that are signed: the keys in the order of the schema. */
const bytesOf = (unsigned: Omit<LogEntry, 'signature'>): Uint8Array =>
  new TextEncoder().encode(JSON.stringify(unsignedSchema.parse(unsigned)));

/** Each line that none of the keys has signed. */
export function unsignedLines(
  { entries }: Pick<IssueLog, 'entries'>,
  trusted: readonly TrustedKey[],
): LineProblem[] {
  return entries.flatMap(({ signature, ...unsigned }) => {
    const { line } = unsigned;
    if (signature === undefined) return [{ line, words: 'it is not signed' }];
    const state = checkSignature(LOG_LINE_TYPE, bytesOf(unsigned), signature, trusted);
    if (state.state === 'good') return [];
    const words =
      state.state === 'bad'
        ? `its signature is bad: ${state.why}`
        : `signed by a key that is not among the trusted ones (${state.keyid.slice(0, 16)}…)`;
    return [{ line, words }];
  });
}

/** Each line that claims a signature by this key but does not have it. */
export function brokenSignatures(log: IssueLog, { keyid, privateKey }: SigningKey): LineProblem[] {
  const own = log.entries.filter(({ signature }) => signature?.keyid === keyid);
  const trusted = { name: 'the key', publicKey: createPublicKey(privateKey), keyid };
  return unsignedLines({ ...log, entries: own }, [trusted]);
}

/**
 * The whole log is written again with one more line, and then replaces the earlier one: after a power cut it is as before or
 * complete, never with half a line.
 *
 * @returns SHA-256 of the line that was written; it should be kept elsewhere.
 * @throws {Error} the log is no longer the one that was read, or the disk refused.
 */
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
  const now = readLog(out);
  if (now.head !== log.head || now.troubles.length > 0)
    throw new Error(`${join(out, LOG)} was changed by somebody else meanwhile; nothing was added to it`);
  await writeFileWhole(out, LOG, Buffer.from(`${now.text}${line}\n`));
  return hashOf(line);
}

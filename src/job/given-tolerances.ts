/**
 * A tolerance set that is given to a run, in place of those that the jobs name: the archive judged anew, "what if".
 * It is read and checked once; what only a job can tell (has it such a rail?) is asked job by job.
 */
import { realpath } from 'node:fs/promises';
import { basename, dirname } from 'node:path';
import { Findings, sortDiagnostics } from '../diagnostics/diagnostic.js';
import type { Outcome } from '../diagnostics/diagnostic.js';
import { decodeText } from '../readings/decode.js';
import type { InputFile } from '../readings/readings.js';
import { itemsAt } from './draft.js';
import { MAX_JSON_BYTES, readInputFile } from './input-file.js';
import { toleranceSchema, toleranceSetSchema } from './job-schema.js';
import { parseJsonSource } from './json-source.js';
import type { JsonSource } from './json-source.js';
import { valueAt } from './key-path.js';
import { checkSchema } from './schema-findings.js';
import { checkTolerances } from './settle-tolerances.js';
import { createHash } from 'node:crypto';

export interface GivenTolerances {
  /** As the set stands among a report's inputs: under a path that no job may name. */
  readonly input: InputFile;
  readonly bytes: Uint8Array;
  readonly source: JsonSource;
  readonly name: string | null;
  /** Where its limits come from, in its own words. */
  readonly origin: string | null;
}

/**
 * Where the set stands among the inputs. Jobs name files inside their folder, or in a folder `tolerances` above it
 * (job-paths.ts): neither can be this.
 */
const PLACE = '../what-if/';

export const isGivenPath = (path: string): boolean => path.startsWith(PLACE);

/**
 * @param path As the caller names it, which the diagnostics repeat. Links are followed: no job names it.
 * @returns Fails: with everything that is wrong in the file, each at its line.
 */
export async function readGivenTolerances(path: string): Promise<Outcome<GivenTolerances>> {
  const real = await realpath(path).catch(() => path);
  const file = await readInputFile(dirname(real), basename(real), '', MAX_JSON_BYTES, { file: path });
  if (!file.ok) return file;
  return parseGivenTolerances(file.value.bytes, givenPath(path), path);
}

/** @param path As it stands among the inputs. @param shownAs The file as diagnostics of the set name it. */
export function parseGivenTolerances(
  bytes: Uint8Array,
  path: string,
  shownAs = path,
): Outcome<GivenTolerances> {
  const text = decodeText(bytes, shownAs);
  if (!text.ok) return text;
  const checked = parseJsonSource(text.value.text, shownAs);
  if (!checked.ok) return checked;
  const findings = new Findings();
  findings.list.push(...text.diagnostics, ...checked.diagnostics);
  checkSchema(toleranceSetSchema, checked.value, findings);
  checkTolerances(itemsAt(checked.value, ['tolerances'], toleranceSchema), findings);
  if (findings.hasErrors) return { ok: false, diagnostics: sortDiagnostics(findings.list) };
  const source = { ...checked.value, file: path, at: placesIn(checked.value, path) };
  const sha256 = createHash('sha256').update(bytes).digest('hex');
  return findings.outcome(() => ({
    input: { path, bytes: bytes.length, sha256, read: text.value.encoding },
    bytes,
    source,
    name: textAt(source, 'name'),
    origin: textAt(source, 'source'),
  }));
}

/** What a job finds in the set stands in its report, which must not depend on where the set lay. */
const placesIn =
  (source: JsonSource, file: string): JsonSource['at'] =>
  (path) => ({ ...source.at(path), file });

const textAt = (source: JsonSource, key: string): string | null => {
  const value = valueAt(source.value, [key]);
  return typeof value === 'string' ? value : null;
};

/** The file's own name, without what a path, an attachment or another system could trip over. */
function givenPath(path: string): string {
  const name = basename(path)
    .normalize('NFC')
    .replace(/[^\p{L}\p{N} ._()-]/gu, '_')
    .replace(/^[. ]+/, '')
    .slice(-100);
  return PLACE + (name === '' ? 'tolerances.json' : name);
}

/**
 * A tolerance set that is given to a run instead of those that the jobs name: the archive is judged by it ("what if").
 * It is read and checked once. What depends on a job (does it have such a rail?) is checked for each job.
 */
import { realpath } from 'node:fs/promises';
import { basename, dirname } from 'node:path';
import { Findings, sortDiagnostics, type Outcome, type Place } from '../../base/diagnostics/diagnostic.js';
import { decodeText } from '../../base/input/decode.js';
import type { InputFile } from '../../base/input/input-file.js';
import { itemsAt } from './draft.js';
import { MAX_JSON_BYTES, readInputFile } from './input-file.js';
import { toleranceSchema, toleranceSetSchema } from './job-schema.js';
import { staysInside } from './job-paths.js';
import { parseJsonSource, type JsonSource } from './json-source.js';
import { valueAt } from './key-path.js';
import { mergedSet, ofGrade, readLayers } from './layered-set.js';
import { checkSchema } from './schema-findings.js';
import { checkTolerances } from './resolve-tolerances.js';
import { createHash } from 'node:crypto';

export interface GivenTolerances {
  /** The set as an input of a report, with a path that no job may name. */
  readonly input: InputFile;
  readonly bytes: Uint8Array;
  readonly source: JsonSource;
  readonly name: string | null;
  /** Where its limits come from, in its own words. */
  readonly origin: string | null;
}

/**
 * Folder of the set in the list of inputs. Jobs name files inside their folder, or in a folder `tolerances` above it
 * (job-paths.ts), so no file of a job can be in this folder.
 */
const GIVEN_FOLDER = '../what-if/';

/** true: the input is a set that was given to the run, not a file of the job. */
export const isGivenPath = (path: string): boolean => path.startsWith(GIVEN_FOLDER);

/**
 * @param path As the caller names it; the diagnostics repeat it. Links are followed, because no job names this path.
 * @returns Fails: with everything that is wrong in the file, each at its line.
 */
export async function readGivenTolerances(path: string): Promise<Outcome<GivenTolerances>> {
  const real = await realpath(path).catch(() => path);
  const findings = new Findings();
  const files: Uint8Array[] = [];
  const keep = <T>(outcome: Outcome<T>): T | null => {
    if (outcome.ok) return outcome.value;
    findings.list.push(...outcome.diagnostics);
    return null;
  };
  const read = async (name: string, place: Place): Promise<JsonSource | null> => {
    if (!staysInside(name)) {
      findings.wrong(JSON.stringify(name), 'a set in the same folder', place);
      return null;
    }
    const file = keep(await readInputFile(dirname(real), name, '', MAX_JSON_BYTES, place));
    if (file === null) return null;
    files.push(file.bytes);
    return keep(parseSet(file.bytes, files.length === 1 ? path : name))?.source ?? null;
  };
  const layers = await readLayers(basename(real), { file: path }, read, findings);
  if (layers.length === 0) return { ok: false, diagnostics: sortDiagnostics(findings.list) };
  if (layers.length === 1) return parseGivenTolerances(files[0]!, givenPath(path), path);
  // A report has one file for the set, so the merged set must not depend on other files.
  const merged = mergedSet(layers, findings);
  checkWhole(merged, findings);
  if (findings.hasErrors) return { ok: false, diagnostics: sortDiagnostics(findings.list) };
  const bytes = new TextEncoder().encode(`${JSON.stringify(merged.value, null, 2)}\n`);
  return parseGivenTolerances(bytes, givenPath(path), path);
}

function parseSet(bytes: Uint8Array, shownAs: string): Outcome<{ source: JsonSource; encoding: string }> {
  const text = decodeText(bytes, shownAs);
  if (!text.ok) return text;
  const parsed = parseJsonSource(text.value.text, shownAs);
  if (!parsed.ok) return parsed;
  return {
    ok: true,
    value: { source: parsed.value, encoding: text.value.encoding },
    diagnostics: [...text.diagnostics, ...parsed.diagnostics],
  };
}

/** The checks of a set that need no job. The job chooses the grade, so any grade of the set is used here. */
function checkWhole(set: JsonSource, findings: Findings): void {
  const grades = valueAt(set.value, ['grades']);
  const some = textAt(set, 'grade') ?? Object.keys((grades ?? {}) as object)[0] ?? null;
  const plain = ofGrade(mergedSet([set], findings), some, findings);
  checkTolerances(itemsAt(plain, ['tolerances'], toleranceSchema), findings);
}

/** @param path Its path in the list of inputs. @param shownAs The file name in diagnostics of the set. */
export function parseGivenTolerances(
  bytes: Uint8Array,
  path: string,
  shownAs = path,
): Outcome<GivenTolerances> {
  const parsed = parseSet(bytes, shownAs);
  if (!parsed.ok) return parsed;
  const { source: checked, encoding } = parsed.value;
  const findings = new Findings();
  findings.list.push(...parsed.diagnostics);
  checkSchema(toleranceSetSchema, checked, findings);
  checkWhole(checked, findings);
  if (findings.hasErrors) return { ok: false, diagnostics: sortDiagnostics(findings.list) };
  const source = { ...checked, file: path, at: placesIn(checked, path) };
  const sha256 = createHash('sha256').update(bytes).digest('hex');
  return findings.outcome(() => ({
    input: { path, bytes: bytes.length, sha256, read: encoding },
    bytes,
    source,
    name: textAt(source, 'name'),
    origin: textAt(source, 'source'),
  }));
}

/** Places in the set as a report names them: the report must not depend on the folder of the set. */
const placesIn =
  (source: JsonSource, file: string): JsonSource['at'] =>
  (path) => ({ ...source.at(path), file });

const textAt = (source: JsonSource, key: string): string | null => {
  const value = valueAt(source.value, [key]);
  return typeof value === 'string' ? value : null;
};

/** The name of the file, without characters that are not allowed in paths or attachments of some systems. */
function givenPath(path: string): string {
  const name = basename(path)
    .normalize('NFC')
    .replace(/[^\p{L}\p{N} ._()-]/gu, '_')
    .replace(/^[. ]+/, '')
    .slice(-100);
  return GIVEN_FOLDER + (name === '' ? 'tolerances.json' : name);
}

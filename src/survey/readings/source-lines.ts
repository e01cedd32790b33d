/** The lines of a job's files, for pages that show where a problem is. */
import type { SourceLines } from '../../base/diagnostics/source-lines.js';
import { Findings } from '../../base/diagnostics/diagnostic.js';
import { MAX_READINGS_BYTES, readInputFile } from '../job/input-file.js';
import { JOB_FILE, staysInside, toleranceRoot } from '../job/job-paths.js';
import type { FileEntry } from '../job/resolve-readings-files.js';
import { readHeaderCell } from '../job/columns.js';
import { decodeText } from '../../base/input/decode.js';
import { findHeader } from './find-header.js';
import { headerNames } from './mapped-columns.js';
import { unifyLineEnds } from './records.js';

/**
 * @param files Paths as diagnostics name them.
 * @param entries The readings files that the job names.
 * @param limit Larger files are left out, bytes.
 * @returns Without files that cannot be read, which was reported.
 */
export async function readSourceLines(
  folder: string,
  files: Iterable<string>,
  entries: readonly FileEntry[],
  limit = MAX_READINGS_BYTES,
): Promise<Map<string, SourceLines>> {
  const sources = new Map<string, SourceLines>();
  for (const file of new Set(files)) {
    const entry = entries.find((e) => e.file === file);
    const root = entry !== undefined || file === JOB_FILE ? '' : toleranceRoot(file);
    if (root === null || (root === '' && !staysInside(file))) continue;
    const read = await readInputFile(folder, file, root, limit, { file });
    const decoded = read.ok ? decodeText(read.value.bytes, file) : null;
    if (decoded?.ok === true) sources.set(file, sourceLines(decoded.value.text, entry ?? null));
  }
  return sources;
}

/** Pure. @param entry null: a file without cells. */
export function sourceLines(text: string, entry: FileEntry | null): SourceLines {
  const unified = unifyLineEnds(text);
  const lines = unified.split('\n');
  if (entry === null) return { lines, delimiter: null, headerRow: 0, columns: [] };
  const header = findHeader(unified, entry, new Findings());
  return {
    lines,
    delimiter: header?.delimiter ?? likelyDelimiter(unified),
    headerRow: header?.line ?? 0,
    columns: headerNames((header?.cells ?? []).map(readHeaderCell)),
  };
}

/** Without a header nothing is marked; the delimiter only decides where a long line is cut. */
const likelyDelimiter = (text: string): string => {
  const top = text.slice(0, 10_000);
  const count = (mark: string) => top.split(mark).length;
  return [',', ';', '\t'].reduce((best, mark) => (count(mark) > count(best) ? mark : best));
};

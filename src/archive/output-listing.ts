/** The content of an output folder: reports, the log, pages about them, and other files. Only reads. */
import { readdir, stat } from 'node:fs/promises';
import type { Dirent } from 'node:fs';
import { join } from 'node:path';
import { LOG } from './issue-log.js';
import { EARLIER } from './keep-earlier.js';
import { DRAFTS } from './report-places.js';

export interface OutputListing {
  /** Folders of deliverables (with a manifest.json), relative to the output folder, `/` between the parts. */
  readonly reports: readonly string[];
  /** Waysheet's own pages about many reports: register, changes, the mark of a what-if folder. */
  readonly pages: readonly string[];
  /** Neither reports nor files of waysheet about them: no audit reads them. */
  readonly others: readonly OtherEntry[];
}

export interface OtherEntry {
  /** Relative to the output folder, `/` between the parts. */
  readonly path: string;
  readonly what:
    /** A PDF outside of a report's folder. */
    | 'loose-pdf'
    /** A folder that has the files of a report, but no manifest.json. */
    | 'report-without-manifest'
    /** A folder that holds reports deeper than waysheet puts them. */
    | 'nested-folder'
    /** Any other folder. */
    | 'folder'
    /** A symbolic link, a pipe, a socket or a device. */
    | 'no-regular-file'
    | 'file';
}

/** In words, for a line of an answer. */
export const otherWords: Readonly<Record<OtherEntry['what'], string>> = {
  'loose-pdf': 'a PDF outside of a report’s folder; audit it by its own name',
  'report-without-manifest': 'files of a report without a manifest.json',
  'nested-folder':
    'a folder with reports in deeper folders than waysheet writes them; audit it by its own name',
  folder: 'a folder that is no report',
  'no-regular-file': 'no regular file and no folder',
  file: 'a file that waysheet did not write there',
};

/** What batch, watch, merge and issue write next to the reports. */
const PAGES = [
  /^register(?:-\d+-of-\d+)?\.json$/,
  /^register\.(?:csv|html|pdf)$/,
  /^changes\.(?:json|csv|html|pdf)$/,
  /^what-if\.json$/,
];

/** Of a running batch or watch: a small file that says which process works here. */
const LOCK = /^\.waysheet-batch(?:-\d+-of-\d+)?\.lock$/;
/** Bytes of a lock at most. */
const LOCK_BYTES = 1000;

/** Where a watch unpacks; what is left in it is named. */
const SCRATCH = '.waysheet-watch';

const REPORT_FILES = ['results.json', 'report.html', 'report.pdf', 'stations.csv'];

/** @throws {Error} the folder cannot be read. */
export async function listOutput(out: string): Promise<OutputListing> {
  const reports: string[] = [];
  const pages: string[] = [];
  const others: OtherEntry[] = [];
  const look = async (part: string): Promise<void> => {
    const entries = await readdir(join(out, part), { withFileTypes: true }).catch((error: Error) => {
      if (part === '') throw error;
      return [] as Dirent[];
    });
    for (const entry of entries) {
      const path = part === '' ? entry.name : `${part}/${entry.name}`;
      if (part === '' && entry.name === LOG) continue;
      if (part === '' && entry.isFile() && isOneOf(PAGES, entry)) pages.push(path);
      else if (part === '' && entry.isDirectory() && (entry.name === DRAFTS || entry.name === EARLIER))
        await look(entry.name);
      else if (await saysNothing(join(out, path), entry)) continue;
      else if (!entry.isDirectory())
        others.push({
          path,
          what: !entry.isFile() ? 'no-regular-file' : /\.pdf$/i.test(path) ? 'loose-pdf' : 'file',
        });
      else {
        const inside = await readdir(join(out, path), { withFileTypes: true }).catch(() => [] as Dirent[]);
        if (inside.some(({ name }) => name === 'manifest.json')) reports.push(path);
        else others.push({ path, what: await kindOf(join(out, path), inside) });
      }
    }
  };
  await look('');
  return {
    reports: reports.sort(),
    pages: pages.sort(),
    others: others.sort((a, b) => (a.path < b.path ? -1 : 1)),
  };
}

const isOneOf = (names: readonly RegExp[], { name }: Dirent): boolean => names.some((one) => one.test(name));

/** A lock; an empty place to unpack; an empty hidden file, such as one that keeps a folder in version control. */
async function saysNothing(path: string, entry: Dirent): Promise<boolean> {
  if (entry.isDirectory()) return entry.name === SCRATCH && (await readdir(path)).length === 0;
  if (!entry.isFile() || !/^\.(?!.*\.pdf$)/i.test(entry.name)) return false;
  return (await stat(path)).size <= (LOCK.test(entry.name) ? LOCK_BYTES : 0);
}

/** Levels that are searched for reports. */
const DEPTH = 6;

async function kindOf(folder: string, inside: readonly Dirent[]): Promise<OtherEntry['what']> {
  if (inside.some(({ name }) => REPORT_FILES.includes(name))) return 'report-without-manifest';
  return (await holdsReports(folder, inside, DEPTH)) ? 'nested-folder' : 'folder';
}

async function holdsReports(folder: string, inside: readonly Dirent[], depth: number): Promise<boolean> {
  if (inside.some(({ name }) => name === 'manifest.json' || name === LOG || /\.pdf$/i.test(name)))
    return true;
  if (depth === 0) return true;
  for (const entry of inside) {
    if (!entry.isDirectory()) continue;
    const below = join(folder, entry.name);
    const entries = await readdir(below, { withFileTypes: true }).catch(() => [] as Dirent[]);
    if (await holdsReports(below, entries, depth - 1)) return true;
  }
  return false;
}

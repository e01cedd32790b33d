/**
 * `npm run pin`: pins the numbers of this METHOD. Numbers that changed under a METHOD that has its own are refused: first
 * METHOD (src/base/version.ts) is raised. What changed against the METHOD before is written to tests/pinned/changes.md, for the
 * notes of the release. The text of the pages is written to tests/pinned/pages, to be read as a
 * difference before it is committed.
 */
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { gunzipSync, gzipSync } from 'node:zlib';
import { compareResults } from '../../src/archive/compare-results.js';
import { addedAfter } from '../../src/results/added-keys.js';
import type { Results } from '../../src/results/results-schema.js';
import { METHOD } from '../../src/base/version.js';
import { madeAnew, names, type MadeAnew, type Pinned } from './made-anew.js';

const here = fileURLToPath(new URL('.', import.meta.url));
const pathOf = (method: string) => `${here}${method}.json.gz`;
const read = (path: string) => JSON.parse(gunzipSync(readFileSync(path)).toString('utf8')) as Pinned[];

const made: MadeAnew[] = [];
for (const id of names()) made.push(await madeAnew(id));

const standing = readdirSync(here).filter((name) => name.endsWith('.json.gz'));
const before = standing[0] === undefined ? [] : read(`${here}${standing[0]}`);
const changed = made.flatMap(({ id, results }) => {
  const old = before.find((p) => p.id === id);
  // A new job has nothing to be compared with.
  if (old === undefined) return [];
  const isNew = addedAfter((old.results as Results).software.version);
  const skip = (place: string) => place.startsWith('software') || isNew(place);
  return compareResults(old.results, results, skip).map((difference) => ({ id, ...difference }));
});
type Changed = (typeof changed)[number];
const cut = (text: string) => (text.length <= 70 ? text : `${text.slice(0, 69)}…`);
const rowOf = ({ id, place, issued, recomputed }: Changed) =>
  `${id} ${place} | ${cut(issued)} | ${cut(recomputed)} |`;
/** One row for each kind of number, whatever its phase and its place in a list; the most first. */
const kinds = new Map<string, Changed[]>();
for (const one of changed) {
  const kind = one.place.replace(/^phases\.[^.]+/, 'phases.*').replace(/\[\d+\]/g, '[]');
  kinds.set(kind, [...(kinds.get(kind) ?? []), one]);
}
const rows = [...kinds]
  .sort(([a, one], [b, other]) => other.length - one.length || (a < b ? -1 : 1))
  .map(
    ([kind, list]) =>
      `| ${kind} | ${new Set(list.map(({ id }) => id)).size} | ${list.length} | ${rowOf(list[0]!)}`,
  );
if (existsSync(pathOf(METHOD)) && changed.length > 0) {
  console.error(
    `${changed.length} numbers changed under METHOD ${METHOD}; raise it in src/base/version.ts first:`,
  );
  console.error(changed.slice(0, 20).map(rowOf).join('\n'));
  process.exit(1);
}
if (!existsSync(pathOf(METHOD)))
  writeFileSync(
    pathOf(METHOD),
    gzipSync(JSON.stringify(made.map(({ id, results }) => ({ id, results }))), { level: 9 }),
  );
mkdirSync(`${here}pages`, { recursive: true });
for (const { id, page } of made) writeFileSync(`${here}pages/${id}.txt`, page);
for (const name of standing) if (name !== `${METHOD}.json.gz`) rmSync(`${here}${name}`);
if (standing[0] !== `${METHOD}.json.gz`)
  writeFileSync(
    `${here}changes.md`,
    [
      `# What changed with METHOD ${METHOD}`,
      '',
      `Against ${standing[0]?.replace('.json.gz', '') ?? 'nothing: the first numbers that were pinned'}. Made by \`npm run pin\`: one row for each kind of number, with its first example.`,
      '',
      '| place | jobs | numbers | for example | before | now |',
      '| --- | --- | --- | --- | --- | --- |',
      ...rows,
      '',
    ].join('\n'),
  );
console.log(`${made.length} jobs pinned under METHOD ${METHOD}; ${changed.length} numbers changed`);

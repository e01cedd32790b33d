/** Ways to spoil a good job folder, as fast-check arbitraries; and ways to rewrite it that change nothing. */
import fc from 'fast-check';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { mkdir, rm, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';

/** Files by path; null: a folder stands in its place. */
export type Folder = ReadonlyMap<string, Buffer | null>;
export type Mutation = (folder: Folder) => Folder;

export function readFolder(path: string): Folder {
  const files = new Map<string, Buffer>();
  for (const sub of ['', 'readings', 'tolerances']) {
    if (!existsSync(join(path, sub))) continue;
    for (const entry of readdirSync(join(path, sub), { withFileTypes: true }))
      if (/\.(json|csv)$/.test(entry.name) && entry.name !== 'job.schema.json')
        files.set(join(sub, entry.name), readFileSync(join(path, sub, entry.name)));
  }
  return files;
}

export async function writeFolder(path: string, folder: Folder): Promise<void> {
  await rm(path, { recursive: true, force: true });
  await mkdir(path, { recursive: true });
  for (const [file, bytes] of folder) {
    await mkdir(dirname(join(path, file)), { recursive: true });
    if (bytes === null) await mkdir(join(path, file));
    else await writeFile(join(path, file), bytes);
  }
}

const isCsv = (file: string): boolean => file.endsWith('.csv');
const put = (folder: Folder, file: string, bytes: string | Buffer | null): Folder =>
  new Map([...folder, [file, typeof bytes === 'string' ? Buffer.from(bytes) : bytes]]);
/** A file of the folder by a number that need not fit. */
function pick<T>(list: readonly T[], n: number): T {
  if (list.length === 0) throw new RangeError('nothing is left to change');
  return list[n % list.length]!;
}

/* job.json and tolerance sets: one value, key or entry */

type Json = null | boolean | number | string | Json[] | { [key: string]: Json };
type Path = readonly (string | number)[];

function pathsOf(value: Json, path: Path = []): Path[] {
  if (typeof value !== 'object' || value === null) return [path];
  return [
    path,
    ...Object.entries(value).flatMap(([k, v]) => pathsOf(v, [...path, Array.isArray(value) ? Number(k) : k])),
  ];
}

const odd: readonly Json[] = [
  null,
  true,
  0,
  -1,
  1e-300,
  1e15,
  1e300,
  1.7976931348623157e308,
  9007199254740993,
  '',
  ' ',
  'A',
  'mm',
  'um/m',
  '1',
  '../x',
  '__proto__',
  'x'.repeat(3000),
  [],
  {},
  [[]],
  [0, 0],
  { u: 1 },
];

const changeJson =
  (change: (parent: Record<string | number, Json>, key: string | number, whole: Json) => void) =>
  (where: number, file: number): Mutation =>
  (folder) => {
    const files = [...folder.keys()].filter((name) => !isCsv(name));
    const name = pick(files, file);
    const whole = JSON.parse(folder.get(name)!.toString()) as Json;
    const path = pick(pathsOf(whole).slice(1), where);
    const parent = path
      .slice(0, -1)
      .reduce<Json>((value, key) => (value as Record<string | number, Json>)[key]!, whole);
    change(parent as Record<string | number, Json>, path.at(-1)!, whole);
    return put(folder, name, JSON.stringify(whole));
  };

const number = fc.nat({ max: 100_000 });

const jsonChanges: fc.Arbitrary<(where: number, file: number) => Mutation> = fc.oneof(
  fc.constantFrom(...odd).map((value) => changeJson((parent, key) => (parent[key] = value))),
  fc.jsonValue({ maxDepth: 2 }).map((value) => changeJson((parent, key) => (parent[key] = value as Json))),
  fc.constant(
    changeJson((parent, key) => {
      if (Array.isArray(parent)) parent.splice(Number(key), 1);
      else delete parent[key];
    }),
  ),
  // An entry or a key twice.
  fc.constant(
    changeJson((parent, key) => {
      if (Array.isArray(parent)) parent.splice(Number(key), 0, parent[Number(key)] as Json);
      else parent[`${key}s`] = parent[key]!;
    }),
  ),
  // A slip of the pen in a number, or one of another size or sign.
  fc.constantFrom(-1, 0, 1e-9, 0.001, 10, 25.4, 1e9, 1e200).map((factor) =>
    changeJson((parent, key) => {
      const value = parent[key];
      if (typeof value === 'number') parent[key] = value * factor;
      else if (Array.isArray(value)) value.reverse();
    }),
  ),
  // The value of another key.
  number.map((other) =>
    changeJson((parent, key, whole) => {
      const path = pick(pathsOf(whole), other);
      const value = path.reduce<Json>((from, k) => (from as Record<string | number, Json>)[k]!, whole);
      parent[key] = structuredClone(value);
    }),
  ),
);

/* readings: cells, rows, columns */

const oddCells = [
  '',
  '0',
  '-0',
  '-1',
  '1',
  '2',
  '1e308',
  '1e999',
  '-1e-320',
  'NaN',
  'Infinity',
  '1/0',
  '1/2',
  '1,234',
  '1.234.567',
  '--5',
  '5 in',
  '5 arcsec',
  '=1+1',
  '"',
  '""',
  'no',
  'yes',
  'A',
  'S1',
  'M1',
  'vertical',
  '99999999999999999999',
  '2026-03-14',
  '03/04/2026',
  '\u2212\u00a05',
  '\ufeff',
  '\0',
  '\ud83d\ude00',
  'x'.repeat(2000),
];

const changeRows =
  (change: (rows: string[][], row: number, column: number) => void) =>
  (row: number, column: number, file: number): Mutation =>
  (folder) => {
    const name = pick([...folder.keys()].filter(isCsv), file);
    const rows = folder
      .get(name)!
      .toString()
      .trimEnd()
      .split('\n')
      .map((line) => line.split(','));
    change(rows, row % rows.length, column % rows[0]!.length);
    return put(folder, name, `${rows.map((cells) => cells.join(',')).join('\n')}\n`);
  };

const rowChanges: fc.Arbitrary<(row: number, column: number, file: number) => Mutation> = fc.oneof(
  fc
    .oneof(fc.constantFrom(...oddCells), fc.string({ maxLength: 6 }), fc.double().map(String))
    .map((cell) => changeRows((rows, r, c) => (rows[r]![c] = cell))),
  fc.constant(changeRows((rows, r) => rows.splice(r, 1))),
  fc.constant(changeRows((rows, r) => rows.splice(r, 0, [...rows[r]!]))),
  fc.constant(changeRows((rows, r) => rows.splice(0, rows.length, ...rows.slice(0, r + 1)))),
  number.map((other) =>
    changeRows((rows, r, c) => {
      const o = other % rows.length;
      [rows[r]![c], rows[o]![c]] = [rows[o]![c]!, rows[r]![c]!];
    }),
  ),
  // A whole column emptied, taken out, doubled, or filled with one value.
  fc
    .constantFrom('', '0', '5', 'A', '1e6')
    .map((cell) => changeRows((rows, _, c) => rows.slice(1).forEach((cells) => (cells[c] = cell)))),
  fc.constant(changeRows((rows, _, c) => rows.forEach((cells) => cells.splice(c, 1)))),
  fc.constant(changeRows((rows, _, c) => rows.forEach((cells) => cells.splice(c, 0, cells[c]!)))),
);

/* bytes and files */

const byteChanges: fc.Arbitrary<(file: number) => Mutation> = fc
  .record({
    at: fc.double({ min: 0, max: 1, noNaN: true }),
    what: fc.constantFrom('flip', 'cut', 'insert', 'lose'),
    value: fc.integer({ min: 1, max: 255 }),
  })
  .map(({ at, what, value }) => (file) => (folder) => {
    const name = pick([...folder.keys()], file);
    const bytes = Buffer.from(folder.get(name) ?? Buffer.alloc(0));
    const i = Math.min(bytes.length - 1, Math.floor(at * bytes.length));
    if (bytes.length === 0) return folder;
    if (what === 'flip') bytes[i] = bytes[i]! ^ value;
    const changed = {
      flip: bytes,
      cut: bytes.subarray(0, i),
      insert: Buffer.concat([bytes.subarray(0, i), Buffer.from([value]), bytes.subarray(i)]),
      lose: Buffer.concat([bytes.subarray(0, i), bytes.subarray(i + value)]),
    }[what];
    return put(folder, name, changed);
  });

const fileChanges: fc.Arbitrary<(file: number) => Mutation> = fc.oneof(
  fc
    .constantFrom<Buffer | null>(
      null,
      Buffer.alloc(0),
      Buffer.from('\n\n'),
      Buffer.from('\ufeff'),
      Buffer.from('{}'),
    )
    .map((bytes) => (file: number) => (folder: Folder) => put(folder, pick([...folder.keys()], file), bytes)),
  fc.constant((file: number) => (folder: Folder) => {
    const gone = pick([...folder.keys()], file);
    return new Map([...folder].filter(([name]) => name !== gone));
  }),
  number.map((other) => (file: number) => (folder: Folder) => {
    const [one, two] = [pick([...folder.keys()], file), pick([...folder.keys()], other)];
    return put(folder, one, folder.get(two)!);
  }),
);

/** One way to spoil a folder. */
export const spoiling: fc.Arbitrary<Mutation> = fc.oneof(
  {
    weight: 4,
    arbitrary: fc.tuple(jsonChanges, number, number).map(([change, where, file]) => change(where, file)),
  },
  {
    weight: 4,
    arbitrary: fc.tuple(rowChanges, number, number, number).map(([change, r, c, file]) => change(r, c, file)),
  },
  { weight: 1, arbitrary: fc.tuple(byteChanges, number).map(([change, file]) => change(file)) },
  { weight: 1, arbitrary: fc.tuple(fileChanges, number).map(([change, file]) => change(file)) },
);

/* rewritten as another program or office writes it: the same meaning */

const eachCsv =
  (change: (rows: string[][]) => string | Buffer): Mutation =>
  (folder) =>
    new Map(
      [...folder].map(([name, bytes]) => {
        if (!isCsv(name)) return [name, bytes];
        const rows = bytes!
          .toString()
          .trimEnd()
          .split('\n')
          .map((line) => line.split(','));
        return [name, Buffer.from(change(rows))];
      }),
    );
const eachJson =
  (change: (value: Json) => string | Buffer): Mutation =>
  (folder) =>
    new Map(
      [...folder].map(([name, bytes]) =>
        isCsv(name) ? [name, bytes] : [name, Buffer.from(change(JSON.parse(bytes!.toString()) as Json))],
      ),
    );

const text = (rows: string[][], delimiter = ',', end = '\n'): string =>
  rows.map((cells) => cells.join(delimiter) + end).join('');

const withComma = (cell: string): string => cell.replace(/^(-?\d+)\.(\d+)$/, '$1,$2');
const cellsAs = (rows: string[][], change: (cell: string) => string): string[][] =>
  rows.map((cells, i) => (i === 0 ? cells : cells.map(change)));

/** The keys of every object the other way round. */
const turned = (value: Json): Json =>
  Array.isArray(value)
    ? value.map(turned)
    : typeof value === 'object' && value !== null
      ? Object.fromEntries(
          Object.entries(value)
            .reverse()
            .map(([k, v]) => [k, turned(v)]),
        )
      : value;

export const rewriting: readonly (readonly [how: string, rewrite: Mutation])[] = [
  ['CR LF', eachCsv((rows) => text(rows, ',', '\r\n'))],
  ['CR', eachCsv((rows) => text(rows, ',', '\r'))],
  ['tabs', eachCsv((rows) => text(rows, '\t'))],
  ['semicolons and decimal commas', eachCsv((rows) => text(cellsAs(rows, withComma), ';'))],
  ['every cell quoted', eachCsv((rows) => text(rows.map((cells) => cells.map((cell) => `"${cell}"`))))],
  ['spaces about cells', eachCsv((rows) => text(rows.map((cells) => cells.map((cell) => ` ${cell} `))))],
  ['empty columns behind', eachCsv((rows) => text(rows.map((cells) => [...cells, '', ''])))],
  ['columns the other way round', eachCsv((rows) => text(rows.map((cells) => [...cells].reverse())))],
  [
    'a header in capitals',
    eachCsv((rows) => text([rows[0]!.map((name) => name.toUpperCase()), ...rows.slice(1)])),
  ],
  [
    'empty rows behind',
    eachCsv((rows) => text([...rows, ...Array.from({ length: 5 }, () => rows[0]!.map(() => ''))])),
  ],
  [
    'the true minus sign',
    eachCsv((rows) => text(cellsAs(rows, (cell) => cell.replace(/^-(?=\d+\.)/, '\u2212')))),
  ],
  ['a byte-order mark', eachCsv((rows) => `\ufeff${text(rows)}`)],
  ['UTF-16', eachCsv((rows) => Buffer.from(`\ufeff${text(rows)}`, 'utf16le'))],
  ['no last line end', eachCsv((rows) => text(rows).trimEnd())],
  ['job.json on one line', eachJson((value) => JSON.stringify(value))],
  [
    'job.json with tabs and CR LF',
    eachJson((value) => JSON.stringify(value, null, '\t').replaceAll('\n', '\r\n')),
  ],
  ['job.json, keys the other way round', eachJson((value) => JSON.stringify(turned(value)))],
  ['job.json with a byte-order mark', eachJson((value) => `\ufeff${JSON.stringify(value)}`)],
  ['job.json in UTF-16', eachJson((value) => Buffer.from(`\ufeff${JSON.stringify(value)}`, 'utf16le'))],
  [
    'job.json, letters as escapes',
    eachJson((value) =>
      JSON.stringify(value).replace(
        /[a-z](?=[a-z-]*")/g,
        (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, '0')}`,
      ),
    ),
  ],
];

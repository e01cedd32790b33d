/** The folders of src are rooms, one above the other. A room imports only from rooms below it. */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, normalize } from 'node:path';
import ts from 'typescript';
import { expect, test } from 'vitest';
import { root } from './support/folders.js';

/** From the bottom to the top. Files of src itself are rooms too. */
const FLOORS = [
  'base',
  'survey',
  'solution',
  'results',
  'pages',
  'pipeline.ts',
  'archive',
  'index.ts',
  'cli',
  'cli.ts',
];

/** Each file of src with the files that it imports, types too; paths are relative to src. */
const imports: ReadonlyMap<string, readonly string[]> = (() => {
  const names = readdirSync(join(root, 'src'), { recursive: true }).map(String);
  const files = names.filter((name) => name.endsWith('.ts'));
  return new Map(
    files.map((file) => {
      const { importedFiles } = ts.preProcessFile(readFileSync(join(root, 'src', file), 'utf8'), true, true);
      const others = importedFiles
        .map(({ fileName }) => fileName)
        .filter((name) => name.startsWith('.'))
        .map((name) => normalize(join(dirname(file), name)).replace(/\.js$/, '.ts'));
      return [file, others.filter((other) => !other.startsWith('..'))];
    }),
  );
})();

/** The graph of the imports after each path was shortened to a place; arrows inside a place are left out. */
function arrowsBetween(placeOf: (file: string) => string): Map<string, Set<string>> {
  const arrows = new Map<string, Set<string>>();
  for (const [file, others] of imports) {
    const place = placeOf(file);
    const known = arrows.get(place) ?? arrows.set(place, new Set()).get(place)!;
    for (const other of others) if (placeOf(other) !== place) known.add(placeOf(other));
  }
  return arrows;
}

/** What is left after places that no circle goes through are removed, as text. */
function circlesOf(arrows: ReadonlyMap<string, ReadonlySet<string>>): string[] {
  const left = new Map(arrows);
  for (;;) {
    const imported = new Set([...left.values()].flatMap((others) => [...others]));
    const ends = [...left].filter(
      ([place, others]) => !imported.has(place) || ![...others].some((other) => left.has(other)),
    );
    if (ends.length === 0) break;
    for (const [place] of ends) left.delete(place);
  }
  return [...left].map(
    ([place, others]) => `${place} → ${[...others].filter((o) => left.has(o)).join(', ')}`,
  );
}

const roomOf = (file: string) => file.split('/')[0]!;

test('every room has a floor', () => {
  expect([...new Set([...imports.keys()].map(roomOf))].sort()).toEqual([...FLOORS].sort());
});

test('no room imports from a room above it', () => {
  const upward = [...imports].flatMap(([file, others]) =>
    others
      .filter((other) => FLOORS.indexOf(roomOf(other)) > FLOORS.indexOf(roomOf(file)))
      .map((other) => `${file} → ${other}`),
  );
  expect(upward).toEqual([]);
});

test('no circle between the folders of a room', () => {
  const folderOf = (file: string) => file.split('/').slice(0, 2).join('/');
  expect(circlesOf(arrowsBetween(folderOf))).toEqual([]);
});

test('no circle between files', () => {
  expect(circlesOf(arrowsBetween((file) => file))).toEqual([]);
});

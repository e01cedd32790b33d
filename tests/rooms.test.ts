/** The folders of src are rooms, one above the other: nobody below knows who is above. */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, normalize } from 'node:path';
import ts from 'typescript';
import { expect, test } from 'vitest';
import { root } from './support/folders.js';

/** Which rooms each room imports from. */
function importsOf(): Map<string, Set<string>> {
  const rooms = new Map<string, Set<string>>();
  for (const name of readdirSync(join(root, 'src'), { recursive: true }).map(String)) {
    if (!name.endsWith('.ts')) continue;
    const room = name.split('/')[0]!;
    const known = rooms.get(room) ?? rooms.set(room, new Set()).get(room)!;
    const { importedFiles } = ts.preProcessFile(readFileSync(join(root, 'src', name), 'utf8'), true, true);
    for (const { fileName } of importedFiles) {
      if (!fileName.startsWith('.')) continue;
      const other = normalize(join(dirname(name), fileName)).split('/')[0]!;
      if (other !== room && other !== '..') known.add(other);
    }
  }
  return rooms;
}

test('no circle between rooms', () => {
  const left = importsOf();
  expect(left.size).toBeGreaterThan(20);
  // Whoever imports from nobody that is left stands below all of them, and whom nobody imports from above.
  for (;;) {
    const asked = new Set([...left.values()].flatMap((others) => [...others]));
    const ends = [...left].filter(
      ([room, others]) => !asked.has(room) || ![...others].some((other) => left.has(other)),
    );
    if (ends.length === 0) break;
    for (const [room] of ends) left.delete(room);
  }
  expect(
    [...left].map(([room, others]) => `${room} → ${[...others].filter((o) => left.has(o)).join(', ')}`),
  ).toEqual([]);
});

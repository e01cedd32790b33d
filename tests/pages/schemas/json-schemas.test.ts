/** The shipped JSON Schemas follow from the zod schemas, and say something at every key of a job. */
import { readFileSync, readdirSync } from 'node:fs';
import { expect, test } from 'vitest';
import { schemasFolder } from '../../../src/pages/schemas/folder.js';
import { jsonSchemas } from '../../../src/pages/schemas/json-schemas.js';

const generated = jsonSchemas();

test.each([...generated])('%s ships as it is generated: else run `npm run schemas`', (name, text) => {
  expect(readFileSync(new URL(name, schemasFolder), 'utf8')).toBe(text);
});

test('nothing else ships beside them', () => {
  expect(readdirSync(schemasFolder).sort()).toEqual([...generated.keys()].sort());
});

interface Node {
  readonly description?: string;
  readonly $ref?: string;
  readonly properties?: Record<string, Node>;
  readonly items?: Node;
  readonly anyOf?: Node[];
}

/** Keys that a person writes and an editor could say nothing about. */
function silentKeys(name: string): string[] {
  const root = JSON.parse(generated.get(name)!) as Node & { definitions?: Record<string, Node> };
  const resolved = (node: Node): Node =>
    node.$ref === undefined ? node : root.definitions![node.$ref.replace('#/definitions/', '')]!;
  const walk = (node: Node, path: string): string[] => [
    ...Object.entries(node.properties ?? {}).flatMap(([key, child]) => {
      const next = path === '' ? key : `${path}.${key}`;
      const own = resolved(child);
      // Our own column names: what they mean is said at the key above them.
      if (/^readings\[\](\.rows\[\])?\.(columns|values)\./.test(next)) return [];
      return [...(own.description === undefined ? [next] : []), ...walk(own, next)];
    }),
    ...(node.items === undefined ? [] : walk(resolved(node.items), `${path}[]`)),
    ...(node.anyOf ?? []).flatMap((branch) => walk(resolved(branch), path)),
  ];
  return walk(root, '');
}

test.each(['job.schema.json', 'tolerances.schema.json'])('%s: every key is described', (name) => {
  expect(silentKeys(name)).toEqual([]);
});

test('strict like the program: an unknown key is marked in an editor too', () => {
  const job = JSON.parse(generated.get('job.schema.json')!) as Record<string, unknown>;
  expect(job).toMatchObject({
    $schema: 'http://json-schema.org/draft-07/schema#',
    additionalProperties: false,
    required: ['format', 'id', 'units', 'rails', 'instruments', 'readings'],
  });
});

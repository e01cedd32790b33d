/**
 * The JSON Schemas that ship in templates/schemas: generated from the zod schemas that the program itself checks
 * with, and from a side table of descriptions. Draft 7, because that is what editors know best.
 */
import { z } from 'zod';
import { manifestSchema } from '../deliverables/manifest.js';
import { jobSchema, toleranceSetSchema } from '../../survey/job/job-schema.js';
import { resultsSchema } from '../../results/results-schema.js';
import {
  jobDescriptions,
  manifestDescriptions,
  resultsDescriptions,
  toleranceSetDescriptions,
  type Descriptions,
} from './descriptions.js';

type Node = z.core.JSONSchema.BaseSchema;

const documents: readonly [name: string, title: string, schema: z.ZodType, descriptions: Descriptions][] = [
  ['job', 'waysheet job', jobSchema, jobDescriptions],
  ['tolerances', 'waysheet tolerance set', toleranceSetSchema, toleranceSetDescriptions],
  ['results', 'waysheet results', resultsSchema, resultsDescriptions],
  ['manifest', 'waysheet manifest', manifestSchema, manifestDescriptions],
];

/**
 * The text of every schema by its file name.
 *
 * @throws {Error} a description stands for a key that is in no schema: a programming mistake.
 */
export function jsonSchemas(): ReadonlyMap<string, string> {
  return new Map(
    documents.map(([name, title, schema, descriptions]) => [
      `${name}.schema.json`,
      `${JSON.stringify(jsonSchema(title, schema, descriptions), null, 2)}\n`,
    ]),
  );
}

function jsonSchema(title: string, schema: z.ZodType, descriptions: Descriptions): object {
  const { $schema, ...root } = z.toJSONSchema(schema, {
    target: 'draft-7',
    io: 'input',
    override: ({ jsonSchema }) => withoutSafeBounds(jsonSchema),
  });
  const used = new Set<string>();
  describe(root, '', descriptions, used);
  const stray = Object.keys(descriptions).find((path) => !used.has(path));
  if (stray !== undefined) throw new Error(`${title}: no key '${stray}' to describe`);
  return { $schema, title, ...shareRepeats(root) };
}

/** zod bounds whole numbers by what a double holds exactly, which tells a reader nothing. */
function withoutSafeBounds(node: Node): void {
  if (node.maximum === Number.MAX_SAFE_INTEGER) delete node.maximum;
  if (node.minimum === Number.MIN_SAFE_INTEGER) delete node.minimum;
}

/** Every path of a schema as descriptions name it, with the node that stands there. */
function describe(node: Node, path: string, descriptions: Descriptions, used: Set<string>): void {
  const description = descriptions[path];
  if (description !== undefined && !used.has(path)) {
    node.description = description;
    used.add(path);
  }
  for (const [next, child] of childrenOf(node, path)) describe(child, next, descriptions, used);
}

/** Shorter than this, a part is written out wherever it stands. */
const WORTH_SHARING = 300;

/** Large parts that stand in several places are written once, under `definitions`. */
function shareRepeats(root: Node): Node {
  const counts = new Map<string, number>();
  const count = (node: Node): void => {
    const text = JSON.stringify(node);
    counts.set(text, (counts.get(text) ?? 0) + 1);
    for (const [, child] of childrenOf(node, '')) count(child);
  };
  count(root);
  const names = new Map<string, string>();
  const definitions: Record<string, Node> = {};
  const share = (node: Node): Node => {
    const text = JSON.stringify(node);
    if (text.length < WORTH_SHARING || counts.get(text)! < 2) return withChildren(node, share);
    const known = names.get(text);
    if (known !== undefined) return { $ref: `#/definitions/${known}` };
    const name = `shared${names.size + 1}`;
    names.set(text, name);
    definitions[name] = withChildren(node, share);
    return { $ref: `#/definitions/${name}` };
  };
  const shared = withChildren(root, share);
  return names.size === 0 ? shared : { ...shared, definitions };
}

function withChildren(node: Node, change: (child: Node) => Node): Node {
  const each = (child: unknown) =>
    typeof child === 'object' && child !== null ? change(child as Node) : child;
  const list = (children: readonly unknown[]) => children.map(each);
  return {
    ...node,
    ...(node.properties && {
      properties: Object.fromEntries(
        Object.entries(node.properties).map(([key, child]) => [key, each(child)]),
      ),
    }),
    ...(node.items !== undefined && {
      items: Array.isArray(node.items) ? list(node.items) : each(node.items),
    }),
    ...(node.additionalProperties !== undefined && { additionalProperties: each(node.additionalProperties) }),
    ...(node.anyOf && { anyOf: list(node.anyOf) }),
    ...(node.oneOf && { oneOf: list(node.oneOf) }),
  } as Node;
}

/** The schemas directly below one; the branches of a union stand at its own path. */
export function childrenOf(node: Node, path: string): [path: string, child: Node][] {
  const below: [string, unknown][] = Object.entries(node.properties ?? {}).map(([key, child]) => [
    path === '' ? key : `${path}.${key}`,
    child,
  ]);
  if (!Array.isArray(node.items)) below.push([`${path}[]`, node.items]);
  below.push([`${path}.*`, node.additionalProperties]);
  for (const branch of [...(node.anyOf ?? []), ...(node.oneOf ?? [])]) below.push([path, branch]);
  return below.filter((entry): entry is [string, Node] => typeof entry[1] === 'object' && entry[1] !== null);
}

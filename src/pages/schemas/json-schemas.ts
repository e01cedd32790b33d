/**
 * The JSON Schemas in templates/schemas. They are generated from the zod schemas with which the program itself checks.
 * Draft 7, because editors support it best.
 */
import * as z from 'zod';
import { manifestSchema } from '../deliverables/manifest.js';
import { brandSchema } from '../../survey/brand/brand-schema.js';
import { jobSchema, toleranceSetSchema } from '../../survey/job/job-schema.js';
import { resultsSchema } from '../../results/results-schema.js';

type Node = z.core.JSONSchema.BaseSchema;

const documents: readonly [name: string, title: string, schema: z.ZodType][] = [
  ['job', 'waysheet job', jobSchema],
  ['tolerances', 'waysheet tolerance set', toleranceSetSchema],
  ['results', 'waysheet results', resultsSchema],
  ['manifest', 'waysheet manifest', manifestSchema],
  ['brand', 'waysheet brand', brandSchema],
];

/** The text of every schema by its file name. */
export function jsonSchemas(): ReadonlyMap<string, string> {
  return new Map(
    documents.map(([name, title, schema]) => [
      `${name}.schema.json`,
      `${JSON.stringify(jsonSchema(title, schema), null, 2)}\n`,
    ]),
  );
}

function jsonSchema(title: string, schema: z.ZodType): object {
  const { $schema, ...root } = z.toJSONSchema(schema, {
    target: 'draft-7',
    io: 'input',
    override: ({ jsonSchema }) => withoutSafeBounds(jsonSchema),
  });
  return { $schema, title, ...shareRepeats(root) };
}

/** zod limits whole numbers to what a double holds exactly. That is of no use to a reader. */
function withoutSafeBounds(node: Node): void {
  if (node.maximum === Number.MAX_SAFE_INTEGER) delete node.maximum;
  if (node.minimum === Number.MIN_SAFE_INTEGER) delete node.minimum;
}

/** A part is shared if its JSON has at least this many characters. */
const MIN_SHARED_CHARACTERS = 300;

/** Large parts that are used in several places are written once, under `definitions`. */
function shareRepeats(root: Node): Node {
  const counts = new Map<string, number>();
  const count = (node: Node): void => {
    const text = JSON.stringify(node);
    counts.set(text, (counts.get(text) ?? 0) + 1);
    for (const child of childrenOf(node)) count(child);
  };
  count(root);
  const names = new Map<string, string>();
  const definitions: Record<string, Node> = {};
  const share = (node: Node): Node => {
    const text = JSON.stringify(node);
    if (text.length < MIN_SHARED_CHARACTERS || counts.get(text)! < 2) return withChildren(node, share);
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

/** The schemas directly below a schema. */
function childrenOf(node: Node): Node[] {
  const items: unknown[] = Array.isArray(node.items) ? [] : [node.items];
  return [
    ...Object.values(node.properties ?? {}),
    ...items,
    node.additionalProperties,
    ...(node.anyOf ?? []),
    ...(node.oneOf ?? []),
  ].filter((child): child is Node => typeof child === 'object' && child !== null);
}

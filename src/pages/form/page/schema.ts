/** What the form needs of a JSON Schema (draft 7, as templates/schemas holds it). */
import type { KeyPath } from '../../../survey/job/key-path.js';
import type { Json } from './document.js';

export interface Schema {
  readonly $ref?: string;
  readonly type?: 'object' | 'array' | 'string' | 'number' | 'integer' | 'boolean';
  readonly description?: string;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly additionalProperties?: boolean | Schema;
  readonly propertyNames?: Schema;
  readonly required?: readonly string[];
  readonly items?: Schema;
  readonly anyOf?: readonly Schema[];
  readonly enum?: readonly string[];
  readonly const?: string;
  readonly format?: string;
  readonly definitions?: Readonly<Record<string, Schema>>;
}

/** With references followed. */
export function resolved(schema: Schema, root: Schema): Schema {
  if (schema.$ref === undefined) return schema;
  const name = schema.$ref.replace('#/definitions/', '');
  const { description } = schema;
  return { ...root.definitions![name]!, ...(description !== undefined && { description }) };
}

export const isObject = (schema: Schema): boolean => schema.type === 'object';

/** Of a union, the branch that a value is of; the first where there is none. */
export function branchOf(branches: readonly Schema[], value: Json | undefined): number {
  const typeOf = Array.isArray(value) ? 'array' : value === null ? 'null' : typeof value;
  const at = branches.findIndex(({ type }) => type === typeOf || (type === 'integer' && typeOf === 'number'));
  return Math.max(0, at);
}

/** What a key alone does not tell. */
const LABELS: Readonly<Record<string, string>> = {
  id: 'short name',
  u: 'standard uncertainty (k = 1)',
  perMetre: 'growth of it per metre of distance',
  what: 'characteristic',
  over: 'length of the stretch',
  between: 'from and to, along',
  against: 'against',
  each: 'for each further length of',
  upTo: 'up to a length of',
  plus: 'sides of plus',
  on: 'day',
  by: 'who',
  at: 'places',
  first: 'place of the first',
  count: 'how many',
  setups: 'set-ups',
  setup: 'set-up',
  readings: 'readings files',
  kind: 'what it holds',
  nominal: 'wanted shape',
  air: 'air during the set-up',
  beam: 'stiffness',
  square: 'squareness of its planes',
  cone: 'cone of its planes',
  range: 'what a target can read',
  level: 'level',
  zero: 'zero of the level',
  seat: 'seating',
  rod: 'rod',
  values: 'what a cell means',
  columns: 'what a column is called',
  ignore: 'columns that are not used',
  confirmed: 'confirmations',
  grade: 'grade of the machine',
  risk: 'greatest risk of wrong acceptance',
  least: 'least move',
  want: 'what the moves are for',
  response: 'scatter of a move, as a share',
  untouched: 'rails that are not moved',
};

/** One entry of a list, after "Add". */
export const oneOf = (key: string): string => {
  const name = words(key).replace(/s$/, '');
  return `${/^[aeiou]/.test(name) ? 'an' : 'a'} ${name}`;
};

/** A label: "calibrationDue" is read as "calibration due". */
export const words = (key: string): string =>
  LABELS[key] ??
  key
    .replace(/([a-z0-9])([A-Z])/g, '$1 $2')
    .replace(/[_-]/g, ' ')
    .toLowerCase();

/** An element's id. */
export const idOf = (path: KeyPath): string => path.join('.');

/** What a new entry begins with: what is required, as far as it can be said. */
export function blank(schema: Schema, root: Schema): Json {
  const own = resolved(schema, root);
  if (own.anyOf !== undefined) return blank(own.anyOf[0]!, root);
  if (own.const !== undefined) return own.const;
  if (own.type === 'array') return [];
  if (own.type !== 'object') return '';
  const required = (own.required ?? []).flatMap((key): [string, Json][] => {
    const inner = resolved(own.properties![key]!, root);
    const isGiven = inner.type === 'object' || inner.type === 'array' || inner.const !== undefined;
    return isGiven ? [[key, blank(inner, root)]] : [];
  });
  return Object.fromEntries(required);
}

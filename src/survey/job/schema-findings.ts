/** Where a JSON value does not fit a schema, in our words: key path, what was found, what is wanted. */
import * as z from 'zod';
import type { Findings, Place } from '../../base/diagnostics/diagnostic.js';
import { nearest } from '../../base/diagnostics/nearest.js';
import type { JsonSource } from './json-source.js';
import { valueAt, type KeyPath } from './key-path.js';
import { unitNames } from '../../base/units/units.js';

type Issue = z.core.$ZodIssue;

/** For documents of a few hundred values: to compile a checker would take longer than the check. */
export const UNCOMPILED = { jitless: true } as const;

/**
 * Checks the whole document and reports every issue at its line.
 *
 * Reports: KEY_UNKNOWN with the most similar key that is known at that place; KEY_MISSING; UNIT_UNKNOWN;
 * FORMAT_UNKNOWN; VALUE_WRONG.
 *
 * @returns The document; null: a part of it does not fit.
 */
export function checkSchema<T>(schema: z.ZodType<T>, source: JsonSource, findings: Findings): T | null {
  const parsed = schema.safeParse(source.value, UNCOMPILED);
  if (parsed.success) return parsed.data;
  for (const issue of parsed.error.issues) report(issue, [], schema, source, findings);
  return null;
}

function report(
  issue: Issue,
  base: KeyPath,
  schema: z.ZodType,
  source: JsonSource,
  findings: Findings,
): void {
  const path = [...base, ...(issue.path as (string | number)[])];
  if (issue.code === 'unrecognized_keys') {
    const known = keysAt(schema, path, source);
    const free = known.filter((k) => !source.has([...path, k]));
    for (const key of issue.keys) {
      const near = nearest(key, free) || nearest(key, known);
      const data = { key, nearest: near, known: known.join(', ') };
      findings.error('KEY_UNKNOWN', data, source.at([...path, key]));
    }
    return;
  }
  if (issue.code === 'invalid_union') {
    const branch = branchMeant(issue.errors);
    if (branch !== undefined) {
      for (const inner of branch) report(inner, path, schema, source, findings);
      return;
    }
  }
  const place = source.at(path);
  if (!source.has(path)) return reportMissing(path, wantedOf(issue, path), place, findings);
  const data = { found: show(valueAt(source.value, path)), wanted: wantedOf(issue, path) };
  findings.error(codeOf(issue, path), data, place);
}

function reportMissing(path: KeyPath, wanted: string, place: Place, findings: Findings): void {
  findings.missing(String(path[path.length - 1] ?? ''), wanted, place);
}

const isUnitPath = (path: KeyPath): boolean => {
  const key = path[path.length - 1];
  return key === 'unit' || path[0] === 'units' || (path[0] === 'report' && key !== 'paper');
};

function codeOf(issue: Issue, path: KeyPath): 'FORMAT_UNKNOWN' | 'UNIT_UNKNOWN' | 'VALUE_WRONG' {
  if (issue.code !== 'invalid_value') return 'VALUE_WRONG';
  if (path.length === 1 && path[0] === 'format') return 'FORMAT_UNKNOWN';
  return isUnitPath(path) ? 'UNIT_UNKNOWN' : 'VALUE_WRONG';
}

/**
 * The branch of a union (a number or an object; a list or a path) that has the type of the value, so that the mistake
 * inside it can be named. undefined: no branch has this type.
 */
function branchMeant(branches: readonly (readonly Issue[])[]): readonly Issue[] | undefined {
  return branches.find((issues) => !issues.some((i) => i.code === 'invalid_type' && i.path.length === 0));
}

const TYPE_WORDS: Readonly<Record<string, string>> = {
  string: 'text in double quotes',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  array: 'a list in [ ]',
  object: 'an object in { }',
  record: 'an object in { }',
};

function wantedOf(issue: Issue, path: KeyPath): string {
  switch (issue.code) {
    case 'invalid_type':
      return TYPE_WORDS[issue.expected] ?? issue.expected;
    case 'invalid_value': {
      const words = issue.values.map((v) => JSON.stringify(v));
      return words.length === 1 ? words[0]! : `one of ${words.join(' ')}`;
    }
    case 'too_small':
      return sizeWords(issue.origin, issue.inclusive ? 'at least' : 'more than', Number(issue.minimum));
    case 'too_big':
      return sizeWords(issue.origin, issue.inclusive ? 'at most' : 'less than', Number(issue.maximum));
    case 'invalid_format':
      return issue.format === 'date' ? 'a date written 2026-03-14' : issue.message;
    case 'invalid_union':
      if (path.includes('columns'))
        return 'the header of a column, or an object with "column" and what is said of it';
      return path[path.length - 1] === 'limit'
        ? 'a number, or an object with upTo, limit and more'
        : 'a list of tolerances, or the path of a JSON file that holds one';
    case 'unrecognized_keys':
    case 'not_multiple_of':
    case 'invalid_key':
    case 'invalid_element':
    case 'custom':
      return issue.message;
  }
}

function sizeWords(origin: string, bound: string, size: number): string {
  if (origin === 'string') return `text of ${bound} ${size} characters`;
  if (origin === 'array') return `a list of ${bound} ${size}`;
  return origin === 'int' ? `a whole number, ${bound} ${size}` : `a number, ${bound} ${size}`;
}

/** The keys that the schema has for the object at `path`. */
function keysAt(schema: z.ZodType, path: KeyPath, source: JsonSource): string[] {
  let at: unknown = schema;
  for (const [depth, step] of path.entries()) {
    at = branchOf(unwrapped(at), valueAt(source.value, path.slice(0, depth)));
    if (at instanceof z.ZodObject) at = (at.shape as Record<string, unknown>)[String(step)];
    else if (at instanceof z.ZodArray) at = at.element;
    else return [];
  }
  at = branchOf(unwrapped(at), valueAt(source.value, path));
  return at instanceof z.ZodObject ? Object.keys(at.shape as object) : [];
}

const unwrapped = (schema: unknown): unknown =>
  schema instanceof z.ZodOptional ? unwrapped(schema.unwrap()) : schema;

/** The branch of a union that has the type of the value. */
function branchOf(schema: unknown, value: unknown): unknown {
  if (!(schema instanceof z.ZodUnion)) return schema;
  return schema.options.find((option) =>
    Array.isArray(value) ? option instanceof z.ZodArray : option instanceof z.ZodObject,
  );
}

/** The value as JSON, at most 60 characters. */
export function show(value: unknown): string {
  const text = typeof value === 'number' ? String(value) : (JSON.stringify(value) ?? 'nothing');
  return text.length > 60 ? `${text.slice(0, 57)}...` : text;
}

/** The units of a family as a job file writes them, for messages. */
export const unitWords = (family: 'length' | 'slope'): string => `one of ${unitNames(family).join(' ')}`;

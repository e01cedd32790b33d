/**
 * A command of the program, described once: its name, arguments and options. Parsing, types, help pages, completion and
 * the table of commands in the README are made from this description.
 */
import { parseArgs } from 'node:util';
import * as z from 'zod';
import { wrapped } from '../base/diagnostics/wrap.js';
import type { Console } from './console.js';
import { exitCodes, type ExitCode } from './exit-codes.js';

/** The command line was called in a wrong way; the message says how to call it. */
export class UsageError extends Error {}

export interface Argument {
  /** As it is printed in the usage line: 'JOB', 'REPORT'. */
  readonly name: string;
  /** In words: 'job folder'. */
  readonly what: string;
  /** One or more of them. Only the last argument can repeat. */
  readonly repeats?: boolean;
  readonly isOptional?: boolean;
}

export interface CommandOf<Shape extends z.ZodRawShape> {
  readonly name: string;
  /** One sentence without a full stop: what the command makes. */
  readonly summary: string;
  readonly arguments: readonly Argument[];
  /** By the name of the option; booleans take no value. Descriptions and names of values are their metadata. */
  readonly options: z.ZodObject<Shape>;
  /** More than the summary, for the command's own help page. */
  readonly details?: readonly string[];
  /** Further lists for the help page: names with their meaning, under a title. */
  readonly lists?: Readonly<Record<string, readonly (readonly [name: string, meaning: string])[]>>;
  /** Command lines without the program's name. */
  readonly examples: readonly string[];
  /** Exit statuses beyond 0, 1 and 2, with their meaning for this command. */
  readonly statuses?: Readonly<Partial<Record<ExitCode, string>>>;
  readonly run: (call: Call<z.output<z.ZodObject<Shape>>>) => Promise<ExitCode>;
}

/** What a command is called with. */
export interface Call<Options> {
  readonly arguments: readonly string[];
  readonly options: Options;
  readonly json: boolean;
  readonly console: Console;
}

/** A command in a list, whatever its options. */
export interface Command extends Omit<CommandOf<z.ZodRawShape>, 'options' | 'run'> {
  readonly options: z.ZodObject;
  /** @throws {UsageError} the words after the command's name do not fit its description. */
  readonly call: (words: readonly string[], console: Console) => Promise<ExitCode>;
}

/** The description with its own parser. */
export function command<Shape extends z.ZodRawShape>(description: CommandOf<Shape>): Command {
  const { run, ...rest } = description;
  return {
    ...rest,
    async call(words, console) {
      const { values, positionals } = split(words, description.options);
      assertArguments(positionals, description.arguments);
      const { json, ...given } = values;
      const options = read(description.options, given);
      return run({ arguments: positionals, options, json: json === true, console });
    },
  };
}

/** Metadata of an option, as `describe` and the constructors in options.ts put it there. */
export interface OptionFacts {
  readonly name: string;
  /** 'DIR'; null: it is a flag. */
  readonly value: string | null;
  readonly text: string;
  readonly repeats: boolean;
  readonly default: string | null;
}

/** The options of a command as facts, in the order in which they were declared. */
export function optionsOf({ options }: Pick<Command, 'options'>): OptionFacts[] {
  return Object.entries(options.shape).map(([name, schema]) => {
    const inner = innermost(schema as z.ZodType);
    const { description = '', value = null } = metadataOf(schema as z.ZodType);
    const parsed = (schema as z.ZodType).safeParse(undefined);
    const isPlain = parsed.success && ['string', 'number'].includes(typeof parsed.data);
    return {
      name,
      value: inner instanceof z.ZodBoolean ? null : (value ?? 'VALUE'),
      text: description,
      repeats: inner instanceof z.ZodArray,
      default: isPlain ? String(parsed.data) : null,
    };
  });
}

function metadataOf(schema: z.ZodType): { description?: string; value?: string } {
  const own = schema.meta() as { description?: string; value?: string } | undefined;
  if (own?.description !== undefined) return own;
  const inner = unwrapped(schema);
  return inner === null ? {} : metadataOf(inner);
}

const unwrapped = (schema: z.ZodType): z.ZodType | null =>
  schema instanceof z.ZodOptional || schema instanceof z.ZodDefault || schema instanceof z.ZodNullable
    ? (schema.unwrap() as z.ZodType)
    : schema instanceof z.ZodPipe
      ? (schema.in as z.ZodType)
      : null;

function innermost(schema: z.ZodType): z.ZodType {
  const inner = unwrapped(schema);
  return inner === null ? schema : innermost(inner);
}

/** Values that begin with a minus and a digit belong to the option before them. */
const joinNegatives = (words: readonly string[]): string[] =>
  words.reduce<string[]>((joined, word) => {
    const before = joined[joined.length - 1];
    if (/^-[\d.]/.test(word) && before !== undefined && /^--[a-z-]+$/.test(before))
      joined[joined.length - 1] = `${before}=${word}`;
    else joined.push(word);
    return joined;
  }, []);

function split(words: readonly string[], options: z.ZodObject) {
  const facts = optionsOf({ options }).map(({ name, value, repeats }) => [
    name,
    { type: value === null ? ('boolean' as const) : ('string' as const), multiple: repeats },
  ]);
  try {
    return parseArgs({
      args: joinNegatives(words),
      options: { ...(Object.fromEntries(facts) as object), json: { type: 'boolean' } },
      allowPositionals: true,
      strict: true,
    });
  } catch (cause) {
    throw new UsageError((cause as Error).message.split('. ')[0]!, { cause });
  }
}

function assertArguments(given: readonly string[], wanted: readonly Argument[]): void {
  const least = wanted.filter(({ isOptional }) => isOptional !== true);
  const missing = least[given.length];
  if (missing !== undefined)
    throw new UsageError(`name ${missing.repeats === true ? 'at least one' : 'one'} ${missing.what}`);
  const extra = given[wanted.length];
  if (extra !== undefined && wanted.at(-1)?.repeats !== true)
    throw new UsageError(
      wanted.length === 1 ? `name one ${wanted[0]!.what}; '${extra}' is one more` : `unexpected '${extra}'`,
    );
}

function read<Shape extends z.ZodRawShape>(options: z.ZodObject<Shape>, values: object) {
  const parsed = options.safeParse(values);
  if (parsed.success) return parsed.data;
  const lines = parsed.error.issues.map(({ path, message }) =>
    path.length === 0 ? message : `--${path[0] as string} ${message}`,
  );
  throw new UsageError(lines.join('\n'));
}

/** 'waysheet report JOB… [options]'. */
export const usageOf = ({ name, arguments: list, options }: Command): string =>
  [
    'waysheet',
    name,
    ...list.map((a) => {
      const word = `${a.name}${a.repeats === true ? '…' : ''}`;
      return a.isOptional === true ? `[${word}]` : word;
    }),
    ...optionsOf({ options })
      .filter(({ name: option }) => isRequired(options, option))
      .map(({ name: option, value }) => `--${option}${value === null ? '' : ` ${value}`}`),
    ...(optionsOf({ options }).some(({ name: option }) => !isRequired(options, option)) ? ['[options]'] : []),
  ].join(' ');

const isRequired = (options: z.ZodObject, name: string): boolean =>
  !(options.shape[name] as z.ZodType).safeParse(undefined).success;

/** The command's own help page. */
export function helpOf(of: Command): string {
  const facts: Omit<OptionFacts, 'repeats'>[] = [
    ...optionsOf(of),
    { name: 'json', value: null, text: 'Print machine-readable output.', default: null },
  ];
  const options = facts.map(
    ({ name, value, text, default: usual }) =>
      [
        `--${name}${value === null ? '' : ` ${value}`}`,
        usual === null ? text : `${text} Default: ${usual}.`,
      ] as const,
  );
  const statuses = Object.entries({
    0: 'done',
    1: 'failed: disk, browser, an error in the program',
    2: 'wrong usage',
    ...of.statuses,
  });
  return [
    usageOf(of),
    '',
    ...paragraph(`${of.summary}.`, 98),
    ...(of.details ?? []).flatMap((text) => ['', ...paragraph(text, 98)]),
    '',
    ...listed(options),
    ...Object.entries(of.lists ?? {}).flatMap(([title, rows]) => ['', `${title}:`, ...listed(rows)]),
    '',
    'Examples:',
    ...of.examples.map((example) => `  waysheet ${example}`),
    '',
    `Exit status: ${statuses.map(([code, meaning]) => `${code} ${meaning}`).join('; ')}.`,
    '',
  ].join('\n');
}

/** Names in a column, and their meaning next to them. */
function listed(rows: readonly (readonly [name: string, meaning: string])[]): string[] {
  const width = Math.max(...rows.map(([name]) => name.length));
  return rows.flatMap(([name, meaning]) =>
    paragraph(meaning, 96 - width).map((line, k) => `  ${(k === 0 ? name : '').padEnd(width)}  ${line}`),
  );
}

const paragraph = (text: string, width: number): string[] => wrapped(text, width).map((line) => line.trim());

/** The meaning of status 3, as most commands have it. */
export const refusedStatus = { [exitCodes.refused]: 'input refused' } as const;

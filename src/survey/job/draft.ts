/**
 * A job file before it is resolved to a Job: the parts that fit the schema, each with its place. Of a part that does not
 * fit only the id is kept, so that references to it are not reported as a second mistake.
 */
import type * as z from 'zod';
import { Findings, type Diagnostic, type Place } from '../../base/diagnostics/diagnostic.js';
import {
  adjusterSchema,
  instrumentSchema,
  jobSchema,
  monumentSchema,
  railSchema,
  readingsEntrySchema,
  setupSchema,
  targetSchema,
  toleranceSchema,
  unitsSchema,
  type JobInput,
  type ToleranceInput,
} from './job-schema.js';
import { unitWord } from '../../base/units/unit-words.js';
import type { JsonSource } from './json-source.js';
import { valueAt, type KeyPath } from './key-path.js';
import { checkSchema, UNCOMPILED } from './schema-findings.js';

/** One entry of a list in a JSON document. */
export interface Item<T> {
  readonly path: KeyPath;
  /** The id, even if the rest of the entry does not fit; null: it has none. */
  readonly id: string | null;
  /** null: it does not fit the schema, which was reported. */
  readonly input: T | null;
  /** Place of one of the entry's keys, or of the entry. */
  readonly at: (...keys: (string | number)[]) => Place;
}

export type RailInput = z.infer<typeof railSchema>;
export type InstrumentInput = z.infer<typeof instrumentSchema>;
export type AdjusterInput = z.infer<typeof adjusterSchema>;
export type SetupInput = z.infer<typeof setupSchema>;
export type MonumentInput = z.infer<typeof monumentSchema>;
export type ReadingsEntryInput = z.infer<typeof readingsEntrySchema>;
export type TargetInput = z.infer<typeof targetSchema>;

export interface Draft {
  readonly source: JsonSource;
  /** Where the document does not fit the schema. */
  readonly schemaDiagnostics: readonly Diagnostic[];
  /** The whole document; null: a part of it does not fit. */
  readonly input: JobInput | null;
  readonly units: z.infer<typeof unitsSchema> | null;
  readonly rails: readonly Item<RailInput>[];
  readonly monuments: readonly Item<MonumentInput>[];
  readonly instruments: readonly Item<InstrumentInput>[];
  readonly setups: readonly Item<SetupInput>[];
  readonly targets: readonly Item<TargetInput>[];
  readonly adjusters: readonly Item<AdjusterInput>[];
  readonly readings: readonly Item<ReadingsEntryInput>[];
  /** The path of the tolerance file; null: the job names none. */
  readonly toleranceFile: string | null;
  readonly tolerances: readonly Item<ToleranceInput>[];
  /** true: every entry of the list has an id, so an id that is not in the list is unknown. */
  readonly isComplete: (
    list: 'rails' | 'monuments' | 'instruments' | 'setups' | 'targets' | 'adjusters',
  ) => boolean;
}

/** The parts of a job file that fit the schema, and what is wrong with the rest. */
export function draftJob(read: JsonSource): Draft {
  const source = { ...read, value: withPlainUnits(read.value) };
  const findings = new Findings();
  const input = checkSchema(jobSchema, source, findings);
  const units = unitsSchema.safeParse(valueAt(source.value, ['units']), UNCOMPILED);
  const tolerances = valueAt(source.value, ['tolerances']);
  return {
    source,
    schemaDiagnostics: findings.list,
    input,
    units: units.success ? units.data : null,
    rails: itemsAt(source, ['rails'], railSchema),
    monuments: itemsAt(source, ['monuments'], monumentSchema),
    instruments: itemsAt(source, ['instruments'], instrumentSchema),
    setups: itemsAt(source, ['setups'], setupSchema),
    targets: itemsAt(source, ['targets'], targetSchema),
    adjusters: itemsAt(source, ['adjusters'], adjusterSchema),
    readings: itemsAt(source, ['readings'], readingsEntrySchema),
    toleranceFile: typeof tolerances === 'string' ? tolerances : null,
    tolerances: itemsAt(source, ['tolerances'], toleranceSchema),
    isComplete: (list) => {
      const entries = valueAt(source.value, [list]);
      if (entries === undefined) return ['monuments', 'targets', 'adjusters'].includes(list);
      return Array.isArray(entries) && entries.every((entry) => idOf(entry) !== null);
    },
  };
}

/** Units that are not under a key `unit`. */
const UNIT_KEYS: ReadonlyMap<string, readonly string[]> = new Map([
  ['units', ['length', 'reading']],
  ['report', ['length', 'deviation', 'slope']],
]);

/** The document with units as job files write them: a person may also write `µm` or `inches`. */
function withPlainUnits(value: unknown, key = ''): unknown {
  if (Array.isArray(value)) return value.map((item) => withPlainUnits(item, key));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([name, inner]) => {
      const isUnit = typeof inner === 'string' && (name === 'unit' || UNIT_KEYS.get(key)?.includes(name));
      return [name, isUnit ? (unitWord(inner) ?? inner) : withPlainUnits(inner, name)];
    }),
  );
}

/** A number is not an id and is reported; but a reference to that number means this entry. */
function idOf(value: unknown): string | null {
  const id = valueAt(value, ['id']);
  return typeof id === 'string' || typeof id === 'number' ? String(id) : null;
}

/** The entries of the list at `path`; empty if there is no list. */
export function itemsAt<T>(source: JsonSource, path: KeyPath, schema: z.ZodType<T>): Item<T>[] {
  const list = valueAt(source.value, path);
  if (!Array.isArray(list)) return [];
  return list.map((value: unknown, i) => {
    const itemPath = [...path, i];
    const parsed = schema.safeParse(value, UNCOMPILED);
    return {
      path: itemPath,
      id: idOf(value),
      input: parsed.success ? parsed.data : null,
      at: (...keys) => source.at([...itemPath, ...keys]),
    };
  });
}

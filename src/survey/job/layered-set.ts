/**
 * Tolerance sets of an office: one set is based on another, with tables of values by grade. They are merged into one plain
 * document with the values of the chosen grade. Each of its entries keeps the file and line that it came from.
 */
import type { Findings, Place } from '../../base/diagnostics/diagnostic.js';
import { normalPath } from './job-paths.js';
import { setToleranceSchema, toleranceSetSchema, type SetToleranceInput } from './job-schema.js';
import type { JsonSource } from './json-source.js';
import { valueAt, type KeyPath } from './key-path.js';
import { checkSchema, UNCOMPILED } from './schema-findings.js';
import { toleranceName } from './resolve-tolerances.js';

/** Longest chain of sets that are based on each other; a longer one is a mistake. */
const MAX_LAYERS = 8;

/**
 * A set and the sets on which it is based, the set itself first.
 *
 * Reports: VALUE_WRONG for sets that are based on each other in a circle, or for too many of them; and what does not fit the schema.
 *
 * @param path Path of the set. @param place Where it is named.
 * @param read The set at a path; null: it cannot be read, which was reported.
 * @returns Empty if one of them cannot be read.
 */
export async function readLayers(
  path: string,
  place: Place,
  read: (path: string, place: Place) => Promise<JsonSource | null>,
  findings: Findings,
): Promise<JsonSource[]> {
  const layers: JsonSource[] = [];
  const paths = new Set<string>();
  for (let [next, named]: [string | null, Place] = [path, place]; next !== null;) {
    if (paths.has(normalPath(next)) || layers.length === MAX_LAYERS) {
      const wanted = `another set, and no more than ${MAX_LAYERS} that are based on each other`;
      findings.wrong(JSON.stringify(next), wanted, named);
      return [];
    }
    paths.add(normalPath(next));
    const source = await read(next, named);
    if (source === null) return [];
    checkSchema(toleranceSetSchema, source, findings);
    layers.push(source);
    const basedOn = textAt(source.value, ['basedOn']);
    [next, named] = [basedOn && normalPath(`${next}/../${basedOn}`), source.at(['basedOn'])];
  }
  return layers;
}

interface Entry {
  readonly value: unknown;
  readonly layer: JsonSource;
  readonly path: KeyPath;
  /** What the tolerance limits (toleranceName); null: it does not fit the schema. */
  readonly name: string | null;
}

/**
 * A set and the sets on which it is based, as one document without `basedOn` and `without`.
 *
 * Reports: ID_UNKNOWN for an entry of `without` that no set has.
 *
 * @param layers The set itself first, then the one on which it is based, and so on. Each fits its schema, or was reported.
 */
export function mergedSet(layers: readonly JsonSource[], findings: Findings): JsonSource {
  const own = layers[0]!;
  if (layers.length === 1 && valueAt(own.value, ['without']) === undefined) return own;
  let entries: Entry[] = [];
  for (const layer of [...layers].reverse()) {
    entries = without(entries, layer, findings);
    for (const entry of entriesOf(layer)) {
      const { name } = entry;
      const isOther = (known: Entry) => known.layer !== layer && known.name === name;
      const at = name === null ? -1 : entries.findIndex(isOther);
      if (at < 0) entries.push(entry);
      else entries[at] = entry;
    }
  }
  const grades: Record<string, Record<string, unknown>> = {};
  for (const layer of [...layers].reverse())
    for (const [grade, table] of Object.entries(recordAt(layer.value, ['grades'])))
      grades[grade] = { ...grades[grade], ...recordAt(table, []) };
  const first = (key: string) =>
    layers.map(({ value }) => valueAt(value, [key])).find((v) => v !== undefined);
  const grade = first('grade');
  return document(own, entries, {
    name: valueAt(own.value, ['name']),
    ...(first('source') !== undefined && { source: first('source') }),
    ...(grade !== undefined && { grade }),
    ...(Object.keys(grades).length > 0 && { grades }),
  });
}

/**
 * The set with values instead of their names.
 *
 * Reports: KEY_MISSING if a value is named and no grade is chosen; ID_UNKNOWN for a grade or a name that is in no table.
 *
 * @param chosen The grade of the job; null: the grade of the set.
 */
export function ofGrade(set: JsonSource, chosen: string | null, findings: Findings): JsonSource {
  const grades = recordAt(set.value, ['grades']);
  const usual = chosen ?? textAt(set.value, ['grade']);
  const entries = entriesOf(set);
  const isPlain = ({ value }: Entry) =>
    recordAt(value, [])['grade'] === undefined && GRADED_KEYS.every((key) => textAt(value, [key]) === null);
  if (entries.every(isPlain)) return set;
  const filled = entries.map((entry, i): Entry => {
    const parsed = setToleranceSchema.safeParse(entry.value, UNCOMPILED);
    // This was reported.
    if (!parsed.success) return entry;
    const { grade = usual, ...tolerance } = parsed.data;
    const before = findings.list.length;
    const at = (key: string) => set.at(['tolerances', i, key]);
    const valueOf = (key: (typeof GRADED_KEYS)[number]) => {
      const name = tolerance[key];
      if (typeof name !== 'string') return name;
      if (grade === null) {
        const wanted = `a grade, in the set or in job.json, for the value "${name}": ${known(grades)}`;
        findings.missing('grade', wanted, at(key));
        return undefined;
      }
      if (!Object.hasOwn(grades, grade)) {
        findings.error('ID_UNKNOWN', { kind: 'grade', id: grade, known: known(grades) }, at(key));
        return undefined;
      }
      const table = recordAt(grades, [grade]);
      if (!Object.hasOwn(table, name))
        findings.error(
          'ID_UNKNOWN',
          { kind: `value of grade ${grade}`, id: name, known: known(table) },
          at(key),
        );
      return table[name];
    };
    const values = Object.fromEntries(
      GRADED_KEYS.flatMap((key) => (tolerance[key] === undefined ? [] : [[key, valueOf(key)]])),
    );
    return { ...entry, value: findings.list.length > before ? null : { ...tolerance, ...values } };
  });
  return document(set, filled, {
    name: valueAt(set.value, ['name']),
    source: valueAt(set.value, ['source']),
    ...(usual !== null && { grade: usual }),
  });
}

/** Keys of a tolerance whose value may be in the table of a grade. */
const GRADED_KEYS = ['limit', 'from', 'to'] as const;

const known = (record: Readonly<Record<string, unknown>>): string => Object.keys(record).join(', ');

const textAt = (value: unknown, path: KeyPath): string | null => {
  const found = valueAt(value, path);
  return typeof found === 'string' ? found : null;
};

function recordAt(value: unknown, path: KeyPath): Record<string, unknown> {
  const found = valueAt(value, path);
  return typeof found === 'object' && found !== null && !Array.isArray(found)
    ? (found as Record<string, unknown>)
    : {};
}

function entriesOf(layer: JsonSource): Entry[] {
  const list = valueAt(layer.value, ['tolerances']);
  return Array.isArray(list)
    ? list.map((value: unknown, i): Entry => {
        const parsed = setToleranceSchema.safeParse(value, UNCOMPILED);
        return {
          value,
          layer,
          path: ['tolerances', i],
          name: parsed.success ? toleranceName(parsed.data) : null,
        };
      })
    : [];
}

function without(entries: readonly Entry[], layer: JsonSource, findings: Findings): Entry[] {
  const list = toleranceSetSchema.shape.without.safeParse(valueAt(layer.value, ['without'])).data ?? [];
  const isMeant = ({ what, rail }: (typeof list)[number], { value }: Entry) => {
    const tolerance = recordAt(value, []) as Partial<SetToleranceInput>;
    return tolerance.what === what && (rail === undefined || tolerance.rail === rail);
  };
  list.forEach((one, i) => {
    if (entries.some((entry) => isMeant(one, entry))) return;
    const id = one.rail === undefined ? one.what : `${one.what} of rail ${one.rail}`;
    const names = entries.flatMap(({ name }) => name ?? []);
    findings.error(
      'ID_UNKNOWN',
      { kind: 'tolerance', id, known: names.join(', ') },
      layer.at(['without', i]),
    );
  });
  return entries.filter((entry) => !list.some((one) => isMeant(one, entry)));
}

/** A document whose tolerances keep their places in the files they came from. */
function document(own: JsonSource, entries: readonly Entry[], head: Record<string, unknown>): JsonSource {
  const value = { ...head, tolerances: entries.map((entry) => entry.value) };
  return {
    file: own.file,
    value,
    at: ([first, index, ...rest]) => {
      const entry = first === 'tolerances' && typeof index === 'number' ? entries[index] : undefined;
      return entry === undefined
        ? own.at([first, index, ...rest].flatMap((step) => (step === undefined ? [] : [step])))
        : entry.layer.at([...entry.path, ...rest]);
    },
    has: (path) => valueAt(value, path) !== undefined,
  };
}

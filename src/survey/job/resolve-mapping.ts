/** From the mapping keys of a readings entry (mapping-schema.ts) to the rows of our columns. */
import type { Findings } from '../../base/diagnostics/diagnostic.js';
import { isColumnOf, isPosition, isReading, normalHeader } from './columns.js';
import { readUse } from '../../base/input/use.js';
import type { Item, ReadingsEntryInput } from './draft.js';
import {
  axes,
  type FixedValue,
  type MappedColumn,
  type MappedRow,
  type Mapping,
  type ReadingsFile,
} from './job.js';
import type { FixedValuesInput, MappedColumnInput, MappedColumnsInput } from './mapping-schema.js';
import { show, unitWords } from './schema-findings.js';
import { familyOf, isKnownUnit } from '../../base/units/units.js';

type Kind = ReadingsFile['kind'];
type Path = readonly (string | number)[];

/** Arguments that all checks of one entry need. */
interface Context {
  readonly item: Item<ReadingsEntryInput>;
  readonly kind: Kind;
  readonly findings: Findings;
}

/**
 * Reports: KEY_MISPLACED for columns that the kind does not have, for readings among the fixed values, for a name that
 * is both mapped and fixed, and for a unit or words that have no meaning there; UNIT_UNKNOWN for the wrong family;
 * VALUE_WRONG for a fixed axis or use that does not exist; MAPPED_TWICE for a column whose readings would count twice.
 *
 * @returns null: the entry maps nothing.
 */
export function resolveMapping(
  input: ReadingsEntryInput,
  item: Item<ReadingsEntryInput>,
  findings: Findings,
): Mapping | null {
  const { columns, values, rows, ignore, ignoreRows, dates } = input;
  if ([columns, values, rows, ignore, ignoreRows, dates].every((key) => key === undefined)) return null;
  const context = { item, kind: input.kind ?? 'offset', findings };
  const base = resolveRow(columns, values, [], context);
  const resolved = (rows ?? []).map((row, i) => resolveRow(row.columns, row.values, ['rows', i], context));
  reportTwice(base, resolved, context);
  return {
    rows: resolved.length === 0 ? [base] : resolved.map((row) => over(base, row)),
    ignore: ignore ?? [],
    ignoreRows: ignoreRows ?? [],
    dates: dates ?? null,
  };
}

/** What holds for all rows, replaced by what `row` says. */
function over(base: MappedRow, row: MappedRow): MappedRow {
  const said = (name: string) => row.columns.has(name) || row.values.has(name);
  const kept = <T>(map: ReadonlyMap<string, T>) => [...map].filter(([name]) => !said(name));
  return {
    columns: new Map([...kept(base.columns), ...row.columns]),
    values: new Map([...kept(base.values), ...row.values]),
  };
}

function resolveRow(
  columns: MappedColumnsInput | undefined,
  values: FixedValuesInput | undefined,
  path: Path,
  context: Context,
): MappedRow {
  const resolved = { columns: new Map<string, MappedColumn>(), values: new Map<string, FixedValue>() };
  for (const [name, input] of Object.entries(columns ?? {})) {
    if (input === undefined) continue;
    const keys = [...path, 'columns', name];
    if (isOfKind(name, keys, context)) resolved.columns.set(name, resolveColumn(name, input, keys, context));
  }
  for (const [name, text] of Object.entries(values ?? {})) {
    if (text === undefined) continue;
    const keys = [...path, 'values', name];
    if (!isOfKind(name, keys, context) || !isFixable(name, text, keys, context)) continue;
    if (resolved.columns.has(name)) misplaced(name, 'mapped-and-fixed', keys, context);
    else resolved.values.set(name, { text: text.trim(), at: context.item.at(...keys) });
  }
  return resolved;
}

const misplaced = (key: string, because: string, keys: Path, { item, findings }: Context): void =>
  findings.misplaced(key, because, item.at(...keys));

function isOfKind(name: string, keys: Path, context: Context): boolean {
  if (name === 'date' || isColumnOf(context.kind, name)) return true;
  misplaced(name, 'not-of-kind', keys, context);
  return false;
}

function isFixable(name: string, text: string, keys: Path, context: Context): boolean {
  if (isReading(name)) {
    misplaced(name, 'fixed-reading', keys, context);
    return false;
  }
  const wrong = (wanted: string): boolean => {
    context.findings.wrong(show(text), wanted, context.item.at(...keys));
    return false;
  };
  const word = text.trim().toLowerCase();
  if (word === '') return wrong('text: a key that says nothing is left out');
  if (name === 'axis' && !axes.some((axis) => axis === word)) return wrong(axes.join(', '));
  if (name === 'use' && readUse(word) === null) return wrong('yes or no');
  return true;
}

function resolveColumn(name: string, input: MappedColumnInput, keys: Path, context: Context): MappedColumn {
  if (typeof input === 'string') return { header: input, nth: null, unit: null, words: new Map() };
  const { column, nth, unit, words } = input;
  if (unit !== undefined) checkUnit(name, unit, [...keys, 'unit'], context);
  if (words !== undefined && isReading(name))
    misplaced('words', 'words-of-reading', [...keys, 'words'], context);
  return {
    header: column,
    nth: nth ?? null,
    unit: unit ?? null,
    words: new Map(Object.entries(words ?? {}).map(([from, to]) => [from.trim(), to.trim()])),
  };
}

function checkUnit(name: string, unit: string, keys: Path, context: Context): void {
  if (!isReading(name) && !isPosition(name)) return misplaced('unit', 'no-unit', keys, context);
  const family = name === 'slope' ? 'slope' : 'length';
  if (isKnownUnit(unit) && familyOf(unit) === family) return;
  const data = { found: show(unit), wanted: `${unitWords(family)} for ${name}` };
  context.findings.error('UNIT_UNKNOWN', data, context.item.at(...keys));
}

/** Each column of readings may be read once. */
function reportTwice(base: MappedRow, rows: readonly MappedRow[], { item, findings }: Context): void {
  const seen = new Set<string>();
  const all = rows.length === 0 ? [base] : rows.map((row) => over(base, row));
  for (const [i, row] of all.entries()) {
    for (const [name, { header, nth }] of row.columns) {
      if (!isReading(name)) continue;
      const key = `${normalHeader(header)}\u0000${nth ?? 1}`;
      const own = rows.length > 0 && rows[i]!.columns.has(name);
      const keys = own ? ['rows', i, 'columns', name] : ['columns', name];
      if (seen.has(key)) findings.error('MAPPED_TWICE', { header }, item.at(...keys));
      seen.add(key);
    }
  }
}

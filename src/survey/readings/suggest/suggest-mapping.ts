/**
 * A mapping for a file whose columns have other names, made from their words and from the cells below them:
 * the entry of job.json with `columns`, `rows`, `values` and `ignore` filled in as far as the file tells. It is a
 * draft for a person to look through; nothing is ever read by it.
 */
import { axes } from '../../job/job.js';
import { soundOnes } from '../../job/declared.js';
import type { Frame } from '../../job/resolve-job.js';
import { mappedNames } from '../../job/mapping-schema.js';
import type { FileEntry } from '../../job/resolve-readings-files.js';
import { isReading, neededColumns, readHeaderCell } from '../../job/columns.js';
import { decodeText } from '../../../base/input/decode.js';
import { HeaderIndex } from '../mapped-columns.js';
import { unifyLineEnds } from '../records.js';
import { unitWord } from '../../../base/units/unit-words.js';
import { cluesOfFile, type Clues } from './clues.js';
import { guessHeader, type GuessedHeader } from './guess-header.js';
import { axisOf, headerWords } from './header-words.js';
import { isNumeric, placeColumns, type Placed, type StationOfColumn } from './place-columns.js';

/** Written where a person must fill something in; no id, unit or axis has this name. */
const UNKNOWN = '?';

export interface MappingSuggestion {
  readonly file: string;
  /** Line of the header. */
  readonly row: number;
  /** The whole entry for job.json; `?`: to be filled in. */
  readonly entry: Readonly<Record<string, unknown>>;
  /** What has to be filled in or decided first, in words. */
  readonly open: readonly string[];
  /** Headers that nothing was found for, and whose cells are no readings; they are under `ignore`. */
  readonly unplaced: readonly string[];
  /** What a person should know about the draft. */
  readonly notes?: readonly string[];
}

type Column = string | { column: string; nth?: number; unit?: string; words?: Record<string, string> };
interface RowDraft {
  readonly columns: Record<string, Column>;
  readonly values: Record<string, string>;
}

/** @returns null: no line of the file looks like a header. */
export function suggestMapping(bytes: Uint8Array, entry: FileEntry, frame: Frame): MappingSuggestion | null {
  const decoded = decodeText(bytes, entry.file);
  if (!decoded.ok) return null;
  const count = (cells: readonly string[]) =>
    placeColumns({ cells: cells.map((c) => c.trim()), above: [], samples: [] }, entry.kind, frame).filter(
      (placed) => placed !== null && placed.as !== 'asked',
    ).length;
  const header = guessHeader(unifyLineEnds(decoded.value.text), entry, count);
  if (header === null || header.cells.length > 500) return null;
  return new Draft(header, entry, frame).suggestion();
}

/** One suggestion while it is put together. */
class Draft {
  private readonly placed: readonly Placed[];
  private readonly index: HeaderIndex;
  private readonly open: string[] = [];
  private readonly ignore: number[] = [];
  private readonly base: RowDraft = { columns: {}, values: {} };
  private readonly groups = new Map<string, RowDraft>();
  private readonly stations: string[] = [];

  constructor(
    private readonly header: GuessedHeader,
    private readonly entry: FileEntry,
    private readonly frame: Frame,
  ) {
    this.placed = placeColumns(header, entry.kind, frame);
    this.index = new HeaderIndex(header.cells.map(readHeaderCell));
  }

  suggestion(): MappingSuggestion | null {
    for (const [name, { text }] of this.entry.mapping?.rows[0]?.values ?? []) this.base.values[name] = text;
    for (const [i, placed] of this.placed.entries()) this.take(i, placed);
    const rows = this.settleGroups();
    this.fillIn(rows);
    const unplaced = this.ignore.map((i) => this.index.names[i]!);
    const { columns, values } = this.base;
    const dates = this.dateOrder();
    const { below } = this.header;
    const says = rows.length + unplaced.length + Object.keys({ ...columns, ...values }).length > 0;
    if (!says && dates === null) return null;
    return {
      file: this.entry.file,
      row: this.header.line,
      entry: {
        ...entryKeys(this.entry),
        ...some('columns', inOrder(columns)),
        ...some('values', inOrder(values)),
        ...(rows.length > 0 && {
          rows: rows.map((row) => ({ columns: row.columns, ...some('values', row.values) })),
        }),
        ...(unplaced.length > 0 && { ignore: [...new Set(this.ignore.map((i) => this.header.cells[i]!))] }),
        ...(below.length > 0 && { ignoreRows: below }),
        ...(dates !== null && { dates }),
      },
      open: this.open,
      unplaced,
      ...(this.stations.length > 0 && { notes: [turnNote(this.stations)] }),
    };
  }

  private take(i: number, placed: Placed): void {
    const cell = this.header.cells[i]!;
    if (placed?.as === 'station') {
      this.takeStation(i, placed.at, placed.clues);
      return;
    }
    if (cell === '' || placed?.as === 'own') return;
    if (placed?.as === 'asked') {
      this.ask(i, placed.why);
      return;
    }
    if (placed === null) {
      this.ignore.push(i);
      return;
    }
    if (placed.as === 'columns') {
      const free = placed.names.filter(
        (name) => !Object.hasOwn(this.base.columns, name) && !this.hasOwn(name),
      );
      if (free.length === 0) this.leaveOut(i, placed.names.join(' or '));
      for (const name of free) this.base.columns[name] = this.column(i, name, placed.clues);
      return;
    }
    const { clues } = placed;
    const name = this.readingName(clues);
    const values = this.valuesOf(clues, name);
    const key = JSON.stringify(values);
    const group = this.groups.get(key) ?? { columns: {}, values };
    if (Object.hasOwn(group.columns, name)) this.leaveOut(i, name);
    else group.columns[name] = this.column(i, name, clues);
    this.groups.set(key, group);
  }

  private ask(i: number, why: string): void {
    this.open.push(
      `what the column ${JSON.stringify(this.index.names[i])} holds (${why}): write it under "columns" or "rows" if it belongs to the readings, else under "ignore"`,
    );
  }

  /** Its place is taken by a column before it. Numbers may be readings, so only a person can leave them out. */
  private leaveOut(i: number, name: string): void {
    if (isNumeric(this.header.samples[i] ?? [])) this.ask(i, `numbers; another column is taken for ${name}`);
    else this.ignore.push(i);
  }

  /** A column for each station: one row of the entry for each. */
  private takeStation(i: number, at: StationOfColumn, clues: Clues): void {
    const name = this.entry.kind === 'offset' ? 'reading' : this.entry.kind;
    const column = this.column(i, name, clues);
    // A unit in the header is that of the place, not of the readings.
    const hasUnit = headerWords(this.header.cells[i]!).unit !== null;
    const read: Column = hasUnit
      ? { ...(typeof column === 'string' ? { column } : column), unit: this.entry.unit }
      : column;
    this.groups.set(JSON.stringify(at), { columns: { [name]: read }, values: { ...at } });
    this.stations.push(this.index.names[i]!);
  }

  private hasOwn(name: string): boolean {
    const key = name.replaceAll('_', '');
    return this.placed.some((placed, i) => placed?.as === 'own' && this.index.cells[i]!.key === key);
  }

  private readingName({ axis }: Clues): string {
    if (this.entry.kind !== 'offset') return this.entry.kind;
    return axis ?? 'reading';
  }

  private valuesOf({ rail, setup, target, pass, axis }: Clues, name: string): Record<string, string> {
    const offset = this.entry.kind === 'offset';
    return {
      ...(offset && setup !== null && { setup }),
      ...(offset && rail !== null && { rail }),
      ...(offset && target !== null && { target }),
      ...(this.entry.kind === 'slope' && rail !== null && { from_rail: rail, to_rail: rail }),
      ...(pass !== null && { pass }),
      ...(name === 'slope' && axis !== null && { axis }),
    };
  }

  /** How the mapping names a column: its header, and what the header does not say by itself. */
  private column(i: number, name: string, { unit }: Clues): Column {
    const text = this.header.cells[i]!;
    const same = this.index.all(text);
    const more: { nth?: number; unit?: string; words?: Record<string, string> } = {};
    if (same.length > 1) more.nth = same.indexOf(i) + 1;
    const stated = this.unitToState(i, name, unit);
    if (stated !== null) more.unit = stated;
    if (name === 'axis') {
      const words = this.axisWords(i);
      if (Object.keys(words).length > 0) more.words = words;
    }
    return Object.keys(more).length === 0 ? text : { column: text, ...more };
  }

  /** null: the header says it in our words, or says nothing. */
  private unitToState(i: number, name: string, said: string | null): string | null {
    const measured = isReading(name) || name.endsWith('position');
    const cell = this.index.cells[i]!;
    if (!measured || cell.unit !== null) return null;
    const usual = isReading(name) ? this.entry.unit : this.frame.lengthUnit;
    if (said === null) return cell.bracket === null || cell.bracket === '' ? null : usual;
    const unit = unitWord(said);
    if (typeof unit === 'string') return unit === usual && isReading(name) ? null : unit;
    this.open.push(`the unit of ${JSON.stringify(this.index.names[i])}: ${said} may mean more than one`);
    return UNKNOWN;
  }

  private axisWords(i: number): Record<string, string> {
    const cells = [...new Set(this.header.samples[i] ?? [])].filter(
      (cell) => !axes.some((axis) => axis === cell.toLowerCase()),
    );
    if (cells.length > 20) return {};
    return Object.fromEntries(
      cells.map((cell) => {
        const axis = axisOf(cell);
        if (axis === null) this.open.push(`the axis that ${JSON.stringify(cell)} means`);
        return [cell, axis ?? UNKNOWN];
      }),
    );
  }

  /** One group of readings belongs to the entry itself; several are as many rows. */
  private settleGroups(): RowDraft[] {
    const groups = [...this.groups.values()];
    if (groups.length > 1) return groups;
    for (const { columns, values } of groups) {
      Object.assign(this.base.columns, columns);
      for (const [name, value] of Object.entries(values)) this.base.values[name] ??= value;
    }
    return [];
  }

  /** What neither a column nor a header says, and every row needs. */
  private fillIn(rows: readonly RowDraft[]): void {
    const drafts = rows.length === 0 ? [this.base] : rows;
    const isSaid = (draft: RowDraft, name: string) =>
      [draft, this.base].some((d) => Object.hasOwn(d.columns, name) || Object.hasOwn(d.values, name)) ||
      this.hasOwn(name);
    const missing = (name: string) => drafts.some((draft) => !isSaid(draft, name));
    const say = (name: string, ids: readonly string[], wanted: string) => {
      const value = ids.length === 1 ? ids[0]! : UNKNOWN;
      if (ids.length !== 1)
        this.open.push(`${name}: ${ids.length > 1 ? `one of ${ids.join(', ')}` : wanted}`);
      for (const draft of drafts.every((d) => !isSaid(d, name)) ? [this.base] : drafts)
        if (!isSaid(draft, name)) draft.values[name] = value;
    };
    const named = cluesOfFile(this.entry.file, this.frame);
    const rails = named.rail === null ? soundOnes(this.frame.rails).map((rail) => rail.id) : [named.rail];
    const setups = named.setup === null ? [...this.frame.setups.keys()] : [named.setup];
    const hasMonument = drafts.every((draft) => isSaid(draft, 'monument'));
    if (this.entry.kind === 'offset') {
      if (missing('setup')) say('setup', setups, 'the id of a set-up');
      if (missing('rail') && !hasMonument) say('rail', rails, 'the id of a rail');
      if (drafts.some((draft) => isSaid(draft, 'reading')) && missing('axis')) say('axis', [...axes], '');
    } else if (this.entry.kind === 'slope') {
      if (missing('from_rail')) say('from_rail', rails, 'the id of a rail');
      if (missing('to_rail')) say('to_rail', rails, 'the id of a rail');
      if (missing('axis')) say('axis', [...axes], '');
    } else {
      const all = soundOnes(this.frame.rails).map((rail) => rail.id);
      if (missing('rail')) say('rail', all.length === 2 ? [all[0]!] : all, 'the id of a rail');
      if (missing('other')) say('other', all.length === 2 ? [all[1]!] : all, 'the id of a rail');
    }
    for (const alternatives of neededColumns[this.entry.kind]) {
      const fits = drafts.every((draft) =>
        alternatives.some((names) => names.every((n) => isSaid(draft, n))),
      );
      if (!fits)
        this.open.push(`no column was found for ${alternatives.map((n) => n.join(' with ')).join(', or ')}`);
    }
  }

  /** The order of days such as 14/03/2026; a day above 12 shows it. */
  private dateOrder(): string | null {
    const cells = this.placed.flatMap((placed, i) => {
      const name = this.index.cells[i]!.key;
      const own = placed?.as === 'own' && name === 'time';
      const mapped = placed?.as === 'columns' && placed.names.some((n) => n === 'time' || n === 'date');
      return own || mapped ? (this.header.samples[i] ?? []) : [];
    });
    const dates = cells.flatMap((cell) => {
      const match = /^(\d{1,2})[./-](\d{1,2})[./-]\d{4}/.exec(cell);
      return match === null ? [] : [[Number(match[1]), Number(match[2])] as const];
    });
    if (dates.length === 0) return null;
    const [dayFirst, monthFirst] = [dates.some(([one]) => one > 12), dates.some(([, two]) => two > 12)];
    if (dayFirst !== monthFirst) return dayFirst ? 'day-month' : 'month-day';
    this.open.push('dates: day-month or month-day');
    return UNKNOWN;
  }
}

/** In the order in which our own files have them. */
const inOrder = <T>(object: Readonly<Record<string, T>>): Record<string, T> =>
  Object.fromEntries(
    mappedNames.flatMap((name) => (Object.hasOwn(object, name) ? [[name, object[name]!]] : [])),
  );

const some = (key: string, object: object): object =>
  Object.keys(object).length === 0 ? {} : { [key]: object };

/** The entry as it is in job.json. */
function entryKeys({ file, phase, kind, instrument, unit, unitStated, against, decimal }: FileEntry): object {
  return {
    file,
    phase,
    ...(kind !== 'offset' && { kind }),
    ...(instrument !== null && { instrument }),
    ...(unitStated && { unit }),
    ...(against !== null && { against }),
    ...(decimal !== null && { decimal }),
  };
}

/** The stations of the file are its columns; other files have a row for each station. */
const turnNote = (names: readonly string[]): string =>
  `The stations are the columns of this file (${names[0]!} to ${names[names.length - 1]!}). The entry reads it so. Or turn the sheet, so that each station is a row: in a spreadsheet copy it all, choose paste special, transpose, and save that as CSV`;

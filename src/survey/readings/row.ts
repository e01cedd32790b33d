/** One row of a readings file, cell by cell, with the checks that all kinds share. */
import type { Findings, Place } from '../../base/diagnostics/diagnostic.js';
import type { Rail, Station } from '../job/job.js';
import { idPattern, idWords } from '../job/job-schema.js';
import type { Frame } from '../job/resolve-job.js';
import {
  isLengthUnit,
  isSlopeUnit,
  toMm,
  toUm,
  toUmPerM,
  unitLabel,
  unitNames,
} from '../../base/units/units.js';
import { textOf, type Layout } from './layout.js';
import { readNumber } from './number.js';
import { findPosition, findStation } from './points.js';
import type { CsvRecord } from './records.js';
import type { Source } from './readings.js';
import type { Table } from './table.js';
import { readTime } from '../../base/input/time.js';
import { readUse } from '../../base/input/use.js';

/** Largest reading, µm or µm/m. */
const MAX_READING = 1e9;

/** A number of a cell, in the unit written after it, in the header, or of the column. */
interface Measured {
  readonly value: number;
  readonly unit: string;
}

/** Cells of one row, read by the name of their column; what is wrong with them is reported as they are read. */
export class Row {
  constructor(
    private readonly table: Table,
    private readonly record: CsvRecord,
    private readonly frame: Frame,
    readonly findings: Findings,
    private readonly layout: Layout,
  ) {}

  get source(): Source {
    return { file: this.table.file, row: this.record.line };
  }

  /** The cell, trimmed, or what the job says instead; '': neither says anything. */
  text(column: string): string {
    const at = this.layout.columns.get(column);
    if (at === undefined) return this.layout.values.get(column)?.text ?? '';
    return textOf(this.record.cells, at);
  }

  /** true: the file has the column, or the job gives its value. */
  has(column: string): boolean {
    return this.layout.columns.has(column) || this.layout.values.has(column);
  }

  /** The place of the cell, with the file's own header; or the place in the job file that gives the value. */
  place(column: string): Place {
    const at = this.layout.columns.get(column);
    const fixed = at === undefined ? this.layout.values.get(column)?.at : undefined;
    return fixed ?? { file: this.table.file, row: this.record.line, column: at?.text ?? column };
  }

  /** `use`: false leaves the row out. Reports: CELL_WRONG. */
  isUsed(): boolean {
    const text = this.text('use');
    const use = readUse(text);
    if (use !== null) return use;
    const isMark = /^[x\u00d7\u2713\u2714+*-]$/i.test(text.trim());
    const wanted = `yes, no or nothing${isMark ? ': a mark may say that the row is used, or that it is crossed out' : ''}`;
    this.findings.error('CELL_WRONG', { found: text, wanted }, this.place('use'));
    return true;
  }

  pass(): string {
    return this.label('pass', '1');
  }

  /** An id that is declared nowhere else. Reports: CELL_WRONG for a text that cannot be an id. */
  label(column: string, blank: string): string {
    const text = this.text(column);
    if (text === '') return blank;
    if (/^[A-Za-z0-9]{1,64}$/.test(text)) return text;
    if (!idPattern.test(text))
      this.findings.error('CELL_WRONG', { found: text, wanted: idWords }, this.place(column));
    return text;
  }

  /** In ISO form, or null. Reports: CELL_TIME. */
  time(): string | null {
    const [date, time] = [this.text('date'), this.text('time')];
    const found = date === '' || time === '' ? date + time : `${date} ${time}`;
    if (found === '') return null;
    const read = readTime(found, this.table.dates);
    if (read === null) this.findings.error('CELL_TIME', { found }, this.place(time === '' ? 'date' : 'time'));
    return read ?? found;
  }

  /** Reports: CELL_MISSING if the cell is blank. */
  required(column: string, wanted: string): string | null {
    const text = this.text(column);
    if (text !== '') return text;
    this.findings.error('CELL_MISSING', { wanted }, this.place(column));
    return null;
  }

  /** One of some words, in any case. Reports: CELL_MISSING, CELL_WRONG. */
  word<W extends string>(column: string, words: readonly W[]): W | null {
    const wanted = words.join(', ').replace(/, (?=[^,]*$)/, ' or ');
    const text = this.required(column, wanted);
    if (text === null) return null;
    const word = words.find((w) => w === text.toLowerCase());
    if (word === undefined) this.findings.error('CELL_WRONG', { found: text, wanted }, this.place(column));
    return word ?? null;
  }

  /** Reports: CELL_NOT_A_NUMBER, CELL_NUMBER_AMBIGUOUS, UNIT_UNKNOWN. null: the cell is blank or no number. */
  private number(column: string, unit: string): Measured | null {
    const text = this.text(column);
    if (text === '') return null;
    const read = readNumber(text, this.table.style);
    const place = this.place(column);
    if (read.ok) {
      const own = this.layout.columns.get(column)?.unit ?? unit;
      if (!read.isMark) return { value: read.value, unit: read.unit ?? own };
      // A mark of two meanings may repeat what is known, never change it.
      if (own === 'in' || own === 'arcsec') return { value: read.value, unit: own };
      const wanted = `the unit in letters, in or arcsec, because the column is in ${own}`;
      this.findings.error('UNIT_UNKNOWN', { found: '"', wanted }, place);
      return null;
    }
    if (read.why === 'ambiguous') {
      this.findings.error('CELL_NUMBER_AMBIGUOUS', { found: text, one: read.one, other: read.other }, place);
    } else this.findings.error('CELL_NOT_A_NUMBER', { found: text, meant: this.withOwnMark(text) }, place);
    return null;
  }

  /** A number with the other decimal mark, as this file would write it; '': it is no such number. */
  private withOwnMark(text: string): string {
    const { decimal } = this.table.style;
    if (decimal === null) return '';
    const other = decimal === '.' ? ',' : '.';
    const read = readNumber(text, { decimal: other, grouped: false });
    return read.ok && text.includes(other) ? text.replace(other, decimal) : '';
  }

  /** The cell as it is, with a unit if it has none itself: "-120.0 µm", "99 thou". */
  asWritten(column: string, unit: string): string {
    const text = this.text(column);
    const read = readNumber(text, this.table.style);
    if (!read.ok || read.unit !== null) return text;
    return `${text} ${unitLabel(this.layout.columns.get(column)?.unit ?? unit)}`;
  }

  /** A length in µm. Reports: also UNIT_UNKNOWN for a slope unit after the number. */
  um(column: string, unit: string): number | null {
    const read = this.number(column, unit);
    if (read === null) return null;
    if (isLengthUnit(read.unit)) return this.within(toUm(read.value, read.unit), column, '1 km');
    return this.wrongUnit(column, read.unit, 'length');
  }

  /** Reports: CELL_WRONG for what nothing on a machine can measure. */
  private within(base: number, column: string, limit: string): number | null {
    if (Math.abs(base) <= MAX_READING) return base;
    this.findings.error(
      'CELL_WRONG',
      { found: this.text(column), wanted: `less than ${limit}` },
      this.place(column),
    );
    return null;
  }

  /** A slope in µm/m. Reports: also UNIT_UNKNOWN for a length unit after the number. */
  umPerM(column: string, unit: string): number | null {
    const read = this.number(column, unit);
    if (read === null) return null;
    if (isSlopeUnit(read.unit)) return this.within(toUmPerM(read.value, read.unit), column, '1000 m/m');
    return this.wrongUnit(column, read.unit, 'slope');
  }

  private wrongUnit(column: string, found: string, family: 'length' | 'slope'): null {
    const wanted = `one of ${unitNames(family).join(' ')}`;
    this.findings.error('UNIT_UNKNOWN', { found, wanted }, this.place(column));
    return null;
  }

  /**
   * The station that a row names by number or by position, which must agree if both are given.
   * Reports: CELL_MISSING, READING_STATION_UNKNOWN, READING_POSITION_UNKNOWN, READING_POINT_UNCLEAR.
   */
  station(rail: Rail, numberColumn: string, positionColumn: string): Station | null {
    const [number, position] = [this.text(numberColumn), this.text(positionColumn)];
    if (number === '' && position === '') {
      const column = this.layout.columns.has(numberColumn) ? numberColumn : positionColumn;
      this.findings.error('CELL_MISSING', { wanted: `a station of rail ${rail.id}` }, this.place(column));
      return null;
    }
    const byNumber = number === '' ? null : this.stationByNumber(rail, numberColumn, number);
    const byPosition = position === '' ? null : this.stationByPosition(rail, positionColumn, position);
    if (byNumber !== null && byPosition !== null && byNumber !== byPosition) {
      const found = `station ${number} and position ${position}`;
      this.findings.error('READING_POINT_UNCLEAR', { found }, this.place(positionColumn));
      return null;
    }
    return byNumber ?? byPosition;
  }

  private stationByNumber(rail: Rail, column: string, found: string): Station | null {
    const read = this.number(column, '');
    if (read === null) return null;
    if (read.unit === '')
      return findStation(rail, read.value, found, () => this.place(column), this.findings);
    this.findings.error('CELL_WRONG', { found, wanted: 'a station number' }, this.place(column));
    return null;
  }

  private stationByPosition(rail: Rail, column: string, found: string): Station | null {
    const unit = this.frame.lengthUnit;
    const read = this.number(column, unit);
    if (read === null) return null;
    if (!isLengthUnit(read.unit)) return this.wrongUnit(column, read.unit, 'length');
    const mm = toMm(read.value, read.unit);
    return findPosition(rail, mm, found, unit, () => this.place(column), this.findings);
  }
}

/** Compares readings with the range of their instrument. */
import type { Instrument } from '../job/job.js';
import { fromBase, unitLabel, type LengthUnit, type SlopeUnit } from '../../base/units/units.js';
import type { Row } from './row.js';

/** Share of the range from which a reading is suspicious: the error of a target grows with the distance from its centre. */
const NEAR = 0.8;

/**
 * @param value As read, µm or µm/m.
 * @param unit Unit of the messages.
 * Reports: READING_OUT_OF_RANGE; READING_NEAR_RANGE (a warning) from 80 % on.
 */
export function checkRange(
  value: number,
  instrument: Instrument | null,
  unit: string,
  row: Row,
  column: string,
): void {
  const limit = instrument?.rangeLimit ?? null;
  const size = Math.abs(value);
  if (limit === null || instrument === null || size <= NEAR * limit) return;
  const inUnit = (base: number) =>
    `${Number(fromBase(base, unit as LengthUnit | SlopeUnit).toPrecision(6))} ${unitLabel(unit)}`;
  const data = { reading: inUnit(value), limit: inUnit(limit), instrument: instrument.id };
  // Tolerance for rounding of the unit conversion: a reading exactly at the limit is within it.
  if (size > limit * (1 + 1e-9)) row.findings.error('READING_OUT_OF_RANGE', data, row.place(column));
  else {
    const percent = Math.round((100 * size) / limit);
    row.findings.warn('READING_NEAR_RANGE', { ...data, percent }, row.place(column));
  }
}

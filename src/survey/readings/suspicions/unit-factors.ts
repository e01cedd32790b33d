/** Units that people take for each other, by the factor that readings are then off by. */
import {
  otherUnits,
  unitLabel,
  type LengthUnit,
  type OtherUnit,
  type SlopeUnit,
} from '../../../base/units/units.js';

export type ReadingUnit = LengthUnit | SlopeUnit;

export interface UnitFactor {
  /** Above 1. */
  readonly factor: number;
  /** "mm and µm" */
  readonly units: string;
}

const size = (ratio: number): number => (ratio < 1 ? 1 / ratio : ratio);
const digits = (factor: number): number => Number(factor.toPrecision(4));

const between = (unit: ReadingUnit, other: OtherUnit): UnitFactor => ({
  factor: digits(size(other.factor)),
  units: `${unitLabel(other.unit)} and ${unitLabel(unit)}`,
});

/** How `unit` compares with each other one. */
export const unitFactors = (unit: ReadingUnit): UnitFactor[] =>
  otherUnits(unit).map((other) => between(unit, other));

/**
 * The unit whose factor is nearest.
 *
 * @param ratio How many times too large the readings are; below 1: too small. @param near How far off it may be, as a share.
 */
export function nearUnitFactor(ratio: number, unit: ReadingUnit, near: number): UnitFactor | null {
  if (!(ratio > 0) || !Number.isFinite(ratio)) return null;
  const off = ({ factor }: OtherUnit) => size(ratio * factor);
  const [best] = otherUnits(unit).sort((a, b) => off(a) - off(b));
  if (best === undefined || off(best) - 1 > near) return null;
  return between(unit, best);
}

/** No one is wrong by more. */
const MOST = 1e6;
/** A wrong decimal place. */
const DECIMALS: readonly number[] = [10, 100, 1000];

/**
 * Every unit, and every decimal place, in which readings would fit: none of them is said alone where others do as well.
 *
 * @param least What they must at least be multiplied by; below 1: at most. @param most The same from the other side.
 * @returns "mm (1000 times as large)"; '' where nothing usual fits, null: what is asked for is beyond all of them.
 */
export function unitsThatFit(unit: ReadingUnit, least: number, most: number): string | null {
  if (size(least) > MOST) return null;
  const isLarger = least > 1;
  const fits = (f: number) => (isLarger ? f >= least && f <= most : f <= least && f >= most);
  const times = (f: number) => `${digits(size(f))} times as ${isLarger ? 'large' : 'small'}`;
  const units = otherUnits(unit).filter(({ factor }) => fits(factor));
  const places = DECIMALS.map((f) => (isLarger ? f : 1 / f)).filter(
    (f) => fits(f) && !units.some(({ factor }) => Math.abs(factor / f - 1) < 1e-6),
  );
  return [
    ...units.map(({ unit: name, factor }) => `in ${unitLabel(name)} (${times(factor)})`),
    ...places.map(times),
  ].join(', or ');
}

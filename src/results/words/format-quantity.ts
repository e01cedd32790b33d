/**
 * The only place that rounds. Everything upstream is at full precision, and verdicts were made there; what
 * leaves here is text for people.
 *
 * The rules, as the report states them: an uncertainty is given to two significant digits, rounded upwards
 * where rounding to nearest would understate it by more than 2.5 %; the value is given to the same decimal;
 * where that would hide on which side of a limit a figure lies, both get as many more digits as show it.
 *
 * @see JCGM 100:2008, clause 7.2.6: two significant digits; 10,47 mΩ may be taken up to 11 mΩ, 28,05 kHz
 *   is taken down to 28 kHz; the estimate is rounded to be consistent with its uncertainty.
 */
import { fromMm, fromUm, fromUmPerM, isLengthUnit, isSlopeUnit, unitLabel } from '../../base/units/units.js';
import { tenTo } from '../../base/statistics/power.js';

export const MINUS = '\u2212';
/** Between a number and its unit. */
export const NO_BREAK_SPACE = '\u00a0';
const GROUP_SPACE = '\u202f';

/** More than this much understated, and an uncertainty is rounded upwards. */
const MOST_UNDERSTATED = 0.025;
/** Doubles carry 15 digits; what comes after them is noise of a unit conversion, not data. */
const DOUBLE_DIGITS = 15;
/** Digits that may be added to show an order; beyond them a difference is rounding noise of the solution. */
const MOST_EXTRA_DIGITS = 9;

/** A unit of the report and how a figure of results.json (mm, µm or µm/m) is turned into it. */
export interface ReportUnit {
  readonly label: string;
  readonly fromBase: (base: number) => number;
  /** Decimals at which a figure without an uncertainty is told. */
  readonly decimals: number;
  /** Decimal mark of the reader's language; absent: a point. */
  readonly mark?: DecimalMark;
}

export type DecimalMark = '.' | ',';

export interface ReportUnits {
  /** Positions; base mm. */
  readonly length: ReportUnit;
  /** Deviations and readings; base µm. */
  readonly deviation: ReportUnit;
  /** Slopes and angles; base µm/m. */
  readonly slope: ReportUnit;
}

/** Decimals that tell 1 µm or better (positions: 10 µm), and no more. */
const LENGTH_DECIMALS = { m: 6, mm: 3, um: 1, in: 5, ft: 6, thou: 2 } as const;
const POSITION_DECIMALS = { m: 5, mm: 2, um: 0, in: 3, ft: 4, thou: 0 } as const;
const SLOPE_DECIMALS = {
  'um/m': 1,
  'mm/m': 4,
  'in/ft': 6,
  'thou/ft': 3,
  arcsec: 2,
  arcmin: 4,
  deg: 6,
  mrad: 4,
  urad: 1,
} as const;

/** @throws {RangeError} a unit that no job can name: results.json was not made by waysheet. */
export function reportUnits(
  style: { length: string; deviation: string; slope: string },
  mark: DecimalMark = '.',
): ReportUnits {
  const { length, deviation, slope } = style;
  if (!isLengthUnit(length)) throw new RangeError(`unknown length unit ${length}`);
  if (!isLengthUnit(deviation)) throw new RangeError(`unknown deviation unit ${deviation}`);
  if (!isSlopeUnit(slope)) throw new RangeError(`unknown slope unit ${slope}`);
  return {
    length: {
      label: unitLabel(length),
      mark,
      fromBase: (mm) => fromMm(mm, length),
      decimals: POSITION_DECIMALS[length],
    },
    deviation: {
      label: unitLabel(deviation),
      mark,
      fromBase: (um) => fromUm(um, deviation),
      decimals: LENGTH_DECIMALS[deviation],
    },
    slope: {
      label: unitLabel(slope),
      mark,
      fromBase: (s) => fromUmPerM(s, slope),
      decimals: SLOPE_DECIMALS[slope],
    },
  };
}

/** Those of results.json itself. */
export const baseUnits = reportUnits({ length: 'mm', deviation: 'um', slope: 'um/m' });

/** The unit in which a figure is printed whose base is µm or µm/m. */
export const unitFor = (
  { deviation, slope }: Pick<ReportUnits, 'deviation' | 'slope'>,
  base: 'um' | 'um/m',
): ReportUnit => (base === 'um' ? deviation : slope);

/** The number and its unit, never parted by a line break. */
export const withUnit = (text: string, unit: ReportUnit | string): string => {
  const label = typeof unit === 'string' ? unit : unit.label;
  return label === '°' ? text + label : text + NO_BREAK_SPACE + label;
};

/**
 * Rounds to a number of decimals (negative: to tens, hundreds), halves away from zero, in the decimal digits that
 * the number shows: 0.145 becomes 0.15 although the double nearest to it lies a little below.
 */
export function roundTo(x: number, decimals: number): number {
  // Far from a half, and small enough for a product without error in its units, the digits need not be looked at.
  const power = POWERS[Math.abs(decimals)];
  if (power !== undefined) {
    const shifted = decimals < 0 ? x / power : x * power;
    const nearest = Math.round(shifted);
    if (Math.abs(shifted) < 1e9 && Math.abs(shifted - nearest) < 0.499_999)
      return (decimals < 0 ? nearest * power : nearest / power) + 0;
  }
  const [mantissa, exponent] = splitDecimal(Math.abs(x));
  const scaled = Math.round(Number(`${mantissa}e${exponent + decimals}`));
  const rounded = Number(`${scaled}e${-decimals}`);
  return x < 0 && rounded !== 0 ? -rounded : rounded;
}

/** Those that a double holds without error. */
const POWERS = Array.from({ length: 16 }, (_, k) => tenTo(k));

function splitDecimal(x: number): [string, number] {
  const [mantissa, exponent] = x.toExponential(DOUBLE_DIGITS - 1).split('e') as [string, string];
  return [mantissa, Number(exponent)];
}

export interface RoundedUncertainty {
  readonly value: number;
  /** The decimal of its second significant digit; negative where that is a ten or more. */
  readonly decimals: number;
}

/** Two significant digits, upwards where nearest would understate by more than 2.5 %. @param uncertainty above 0. */
export function roundUncertainty(uncertainty: number): RoundedUncertainty {
  if (!(uncertainty > 0)) throw new RangeError(`an uncertainty to round must be above 0, not ${uncertainty}`);
  const decimals = 1 - splitDecimal(uncertainty)[1];
  const value = notUnderstated(uncertainty, decimals);
  // 0.0996 becomes 0.10, which has its second digit one place further left.
  const reached = 1 - splitDecimal(value)[1];
  return { value, decimals: Math.min(decimals, reached) };
}

/** Nearest, or upwards where nearest would understate by more than 2.5 %. */
function notUnderstated(uncertainty: number, decimals: number): number {
  const nearest = roundTo(uncertainty, decimals);
  const isTooSmall = nearest < uncertainty * (1 - MOST_UNDERSTATED);
  return isTooSmall ? roundTo(nearest + tenTo(-decimals), decimals) : nearest;
}

/** Worth of the last digit to which a value of this expanded uncertainty is printed; both in results.json's unit. */
export function lastDigit(expanded: number, unit: ReportUnit): number {
  return tenTo(-ownDecimals(expanded, unit)) / unit.fromBase(1);
}

function ownDecimals(expanded: number, unit: ReportUnit): number {
  const uncertainty = unit.fromBase(expanded);
  return uncertainty === 0 ? unit.decimals : roundUncertainty(uncertainty).decimals;
}

export interface NumberStyle {
  /** Print + too: the sign carries meaning. */
  readonly signed?: boolean;
  /** Group digits by three; by default from five digits before the point on. */
  readonly group?: boolean;
  readonly mark?: DecimalMark | undefined;
}

/** A number as people read it: a real minus, thin spaces between thousands, never "−0.0". */
export function numberText(x: number, decimals: number, style: NumberStyle = {}): string {
  const rounded = roundTo(x, decimals);
  const [whole, fraction] = Math.abs(rounded).toFixed(Math.max(0, decimals)).split('.') as [string, string?];
  const grouped = (style.group ?? whole.length >= 5) ? groupThousands(whole) : whole;
  const sign = rounded < 0 ? MINUS : style.signed && rounded > 0 ? '+' : '';
  return sign + grouped + (fraction === undefined ? '' : `${style.mark ?? '.'}${fraction}`);
}

const groupThousands = (digits: string): string => digits.replace(/\B(?=(\d{3})+$)/g, GROUP_SPACE);

/** At most this many decimals, and no zeros after the last digit that says something. */
export function trimmedText(x: number, mostDecimals: number, style: NumberStyle = {}): string {
  return numberText(x, decimalsNeeded(x, mostDecimals), style);
}

function decimalsNeeded(x: number, most: number): number {
  const rounded = roundTo(x, most);
  let decimals = 0;
  while (decimals < most && roundTo(rounded, decimals) !== rounded) decimals++;
  return decimals;
}

/** A nominal place or length, given in mm: "10 500", "413.386". */
export const positionText = (mm: number, unit: ReportUnit): string =>
  trimmedText(unit.fromBase(mm), unit.decimals, unit);

/** Places for one column: the same decimals in all, thousands grouped in all or in none. */
export function positionColumn(mm: readonly number[], unit: ReportUnit): string[] {
  const values = mm.map(unit.fromBase);
  const decimals = Math.max(0, ...values.map((x) => decimalsNeeded(x, unit.decimals)));
  const group = values.some((x) => Math.abs(x) >= 10_000);
  return values.map((x) => numberText(x, decimals, { group, mark: unit.mark }));
}

export interface MeasuredText {
  readonly value: string;
  /** Expanded uncertainty, without the ± sign. */
  readonly expanded: string;
}

/**
 * A value and its expanded uncertainty, both in results.json's unit, as texts in the report's.
 * An uncertainty of exactly zero (a value fixed by definition) gives the unit's own decimals.
 */
export const measuredText = (
  value: number,
  expanded: number,
  unit: ReportUnit,
  style: NumberStyle = {},
): MeasuredText => withDecimals(ownDecimals(expanded, unit), { value, expanded }, unit, style);

interface Measured {
  readonly value: number;
  readonly expanded: number;
}

function withDecimals(
  decimals: number,
  { value, expanded }: Measured,
  unit: ReportUnit,
  style: NumberStyle,
): MeasuredText {
  const { mark } = unit;
  return {
    value: numberText(unit.fromBase(value), decimals, { ...style, mark }),
    expanded:
      expanded === 0
        ? '0'
        : numberText(notUnderstated(unit.fromBase(expanded), decimals), decimals, { mark }),
  };
}

/**
 * Values of one column with their expanded uncertainties, in results.json's unit: the same decimals in all rows. They give the
 * smallest uncertainty its two digits, but the largest one no more than three where it is below 100.
 */
export function measuredColumn(
  rows: readonly Measured[],
  unit: ReportUnit,
  style: NumberStyle = {},
): MeasuredText[] {
  const needed = rows.filter(({ expanded }) => expanded !== 0).map((row) => ownDecimals(row.expanded, unit));
  const decimals =
    needed.length === 0 ? unit.decimals : Math.min(Math.max(...needed), Math.max(0, Math.min(...needed) + 1));
  return rows.map((row) => withDecimals(decimals, row, unit, style));
}

/** "+3.1 ± 2.4", kept on one line. */
export const plusMinus = ({ value, expanded }: MeasuredText): string =>
  `${value}${NO_BREAK_SPACE}±${NO_BREAK_SPACE}${expanded}`;

/** "+3.1 ± 2.4 µm" */
export function measuredWithUnit(
  value: number,
  expanded: number,
  unit: ReportUnit,
  style: NumberStyle = {},
): string {
  return withUnit(plusMinus(measuredText(value, expanded, unit, style)), unit);
}

export interface Judged {
  readonly value: number;
  /** Expanded uncertainty. */
  readonly expanded: number;
  readonly interval: readonly [number, number] | null;
  readonly limit: number | null;
  readonly signed: boolean;
}

export interface JudgedText extends MeasuredText {
  readonly interval: readonly [string, string] | null;
  readonly limit: string | null;
}

/** A result as it is printed: its expanded uncertainty is k·u. */
export const resultText = (
  { value, u, interval, limit, signed }: Omit<Judged, 'expanded'> & { readonly u: number | null },
  k: number,
  unit: ReportUnit,
): JudgedText => judgedText({ value, expanded: k * (u ?? 0), interval, limit, signed }, unit);

/** What a verdict was made from, printed so that the printed figures lead to the same verdict. */
export function judgedText(judged: Judged, unit: ReportUnit): JudgedText {
  const own = ownDecimals(judged.expanded, unit);
  const extra = judged.limit === null ? 0 : extraDigits(judged, judged.limit, unit, own);
  const decimals = own + extra;
  const { mark } = unit;
  const style = { signed: judged.signed, mark };
  const show = (x: number) => numberText(unit.fromBase(x), decimals, style);
  const expanded = unit.fromBase(judged.expanded);
  return {
    value: show(judged.value),
    expanded:
      expanded === 0
        ? '0'
        : numberText(extra ? expanded : roundUncertainty(expanded).value, decimals, { mark }),
    interval: judged.interval && [show(judged.interval[0]), show(judged.interval[1])],
    limit:
      judged.limit === null
        ? null
        : numberText(
            unit.fromBase(judged.limit),
            limitDecimals(unit.fromBase(judged.limit), decimals, extra),
            { mark },
          ),
  };
}

/** Limits are exact, so they get the digits they need, at most four significant; more only where an order asks. */
function limitDecimals(limit: number, decimals: number, extra: number): number {
  const fourDigits = Math.max(0, 3 - splitDecimal(limit)[1]);
  return decimalsNeeded(limit, extra > 0 ? Math.max(fourDigits, decimals) : fourDigits);
}

/** How many digits more show each figure on the side of the limit where it lies. */
function extraDigits(judged: Judged, limit: number, unit: ReportUnit, own: number): number {
  const figures = [judged.value, ...(judged.interval ?? [])];
  const limits = judged.signed ? [limit, -limit] : [limit];
  const isShown = (extra: number) => {
    const at = limitDecimals(unit.fromBase(limit), own + extra, extra);
    return limits.every((bound) =>
      figures.every(
        (figure) =>
          Math.sign(roundTo(unit.fromBase(figure), own + extra) - roundTo(unit.fromBase(bound), at)) ===
          Math.sign(figure - bound),
      ),
    );
  };
  for (let extra = 0; extra <= MOST_EXTRA_DIGITS; extra++) if (isShown(extra)) return extra;
  return 0;
}

/** Digits after the decimal mark of a printed number. */
export const decimalsOf = (text: string): number => (text.split(/[.,]/)[1] ?? '').length;

/** "95 %", on one line. */
export const percentText = (number: string | number): string => `${number}${NO_BREAK_SPACE}%`;

/** A probability that is never rounded into certainty: "97 %", "99.4 %", "> 99.9 %". */
export function probabilityText(p: number, mark: DecimalMark = '.'): string {
  const percent = p * 100;
  if (percent > 99.9) return percentText(`>${NO_BREAK_SPACE}99${mark}9`);
  if (percent < 0.1) return percentText(`<${NO_BREAK_SPACE}0${mark}1`);
  const decimals = percent > 99 || percent < 1 ? 1 : 0;
  return percentText(numberText(percent, decimals, { mark }));
}

/** "95 %", "99.73 %" */
export const coverageText = (coverage: number, mark: DecimalMark = '.'): string =>
  percentText(trimmedText(coverage * 100, 2, { mark }));

/**
 * Coverage factor k for a normal distribution. At 0.95 the customary 2 (which covers 95.45 %); else the quantile,
 * taken up to the second decimal, so that the coverage is never less than said.
 * @see JCGM 100:2008, clause 6.3.3 and table G.1
 */
export function coverageFactor(coverage: number): number {
  if (!(coverage > 0 && coverage < 1))
    throw new RangeError(`coverage must lie between 0 and 1, not ${coverage}`);
  if (roundTo(coverage, 6) === 0.95) return 2;
  return Math.ceil(roundTo(normalQuantile((1 + coverage) / 2), 6) * 100) / 100;
}

/** Standard normal quantile for p ≥ 0.5, by bisection on the distribution function. */
function normalQuantile(p: number): number {
  let low = 0;
  let high = 40;
  while (high - low > 1e-9) {
    const middle = (low + high) / 2;
    if (upperTail(middle) > 1 - p) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** 1 − Φ(x) for x ≥ 0, Simpson's rule on the density: a report asks once, so plainness goes before speed. */
function upperTail(x: number): number {
  const end = x + 12; // what lies beyond is below 1e-33
  const n = 2000;
  const h = (end - x) / n;
  let sum = 0;
  for (let i = 0; i <= n; i++) {
    const t = x + i * h;
    sum += (i === 0 || i === n ? 1 : i % 2 ? 4 : 2) * Math.exp((-t * t) / 2);
  }
  return (sum * h) / 3 / Math.sqrt(2 * Math.PI);
}

/** Shortest text that reads back as the same number, never in exponent form: for data files. */
export function plainNumber(x: number): string {
  const text = String(x === 0 ? 0 : x);
  const match = /^(-?)(\d+)(?:\.(\d+))?e([+-]\d+)$/.exec(text);
  if (!match) return text;
  const [, sign, whole, fraction = '', exponent] = match;
  const digits = whole + fraction;
  const point = whole!.length + Number(exponent);
  if (point <= 0) return `${sign}0.${'0'.repeat(-point)}${digits}`;
  return `${sign}${digits.padEnd(point, '0')}`;
}

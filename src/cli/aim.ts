/**
 * `waysheet aim`: the set point that makes a beam run true to a rail from two places on it.
 *
 * The beam turns about the instrument's pivot. Along the beam, x from the pivot, a target on the rail reads y(x) = c + θ·x.
 * The near target at x = L1 reads n, the far one at x = L1 + L2 reads f; so θ = (f − n)/L2, and turning the beam by θ makes
 * both read n − θ·L1. Common practice, no source; the formula is plain geometry. Check value: near 9 in, travel 54 in, far
 * +0.010 in with the near one at zero give −0.00167 in, which a crew rounds to −0.002 in.
 */
import { sayAim as say } from './aim-words.js';
import {
  fromBase,
  fromUm,
  isKnownUnit,
  isLengthUnit,
  toBase,
  toUm,
  unitLabel,
  type LengthUnit,
  type SlopeUnit,
} from '../base/units/units.js';
import { readNumber } from '../survey/readings/number.js';
import { exitCodes, type ExitCode } from './exit-codes.js';
import type { Console } from './console.js';
import { tenTo } from '../base/statistics/power.js';

export interface Aim {
  /** From the pivot to the near place, µm; negative: the pivot is between the two places, or beyond the far one. */
  readonly nearUm: number;
  /** From the near place to the far one, µm, > 0. */
  readonly travelUm: number;
  /** What the far target reads, µm, signed as read. */
  readonly farUm: number;
  /** What the near target reads at the same time, µm; 0: it was brought to zero. */
  readonly nearReadsUm?: number;
  /** By how much the far target is to read more than the near one, µm: what two monuments read from the first set-up; 0: alike. */
  readonly differUm?: number;
}

/** What the near target is to read, µm, signed as read: then both targets read alike, or differ by what is wanted. */
export const setPointUm = ({ nearUm, travelUm, farUm, nearReadsUm = 0, differUm = 0 }: Aim): number =>
  plainZero(nearReadsUm - ((farUm - nearReadsUm - differUm) * nearUm) / travelUm);

/**
 * A level, or a target, that was turned end for end: its zero is the mean of both readings, and half of their difference is what
 * it is read against (reversal; common practice, no source). Set to read the mean, the plane is level.
 */
export const turnedTarget = (reads: number, turnedReads: number) => ({
  setPoint: plainZero((reads + turnedReads) / 2),
  off: plainZero((reads - turnedReads) / 2),
});

const plainZero = (value: number): number => (value === 0 ? 0 : value);

/**
 * Standard uncertainty of the set point, µm, from that of a reading: n − (f − n)·r with r = L1/L2, all read equally well. A wanted
 * difference is one of two more readings.
 * @see JCGM 100:2008, 5.1.2
 */
export const setPointU = ({ nearUm, travelUm, differUm }: Aim, readingU: number): number => {
  const r = nearUm / travelUm;
  return readingU * Math.hypot(1 + r, r, ...(differUm === undefined ? [] : [r, r]));
};

/** By how much the targets still differ if the near one is set wrong by `byUm`, µm: the beam is turned by byUm/L1 too far. */
export const leftByWrongSetting = ({ nearUm, travelUm }: Aim, byUm: number): number =>
  Math.abs((byUm * travelUm) / nearUm);

/**
 * Where the pivot is, from what a round did: the near target went from n to s, and the far one reads f2. Turning by Δθ moves
 * the near target by Δθ·L1, so L1 = (s − n)·L2 / ((f2 − s) − (f − n)), µm.
 *
 * @returns null: the beam was not turned.
 */
export function pivotUm(
  { travelUm, farUm, nearReadsUm = 0 }: Aim,
  then: { readonly nearUm: number; readonly farUm: number },
): number | null {
  const turned = then.farUm - then.nearUm - (farUm - nearReadsUm);
  return turned === 0 ? null : ((then.nearUm - nearReadsUm) * travelUm) / turned;
}

interface Length {
  /** µm; of a slope µm/m. */
  readonly um: number;
  readonly unit: LengthUnit | SlopeUnit;
  /** Decimals as written, for the answer to match. */
  readonly decimals: number;
}

/** '14in', '3/8 in', '14-3/8 in', '-0.3 mm': a number and its unit; null: it is no length. */
function parseLength(written: string, isSlopeToo: boolean): Length | null {
  const text = written.trim().replace(/^([+-]?\d+)-(?=\d+\/\d)/, '$1 ');
  const read = readNumber(text, { decimal: '.', grouped: false });
  if (!read.ok || read.unit === null || !(isSlopeToo ? isKnownUnit : isLengthUnit)(read.unit)) return null;
  return { um: toBase(read.value, read.unit), unit: read.unit, decimals: decimalsOf(text) };
}

/** Decimals of a number as written: 3 of '0.012in', 3 of '1.2e-2in', and of '1/64in', so that they show a tenth of it. */
function decimalsOf(text: string): number {
  const [, parts] = /\/(\d+)/.exec(text) ?? [];
  if (parts !== undefined) return Math.ceil(Math.log10(Math.max(1, Number(parts)))) + 1;
  const [, fraction = '', power = '0'] = /\d*(?:\.(\d*))?(?:e([+-]?\d+))?/i.exec(
    text.replace(/^[^\d.]*/, ''),
  )!;
  return Math.min(MOST_DECIMALS, Math.max(0, fraction.length - Number(power)));
}

const MOST_DECIMALS = 12;

/** Beyond these a length is asked about, µm: most of them are wrong units (common practice, no source). */
const USUAL = {
  near: 30e6,
  travel: 200e6,
  far: 25e3,
  'near-reads': 25e3,
  'then-near': 25e3,
  'then-far': 25e3,
  'first-near': 25e3,
  'first-far': 25e3,
  level: 25e3,
  turned: 25e3,
} as const;
const LEAST_TRAVEL_UM = 50e3;

/** One plane, or both at once. */
const KEYS = [
  'near',
  'travel',
  'far',
  'near-reads',
  'far-sideways',
  'near-reads-sideways',
  'then-near',
  'then-far',
  'first-near',
  'first-far',
  'level',
  'turned',
  'u',
] as const;
type Key = (typeof KEYS)[number];

export interface AimOptions extends Readonly<Partial<Record<Key, string | undefined>>> {
  /** true: calculates although a length is unusual. */
  readonly sure?: boolean;
  readonly json: boolean;
  readonly console: Console;
}

export function runAim({ sure = false, json, console, ...texts }: AimOptions): ExitCode {
  const { lengths, problems } = lengthsOf(texts, sure);
  if (problems.length > 0) {
    for (const problem of problems) console.err(`${problem}\n`);
    return exitCodes.usage;
  }
  const text = lengths.has('turned') ? turnedText(lengths, json) : setPointText(workedOut(lengths), json);
  console.out(`${text}\n`);
  return exitCodes.done;
}

interface Worked {
  readonly aim: Aim;
  readonly unit: LengthUnit;
  readonly decimals: number;
  /** The other plane. */
  readonly aside: Aim | null;
  /** null: no round was read. */
  readonly round: { readonly pivot: number | null; readonly next: number | null } | null;
  readonly u: number | undefined;
  readonly nearUnit: LengthUnit;
}

function workedOut(lengths: ReadonlyMap<Key, Length>): Worked {
  const um = (key: Key): number | undefined => lengths.get(key)?.um;
  const unitOf = (key: Key) => lengths.get(key)!.unit as LengthUnit;
  const [firstNear, firstFar, sideways, thenNear] = (
    ['first-near', 'first-far', 'far-sideways', 'then-near'] as const
  ).map(um);
  const plain: Aim = {
    ...{ nearUm: um('near')!, travelUm: um('travel')!, farUm: um('far')! },
    nearReadsUm: um('near-reads') ?? 0,
  };
  const aim = firstNear === undefined ? plain : { ...plain, differUm: firstFar! - firstNear };
  const aside =
    sideways === undefined
      ? null
      : { ...plain, farUm: sideways, nearReadsUm: um('near-reads-sideways') ?? 0 };
  const about = { aim, aside, unit: unitOf('far'), decimals: lengths.get('far')!.decimals };
  const known = { ...about, u: um('u'), nearUnit: unitOf('near') };
  if (thenNear === undefined) return { ...known, round: null };
  const then = { nearUm: thenNear, farUm: um('then-far')! };
  const pivot = pivotUm(aim, then);
  // After a round the beam is elsewhere: the next set point begins there, with the pivot as it showed.
  const next =
    pivot === null ? null : setPointUm({ ...aim, nearUm: pivot, farUm: then.farUm, nearReadsUm: thenNear });
  return { ...known, round: { pivot, next } };
}

function setPointText(worked: Worked, json: boolean): string {
  const { aim, aside, unit, decimals, round, u, nearUnit } = worked;
  const inUnit = (value: number) => fromUm(value, unit);
  if (json) {
    const own = (value: number) => ({ value: inUnit(value), unit });
    return JSON.stringify({
      setPoint: { ...own(setPointUm(aim)), ...(u !== undefined && { u: inUnit(setPointU(aim, u)) }) },
      ...(aside !== null && { sideways: own(setPointUm(aside)) }),
      ratio: aim.nearUm / aim.travelUm,
      ...(typeof round?.pivot === 'number' && { pivot: own(round.pivot), next: own(round.next!) }),
    });
  }
  const text = (value: number) => signed(inUnit(value), exactDecimals(inUnit(value), decimals), unit);
  const size = (value: number) => text(value).replace('+', '');
  const shown = (value: number) => signed(inUnit(value), shownDecimals(inUnit(value), decimals), unit);
  const read = (value: number) => signed(inUnit(value), decimals, unit);
  const line = (key: 'set' | 'set.sideways' | 'next', value: number) =>
    say(key, { exact: text(value), shown: shown(value) });
  const step = toUm(tenTo(-shownDecimals(inUnit(setPointUm(aim)), decimals)), unit);
  const isCarried = aim.differUm !== undefined;
  const roundLines = ({ pivot, next }: NonNullable<Worked['round']>) =>
    pivot === null
      ? [say('not-turned')]
      : [
          say('pivot', { pivot: pivotText(pivot, nearUnit), stated: pivotText(aim.nearUm, nearUnit) }),
          line('next', next!),
        ];
  return [
    line('set', setPointUm(aim)),
    ...(aside === null ? [] : [line('set.sideways', setPointUm(aside))]),
    say(isCarried ? 'formula.first' : 'formula', {
      near: read(aim.nearReadsUm ?? 0),
      far: read(aim.farUm),
      ratio: (aim.nearUm / aim.travelUm).toFixed(4),
      differ: read(aim.differUm ?? 0),
    }),
    say(isCarried ? 'sign.first' : aim.nearUm < 0 ? 'sign.between' : 'sign'),
    say('check'),
    ...(u === undefined ? [] : [say('u', { u: size(setPointU(aim, u)) })]),
    aim.nearUm === 0
      ? say('at-pivot')
      : say('residual', { step: size(step), left: size(leftByWrongSetting(aim, step)) }),
    ...(round === null ? [] : roundLines(round)),
  ].join('\n');
}

/** A level, or a target, turned end for end. */
function turnedText(lengths: ReadonlyMap<Key, Length>, json: boolean): string {
  const [level, turned, u] = (['level', 'turned', 'u'] as const).map((key) => lengths.get(key));
  const { unit, decimals } = level!;
  const own = (value: number) => fromBase(value, unit);
  const { setPoint, off } = turnedTarget(level!.um, turned!.um);
  const setU = u === undefined ? undefined : u.um / Math.SQRT2;
  if (json) {
    const value = { value: own(setPoint), unit, ...(setU !== undefined && { u: own(setU) }) };
    return JSON.stringify({ setPoint: value, off: { value: own(off), unit } });
  }
  const text = (value: number) => signed(own(value), exactDecimals(own(value), decimals), unit);
  const shown = signed(own(setPoint), shownDecimals(own(setPoint), decimals), unit);
  return [
    say('turned', { exact: text(setPoint), shown }),
    say('turned.formula', { off: text(off) }),
    say('turned.check'),
    ...(setU === undefined ? [] : [say('u', { u: text(setU).replace('+', '') })]),
  ].join('\n');
}

/** Both are needed. */
const PAIRS = [
  ['then-near', 'then-far'],
  ['first-near', 'first-far'],
  ['level', 'turned'],
] as const;

/** The lengths, and everything that is wrong with them. */
function lengthsOf(texts: Readonly<Partial<Record<Key, string | undefined>>>, isSure: boolean) {
  const lengths = new Map<Key, Length>();
  const problems: string[] = [];
  for (const key of KEYS) {
    const text = texts[key];
    if (text === undefined) continue;
    const isLevel = key === 'level' || key === 'turned' || (key === 'u' && texts.turned !== undefined);
    const length = parseLength(text, isLevel);
    if (length === null) problems.push(say('no-length', { key, text }));
    else lengths.set(key, length);
  }
  const travel = lengths.get('travel');
  if (travel !== undefined && travel.um <= 0) problems.push(say('travel'));
  for (const [one, other] of PAIRS)
    if (lengths.has(one) !== lengths.has(other)) problems.push(say('pair', { one, other }));
  const families = new Set(
    texts.turned === undefined ? [] : [...lengths.values()].map(({ unit }) => isLengthUnit(unit)),
  );
  if (families.size > 1) problems.push(say('families'));
  if (problems.length === 0 && !isSure) problems.push(...unusual(lengths, texts));
  return { lengths, problems };
}

const pivotText = (um: number, unit: LengthUnit): string =>
  `${Number(fromUm(um, unit).toPrecision(3))} ${unitLabel(unit)}`;

/** Unusual lengths are asked about, because most of them are wrong units. */
function unusual(
  lengths: ReadonlyMap<Key, Length>,
  texts: Readonly<Partial<Record<Key, unknown>>>,
): string[] {
  const found: string[] = [];
  for (const [key, { um, unit }] of lengths) {
    const most = USUAL[key === 'far-sideways' || key === 'near-reads-sideways' || key === 'u' ? 'far' : key];
    if (Math.abs(um) > most)
      found.push(
        say('unusual', {
          key,
          text: String(texts[key]),
          most: `${most / 1000} ${isLengthUnit(unit) ? 'mm' : 'mm/m'}`,
        }),
      );
    else if (key === 'travel' && um < LEAST_TRAVEL_UM)
      found.push(
        say('unusual-short', { key, text: String(texts[key]), least: `${LEAST_TRAVEL_UM / 1000} mm` }),
      );
  }
  return found;
}

/** As many decimals as the reading has, or as it takes for two digits: a set point is never shown as zero unless it is zero. */
const shownDecimals = (value: number, decimals: number): number =>
  value === 0 || Math.abs(value) >= tenTo(-decimals)
    ? decimals
    : Math.min(MOST_DECIMALS, 1 - Math.floor(Math.log10(Math.abs(value))));

/** Two more decimals than the reading has. */
const exactDecimals = (value: number, decimals: number): number =>
  Math.max(decimals + 2, shownDecimals(value, decimals));

function signed(value: number, decimals: number, unit: LengthUnit | SlopeUnit): string {
  // Half of the last decimal is rounded away from zero, also where the computer's number is a little less.
  const steps = Math.round(Number((Math.abs(value) * tenTo(decimals)).toPrecision(14)));
  const digits = (steps / tenTo(decimals)).toFixed(decimals);
  // A plain hyphen: what a terminal shows is searched for, and copied into other programs.
  const sign = Number(digits) === 0 ? '' : value < 0 ? '-' : '+';
  return `${sign}${digits} ${unitLabel(unit)}`;
}

/**
 * `waysheet aim`: the set point that makes a beam run true to a rail from two places on it.
 *
 * The beam turns about the instrument's pivot. Along the beam, x from the pivot, a target on the rail reads y(x) = c + θ·x.
 * The near target at x = L1 reads n, the far one at x = L1 + L2 reads f; so θ = (f − n)/L2, and turning the beam by θ makes
 * both read n − θ·L1. Common practice, no source; the formula is plain geometry. Check value: near 9 in, travel 54 in, far
 * +0.010 in with the near one at zero give −0.00167 in, which a crew rounds to −0.002 in.
 */
import { sayAim as say } from './aim-words.js';
import { fromUm, isLengthUnit, toUm, unitLabel, type LengthUnit } from '../base/units/units.js';
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
}

/** What the near target is to read, µm, signed as read: then both targets read alike. */
export const setPointUm = ({ nearUm, travelUm, farUm, nearReadsUm = 0 }: Aim): number =>
  plainZero(nearReadsUm - ((farUm - nearReadsUm) * nearUm) / travelUm);

const plainZero = (value: number): number => (value === 0 ? 0 : value);

/**
 * Standard uncertainty of the set point, µm, from that of a reading: n − (f − n)·r with r = L1/L2, both read equally well.
 * @see JCGM 100:2008, 5.1.2
 */
export const setPointU = ({ nearUm, travelUm }: Aim, readingU: number): number =>
  readingU * Math.hypot(1 + nearUm / travelUm, nearUm / travelUm);

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
  readonly um: number;
  readonly unit: LengthUnit;
  /** Decimals as written, for the answer to match. */
  readonly decimals: number;
}

/** '14in', '3/8 in', '-0.3 mm': a number and its unit; null: it is no length. */
function parseLength(text: string): Length | null {
  const read = readNumber(text.trim(), { decimal: '.', grouped: false });
  if (!read.ok || read.unit === null || !isLengthUnit(read.unit)) return null;
  return { um: toUm(read.value, read.unit), unit: read.unit, decimals: decimalsOf(text) };
}

/** Decimals of a number as written: 3 of '0.012in', 3 of '1.2e-2in'. */
function decimalsOf(text: string): number {
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
  'u',
] as const;
type Key = (typeof KEYS)[number];

export interface AimOptions extends Readonly<Partial<Record<Key, string | undefined>>> {
  readonly near: string;
  readonly travel: string;
  readonly far: string;
  /** Works it out although a length is unusual. */
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
  const um = (key: Key): number | undefined => lengths.get(key)?.um;
  const far = lengths.get('far')!;
  const aim: Aim = {
    nearUm: um('near')!,
    travelUm: um('travel')!,
    farUm: far.um,
    nearReadsUm: um('near-reads') ?? 0,
  };
  const sideways = um('far-sideways');
  const aside: Aim | null =
    sideways === undefined ? null : { ...aim, farUm: sideways, nearReadsUm: um('near-reads-sideways') ?? 0 };
  const thenNear = um('then-near');
  const pivot = thenNear === undefined ? null : pivotUm(aim, { nearUm: thenNear, farUm: um('then-far')! });
  const u = um('u');
  const own = (value: number) => ({ value: fromUm(value, far.unit), unit: far.unit });
  // After a round the beam is elsewhere: the next set point begins there, with the pivot as it showed.
  const next =
    pivot === null
      ? null
      : setPointUm({ ...aim, nearUm: pivot, farUm: um('then-far')!, nearReadsUm: thenNear! });
  if (json) {
    console.out(
      `${JSON.stringify({
        setPoint: {
          ...own(setPointUm(aim)),
          ...(u !== undefined && { u: fromUm(setPointU(aim, u), far.unit) }),
        },
        ...(aside !== null && { sideways: own(setPointUm(aside)) }),
        ratio: aim.nearUm / aim.travelUm,
        ...(pivot !== null && { pivot: own(pivot), next: own(next!) }),
      })}\n`,
    );
    return exitCodes.done;
  }
  const { decimals } = far;
  const line = (key: 'set' | 'set.sideways' | 'next', value: number) =>
    say(key, {
      exact: signed(fromUm(value, far.unit), decimals + 2, far.unit),
      shown: signed(fromUm(value, far.unit), shownDecimals(fromUm(value, far.unit), decimals), far.unit),
    });
  const step = toUm(tenTo(-shownDecimals(fromUm(setPointUm(aim), far.unit), decimals)), far.unit);
  const plainText = (value: number, places: number) => signed(fromUm(value, far.unit), places, far.unit);
  const lines = [
    line('set', setPointUm(aim)),
    ...(aside === null ? [] : [line('set.sideways', setPointUm(aside))]),
    say('formula', {
      near: plainText(aim.nearReadsUm ?? 0, decimals),
      far: plainText(far.um, decimals),
      ratio: (aim.nearUm / aim.travelUm).toFixed(4),
    }),
    say(aim.nearUm < 0 ? 'sign.between' : 'sign'),
    ...(u === undefined
      ? []
      : [say('u', { u: plainText(setPointU(aim, u), decimals + 2).replace('+', '') })]),
    ...(aim.nearUm === 0
      ? [say('at-pivot')]
      : [
          say('residual', {
            step: plainText(step, decimals + 2).replace('+', ''),
            left: plainText(leftByWrongSetting(aim, step), decimals + 2).replace('+', ''),
          }),
        ]),
    ...(thenNear === undefined
      ? []
      : pivot === null
        ? [say('not-turned')]
        : [
            say('pivot', {
              pivot: pivotText(pivot, lengths.get('near')!.unit),
              stated: pivotText(aim.nearUm, lengths.get('near')!.unit),
            }),
            line('next', next!),
          ]),
  ];
  console.out(`${lines.join('\n')}\n`);
  return exitCodes.done;
}

/** The lengths, and everything that is wrong with them. */
function lengthsOf(texts: Readonly<Partial<Record<Key, string | undefined>>>, isSure: boolean) {
  const lengths = new Map<Key, Length>();
  const problems: string[] = [];
  for (const key of KEYS) {
    const text = texts[key];
    if (text === undefined) continue;
    const length = parseLength(text);
    if (length === null) problems.push(say('no-length', { key, text }));
    else lengths.set(key, length);
  }
  const travel = lengths.get('travel');
  if (travel !== undefined && travel.um <= 0) problems.push(say('travel'));
  if (lengths.has('then-near') !== lengths.has('then-far')) problems.push(say('then'));
  if (problems.length === 0 && !isSure) problems.push(...unusual(lengths, texts));
  return { lengths, problems };
}

const pivotText = (um: number, unit: LengthUnit): string =>
  `${Number(fromUm(um, unit).toPrecision(3))} ${unitLabel(unit)}`;

/** What is far from usual is asked about, for it is a wrong unit as a rule. */
function unusual(
  lengths: ReadonlyMap<Key, Length>,
  texts: Readonly<Partial<Record<Key, unknown>>>,
): string[] {
  const found: string[] = [];
  for (const [key, { um }] of lengths) {
    const most = USUAL[key === 'far-sideways' || key === 'near-reads-sideways' || key === 'u' ? 'far' : key];
    if (Math.abs(um) > most)
      found.push(say('unusual', { key, text: String(texts[key]), most: `${most / 1000} mm` }));
    else if (key === 'travel' && um < LEAST_TRAVEL_UM)
      found.push(
        say('unusual-short', { key, text: String(texts[key]), least: `${LEAST_TRAVEL_UM / 1000} mm` }),
      );
  }
  return found;
}

/** As many decimals as the reading has, or as it takes for two digits: a set point is never shown as zero unless it is. */
const shownDecimals = (value: number, decimals: number): number =>
  value === 0 || Math.abs(value) >= tenTo(-decimals)
    ? decimals
    : Math.min(MOST_DECIMALS, 1 - Math.floor(Math.log10(Math.abs(value))));

function signed(value: number, decimals: number, unit: LengthUnit): string {
  const digits = Math.abs(value).toFixed(decimals);
  // A plain hyphen: what a terminal shows is searched for, and copied into other programs.
  const sign = Number(digits) === 0 ? '' : value < 0 ? '-' : '+';
  return `${sign}${digits} ${unitLabel(unit)}`;
}

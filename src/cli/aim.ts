/**
 * `waysheet aim`: the set point that makes a beam run true to a rail from two places on it. The near target is
 * brought to zero; the far target then reads `far`. Turning the beam about the instrument's pivot until the near
 * target reads the set point makes both read alike.
 *
 * Common practice, no source: set point = −far · near / travel. Check value: near 9 in, travel 54 in, far
 * +0.010 in give −0.00167 in, which a crew rounds to −0.002 in.
 */
import { fromUm, isLengthUnit, toUm, unitLabel, type LengthUnit } from '../base/units/units.js';
import { readNumber } from '../survey/readings/number.js';
import { exitCodes, type ExitCode } from './exit-codes.js';
import type { Console } from './console.js';

export interface Aim {
  /** How far the near place lies beyond the pivot, and the travel from the near to the far place, µm. */
  readonly nearUm: number;
  readonly travelUm: number;
  /** What the far target reads with the near one at zero, µm, signed as read. */
  readonly farUm: number;
}

/** What the near target is to read, µm, signed as read. */
export const setPointUm = ({ nearUm, travelUm, farUm }: Aim): number =>
  farUm === 0 ? 0 : (-farUm * nearUm) / travelUm;

interface Length {
  readonly um: number;
  readonly unit: LengthUnit;
  /** Decimals as written, for the answer to match. */
  readonly decimals: number;
}

/** '14in', '0.012 in', '-0.3 mm': a number and its unit; null where it is not. */
function parseLength(text: string): Length | null {
  const read = readNumber(text.trim(), { decimal: '.', grouped: false });
  if (!read.ok || read.unit === null || !isLengthUnit(read.unit)) return null;
  return {
    um: toUm(read.value, read.unit),
    unit: read.unit,
    decimals: decimalsOf(text),
  };
}

/** Decimals of a number as written: 3 of '0.012in', 3 of '1.2e-2in'. */
function decimalsOf(text: string): number {
  const [, fraction = '', power = '0'] = /\d*(?:\.(\d*))?(?:e([+-]?\d+))?/i.exec(
    text.replace(/^[^\d.]*/, ''),
  )!;
  return Math.min(MOST_DECIMALS, Math.max(0, fraction.length - Number(power)));
}

const MOST_DECIMALS = 12;

export interface AimOptions {
  readonly near: string;
  readonly travel: string;
  readonly far: string;
  readonly json: boolean;
  readonly console: Console;
}

export function runAim({ near, travel, far, json, console }: AimOptions): ExitCode {
  const given = Object.entries({ near, travel, far }).map(([name, text]) => ({
    name,
    text,
    length: parseLength(text),
  }));
  const wrong = given.filter(({ length }) => length === null);
  for (const { name, text } of wrong) {
    console.err(
      `--${name}: '${text}' is not a length with its unit; wanted a number and one of m, mm, um, in, ft, thou, such as 14in\n`,
    );
  }
  if (wrong.length > 0) return exitCodes.usage;
  const [L1, L2, f] = given.map(({ length }) => length!) as [Length, Length, Length];
  if (L1.um < 0 || L2.um <= 0) {
    console.err('--near may not be negative and --travel must be more than nothing: both are distances\n');
    return exitCodes.usage;
  }
  const set = setPointUm({ nearUm: L1.um, travelUm: L2.um, farUm: f.um });
  const ratio = L1.um / L2.um;
  if (json) {
    console.out(`${JSON.stringify({ setPoint: { value: fromUm(set, f.unit), unit: f.unit }, ratio })}\n`);
    return exitCodes.done;
  }
  const text = (um: number, decimals: number) => signed(fromUm(um, f.unit), decimals, unitLabel(f.unit));
  console.out(
    [
      `set point: near target to read ${text(set, f.decimals + 2)} (as the display reads: ${text(set, f.decimals)})`,
      `ratio near/travel ${ratio.toFixed(4)}; the far target read ${text(f.um, f.decimals)} with the near one at zero`,
      `sign: the same way as the far reading was read. Turn the beam about the pivot until the near target reads the set point;`,
      `both targets then read alike. Set the near target to zero again, read the far one, and repeat until it reads zero.`,
      '',
    ].join('\n'),
  );
  return exitCodes.done;
}

function signed(value: number, decimals: number, unit: string): string {
  const digits = Math.abs(value).toFixed(decimals);
  // A plain hyphen: what a terminal shows is searched for, and copied into other programs.
  const sign = Number(digits) === 0 ? '' : value < 0 ? '-' : '+';
  return `${sign}${digits} ${unit}`;
}

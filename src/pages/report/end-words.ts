/** What an end of an interval is worked out of, in figures. */
import type { CharacteristicResult } from '../../results/results-schema.js';

type End = NonNullable<CharacteristicResult['ends']>['lower'];

/** "16.8 + 1.96 × 2.81 = 22.31"; where all that count do so alike, "16.8 − 4.2 = 12.6". */
export function endWords({ reads, factor, u }: End, number: (v: number) => string): string {
  const total = number(reads + factor * u);
  if (factor * u === 0) return number(reads);
  const sign = factor < 0 ? '\u2212' : '+';
  const product =
    Math.abs(u - 1) < 1e-9 ? number(Math.abs(factor)) : `${number(Math.abs(factor))} × ${number(u)}`;
  return `${number(reads)} ${sign} ${product} = ${total}`;
}

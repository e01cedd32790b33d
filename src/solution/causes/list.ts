/** All hypotheses about a survey. To add a kind, add a file in `kinds` and a line here. */
import type { Hypothesis } from './hypothesis.js';
import { constants, monuments, rods } from './kinds/constants.js';
import { headings, levels, levelZeros, squares, tilts, turns } from './kinds/set-ups.js';
import { signs, units } from './kinds/signs-and-units.js';
import { singles, statedPriors } from './kinds/singles.js';
import { columnSwaps, monumentSwaps, orders, railSwaps, shifts, targetSwaps } from './kinds/swaps.js';
import { drifts, warmings } from './kinds/times.js';
import { airs, cones, scatters } from './kinds/unstated.js';
import type { SurveyRows } from './survey-rows.js';

const kinds: readonly ((survey: SurveyRows) => Hypothesis[])[] = [
  signs,
  units,
  constants,
  rods,
  monuments,
  tilts,
  turns,
  levels,
  levelZeros,
  headings,
  squares,
  drifts,
  columnSwaps,
  railSwaps,
  monumentSwaps,
  targetSwaps,
  orders,
  shifts,
  singles,
  statedPriors,
  scatters,
  warmings,
  airs,
  cones,
];

/** The hypotheses that a survey can have. If two of one kind make the same change, only the first is kept. */
export function listHypotheses(survey: SurveyRows): Hypothesis[] {
  const seen = new Set<string>();
  return kinds
    .flatMap((kind) => kind(survey))
    .filter((h) => {
      const key = keyOf(h);
      if (key === null) return true;
      if (seen.has(key)) return false;
      seen.add(key);
      return true;
    });
}

/** Identity of the change; null: no other hypothesis of its kind can be the same. */
function keyOf({ kind, change }: Hypothesis): string | null {
  if (change.kind === 'linear' && change.parameters.length > 1) return null;
  const column =
    change.kind === 'linear' ? change.parameters[0]!.column : change.kind === 'values' ? change.column : null;
  if (column === null) return null;
  const { rows, values } = column;
  // Numbers in the order of the rows; two changes with opposite sign are the same.
  let hash = rows.length;
  for (let k = 0; k < rows.length; k++) hash += (rows[k]! + 1) * (rows[k]! + 7) * Math.abs(values[k]!);
  return `${kind} ${rows.length} ${hash}`;
}

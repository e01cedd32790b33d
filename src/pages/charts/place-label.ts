/** Finding a label a place where it covers nothing that was drawn, or as little as can be. */
import { boxOf, overlaps, type Box, type TextRow } from './rows.js';

/** Something that a label should not stand on; a line is a row of such places. */
export interface Drawn {
  readonly px: number;
  readonly py: number;
  /** How bad it is to cover it. */
  readonly weight: number;
}

export interface Candidate {
  readonly label: TextRow;
  /** For standing farther off or aside. */
  readonly cost: number;
}

/**
 * @param taken Boxes of other labels, never to be touched.
 * @param room Where a label must stay.
 * @param mostCost A dearer place is none.
 */
export function placeLabel(
  candidates: readonly Candidate[],
  taken: readonly Box[],
  drawn: readonly Drawn[],
  room: Box,
  mostCost = Infinity,
): TextRow | null {
  let best: TextRow | null = null;
  let bestCost = mostCost;
  for (const { label, cost } of candidates) {
    const box = boxOf(label);
    const isInside =
      box.left >= room.left && box.right <= room.right && box.top >= room.top && box.bottom <= room.bottom;
    if (!isInside || cost >= bestCost || taken.some((other) => overlaps(box, other))) continue;
    let total = cost;
    for (const { px, py, weight } of drawn) {
      if (px > box.left - 2 && px < box.right + 2 && py > box.top - 2 && py < box.bottom + 2) total += weight;
    }
    if (total < bestCost) [best, bestCost] = [label, total];
  }
  return best;
}

/** Places some 6 px apart along a straight line, ends left out. */
export function drawnLine(
  from: readonly [number, number],
  to: readonly [number, number],
  weight: number,
): Drawn[] {
  const steps = Math.floor(Math.hypot(to[0] - from[0], to[1] - from[1]) / 6);
  return Array.from({ length: Math.max(0, steps - 1) }, (_, i) => {
    const t = (i + 1) / steps;
    return { px: from[0] + t * (to[0] - from[0]), py: from[1] + t * (to[1] - from[1]), weight };
  });
}

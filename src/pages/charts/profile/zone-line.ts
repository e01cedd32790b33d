/** Where a tolerance zone runs: along the reference line that its characteristic names. */
import { endPointLine, rangeAbout, type Line } from '../../../base/geometry/line.js';
import { minimumZoneLine } from '../../../base/geometry/minimum-zone-line.js';
import type { ReferenceName } from '../../../survey/job/job-schema.js';

export type { Line };

export const valueOn = (line: Line, x: number): number => line.intercept + line.slope * x;
export const levelLine: Line = { intercept: 0, slope: 0 };

export interface Centred {
  /** The reference line itself. */
  readonly line: Line;
  /** Midway between the least and the greatest distance from it. */
  readonly middle: number;
}

/**
 * @param x Positions, ascending, two or more.
 * @param d Deviations from the profile's own least-squares line, which is level for that reason.
 */
export function centredOn(x: Float64Array, d: Float64Array, reference: ReferenceName): Centred {
  const line = lineOf(x, d, reference);
  const { high, low } = rangeAbout(line, x, d);
  return { line, middle: (d[high]! - valueOn(line, x[high]!) + d[low]! - valueOn(line, x[low]!)) / 2 };
}

function lineOf(x: Float64Array, d: Float64Array, reference: ReferenceName): Line {
  switch (reference) {
    case 'least-squares':
      return levelLine;
    case 'end-points':
      return endPointLine(x, d);
    case 'minimum-zone':
      return minimumZoneLine(x, d).line;
  }
}

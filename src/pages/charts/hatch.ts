/** Hatching as one path of plain lines: it prints the same everywhere, which fill patterns do not. */
import { round } from './rows.js';

export type Hatch = 'none' | 'rising' | 'falling' | 'crossed' | 'level';

/** Lines over a rectangle of the given size, some 4 px apart. */
export function hatchPath(hatch: Hatch, width: number, height: number): string {
  let path = '';
  if (hatch === 'level') {
    for (let y = 2.5; y < height; y += 3) path += `M0,${y}H${round(width)}`;
    return path;
  }
  if (hatch === 'none') return '';
  if (hatch === 'crossed') return hatchPath('rising', width, height) + hatchPath('falling', width, height);
  for (let c = 4; c < width + height; c += 4.5) {
    // The line x + y = c within the rectangle, or its mirror image.
    const [x1, x2] = [Math.max(0, c - height), Math.min(width, c)];
    const [y1, y2] = hatch === 'rising' ? [c - x1, c - x2] : [height - c + x1, height - c + x2];
    path += `M${round(x1)},${round(y1)}L${round(x2)},${round(y2)}`;
  }
  return path;
}

/** Moves a path of absolute M, L and H. */
export const shifted = (path: string, dx: number, dy: number): string =>
  path
    .replace(
      /([ML])(-?[\d.]+),(-?[\d.]+)/g,
      (_, command: string, x: string, y: string) => `${command}${Number(x) + dx},${Number(y) + dy}`,
    )
    .replace(/H(-?[\d.]+)/g, (_, x: string) => `H${Number(x) + dx}`);

/**
 * Contrast ratio of a colour on white paper, 1 to 21.
 *
 * @param colour `#rrggbb`.
 * @see WCAG 2.2, "contrast ratio" and "relative luminance".
 */
import { powerOf } from '../../base/statistics/power.js';
export function contrastOnWhite(colour: string): number {
  const [r, g, b] = [1, 3, 5].map((at) => {
    const c = parseInt(colour.slice(at, at + 2), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : powerOf((c + 0.055) / 1.055, 2.4);
  }) as [number, number, number];
  return 1.05 / (0.2126 * r + 0.7152 * g + 0.0722 * b + 0.05);
}

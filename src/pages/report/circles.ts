/** Circles of a picture, as they are printed. */

/** A circle about the origin, as vega writes it: two arcs. */
const CIRCLE = / d="M([\d.]+),0A\1,\1,0,1,1,-\1,0A\1,\1,0,1,1,\1,0"/g;
/** Length of the handle of a cubic curve for a quarter of a circle, in radii: nowhere farther from it than 0.03 %. */
const QUARTER = (4 / 3) * (Math.SQRT2 - 1);

/** Four curves: a browser that prints arcs makes sixteen of them, and a picture of readings has hundreds of circles. */
export const circlesAsCurves = (svg: string): string =>
  svg.replace(CIRCLE, (_, radius: string) => {
    const r = Math.round(100 * Number(radius)) / 100;
    const k = Math.round(100 * QUARTER * r) / 100;
    const m = Math.round(100 * (r - k)) / 100;
    return ` d="M${r},0c0,${k},-${m},${r},-${r},${r}s-${r},-${m},-${r},-${r}s${m},-${r},${r},-${r}s${r},${m},${r},${r}"`;
  });

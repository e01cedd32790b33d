/** Circles of a picture, as they are printed. */
import { expect, test } from 'vitest';
import { circlesAsCurves } from '../../../src/pages/report/circles.js';

type Point = readonly [number, number];

/** Points along the cubic curves of a path that begins with M, then c, then s, all relative. */
function pointsAlong(path: string): Point[] {
  const numbers = (text: string) => (text.match(/-?[\d.]+/g) ?? []).map(Number);
  const [start, ...pieces] = path.match(/[Mcs][^Mcs]*/g)!;
  let at = numbers(start!) as unknown as Point;
  let mirrored: Point = [0, 0];
  return pieces.flatMap((piece) => {
    const given = numbers(piece);
    const [a, b, c] = (piece.startsWith('c')
      ? [given.slice(0, 2), given.slice(2, 4), given.slice(4)]
      : [mirrored, given.slice(0, 2), given.slice(2)]) as unknown as [Point, Point, Point];
    const along = Array.from({ length: 20 }, (_, i): Point => {
      const t = (i + 1) / 20;
      const of = (k: 0 | 1) =>
        at[k] + 3 * (1 - t) ** 2 * t * a[k] + 3 * (1 - t) * t * t * b[k] + t * t * t * c[k];
      return [of(0), of(1)];
    });
    mirrored = [c[0] - b[0], c[1] - b[1]];
    at = [at[0] + c[0], at[1] + c[1]];
    return along;
  });
}

test.each([0.8, 1.73, 3.09, 12])(
  'four curves are the circle of radius %d that the arcs draw, to 0.01 px',
  (r) => {
    const drawn = circlesAsCurves(
      `<path d="M${r},0A${r},${r},0,1,1,-${r},0A${r},${r},0,1,1,${r},0" fill="#123456"/>`,
    );
    const path = /^<path d="([^"A]*)" fill="#123456"\/>$/.exec(drawn)![1]!;
    const points = pointsAlong(path);
    expect(points).toHaveLength(80);
    for (const [x, y] of points) expect(Math.abs(Math.hypot(x, y) - r)).toBeLessThan(0.01);
    // All around, and closed.
    expect(
      new Set(points.map(([x, y]) => Math.round((8 * Math.atan2(y, x)) / Math.PI))).size,
    ).toBeGreaterThanOrEqual(16);
    expect(Math.hypot(points.at(-1)![0] - r, points.at(-1)![1])).toBeLessThan(1e-9);
  },
);

test('other paths stay as they are', () => {
  for (const path of [
    '<path d="M1,0A1,1,0,1,1,-1,0"/>',
    '<path d="M0,0L3,4"/>',
    '<path d="M2,0A2,2,0,1,1,-2,0A2,3,0,1,1,2,0"/>',
  ])
    expect(circlesAsCurves(path)).toBe(path);
});

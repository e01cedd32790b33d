/** Least-squares line and plane of a few points, worked out by hand from the normal equations. */
import { expect, test } from 'vitest';
import { leastSquaresLine, lineBasis } from '../../../src/base/geometry/line.js';
import { leastSquaresPlane, planeBasis } from '../../../src/base/geometry/plane.js';

test('of four stations, the line has the slope and the height of the normal equations', () => {
  // Mean place 1.5 m, mean deviation 2.5 µm. Products: 1.5·2.5 + 0.5·0.5 + 0.5·0.5 + 1.5·2.5 = 8; squares: 5; slope 1.6 µm/m.
  const line = leastSquaresLine(lineBasis(Float64Array.of(0, 1, 2, 3)), Float64Array.of(0, 2, 3, 5));
  expect(line.slope).toBeCloseTo(1.6, 12);
  expect(line.intercept).toBeCloseTo(0.1, 12);
});

test('a plane that was put in comes out, also where the points lean along and across at once', () => {
  // z = 7 + 3x − 2y at points whose x and y are correlated, so both mixed products count.
  const [x, y] = [Float64Array.of(0, 1, 2, 3, 5), Float64Array.of(0, 2, 1, 4, 3)];
  const z = x.map((along, i) => 7 + 3 * along - 2 * y[i]!);
  const plane = leastSquaresPlane(planeBasis(x, y)!, z);
  expect(plane.a).toBeCloseTo(3, 12);
  expect(plane.b).toBeCloseTo(-2, 12);
  expect(plane.c).toBeCloseTo(7, 12);
});

/** Errors of a profile after a linear change: their covariance is M·C·Mᵀ (JCGM 102:2011, 6.2.1.3). */
import { expect, test } from 'vitest';
import { errorsOf, mapped, uOfDifference } from '../../../src/solution/verdict/errors.js';
import { seeded } from '../../support/jobs.js';

test('each element of the covariance after the mean was taken out', () => {
  const [n, next] = [5, seeded(3)];
  const root = Array.from({ length: n }, () => Array.from({ length: n }, () => next() - 0.5));
  const product = (a: number[][], b: number[][]) =>
    a.map((row) => b[0]!.map((_, j) => row.reduce((sum, v, k) => sum + v * b[k]![j]!, 0)));
  const turned = (a: number[][]) => a[0]!.map((_, j) => a.map((row) => row[j]!));
  const covariance = product(root, turned(root));
  const centring = Array.from({ length: n }, (_, i) =>
    Array.from({ length: n }, (_x, j) => (i === j ? 1 : 0) - 1 / n),
  );
  const wanted = product(product(centring, covariance), turned(centring));

  const draws = Float64Array.from({ length: 2 * n }, next);
  const centred = mapped(errorsOf(draws, n, Float64Array.from(covariance.flat())), (profile) => {
    const mean = profile.reduce((sum, v) => sum + v / n, 0);
    profile.forEach((v, i) => (profile[i] = v - mean));
  });
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) {
      expect(centred.covariance(i, j), `${i} ${j}`).toBeCloseTo(wanted[i]![j]!, 12);
      expect(uOfDifference(centred, i, j) ** 2).toBeCloseTo(
        Math.max(0, wanted[i]![i]! + wanted[j]![j]! - 2 * wanted[i]![j]!),
        12,
      );
    }
  for (const draw of [centred.draws.subarray(0, n), centred.draws.subarray(n)])
    expect(draw.reduce((sum, v) => sum + v, 0)).toBeCloseTo(0, 12);
});

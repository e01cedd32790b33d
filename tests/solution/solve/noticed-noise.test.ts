import { expect, test } from 'vitest';
import { adjust, noticedNoise } from '../../../src/solution/solve/adjustment.js';
import { buildNetwork } from '../../../src/solution/solve/network.js';
import { normal, seeded } from '../../support/jobs.js';
import { longSurvey } from '../../support/long-survey.js';

/** Critical values of chi-square: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.4 (digits from memory). */
test.each([
  [1, 6.635, 0.00393],
  [3, 11.345, 0.352],
  [10, 23.209, 3.94],
  [30, 50.892, 18.493],
  [100, 135.807, 77.929],
])(
  'redundancy %i: the root of the upper 1 %% point over the lower 5 %% point',
  (redundancy, upper, lower) => {
    expect(noticedNoise(redundancy) / Math.sqrt(upper / lower)).toBeCloseTo(1, 2);
  },
);

test('surveys that are noisier by as much are noticed 95 times in 100', () => {
  const { job, readings } = longSurvey(5, 2);
  const quiet = adjust(buildNetwork(job, readings));
  const times = noticedNoise(quiet.redundancy);
  const next = seeded(5);
  const surveys = 1000;
  let noticed = 0;
  const { network } = quiet;
  for (let k = 0; k < surveys; k++) {
    const observed = Float64Array.from(network.sigma, (sigma) => times * sigma * normal(next));
    if (adjust({ ...network, observed }).scale > 1) noticed++;
  }
  // Standard deviation 0.007.
  expect(Math.abs(noticed / surveys - 0.95)).toBeLessThan(0.025);
});

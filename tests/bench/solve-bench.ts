/**
 * `npm run bench`: what the solution costs. Ratios within one run, no absolute promises: solve time against the
 * number of stations over three decades with the fitted exponent, and against a dense general-purpose solution.
 */
import { Matrix, QrDecomposition } from 'ml-matrix';
import { uncertainties } from '../../src/solution/characteristics/linear-family.js';
import { differences, railProfile, type RailProfile } from '../../src/solution/characteristics/profiles.js';
import type { Rail } from '../../src/survey/job/job.js';
import { adjust, rowOf } from '../../src/solution/solve/adjustment.js';
import { buildNetwork, type Network } from '../../src/solution/solve/network.js';
import { longSlopeSurvey, longSurvey } from '../support/long-survey.js';

/** Least of several runs, ms: what the machine can do, with the least of what else it did. */
function time(run: () => unknown, runs: number): number {
  let least = Infinity;
  for (let k = 0; k < runs; k++) {
    const start = performance.now();
    run();
    least = Math.min(least, performance.now() - start);
  }
  return least;
}

/** Least-squares slope of log y on log x. */
function exponent(x: readonly number[], y: readonly number[]): number {
  const [lx, ly] = [x.map(Math.log), y.map(Math.log)];
  const mean = (v: readonly number[]) => v.reduce((a, b) => a + b, 0) / v.length;
  const [mx, my] = [mean(lx), mean(ly)];
  return lx.reduce((s, v, i) => s + (v - mx) * (ly[i]! - my), 0) / lx.reduce((s, v) => s + (v - mx) ** 2, 0);
}

/** The same equations as a dense matrix, free motions held by one extra row each, solved by a library's QR. */
function solveDensely(network: Network): Matrix {
  const adjustment = adjust(network);
  const held = adjustment.freeMotions.length;
  const rows = network.observed.length + held;
  const a = Matrix.zeros(rows, network.unknowns.length);
  const b = Matrix.zeros(rows, 1);
  for (let i = 0; i < network.observed.length; i++) {
    const row = rowOf(network, i);
    for (let k = 0; k < row.index.length; k++) a.set(i, row.index[k]!, row.weight[k]! / network.sigma[i]!);
    b.set(i, 0, network.observed[i]! / network.sigma[i]!);
  }
  adjustment.freeMotions.forEach((motion, k) =>
    motion.forEach((v, j) => a.set(network.observed.length + k, j, v)),
  );
  return new QrDecomposition(a).solve(b);
}

const sizes = [10, 30, 100, 300, 1000, 3000, 10_000];
console.log('Solution with u for every unknown, two rails, 4 passes, two set-ups carried over\n');
console.log('stations a rail   readings   unknowns   build ms   solve ms   us a reading');
const times: number[] = [];
for (const stations of sizes) {
  const { job, readings } = longSurvey(stations, 4);
  const runs = stations <= 300 ? 7 : 3;
  const build = time(() => buildNetwork(job, readings), runs);
  const network = buildNetwork(job, readings);
  const solve = time(() => adjust(network), runs);
  times.push(build + solve);
  const cells = [
    stations,
    readings.length,
    network.unknowns.length,
    build.toFixed(1),
    solve.toFixed(1),
    ((1000 * (build + solve)) / readings.length).toFixed(1),
  ];
  console.log(cells.map((c, k) => String(c).padStart([15, 10, 10, 10, 10, 14][k]!)).join(' '));
}
const large = sizes.map((s, i) => ({ s, t: times[i]! })).filter(({ s }) => s >= 100);
console.log(
  `\nfitted exponent of time against stations, 10 to 10 000: ${exponent(sizes, times).toFixed(2)}; from 100 on: ${exponent(
    large.map((l) => l.s),
    large.map((l) => l.t),
  ).toFixed(2)}`,
);

console.log(
  '\nTwo rails stepped with level and autocollimator, u of every height of one rail over the other too\n',
);
console.log('stations a rail   readings   solve ms');
const steps: number[] = [];
const stepped = [100, 300, 1000, 3000, 10_000];
for (const stations of stepped) {
  const { job, readings } = longSlopeSurvey(stations);
  const [datum, other] = job.rails;
  const ms = time(() => {
    const adjustment = adjust(buildNetwork(job, readings));
    const heightsOf = (of: Rail): RailProfile => railProfile(adjustment.network, of, 'vertical')!;
    uncertainties(differences(heightsOf(other!), heightsOf(datum!))!, adjustment);
  }, 3);
  steps.push(ms);
  console.log(
    [stations, readings.length, ms.toFixed(1)].map((c, k) => String(c).padStart([15, 10, 10][k]!)).join(' '),
  );
}
console.log(`\nfitted exponent, 100 to 10 000: ${exponent(stepped, steps).toFixed(2)}`);

console.log('\nAgainst a dense QR of the same equations (ml-matrix), 2 passes\n');
console.log('stations a rail   dense ms   here ms   ratio');
for (const stations of [10, 20, 40, 80]) {
  const { job, readings } = longSurvey(stations, 2);
  const network = buildNetwork(job, readings);
  const here = time(() => adjust(network), 5);
  const dense = time(() => solveDensely(network), 2);
  console.log(
    [stations, dense.toFixed(0), here.toFixed(2), (dense / here).toFixed(0)]
      .map((c, k) => String(c).padStart([15, 10, 9, 7][k]!))
      .join(' '),
  );
}

const { job, readings } = longSurvey(10_000, 10);
const start = performance.now();
const adjustment = adjust(buildNetwork(job, readings));
console.log(
  `\n2 rails × 10 000 stations × 10 passes: ${readings.length} readings, rank ${adjustment.rank}, ${((performance.now() - start) / 1000).toFixed(1)} s, resident ${(process.memoryUsage().rss / 2 ** 20).toFixed(0)} MiB`,
);

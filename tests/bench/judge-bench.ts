/**
 * `npm run bench -- judge`: what judging a phase costs, all characteristics with their intervals, as a multiple of what
 * solving the same phase from its readings costs in the same run.
 */
import { Answers } from '../../src/solution/characteristics/answer.js';
import { askAll } from '../../src/solution/characteristics/ask.js';
import type { Job } from '../../src/survey/job/job.js';
import { adjustPhase } from '../../src/results/adjusted-phase.js';
import { phaseSection } from '../../src/results/phase-section.js';
import { adjust } from '../../src/solution/solve/adjustment.js';
import { buildNetwork } from '../../src/solution/solve/network.js';
import { localTolerance } from '../support/jobs.js';
import { longSurvey, statingEffects } from '../support/long-survey.js';

console.log('Judging a phase: 2 rails, direction carried over, all characteristics and local straightness\n');
console.log('stations a rail   solve ms   judge ms   ratio');
for (const [stations, runs] of [
  [11, 12],
  [41, 12],
  [200, 3],
  [10_000, 1],
] as const) {
  const { job, readings } = longSurvey(stations, 2);
  const judged: Job = {
    ...job,
    toleranceSet: {
      ...job.toleranceSet,
      tolerances: [localTolerance('vertical', 1000), localTolerance('horizontal', 1000)],
    },
  };
  let [solve, judge] = [Infinity, Infinity];
  for (let k = 0; k < runs; k++) {
    const start = performance.now();
    const adjustment = adjust(buildNetwork(judged, readings));
    const solved = performance.now();
    const answers = new Answers(adjustment, 0.95);
    for (const question of askAll(judged, adjustment.network)) answers.answer(question);
    solve = Math.min(solve, solved - start);
    judge = Math.min(judge, performance.now() - solved);
  }
  const cells = [stations, solve.toFixed(1), judge.toFixed(0), (judge / solve).toFixed(0)];
  console.log(cells.map((c, k) => String(c).padStart([15, 10, 10, 7][k]!)).join(' '));
}

console.log('\nA phase from its readings to its results, stating nothing and stating every common effect\n');
console.log('stations a rail   plain ms   all ms   ratio');
for (const stations of [11, 41, 100]) {
  const { job, readings } = longSurvey(stations, 2);
  const whole = statingEffects(job, readings);
  const least = [Infinity, Infinity];
  for (let k = 0; k < 20; k++)
    [job, whole].forEach((one, j) => {
      const start = performance.now();
      phaseSection(one, adjustPhase(one, readings));
      least[j] = Math.min(least[j]!, performance.now() - start);
    });
  const [plain, all] = least as [number, number];
  const cells = [stations, plain.toFixed(1), all.toFixed(1), (all / plain).toFixed(2)];
  console.log(cells.map((c, k) => String(c).padStart([15, 11, 9, 8][k]!)).join(' '));
}
console.log(`\nresident ${(process.memoryUsage().rss / 2 ** 20).toFixed(0)} MiB`);

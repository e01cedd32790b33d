/** Surveys made from scratch: a rail of a usual shape, readings of it with random errors of the stated size, judged by the program. */
import type { RandomGenerator } from '../../src/base/statistics/random.js';
import type { PlannedSurvey } from '../../src/results/planned/planned-survey.js';
import { questionFinder } from '../../src/results/question-of.js';
import { Answers } from '../../src/solution/characteristics/answer.js';
import { askAll } from '../../src/solution/characteristics/ask.js';
import { loadJob } from '../../src/solution/intake/load-job.js';
import { adjust } from '../../src/solution/solve/adjustment.js';
import { buildNetwork, type Network } from '../../src/solution/solve/network.js';
import { decide, judgedBy } from '../../src/solution/verdict/decision-rule.js';
import type { Errors } from '../../src/solution/verdict/errors.js';
import type { Job } from '../../src/survey/job/job.js';
import type { OffsetReading, Reading } from '../../src/survey/readings/readings.js';
import { sample } from './folders.js';

/** A sample's job, and the readings of its last phase. */
export async function surveyOf(id: string, folder = sample(id)) {
  const loaded = await loadJob(folder);
  if (!loaded.ok) throw new Error('refused');
  const { job, readings } = loaded.value;
  return { job, list: readings.phases.get([...readings.phases.keys()].at(-1)!)! };
}

/** How many of the surveys of rails whose characteristic is `share` of its limit end with each verdict. */
export function madeVerdicts(
  { job, list }: { readonly job: Job; readonly list: readonly Reading[] },
  c: PlannedSurvey['characteristics'][number],
  {
    share,
    surveys,
    random,
  }: { readonly share: number; readonly surveys: number; readonly random: RandomGenerator },
): Record<'conforms' | 'does-not-conform' | 'undecided', number> {
  const network = buildNetwork(job, list);
  const plane = c.what.endsWith('vertical') ? 'height' : 'offset';
  const errors = new Map<string, Errors>();
  const counts = { conforms: 0, 'does-not-conform': 0, undecided: 0 };
  for (let k = 0; k < surveys; k++) {
    const truth = railOf(network, plane, c, share * c.limit!, k, random);
    const read = list.map((r) => ({ ...r }) as OffsetReading);
    const rows = network.observations;
    rows.forEach((o, i) => {
      if (o.kind !== 'offset') return;
      let exact = 0;
      for (let q = network.start[i]!; q < network.start[i + 1]!; q++)
        exact += network.coefficient[q]! * truth[network.column[q]!]!;
      read[list.indexOf(o)] = { ...o, um: exact + network.sigma[i]! * random.nextNormal() };
    });
    const adjustment = adjust(buildNetwork(job, read));
    // What is known of the errors is the same in all surveys, unless the readings scatter more than stated.
    const answers = new Answers(adjustment, job.decision.coverage, adjustment.scale > 1 ? {} : { errors });
    const answered = answers.answer(questionFinder(askAll(job, adjustment.network))(c)!);
    if (!answered.ok) throw new Error(c.what);
    counts[decide(judgedBy(job.decision, answered.answer.reach), c.limit!, job.decision.rule)]++;
  }
  return counts;
}

/** The unknowns of a rail of the k-th shape, whose characteristic is `value`: ranges alone, worked out from their definition. */
function railOf(
  network: Network,
  plane: 'height' | 'offset',
  { what, rail }: { what: string; rail: string },
  value: number,
  k: number,
  random: RandomGenerator,
): Float64Array {
  const own = network.unknowns.flatMap((u, i) =>
    u.kind === plane && 'station' in u && u.rail === rail ? [{ i, at: u.alongM }] : [],
  );
  const [from, to] = [Math.min(...own.map(({ at }) => at)), Math.max(...own.map(({ at }) => at))];
  const [r, s, lean] = [random.nextUniform(), random.nextUniform(), 2 * random.nextUniform() - 1];
  const shapes = [
    (t: number) => 4 * t * (1 - t),
    (t: number) => Math.exp(-(((t - r) / 0.15) ** 2)),
    (t: number) => Math.sin(2 * Math.PI * (t + r)),
    (t: number) => Math.sin(2 * Math.PI * (1.5 * t + r)),
    (t: number) => 4 * t * (1 - t) + (r - 0.5) * Math.sin(5 * Math.PI * (t + s)),
  ];
  const places = own.map(({ at }) => (at - from) / (to - from));
  const shape = places.map((t) => shapes[k % shapes.length]!(t) + lean * t);
  // Straightness: the range about the least-squares line; parallelism: the range of the differences.
  const n = places.length;
  const [mt, mh] = [places, shape].map((v) => v.reduce((a, b) => a + b, 0) / n) as [number, number];
  const slope =
    places.reduce((sum, t, i) => sum + (t - mt) * (shape[i]! - mh), 0) /
    places.reduce((sum, t) => sum + (t - mt) ** 2, 0);
  const line = what.startsWith('straightness') ? slope : 0;
  const left = shape.map((h, i) => h - line * places[i]!);
  const range = Math.max(...left) - Math.min(...left);
  const x = new Float64Array(network.unknowns.length);
  own.forEach(({ i }, j) => (x[i] = (value * shape[j]!) / range));
  return x;
}

/**
 * Surveys made from scratch: a rail of a usual shape, read by the simulator of faults (tests/solution/causes/simulate.ts), which has
 * a model of its own, and judged by the program.
 */
import type { RandomGenerator } from '../../src/base/statistics/random.js';
import type { PlannedSurvey } from '../../src/results/planned/planned-survey.js';
import { questionFinder } from '../../src/results/question-of.js';
import { Answers } from '../../src/solution/characteristics/answer.js';
import { askAll } from '../../src/solution/characteristics/ask.js';
import { loadJob } from '../../src/solution/intake/load-job.js';
import { adjust } from '../../src/solution/solve/adjustment.js';
import { buildNetwork } from '../../src/solution/solve/network.js';
import { byRule, decide, judgedBy } from '../../src/solution/verdict/decision-rule.js';
import type { Errors } from '../../src/solution/verdict/errors.js';
import type { Axis, Job } from '../../src/survey/job/job.js';
import type { Reading } from '../../src/survey/readings/readings.js';
import { readAll, readSlopes, type Look, type PlaceOf } from '../solution/causes/simulate.js';
import { sample } from './folders.js';

/** A planned survey: its readings say what is read, not how much. */
export interface Planned {
  readonly job: Job;
  readonly list: readonly Reading[];
}

/** A sample's job, and the readings of its last phase. */
export async function surveyOf(id: string, folder = sample(id)): Promise<Planned> {
  const loaded = await loadJob(folder);
  if (!loaded.ok) throw new Error('refused');
  const { job, readings } = loaded.value;
  return { job, list: readings.phases.get([...readings.phases.keys()].at(-1)!)! };
}

/** How many of the surveys of rails whose characteristic is `share` of its limit end with each verdict. */
export function madeVerdicts(
  { job, list }: Planned,
  c: PlannedSurvey['characteristics'][number],
  {
    share,
    surveys,
    random,
  }: { readonly share: number; readonly surveys: number; readonly random: RandomGenerator },
): Record<'conforms' | 'does-not-conform' | 'undecided', number> {
  const looks = list.flatMap((r): Look[] =>
    r.kind === 'offset'
      ? [{ setup: r.setup, point: r.point, target: r.target, axes: [r.axis], pass: Number(r.pass) }]
      : [],
  );
  const errors = new Map<string, Errors>();
  const counts = { conforms: 0, 'does-not-conform': 0, undecided: 0 };
  for (let k = 0; k < surveys; k++) {
    const place = railOf(job, c, share * c.limit!, k, random);
    const read =
      looks.length > 0 ? readAll({ job, looks, random }, { place }) : readSlopes(job, random, place);
    const adjustment = adjust(buildNetwork(job, read));
    // What is known of the errors is the same in all surveys, unless the readings scatter more than stated.
    const answers = new Answers(adjustment, job.decision.coverage, adjustment.scale > 1 ? {} : { errors });
    const answered = answers.answer(questionFinder(askAll(job, adjustment.network))(c)!);
    if (!answered.ok) throw new Error(c.what);
    const decision = byRule(job.decision, c.rule);
    counts[decide(judgedBy(decision, answered.answer.reach), c.limit!, decision.rule)]++;
  }
  return counts;
}

type Shape = (t: number) => number;

/**
 * Where the stations of the k-th rail are, µm: its characteristic is `value`, worked out from its definition. All other rails are
 * straight.
 */
function railOf(
  job: Job,
  { what, rail: id }: { what: string; rail: string },
  value: number,
  k: number,
  random: RandomGenerator,
): PlaceOf {
  const rail = job.rails.find((one) => one.id === id)!;
  const axis: Axis = /vertical|height|level/.test(what)
    ? 'vertical'
    : rail.direction === 'across'
      ? 'along'
      : 'horizontal';
  const at = rail.stations.map((s) => (rail.direction === 'across' ? s.acrossMm : s.alongMm) / 1000);
  const places =
    what === 'squareness' ? at.map((y) => value * y) : bent(at, what, value, shapeOf(k, random), random);
  return (of, station, plane) => (of === id && plane === axis ? places[station - 1]! : 0);
}

function shapeOf(k: number, random: RandomGenerator): Shape {
  const [r, s] = [random.nextUniform(), random.nextUniform()];
  const shapes: readonly Shape[] = [
    (t) => 4 * t * (1 - t),
    (t) => Math.exp(-(((t - r) / 0.15) ** 2)),
    (t) => Math.sin(2 * Math.PI * (t + r)),
    (t) => Math.sin(2 * Math.PI * (1.5 * t + r)),
    (t) => 4 * t * (1 - t) + (r - 0.5) * Math.sin(5 * Math.PI * (t + s)),
  ];
  return shapes[k % shapes.length]!;
}

function bent(at: number[], what: string, value: number, of: Shape, random: RandomGenerator): number[] {
  const [from, to] = [Math.min(...at), Math.max(...at)];
  const lean = 2 * random.nextUniform() - 1;
  const places = at.map((x) => (x - from) / (to - from));
  const shape = places.map((t) => of(t) + lean * t);
  // Straightness: the range about the least-squares line. Parallelism: that of the differences. Height: the greatest difference.
  const n = places.length;
  const [mt, mh] = [places, shape].map((v) => v.reduce((a, b) => a + b, 0) / n) as [number, number];
  const slope =
    places.reduce((sum, t, i) => sum + (t - mt) * (shape[i]! - mh), 0) /
    places.reduce((sum, t) => sum + (t - mt) ** 2, 0);
  const left = what.startsWith('straightness') ? shape.map((h, i) => h - slope * places[i]!) : shape;
  const size =
    what === 'height-difference' ? Math.max(...left.map(Math.abs)) : Math.max(...left) - Math.min(...left);
  return shape.map((h) => (value * h) / size);
}

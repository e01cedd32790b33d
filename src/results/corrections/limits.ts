/** Limits for the characteristics after the moves, so that each tolerance is met with its uncertainty. */
import { SEED } from '../../solution/characteristics/answer.js';
import { applyFamily } from '../../solution/characteristics/linear-family.js';
import type { Question } from '../../solution/characteristics/question.js';
import type { Job } from '../../survey/job/job.js';
import type { CharacteristicResult } from '../results-schema.js';
import { questionFinder } from '../question-of.js';
import { dot, type Adjustment } from '../../solution/solve/adjustment.js';
import { Distribution } from '../../base/statistics/distribution.js';
import { createGenerator, type RandomGenerator } from '../../base/statistics/random.js';
import type { Moved } from './levers.js';

export interface Judged {
  readonly c: CharacteristicResult;
  readonly question: Question;
  /** Limit minus margin, unit of the characteristic. */
  readonly least: number;
  readonly most: number;
  /** true: it conforms with that margin without a move. Moves may change it up to the limit. */
  readonly isKept: boolean;
}

/** The characteristics with a limit and a value, each with its question. */
export function judgedOf(
  job: Job,
  questions: readonly Question[],
  now: readonly CharacteristicResult[],
): Judged[] {
  const kept = 1 - job.aim.margin;
  const questionOf = questionFinder(questions);
  return now.flatMap((c): Judged[] => {
    const question = c.limit === null || c.value === null ? null : questionOf(c);
    if (question === null) return [];
    const most = kept * (c.zone === undefined ? c.limit! : (c.zone.to ?? Infinity));
    const least = c.zone === undefined ? (c.signed ? -most : -Infinity) : kept * (c.zone.from ?? -Infinity);
    return [{ c, question, least, most, isKept: isKept(c, least, most, job.aim.margin) }];
  });
}

function isKept(c: CharacteristicResult, least: number, most: number, margin: number): boolean {
  if (c.verdict !== 'conforms') return false;
  if (margin === 0) return true;
  const ends = [...(c.interval ?? [c.value!]), ...(c.zone ? [c.zone.least, c.zone.greatest] : [])];
  return ends.every((end) => end === undefined || end === null || (end >= least && end <= most));
}

/** Least and greatest permitted value after the moves. */
export interface Allowed {
  readonly least: number;
  readonly most: number;
}

/**
 * The margin for noise is subtracted at both ends. A characteristic that conforms now need not become better: `now` is its
 * value without a move, as the rows of the programme evaluate it.
 */
export function allowedOf({ least, most, isKept }: Judged, reach: number, now: Allowed): Allowed {
  const [from, to] = [least + reach, most - reach];
  return isKept
    ? { least: Math.min(from, now.least), most: Math.max(to, now.most) }
    : { least: from, most: to };
}

/** Simulated surveys. */
const DRAWS = 1000;

/** Effect of noise on a characteristic, from simulated surveys. */
export type Noise = Distribution;

/** Upper bound of the effect, at the confidence of the upper end of a coverage interval. */
export const reachOf = (noise: Noise, coverage: number): number => noise.quantile((1 + coverage) / 2);

/** Uncertainty of the moves. */
export interface Scatter {
  /** Standard uncertainty of a move, as a share of it. */
  readonly u: number;
  /** Degrees of freedom of u; null: it is stated and taken as exact. */
  readonly degrees: number | null;
  /** Standard uncertainty of the common response, as a share of each move. */
  readonly common: number;
}

/**
 * Effect of noise e on each characteristic T. Moves that were chosen by the readings d depend on their noise, so the interval
 * of one survey is not valid for them. But T is the greatest of linear functionals: for any moves,
 * T(true) ≤ T(read) + T(−e), and the quantile of T(−e) is valid for all moves at once. The scatter of the moves, a share of each
 * move, is part of e. If that share is only estimated, it is drawn anew in each simulated
 * round: u·√(ν/χ²), so that a move departs as Student's t with ν degrees of freedom (JCGM 101, 6.4.9).
 */
export function noiseOf(
  judged: readonly Judged[],
  adjustment: Adjustment,
  moves: readonly Moved[],
  { u, degrees, common }: Scatter,
): Noise[] {
  const generator = createGenerator(SEED);
  const ofMoves = createGenerator(SEED + 1);
  const x = new Float64Array(adjustment.network.unknowns.length);
  const noise = judged.map(() => new Float64Array(DRAWS));
  const moved = moves.map(({ lever: { response }, um }) => ({
    um,
    response,
    at: [...response.keys()].filter((i) => response[i] !== 0),
  }));
  for (let b = 0; b < DRAWS; b++) {
    adjustment.drawError(generator, x);
    const scale = u * studentScale(degrees, ofMoves);
    const shared = common * ofMoves.nextNormal();
    for (const { um, response, at } of moved) {
      const off = um * (shared + scale * ofMoves.nextNormal());
      for (const i of at) x[i]! += off * response[i]!;
    }
    judged.forEach(({ question }, k) => (noise[k]![b] = sizeOf(question, x)));
  }
  return noise.map((draws) => new Distribution(draws));
}

/** √(ν/χ²_ν): its product with a normal deviate is a deviate of Student's t. */
function studentScale(degrees: number | null, generator: RandomGenerator): number {
  if (degrees === null) return 1;
  let chiSquare = 0;
  for (let k = 0; k < degrees; k++) chiSquare += generator.nextNormal() ** 2;
  return Math.sqrt(degrees / chiSquare);
}

function sizeOf(question: Question, x: Float64Array): number {
  if (question.kind === 'none') return 0;
  if (question.kind === 'linear') return Math.abs(dot(question.functional, x));
  if (question.kind === 'greatest-of') return Math.max(...question.parts.map((part) => sizeOf(part, x)));
  return Math.abs(question.measure.explain(applyFamily(question.family, x)).value * question.factor);
}

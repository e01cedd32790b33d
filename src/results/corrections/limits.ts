/** What each tolerance leaves for its characteristic after the moves, when it is kept with its uncertainty. */
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
  /** What the limit leaves for the value, margin taken off; unit of the characteristic. */
  readonly least: number;
  readonly most: number;
  /** It conforms with that margin as it is: nothing has to be moved for it, and no move may make it worse than the limit. */
  readonly isKept: boolean;
}

/** The characteristics with a limit and a value, each with the question that it answers. */
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

/** From what to what the value may be after moves. */
export interface Allowed {
  readonly least: number;
  readonly most: number;
}

/**
 * What is left for noise is taken off both ends. What conforms as it is need not be better than it is: `now` is the value
 * that the rows of the programme have for it without a move.
 */
export function allowedOf({ least, most, isKept }: Judged, reach: number, now: Allowed): Allowed {
  const [from, to] = [least + reach, most - reach];
  return isKept
    ? { least: Math.min(from, now.least), most: Math.max(to, now.most) }
    : { least: from, most: to };
}

/** Simulated surveys. */
const DRAWS = 1000;

/** What noise makes of a characteristic, over simulated surveys. */
export type Noise = Distribution;

/** What it is not exceeded by, with the confidence of a coverage interval's upper end. */
export const reachOf = (noise: Noise, coverage: number): number => noise.quantile((1 + coverage) / 2);

/** How well moves come out. */
export interface Scatter {
  /** Standard uncertainty of a move, as a share of it. */
  readonly u: number;
  /** Degrees of freedom of u; null: it is stated, and taken as known. */
  readonly degrees: number | null;
  /** Standard uncertainty that all moves share, as a share of each: of what part of them arrives at the rail. */
  readonly common: number;
}

/**
 * What noise e makes of each characteristic T. Moves that were chosen by the readings d lean on their noise, so that the
 * interval of one survey does not hold for them. But T is a greatest of linear functionals: whatever the moves,
 * T(true) ≤ T(read) + T(−e), and the quantile of T(−e) holds for all of them at once. Moves that come out otherwise than
 * asked, each by a share of itself, are part of e. Where that share is only estimated, it is another one in each simulated
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

/** √(ν/χ²_ν): times a normal deviate, it is one of Student's t. */
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

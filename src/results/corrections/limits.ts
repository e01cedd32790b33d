/** What each tolerance leaves for its characteristic after the moves, when it is kept with its uncertainty. */
import { SEED } from '../../solution/characteristics/answer.js';
import { applyFamily } from '../../solution/characteristics/linear-family.js';
import type { Question } from '../../solution/characteristics/question.js';
import type { Job } from '../../survey/job/job.js';
import type { CharacteristicResult } from '../results-schema.js';
import { questionFinder } from '../question-of.js';
import { dot, type Adjustment } from '../../solution/solve/adjustment.js';
import { Distribution } from '../../base/statistics/distribution.js';
import { createGenerator } from '../../base/statistics/random.js';
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

/**
 * What noise e makes of each characteristic T. Moves that were chosen by the readings d lean on their noise, so that the
 * interval of one survey does not hold for them. But T is a greatest of linear functionals: whatever the moves,
 * T(true) ≤ T(read) + T(−e), and the quantile of T(−e) holds for all of them at once. Moves that come out otherwise than
 * asked, each by a share of itself, are part of e.
 *
 * @param responseU Of a move, as a share of it; null: not known, and moves are taken as exact.
 */
export function noiseOf(
  judged: readonly Judged[],
  adjustment: Adjustment,
  moves: readonly Moved[],
  responseU: number | null,
): Noise[] {
  const generator = createGenerator(SEED);
  const ofMoves = createGenerator(SEED + 1);
  const x = new Float64Array(adjustment.network.unknowns.length);
  const noise = judged.map(() => new Float64Array(DRAWS));
  for (let b = 0; b < DRAWS; b++) {
    adjustment.drawError(generator, x);
    if (responseU !== null)
      for (const { lever, um } of moves) {
        const off = responseU * um * ofMoves.nextNormal();
        for (let i = 0; i < x.length; i++) x[i]! += off * lever.response[i]!;
      }
    judged.forEach(({ question }, k) => (noise[k]![b] = sizeOf(question, x)));
  }
  return noise.map((draws) => new Distribution(draws));
}

function sizeOf(question: Question, x: Float64Array): number {
  if (question.kind === 'none') return 0;
  if (question.kind === 'linear') return Math.abs(dot(question.functional, x));
  if (question.kind === 'greatest-of') return Math.max(...question.parts.map((part) => sizeOf(part, x)));
  return Math.abs(question.measure.explain(applyFamily(question.family, x)).value * question.factor);
}

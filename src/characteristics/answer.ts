/**
 * Answers questions about one adjusted phase: value, standard uncertainty, coverage interval, probability of
 * meeting a limit, and where the variance comes from. Simulated surveys are drawn once and shared.
 */
import type { Adjustment, Functional } from '../solve/adjustment.js';
import { drawsOf, errorsOf, MOST_IN_MATRIX, studentFactors, type Errors } from '../verdict/errors.js';
import {
  Ends,
  greatestInterval,
  greatestOfEnds,
  scaledEnd,
  type CoverageResult,
  type EndParts,
} from '../verdict/greatest.js';
import { greatestMagnitude, signedInterval } from '../verdict/greatest-magnitude.js';
import { linearInterval } from '../verdict/linear-interval.js';
import { adviseDrawCount } from '../verdict/draw-count.js';
import { leastOf, mostOf } from '../statistics/extent.js';
import { createGenerator, type RandomGenerator } from '../statistics/random.js';
import { applyFamily, combine, familyKernel, undetermined } from './linear-family.js';
import type { FamilyPoint, LinearFamily } from './linear-family.js';
import type { GreatestQuestion, ProfileQuestion, Question } from './question.js';
import type { Reason } from '../reasons/reason.js';

export interface Answer {
  readonly value: number;
  readonly u: number;
  readonly interval: readonly [number, number];
  /** What its ends are worked out of. */
  readonly ends: readonly [EndParts, EndParts];
  /** Probability that the true value (its magnitude, where signed) is at most the limit. */
  readonly probabilityAtMost: (limit: number) => number;
  readonly at: readonly FamilyPoint[];
  /** The points that the value was made from, each from the reference that was taken; empty for one linear functional. */
  readonly profile: () => readonly ProfilePoint[];
  /** The value as a functional of the unknowns near the solution, for the budget by source. */
  readonly functional: Functional;
}

export interface ProfilePoint extends FamilyPoint {
  /** Along the rail's own direction, m. */
  readonly positionM: number;
  /** In the characteristic's unit. */
  readonly value: number;
}

/** Of a signed characteristic in a zone of limits; see Answers.zone. */
export interface ZoneAnswer {
  /** Reach from the middle, over half the zone's width. */
  readonly value: number;
  readonly interval: readonly [number, number];
  readonly probability: number;
  /** The least and the greatest of all points, in the characteristic's unit. */
  readonly extremes: readonly [number, number];
}

/** Not determined; `moved` is what some free motion still changes, for the explanation. */
export interface NoAnswer {
  /** null: a free motion, to be explained. */
  readonly reason: Reason | null;
  readonly moved: readonly Functional[];
}

export type Answered = { readonly ok: true; readonly answer: Answer } | ({ readonly ok: false } & NoAnswer);

/** Numbers of one family kept at most while the next is looked at: 32 MB. */
const MOST_KEPT = 4e6;

export const SEED = 0x77617973; // "ways"
/** The scale's own random numbers. */
const STUDENT = 0x74646973;

export interface AnswersOptions {
  /** Errors by family, for adjustments that differ in nothing but what was read: the study of coverage. */
  readonly errors?: Map<string, Errors> | undefined;
  readonly seed?: number;
}

interface Sample {
  readonly observed: Float64Array;
  readonly errors: Errors;
}

/** Standard normal deviates of one generator: every family begins with the same ones, so they are made once. */
class Normals {
  private held = new Float64Array(0);

  constructor(private readonly generator: RandomGenerator) {}

  first(count: number): Float64Array {
    const { held } = this;
    if (held.length < count) {
      this.held = new Float64Array(count);
      this.held.set(held);
      this.generator.fillNormals(this.held, held.length, count);
    }
    return this.held.subarray(0, count);
  }
}

/** Answers to questions about one adjusted phase, with their intervals. Draws and answers are kept while it lives. */
export class Answers {
  /** Simulated surveys. */
  readonly drawCount: number;
  private readonly samples = new Map<string, Sample>();
  private readonly answers = new Map<string, Answered>();
  private readonly errors: Map<string, Errors>;
  private readonly matrices: { readonly matrix: Float64Array; readonly errors: Errors }[] = [];
  private readonly seed: number;
  private readonly normals: Normals;
  private readonly degrees: number;
  /** Of each draw; null where the scale is that which the instruments state. */
  private readonly spread: Float64Array | null;

  constructor(
    private readonly adjustment: Adjustment,
    private readonly coverage: number,
    { errors = new Map(), seed = SEED }: AnswersOptions = {},
  ) {
    this.errors = errors;
    this.seed = seed;
    this.normals = new Normals(createGenerator(seed));
    this.drawCount = adviseDrawCount(adjustment.network.unknowns.length, coverage);
    this.degrees = adjustment.scale > 1 ? adjustment.redundancy : Infinity;
    this.spread =
      this.degrees === Infinity
        ? null
        : studentFactors(this.drawCount, this.degrees, createGenerator(seed ^ STUDENT));
  }

  /** Of the same survey after rails were moved: its errors are the same. */
  after(adjustment: Adjustment): Answers {
    return new Answers(adjustment, this.coverage, { errors: this.errors, seed: this.seed });
  }

  answer(question: Question): Answered {
    if (question.kind === 'none') return { ok: false, reason: question.reason, moved: [] };
    if (question.kind === 'linear') return this.linear(question.functional);
    if (question.kind === 'greatest-of') return this.greatestOf(question);
    let found = this.answers.get(question.key);
    if (found === undefined) {
      found = this.profile(question);
      this.answers.set(question.key, found);
    }
    return question.factor === 1 || !found.ok
      ? found
      : { ok: true, answer: scaledBy(found.answer, question.factor) };
  }

  /**
   * How far a signed characteristic reaches from the middle of a zone of limits, over half its width: at most 1 lies
   * within. Of an extreme every point counts, not only the one of greatest magnitude.
   *
   * @param zone Limits in the characteristic's unit, at least one of them finite.
   * @returns null where it is not determined, or has no sign.
   */
  zone(question: Question, zone: { readonly from: number; readonly to: number }): ZoneAnswer | null {
    if (!question.signed || !this.answer(question).ok) return null;
    if (question.kind === 'linear') {
      const { middle, half } = closed(zone);
      const u = this.adjustment.standardUncertainty(question.functional);
      const value = this.adjustment.value(question.functional);
      const { interval, probabilityAtMost } = linearInterval(value - middle, u, this.coverage, this.degrees);
      const reach = interval.map(Math.abs) as [number, number];
      const least = interval[0] <= 0 && interval[1] >= 0 ? 0 : Math.min(...reach);
      return {
        value: Math.abs(value - middle) / half,
        interval: [least / half, Math.max(...reach) / half],
        probability: probabilityAtMost(half),
        extremes: [value, value],
      };
    }
    if (question.kind !== 'signed-extreme') return null;
    const { observed, errors } = this.sampleOf(question);
    const { factor } = question;
    const { middle, half } = closed({ from: zone.from / factor, to: zone.to / factor });
    const of = greatestMagnitude(
      observed.map((v) => v - middle),
      errors,
    );
    const { interval, probabilityAtMost } = greatestInterval(of, this.coverage);
    return {
      value: of.value / half,
      interval: [interval[0] / half, interval[1] / half],
      probability: probabilityAtMost(half),
      extremes: [leastOf(observed) * factor, mostOf(observed) * factor],
    };
  }

  /** The greatest of several, each with its own factor. */
  private greatestOf({ parts }: GreatestQuestion): Answered {
    const answered = parts.map((part) => ({ part, is: this.answer(part) }));
    const open = answered.find(({ is }) => !is.ok)?.is;
    if (open !== undefined && !open.ok) return open;
    const answers = answered.flatMap(({ is }) => (is.ok ? [is.answer] : []));
    const worst = answers.reduce((a, b) => (b.value > a.value ? b : a));
    const ends = parts.map((part) => {
      const { observed, errors } = this.sampleOf(part);
      return { ends: new Ends(part.measure.greatest(observed, errors), this.coverage), factor: part.factor };
    });
    return { ok: true, answer: { ...worst, ...greatestOfEnds(ends, this.coverage) } };
  }

  private linear(functional: Functional): Answered {
    if (!this.adjustment.isDetermined(functional)) return { ok: false, reason: null, moved: [functional] };
    const value = this.adjustment.value(functional);
    const u = this.adjustment.standardUncertainty(functional);
    const covered = linearInterval(value, u, this.coverage, this.degrees);
    return { ok: true, answer: { value, u, ...covered, at: [], profile: () => [], functional } };
  }

  private profile(question: ProfileQuestion): Answered {
    const { family, measure } = question;
    const moving = undetermined(family, this.adjustment).flatMap((moves, index) => (moves ? [index] : []));
    if (moving.length > 0) {
      // A few are enough to say what moves.
      const some = [moving[0]!, moving[moving.length >> 1]!, moving[moving.length - 1]!];
      return { ok: false, reason: null, moved: some.map((index) => combine(family, [{ index, weight: 1 }])) };
    }
    const sample = this.sampleOf(question);
    const { value, gradient, at } = measure.explain(sample.observed);
    const functional = combine(family, gradient);
    const u = this.adjustment.standardUncertainty(functional);
    const covered = this.interval(question, sample);
    return {
      ok: true,
      answer: {
        value,
        u,
        ...covered,
        at: at.map((i) => family.points[i]!),
        profile: () => profileOf(question, sample.observed),
        functional,
      },
    };
  }

  private interval({ kind, measure }: ProfileQuestion, { observed, errors }: Sample): CoverageResult {
    return kind === 'range'
      ? greatestInterval(measure.greatest(observed, errors), this.coverage)
      : signedInterval(observed, errors, this.coverage);
  }

  private sampleOf({ family, familyKey }: ProfileQuestion): Sample {
    const held = this.samples.get(familyKey);
    if (held !== undefined) return held;
    const errors = this.errors.get(familyKey) ?? this.errorsOf(family);
    const made = { observed: applyFamily(family, this.adjustment.x), errors };
    const isLarge = errors.draws.length > MOST_KEPT;
    if (!isLarge) this.errors.set(familyKey, errors);
    // Of a large survey one family is held at a time.
    else this.samples.clear();
    this.samples.set(familyKey, made);
    return made;
  }

  /** Families whose errors have the same covariances, as a rail's often have in both planes, share their draws. */
  private errorsOf(family: LinearFamily): Errors {
    const n = family.local.length;
    const matrix = n > MOST_IN_MATRIX ? null : this.covarianceOf(family);
    const alike = matrix && this.matrices.find((known) => areAlike(known.matrix, matrix));
    if (alike) return alike.errors;
    const errors = this.simulate(family, matrix);
    if (matrix !== null) this.matrices.push({ matrix, errors });
    return errors;
  }

  private simulate(family: LinearFamily, matrix: Float64Array | null): Errors {
    const n = family.local.length;
    const draws =
      matrix === null ? this.drawAll(family) : drawsOf(matrix, n, this.normals.first(this.drawCount * n));
    if (this.spread !== null)
      for (let b = 0, at = 0; b < this.drawCount; b++)
        for (const end = at + n; at < end; at++) draws[at] = this.spread[b]! * draws[at]!;
    return errorsOf(draws, n, matrix, this.degrees, this.spread);
  }

  /** Errors of all unknowns, simulated once more for each family that is too long for a matrix. */
  private drawAll(family: LinearFamily): Float64Array {
    const n = family.local.length;
    const draws = new Float64Array(this.drawCount * n);
    const kernel = familyKernel(family);
    const x = new Float64Array(this.adjustment.network.unknowns.length);
    const generator = createGenerator(this.seed);
    for (let b = 0; b < this.drawCount; b++) {
      this.adjustment.drawError(generator, x);
      kernel(x, 0, draws, b * n);
    }
    return draws;
  }

  /** Exact, shape (n × n). */
  private covarianceOf(family: LinearFamily): Float64Array {
    const n = family.local.length;
    const matrix = new Float64Array(n * n);
    const kernel = familyKernel(family);
    for (let i = 0; i < n; i++) {
      const withAll = this.adjustment.covarianceWith(combine(family, [{ index: i, weight: 1 }]));
      kernel(withAll, 0, matrix, i * n);
    }
    return matrix;
  }
}

/** No rail departs so far, µm: an open side of a zone has its limit there. */
const FAR = 1e7;

/** Middle and half the width of a zone. */
function closed({ from, to }: { readonly from: number; readonly to: number }) {
  const low = from === -Infinity ? to - FAR : from;
  const high = to === Infinity ? from + FAR : to;
  return { middle: (low + high) / 2, half: (high - low) / 2 };
}

/** Alike but for rounding. */
function areAlike(a: Float64Array, b: Float64Array): boolean {
  if (a.length !== b.length) return false;
  let most = 0;
  for (const v of a) most = Math.max(most, Math.abs(v));
  return a.every((v, i) => Math.abs(v - b[i]!) <= 1e-9 * most);
}

function profileOf({ family, measure }: ProfileQuestion, observed: Float64Array): ProfilePoint[] {
  const seen = measure.seen?.(observed) ?? Array.from(observed, (value, index) => ({ index, value }));
  return seen.map(({ index, value }) => ({
    ...family.points[index]!,
    positionM: family.positions[index]!,
    value,
  }));
}

function scaledBy(answer: Answer, factor: number): Answer {
  return {
    value: answer.value * factor,
    u: answer.u * factor,
    interval: [answer.interval[0] * factor, answer.interval[1] * factor],
    ends: [scaledEnd(answer.ends[0], factor), scaledEnd(answer.ends[1], factor)],
    probabilityAtMost: (limit) => answer.probabilityAtMost(limit / factor),
    at: answer.at,
    profile: () => answer.profile().map((point) => ({ ...point, value: point.value * factor })),
    functional: {
      index: answer.functional.index,
      weight: Array.from(answer.functional.weight, (w) => w * factor),
    },
  };
}

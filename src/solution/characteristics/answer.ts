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
  type EndParts,
  type Reach,
} from '../verdict/greatest.js';
import { greatestMagnitude, signedInterval } from '../verdict/greatest-magnitude.js';
import { linearInterval } from '../verdict/linear-interval.js';
import { verdictOf, type Conformity, type Decision } from '../verdict/decision-rule.js';
import { adviseDrawCount } from '../verdict/draw-count.js';
import { createGenerator, type RandomGenerator } from '../../base/statistics/random.js';
import { firstExtreme } from './measures.js';
import {
  applyFamily,
  combine,
  familyKernel,
  undetermined,
  type FamilyPoint,
  type LinearFamily,
} from './linear-family.js';
import type { GreatestQuestion, ProfileQuestion, Question } from './question.js';
import type { Reason } from '../reasons/reason.js';

export interface Answer {
  readonly value: number;
  readonly u: number;
  readonly interval: readonly [number, number];
  /** The parts of its ends. */
  readonly ends: readonly [EndParts, EndParts];
  /** Probability that the true value (the magnitude of a signed value) is at most the limit. */
  readonly probabilityAtMost: (limit: number) => number;
  /** The magnitude that is judged. */
  readonly reach: Reach;
  /** For a signed extreme: the least and the greatest of all its points. */
  readonly extremes?: { readonly least: Extreme; readonly greatest: Extreme };
  readonly at: readonly FamilyPoint[];
  /** The points from which the value was calculated, each from the reference; empty for one linear functional. */
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

/** One end of a signed characteristic. */
export interface Extreme {
  readonly value: number;
  readonly u: number;
  readonly at: FamilyPoint;
}

/** Not determined; `moved`: the functionals that a free motion changes, for the explanation. */
export interface NoAnswer {
  /** null: a free motion, which is explained later. */
  readonly reason: Reason | null;
  readonly moved: readonly Functional[];
}

/** null or infinite: open to that side. */
export interface ZoneLimits {
  readonly from: number | null;
  readonly to: number | null;
}

/** Middle and half the width of a zone of limits, unit of the characteristic. */
export interface Zone {
  readonly middle: number;
  readonly half: number;
}

export type Answered = { readonly ok: true; readonly answer: Answer } | ({ readonly ok: false } & NoAnswer);

/** Most numbers of one family that are kept while the next one is calculated: 32 MB. */
const MAX_NUMBERS_KEPT = 4e6;

export const SEED = 0x77617973; // "ways"
/** Seed of the random numbers for the estimated scale. */
const SCALE_SEED = 0x74646973;

export interface AnswersOptions {
  /** Errors by family, for adjustments that differ only in the readings: the study of coverage. */
  readonly errors?: Map<string, Errors> | undefined;
  readonly seed?: number;
}

interface Sample {
  readonly observed: Float64Array;
  readonly errors: Errors;
}

/** Standard normal deviates of one generator. Every family begins with the same ones, so they are made once. */
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
  /** Number of simulated surveys. */
  readonly drawCount: number;
  private readonly samples = new Map<string, Sample>();
  private readonly answers = new Map<string, Answered>();
  private readonly errors: Map<string, Errors>;
  private readonly matrices: { readonly matrix: Float64Array; readonly errors: Errors }[] = [];
  private readonly seed: number;
  private readonly normals: Normals;
  private readonly degrees: number;
  /** Factor of each draw for the scale; null: the scale is the one that the instruments state. */
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
        : studentFactors(this.drawCount, this.degrees, createGenerator(seed ^ SCALE_SEED));
  }

  /** Answers for the same survey after rails were moved: its errors are the same. */
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
   * A signed characteristic in a zone of limits: the value is the extreme that is nearest to its own limit, and what is
   * judged is how far it is from the middle of the zone.
   *
   * @param zone Limits in the characteristic's unit, at least one of them finite.
   * @returns As answer(); the reach is about `middle`, and is within the zone up to `half`.
   */
  inZone(question: Question, zone: ZoneLimits): Answered & Zone {
    const { middle, half } = closed(zone);
    const plain = this.answer(question);
    if (!plain.ok) return { ...plain, middle, half };
    const answered =
      question.kind === 'linear'
        ? this.linear(question.functional, middle)
        : question.kind === 'signed-extreme'
          ? this.signed(question, middle / question.factor)
          : plain;
    if (question.kind !== 'signed-extreme' || !answered.ok) return { ...answered, middle, half };
    return { ok: true, answer: scaledBy(answered.answer, question.factor), middle, half };
  }

  /**
   * What is judged of a question that these readings determine: the same as the reach of its answer, with ends that are
   * worked out only if they are asked for.
   *
   * @returns null: they do not determine it.
   */
  private reachOf(question: Question, zone: ZoneLimits | undefined): Reach | null {
    const isSigned = question.kind === 'signed-extreme';
    if (isSigned || (zone === undefined && question.kind === 'range')) {
      const { observed, errors } = this.sampleOf(question);
      const middle = zone === undefined ? 0 : closed(zone).middle / question.factor;
      const greatest = isSigned
        ? greatestMagnitude(middle === 0 ? observed : observed.map((v) => v - middle), errors)
        : question.measure.greatest(observed, errors);
      const { reach } = new Ends(greatest, this.coverage);
      return question.factor === 1 ? reach : scaledReach(reach, question.factor);
    }
    const answered = zone === undefined ? this.answer(question) : this.inZone(question, zone);
    return answered.ok ? answered.answer.reach : null;
  }

  /** The verdict on a question that these readings determine. @param limit Where no zone of limits holds. */
  verdict(question: Question, limit: number, zone: ZoneLimits | undefined, decision: Decision): Conformity {
    const reach = this.reachOf(question, zone);
    if (reach === null) return 'undecided';
    return verdictOf(decision, reach, zone === undefined ? limit : closed(zone).half);
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

  private linear(functional: Functional, middle = 0): Answered {
    if (!this.adjustment.isDetermined(functional)) return { ok: false, reason: null, moved: [functional] };
    const value = this.adjustment.value(functional);
    const u = this.adjustment.standardUncertainty(functional);
    const covered = linearInterval(value, u, this.coverage, this.degrees);
    const { reach, probabilityAtMost } =
      middle === 0 ? covered : linearInterval(value - middle, u, this.coverage, this.degrees);
    return {
      ok: true,
      answer: { value, u, ...covered, reach, probabilityAtMost, at: [], profile: () => [], functional },
    };
  }

  private profile(question: ProfileQuestion): Answered {
    const { family, measure } = question;
    const moving = undetermined(family, this.adjustment).flatMap((moves, index) => (moves ? [index] : []));
    if (moving.length > 0) {
      // A few members are enough to explain what changes.
      const some = [moving[0]!, moving[moving.length >> 1]!, moving[moving.length - 1]!];
      return { ok: false, reason: null, moved: some.map((index) => combine(family, [{ index, weight: 1 }])) };
    }
    if (question.kind === 'signed-extreme') return this.signed(question, 0);
    const { observed, errors } = this.sampleOf(question);
    const { value, gradient, at } = measure.explain(observed);
    const functional = combine(family, gradient);
    const u = this.adjustment.standardUncertainty(functional);
    const covered = greatestInterval(measure.greatest(observed, errors), this.coverage);
    return {
      ok: true,
      answer: {
        value,
        u,
        ...covered,
        at: at.map((i) => family.points[i]!),
        profile: () => profileOf(question, observed),
        functional,
      },
    };
  }

  /** The extreme farthest from `middle`, in the unit of the family; of equal ones the first along. */
  private signed(question: ProfileQuestion, middle: number): Answered {
    const { family } = question;
    const { observed, errors } = this.sampleOf(question);
    const fromMiddle = middle === 0 ? observed : observed.map((v) => v - middle);
    const at = farthestFrom(middle, observed);
    const of = (index: number) => combine(family, [{ index, weight: 1 }]);
    const extreme = (index: number): Extreme => ({
      value: observed[index]!,
      u: this.adjustment.standardUncertainty(of(index)),
      at: family.points[index]!,
    });
    const { interval, ends, ...judged } = signedInterval(fromMiddle, errors, this.coverage);
    const moved = (end: EndParts): EndParts => ({ ...end, reads: end.reads + middle });
    return {
      ok: true,
      answer: {
        ...judged,
        value: observed[at]!,
        u: this.adjustment.standardUncertainty(of(at)),
        interval: [interval[0] + middle, interval[1] + middle],
        ends: [moved(ends[0]), moved(ends[1])],
        extremes: {
          least: extreme(firstExtreme(observed, -1)),
          greatest: extreme(firstExtreme(observed, 1)),
        },
        at: [family.points[at]!],
        profile: () => profileOf(question, observed),
        functional: of(at),
      },
    };
  }

  private sampleOf({ family, familyKey }: ProfileQuestion): Sample {
    const held = this.samples.get(familyKey);
    if (held !== undefined) return held;
    const errors = this.errors.get(familyKey) ?? this.errorsOf(family);
    const made = { observed: applyFamily(family, this.adjustment.x), errors };
    const isLarge = errors.draws.length > MAX_NUMBERS_KEPT;
    if (!isLarge) this.errors.set(familyKey, errors);
    // For a large survey only one family is kept at a time.
    else this.samples.clear();
    this.samples.set(familyKey, made);
    return made;
  }

  /** Families whose errors have the same covariances (often both planes of a rail) share their draws. */
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

  /** Errors of all unknowns, simulated again for each family that is too long for a matrix. */
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

  /** Exact covariances, shape (n × n). */
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

/** Limit of an open side of a zone, µm: no rail departs as far. */
const OPEN_SIDE_UM = 1e7;

export function closed(zone: ZoneLimits): Zone {
  const [from, to] = [zone.from ?? -Infinity, zone.to ?? Infinity];
  const low = from === -Infinity ? to - OPEN_SIDE_UM : from;
  const high = to === Infinity ? from + OPEN_SIDE_UM : to;
  return { middle: (low + high) / 2, half: (high - low) / 2 };
}

/** The member that decides in a zone about `middle`: farthest from it, of equal ones the first along. */
export const farthestFrom = (middle: number, d: Float64Array): number =>
  Math.abs(middle) < OPEN_SIDE_UM / 4
    ? firstExtreme(
        d.map((v) => Math.abs(v - middle)),
        1,
      )
    : firstExtreme(d, middle < 0 ? 1 : -1);

/** true: equal except for rounding. */
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
    reach: scaledReach(answer.reach, factor),
    ...(answer.extremes !== undefined && {
      extremes: {
        least: scaledExtreme(answer.extremes.least, factor),
        greatest: scaledExtreme(answer.extremes.greatest, factor),
      },
    }),
    at: answer.at,
    profile: () => answer.profile().map((point) => ({ ...point, value: point.value * factor })),
    functional: {
      index: answer.functional.index,
      weight: Array.from(answer.functional.weight, (w) => w * factor),
    },
  };
}

const scaledExtreme = ({ value, u, at }: Extreme, factor: number): Extreme => ({
  value: value * factor,
  u: u * factor,
  at,
});

const scaledReach = (reach: Reach, factor: number): Reach => ({
  value: reach.value * factor,
  get interval(): readonly [number, number] {
    return [reach.interval[0] * factor, reach.interval[1] * factor];
  },
  upperAt: (p) => reach.upperAt(p) * factor,
  lowerAt: (p) => reach.lowerAt(p) * factor,
  acceptanceRisk: (limit) => reach.acceptanceRisk(limit / factor),
  rejectionRisk: (limit) => reach.rejectionRisk(limit / factor),
});

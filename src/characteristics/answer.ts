/**
 * Answers questions about one adjusted phase: value, standard uncertainty, coverage interval, probability of
 * meeting a limit, and where the variance comes from. Simulated surveys are drawn once and shared.
 */
import type { Adjustment, Functional } from '../solve/adjustment.js';
import { coverageInterval, type CoverageResult } from '../verdict/coverage-interval.js';
import { drawShapes } from '../verdict/draw-shapes.js';
import { signedExtremeInterval } from '../verdict/signed-extreme-interval.js';
import { linearInterval } from '../verdict/linear-interval.js';
import { adviseDrawCount, type Draws, type ProfileSample } from '../verdict/profile-sample.js';
import { createGenerator } from '../verdict/random.js';
import { freshMemory, type Memory } from '../verdict/working-memory.js';
import { applyFamily, combine, familyKernel, undetermined } from './linear-family.js';
import type { FamilyPoint, LinearFamily } from './linear-family.js';
import type { ProfileQuestion, Question } from './question.js';

export interface Answer {
  readonly value: number;
  readonly u: number;
  readonly interval: readonly [number, number];
  /** Probability that the true value (its magnitude, where signed) is at most the limit. */
  readonly probabilityAtMost: (limit: number) => number;
  readonly at: readonly FamilyPoint[];
  /** The value as a functional of the unknowns near the solution, for the budget by source. */
  readonly functional: Functional;
}

/** Not determined; `moved` is what some free motion still changes, for the explanation. */
export interface NoAnswer {
  readonly why: string | null;
  readonly moved: readonly Functional[];
}

export type Answered = { readonly ok: true; readonly answer: Answer } | ({ readonly ok: false } & NoAnswer);

/** Numbers kept at most between two families, or of one family while the next is looked at: 32 MB. */
const MOST_KEPT = 4e6;

export const SEED = 0x77617973; // "ways"

export interface AnswersOptions {
  /** Noise by family, for adjustments that differ in nothing but what was read: the study of coverage. */
  readonly noise?: Map<string, Draws> | undefined;
  readonly seed?: number;
  /** Of the simulations: what `answer` returns stands in it too, as long as it is not released. */
  readonly memory?: Memory;
}

export class Answers {
  /** Simulated surveys. */
  readonly drawCount: number;
  private readonly samples = new Map<string, { sample: ProfileSample; shapes: Draws }>();
  private readonly answers = new Map<string, Answered>();
  private readonly noise: Map<string, Draws>;
  private readonly seed: number;
  private readonly memory: Memory;
  /** One draw after the other. */
  private drawn: Float64Array | null = null;

  constructor(
    private readonly adjustment: Adjustment,
    private readonly coverage: number,
    { noise = new Map(), seed = SEED, memory = freshMemory }: AnswersOptions = {},
  ) {
    this.noise = noise;
    this.seed = seed;
    this.memory = memory;
    this.drawCount = adviseDrawCount(adjustment.network.unknowns.length, coverage);
  }

  answer(question: Question): Answered {
    if (question.kind === 'none') return { ok: false, why: question.why, moved: [] };
    if (question.kind === 'linear') return this.linear(question.functional);
    let found = this.answers.get(question.key);
    if (found === undefined) {
      found = this.profile(question);
      this.answers.set(question.key, found);
    }
    return question.factor === 1 || !found.ok
      ? found
      : { ok: true, answer: scaledBy(found.answer, question.factor) };
  }

  private linear(functional: Functional): Answered {
    if (!this.adjustment.isDetermined(functional)) return { ok: false, why: null, moved: [functional] };
    const value = this.adjustment.value(functional);
    const u = this.adjustment.standardUncertainty(functional);
    const { interval, probabilityAtMost } = linearInterval(value, u, this.coverage);
    return { ok: true, answer: { value, u, interval, probabilityAtMost, at: [], functional } };
  }

  private profile(question: ProfileQuestion): Answered {
    const { family, measure } = question;
    const moving = undetermined(family, this.adjustment).flatMap((moves, index) => (moves ? [index] : []));
    if (moving.length > 0) {
      // A few are enough to say what moves.
      const some = [moving[0]!, moving[moving.length >> 1]!, moving[moving.length - 1]!];
      return { ok: false, why: null, moved: some.map((index) => combine(family, [{ index, weight: 1 }])) };
    }
    const { sample, shapes } = this.sampleOf(question);
    const { value, gradient, at } = measure.explain(sample.observed);
    const functional = combine(family, gradient);
    const u = this.adjustment.standardUncertainty(functional);
    const { interval, probabilityAtMost } = this.interval(question, sample, shapes);
    return {
      ok: true,
      answer: { value, u, interval, probabilityAtMost, at: at.map((i) => family.points[i]!), functional },
    };
  }

  private interval({ kind, measure }: ProfileQuestion, sample: ProfileSample, shapes: Draws): CoverageResult {
    return kind === 'range'
      ? coverageInterval(measure.of, sample, shapes, this.coverage, this.memory)
      : signedExtremeInterval(sample, shapes, this.coverage, this.memory);
  }

  private sampleOf({ family, familyKey, segments }: ProfileQuestion): {
    sample: ProfileSample;
    shapes: Draws;
  } {
    const held = this.samples.get(familyKey);
    if (held !== undefined) return held;
    const sample: ProfileSample = {
      observed: applyFamily(family, this.adjustment.x),
      positions: family.positions,
      noise: this.noise.get(familyKey) ?? this.noiseOf(family),
      ...(segments && { segments }),
    };
    if (sample.noise.values.length <= MOST_KEPT) this.noise.set(familyKey, sample.noise);
    const generator = createGenerator(this.seed ^ hash(familyKey));
    const made = { sample, shapes: drawShapes(sample, generator, this.memory) };
    // Of a large survey one family is held at a time.
    if (sample.noise.values.length > MOST_KEPT) this.samples.clear();
    this.samples.set(familyKey, made);
    return made;
  }

  private noiseOf(family: LinearFamily): Draws {
    const n = family.local.length;
    const count = this.drawCount;
    const values = this.memory.floats(count * n);
    const kernel = familyKernel(family);
    this.forEachDraw(count, (x, at, b) => kernel(x, at, values, b * n));
    return { count, values };
  }

  /**
   * Simulated errors of all unknowns, always the same for the same adjustment; draw b stands in x from `at` on. Kept
   * for the next family where they are few; drawn again from the same seed where keeping them would take the memory
   * of the machine.
   */
  private forEachDraw(count: number, use: (x: Float64Array, at: number, b: number) => void): void {
    const size = this.adjustment.network.unknowns.length;
    if (this.drawn === null) {
      const isKept = count * size <= MOST_KEPT;
      const x = this.memory.floats(isKept ? count * size : size);
      const generator = createGenerator(this.seed);
      for (let b = 0; b < count; b++) {
        const at = isKept ? b * size : 0;
        this.adjustment.drawError(generator, x.subarray(at, at + size));
        if (!isKept) use(x, 0, b);
      }
      if (!isKept) return;
      this.drawn = x;
    }
    for (let b = 0; b < count; b++) use(this.drawn, b * size, b);
  }
}

function scaledBy(answer: Answer, factor: number): Answer {
  return {
    value: answer.value * factor,
    u: answer.u * factor,
    interval: [answer.interval[0] * factor, answer.interval[1] * factor],
    probabilityAtMost: (limit) => answer.probabilityAtMost(limit / factor),
    at: answer.at,
    functional: {
      index: answer.functional.index,
      weight: Array.from(answer.functional.weight, (w) => w * factor),
    },
  };
}

/** FNV-1a, 32 bit: only to give each family draws of its own. */
function hash(text: string): number {
  let h = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) h = Math.imul(h ^ text.charCodeAt(i), 0x01000193);
  return h >>> 0;
}

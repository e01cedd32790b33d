/**
 * Probability of each verdict before the survey. Rails of usual shapes, scaled to a share of the limit, are surveyed by the
 * plan with random errors, and judged as in the report. The results are counts; the seed is fixed.
 */
import { extent } from '../../base/statistics/extent.js';
import { createGenerator, type RandomGenerator } from '../../base/statistics/random.js';
import { SEED, type Answers } from '../../solution/characteristics/answer.js';
import { applyFamily } from '../../solution/characteristics/linear-family.js';
import type { ProfileQuestion, Question } from '../../solution/characteristics/question.js';
import { dot, type Adjustment } from '../../solution/solve/adjustment.js';
import { byRule, type Decision } from '../../solution/verdict/decision-rule.js';
import type { CharacteristicResult } from '../results-schema.js';

/** Counts of the verdicts in simulated surveys of a rail at this share of its limit. */
export interface Chances {
  readonly at: number;
  readonly conforms: number;
  readonly doesNotConform: number;
  readonly undecided: number;
  readonly of: number;
}

/** Shares of the limit at which a rail is simulated. */
export const SHARES = [0.5, 0.8, 0.95, 1.2] as const;
/** Number of simulated surveys per share; fewer for a larger survey. */
const SURVEYS = 100;
const LEAST_SURVEYS = 20;
const NUMBERS = 4e5;

/** Usual shapes of rails, t from 0 to 1; r: random numbers from 0 to 1. */
const SHAPES: readonly ((t: number, r: readonly number[]) => number)[] = [
  (t) => 4 * t * (1 - t),
  (t, [r = 0]) => Math.exp(-(((t - r) / 0.15) ** 2)),
  (t, [r = 0]) => Math.sin(2 * Math.PI * (t + r)),
  (t, [r = 0]) => Math.sin(2 * Math.PI * (1.5 * t + r)),
  (t, [r = 0, s = 0]) => 4 * t * (1 - t) + (r - 0.5) * Math.sin(5 * Math.PI * (t + s)),
];

export interface Limited {
  readonly question: Question;
  readonly limit: number;
  readonly zone: CharacteristicResult['zone'];
  readonly rule: CharacteristicResult['rule'];
}

/** Simulated surveys of one plan, shared by all characteristics: their random errors, drawn once. */
export class Trials {
  private readonly errors: readonly Float64Array[];
  private readonly shapes = new Map<string, readonly Float64Array[]>();
  private readonly generator: RandomGenerator;

  /** @param adjustment The plan with readings of zero: its scale is 1. */
  constructor(
    private readonly adjustment: Adjustment,
    private readonly answers: Answers,
    private readonly decision: Decision,
  ) {
    this.generator = createGenerator(SEED ^ 0x706c616e);
    const unknowns = adjustment.network.unknowns.length;
    const count = Math.max(LEAST_SURVEYS, Math.min(SURVEYS, Math.floor(NUMBERS / Math.max(1, unknowns))));
    this.errors = Array.from({ length: count }, () => {
      const x = new Float64Array(unknowns);
      adjustment.drawError(this.generator, x);
      return x;
    });
  }

  /** @returns One entry per share of the limit; null: no shape of this rail changes the characteristic. */
  chances(limited: Limited, shares: readonly number[] = SHARES): Chances[] | null {
    const found = shares.map((at) => this.at(limited, at));
    return found.some((one) => one === null) ? null : (found as Chances[]);
  }

  private at(limited: Limited, at: number): Chances | null {
    const counts = { conforms: 0, doesNotConform: 0, undecided: 0 };
    const shapes = this.shapesOf(limited.question);
    for (const [k, error] of this.errors.entries()) {
      const rail = railAt(limited, shapes[k % shapes.length]!, at);
      if (rail === null) return null;
      const verdict = this.verdictOn(
        limited,
        rail.map((v, i) => v + error[i]!),
      );
      counts[verdict === 'does-not-conform' ? 'doesNotConform' : verdict]++;
    }
    return { at, ...counts, of: this.errors.length };
  }

  /** The verdict of the report for this solution. */
  verdictOn({ question, limit, zone, rule }: Limited, x: Float64Array) {
    const then = this.answers.after({ ...this.adjustment, x, value: (f) => dot(f, x) });
    return then.verdict(question, limit, zone, byRule(this.decision, rule));
  }

  /** Error-free solutions for rails of usual shapes, of any size. */
  private shapesOf(question: Question): readonly Float64Array[] {
    const rails = question.rails ?? [question.rail];
    const key = question.kind === 'linear' ? `${question.what}|${question.rail}` : rails.join('|');
    let found = this.shapes.get(key);
    if (found !== undefined) return found;
    const { unknowns } = this.adjustment.network;
    if (question.kind === 'linear') {
      const x = new Float64Array(unknowns.length);
      for (let k = 0; k < question.functional.index.length; k++)
        x[question.functional.index[k]!]! += question.functional.weight[k]!;
      found = [x];
    } else {
      const reach = reachOf(this.adjustment, rails);
      found = Array.from({ length: SHAPES.length * 4 }, (_, n) => {
        const x = new Float64Array(unknowns.length);
        for (const rail of rails) {
          const r = [this.generator.nextUniform(), this.generator.nextUniform()];
          // Half of the departures of a pair are a tilt of the whole rail.
          const lean = 2 * this.generator.nextUniform() - 1;
          const { from, to } = reach.get(rail) ?? { from: 0, to: 1 };
          unknowns.forEach((u, i) => {
            if (!('station' in u) || u.rail !== rail) return;
            const t = to > from ? (placeOf(u) - from) / (to - from) : 0;
            x[i] = SHAPES[n % SHAPES.length]!(t, r) + lean * t;
          });
        }
        return x;
      });
    }
    this.shapes.set(key, found);
    return found;
  }
}

type Placed = { readonly alongM: number; readonly acrossM: number };

/** Coordinate along or across, whichever has the larger range; m. */
const placeOf = ({ alongM, acrossM }: Placed): number => alongM + acrossM;

function reachOf({ network }: Adjustment, rails: readonly string[]) {
  const reach = new Map<string, { from: number; to: number }>();
  for (const u of network.unknowns) {
    if (!('station' in u) || !rails.includes(u.rail)) continue;
    const at = placeOf(u);
    const own = reach.get(u.rail) ?? { from: at, to: at };
    reach.set(u.rail, { from: Math.min(own.from, at), to: Math.max(own.to, at) });
  }
  return reach;
}

/**
 * The rail, scaled to a share of the limit. With limits to two sides: to this share of the nearer limit, counted from zero, or
 * from the middle if zero is not between the limits.
 */
function railAt(limited: Limited, shape: Float64Array, at: number): Float64Array | null {
  const { question, limit, zone } = limited;
  const values = valuesOf(question, shape);
  if (values === null) return null;
  const [least, greatest] = extent(values);
  const times = (factor: number) => shape.map((v) => v * factor);
  if (zone === undefined) {
    const size = Math.max(-least, greatest);
    return size < 1e-12 ? null : times((at * limit) / size);
  }
  // An open side, or one without room, is not used.
  const [from, to] = [zone.from ?? -Infinity, zone.to ?? Infinity];
  const factors = [
    ...(to > 0 && Number.isFinite(to) && greatest > 1e-12 ? [(at * to) / greatest] : []),
    ...(from < 0 && Number.isFinite(from) && least < -1e-12 ? [(at * from) / least] : []),
  ];
  if (factors.length > 0) return times(Math.min(...factors));
  const turned = shape.map((v) => -v);
  return valuesOf(question, turned)!.some((v) => (to > 0 ? v > 1e-12 : v < -1e-12)) &&
    (to > 0 || from < 0) &&
    least !== greatest
    ? railAt(limited, turned, at)
    : null;
}

/** The judged values: one number for a range, each point for a signed figure. */
function valuesOf(question: Question, x: Float64Array): readonly number[] | null {
  if (question.kind === 'none') return null;
  if (question.kind === 'linear') return [dot(question.functional, x)];
  const parts: readonly ProfileQuestion[] = question.kind === 'greatest-of' ? question.parts : [question];
  return parts.flatMap((part) => {
    const profile = applyFamily(part.family, x);
    return part.kind === 'signed-extreme'
      ? Array.from(profile, (v) => v * part.factor)
      : [part.measure.explain(profile).value * part.factor];
  });
}

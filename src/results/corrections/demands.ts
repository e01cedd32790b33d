/**
 * Requirements on the moves, as rows of a linear programme. Every characteristic is calculated from quantities that are
 * linear in the moves (characteristics/linear-family.ts). Its value after the moves must be within its limit.
 */
import {
  applyFamily,
  undetermined,
  type LinearFamily,
} from '../../solution/characteristics/linear-family.js';
import {
  heights,
  offsetsAboutOwnMean,
  ownDeviations,
  differences,
  aboutMean,
} from '../../solution/characteristics/profiles.js';
import { profilesOf } from '../../solution/characteristics/ask.js';
import type { ProfileQuestion, Question } from '../../solution/characteristics/question.js';
import type { CorrectionWant, ReferenceName } from '../../survey/job/job-schema.js';
import type { Job } from '../../survey/job/job.js';
import { dot, type Adjustment } from '../../solution/solve/adjustment.js';
import type { Lever } from './levers.js';
import type { Programme } from './programme.js';
import { reason, type Reason } from '../../solution/reasons/reason.js';

/** A quantity after the moves: constant + Σ weight × lever. */
interface Affine {
  readonly constant: number;
  readonly weights: Float64Array;
}

/** An effect below this, µm per µm of a move, is no effect. */
const NOTHING = 1e-9;

/** Name of the k-th lever’s move among the variables of a programme. */
export const leverName = (k: number): string => `m${k}`;

/** Names of variables and rows; one instance per programme. */
export class Demands {
  private count = 0;

  constructor(
    private readonly programme: Programme,
    private readonly adjustment: Adjustment,
    private readonly levers: readonly Lever[],
  ) {}

  /**
   * The characteristic is at most `most` after the moves; of a signed one, it lies from `least` to `most`.
   *
   * @param slack Name of the variable by which it may be exceeded; null: it must be met.
   */
  limit(question: Question, least: number, most: number, slack: string | null): void {
    if (question.kind === 'none') return;
    if (question.kind === 'greatest-of') {
      for (const part of question.parts) this.limit(part, least, most, slack);
      return;
    }
    if (question.kind === 'linear') {
      const { functional } = question;
      const value: Affine = {
        constant: dot(functional, this.adjustment.x),
        weights: Float64Array.from(this.levers, ({ response }) => dot(functional, response)),
      };
      return this.between(value, least, most, slack);
    }
    const members = this.membersOf(question.family, question.factor);
    if (question.kind === 'signed-extreme') {
      for (const member of members) this.between(member, least, most, slack);
      return;
    }
    for (const { points, free } of zonesOf(question, members)) this.zone(points, free, most, slack);
  }

  /** For each lever: true if it changes the value of the question. */
  levered(question: Question): boolean[] {
    const changes = (part: Question, response: Float64Array): boolean => {
      if (part.kind === 'none') return false;
      if (part.kind === 'greatest-of') return part.parts.some((one) => changes(one, response));
      if (part.kind === 'linear') return Math.abs(dot(part.functional, response)) > NOTHING;
      return applyFamily(part.family, response).some((v) => Math.abs(v * part.factor) > NOTHING);
    };
    return this.levers.map(({ response }) => changes(question, response));
  }

  /** The value without a move, as `limit` evaluates it: `value` for a zone whose reference is free. */
  now(question: Question, value: number): { least: number; most: number } {
    if (question.kind === 'none') return { least: 0, most: 0 };
    if (question.kind === 'greatest-of') {
      const parts = question.parts.map((part) => this.now(part, value));
      return { least: Math.min(...parts.map((p) => p.least)), most: Math.max(...parts.map((p) => p.most)) };
    }
    if (question.kind === 'linear') {
      const at = dot(question.functional, this.adjustment.x);
      return { least: at, most: at };
    }
    const members = this.membersOf(question.family, question.factor);
    if (question.kind === 'signed-extreme') {
      const at = members.map(({ constant }) => constant);
      return { least: Math.min(...at), most: Math.max(...at) };
    }
    const widths = zonesOf(question, members).map(({ points, free }) => {
      const at = points.map(({ constant }) => constant);
      return free.length > 0 ? value : Math.max(...at) - Math.min(...at);
    });
    return { least: -Infinity, most: Math.max(...widths) };
  }

  /** Every member is at most its size from a line, plane or level with free parameters (`free`). */
  near(
    members: readonly Affine[],
    free: readonly (readonly number[])[],
    sizeOf: () => string,
    shared?: readonly string[],
  ): void {
    const names = shared ?? free.map(() => this.free());
    members.forEach(({ constant, weights }, i) => {
      const size = sizeOf();
      for (const side of [1, -1]) {
        const terms = this.terms(weights, side);
        names.forEach((name, k) => terms.set(name, -side * free[k]![i]!));
        terms.set(size, -1);
        this.programme.row(terms, { most: -side * constant });
      }
    });
  }

  membersOf(family: LinearFamily, factor: number): Affine[] {
    const now = applyFamily(family, this.adjustment.x);
    const by = this.levers.map(({ response }) => applyFamily(family, response));
    return Array.from(now, (v, i) => ({
      constant: v * factor,
      weights: Float64Array.from(by, (b) => b[i]! * factor),
    }));
  }

  free(): string {
    return this.programme.variable(`f${this.count++}`, -Infinity, Infinity);
  }

  private between({ constant, weights }: Affine, least: number, most: number, slack: string | null): void {
    for (const [side, limit] of [
      [1, most],
      [-1, -least],
    ] as const) {
      if (limit === Infinity) continue;
      const terms = this.terms(weights, side);
      if (slack !== null) terms.set(slack, -1);
      this.programme.row(terms, { most: limit - side * constant });
    }
  }

  /** All points are in a zone of the width `most` about a reference with free parameters. */
  private zone(
    points: readonly Affine[],
    free: readonly (readonly number[])[],
    most: number,
    slack: string | null,
  ) {
    const [low, high] = [this.free(), this.free()];
    const names = free.map(() => this.free());
    for (const [i, { constant, weights }] of points.entries()) {
      const terms = this.terms(weights, 1);
      names.forEach((name, k) => terms.set(name, -free[k]![i]!));
      this.programme.row(new Map([...terms, [high, -1]]), { most: -constant });
      this.programme.row(new Map([...terms, [low, -1]]), { least: -constant });
    }
    const width = new Map([
      [high, 1],
      [low, -1],
    ]);
    if (slack !== null) width.set(slack, -1);
    this.programme.row(width, { most });
  }

  private terms(weights: Float64Array, side: number): Map<string, number> {
    const terms = new Map<string, number>();
    weights.forEach((w, k) => {
      if (w !== 0) terms.set(leverName(k), side * w);
    });
    return terms;
  }
}

interface Zone {
  readonly points: readonly Affine[];
  readonly free: readonly (readonly number[])[];
}

/** The zones that must be narrow enough: one, or one per window. */
function zonesOf(question: ProfileQuestion, members: readonly Affine[]): Zone[] {
  const x = [...question.family.positions];
  if (question.over !== undefined) {
    const reach = question.over / 1000 + 1e-9;
    // Over a length without its own line: the longest window from each station contains all others.
    if (!question.what.startsWith('straightness'))
      return x.map((from, i) => ({
        points: members.filter((_, k) => k >= i && x[k]! - from <= reach),
        free: [],
      }));
    return x.flatMap((from, i) =>
      x.flatMap((to, k) =>
        k >= i + 2 && to - from <= reach
          ? [aboutLine(question.reference ?? 'least-squares', x.slice(i, k + 1), members.slice(i, k + 1))]
          : [],
      ),
    );
  }
  if (question.what.startsWith('straightness'))
    return [aboutLine(question.reference ?? 'least-squares', x, members)];
  // The heights are already from their least-squares plane. The minimum zone is never wider, so this is the safe side.
  return [{ points: members, free: [] }];
}

/** Departures from the points' own reference line. */
function aboutLine(reference: ReferenceName, x: readonly number[], points: readonly Affine[]): Zone {
  if (reference === 'minimum-zone') return { points, free: [x] };
  const n = x.length;
  const mean = x.reduce((a, b) => a + b, 0) / n;
  const sxx = x.reduce((s, v) => s + (v - mean) ** 2, 0);
  const share = (i: number) => (x[i]! - x[0]!) / (x[n - 1]! - x[0]!);
  const lineAt = (i: number, j: number): number =>
    reference === 'end-points'
      ? (j === 0 ? 1 - share(i) : 0) + (j === n - 1 ? share(i) : 0)
      : 1 / n + ((x[i]! - mean) * (x[j]! - mean)) / sxx;
  const levers = points[0]!.weights.length;
  return {
    free: [],
    points: points.map(({ constant, weights }, i) => {
      let c = constant;
      const w = weights.slice();
      points.forEach((other, j) => {
        const part = lineAt(i, j);
        c -= part * other.constant;
        for (let k = 0; k < levers; k++) w[k]! -= part * other.weights[k]!;
      });
      return { constant: c, weights: w };
    }),
  };
}

/**
 * The wanted shape of the rails, each point at most `size` away.
 *
 * @returns null, or the reason why the survey does not determine it.
 */
export function wantShape(
  want: Exclude<CorrectionWant, 'fewest-moves'>,
  job: Job,
  adjustment: Adjustment,
  demands: Demands,
  sizeOf: () => string,
): Reason | null {
  const { network } = adjustment;
  const datum = profilesOf(network, job.datum);
  const ones = (n: number) => new Array<number>(n).fill(1);
  const level = demands.free();
  for (const rail of job.rails) {
    const own = profilesOf(network, rail);
    for (const plane of ['vertical', 'horizontal'] as const) {
      const [profile, other] = [own[plane], datum[plane]];
      if (profile === null) continue;
      const isLevel = want === 'level-and-straight' && plane === 'vertical';
      const isParallel = want === 'parallel-to-datum' && rail.direction === 'along';
      if (isParallel && rail === job.datum) continue;
      if (
        rail.direction === 'along' &&
        (isLevel || isParallel || want === 'level-and-straight') &&
        other !== null
      ) {
        const family = isLevel
          ? heights(profile, other)
          : isParallel
            ? differences(profile, other)
            : offsetsAboutOwnMean(profile, other);
        if (family === null) return reason('no-stations-beside-datum', { rail: rail.id });
        const moved = isParallel ? aboutMean(family) : family;
        if (undetermined(moved, adjustment).includes(true))
          return reason('place-to-datum-open', { rail: rail.id });
        const members = demands.membersOf(moved, 1);
        demands.near(members, [ones(members.length)], sizeOf, isLevel ? [level] : undefined);
        continue;
      }
      const family = ownDeviations(profile);
      if (family === null) continue;
      // About the present line of the rail: moves may not tilt it.
      const now = demands.membersOf(family, 1);
      const plain = demands.membersOf({ ...family, shared: [], multiplier: new Float64Array(0) }, 1);
      const fixed = now.map(({ constant }, i) => ({ constant, weights: plain[i]!.weights }));
      demands.near(fixed, [], sizeOf);
    }
  }
  return null;
}

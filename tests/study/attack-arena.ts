/** What the attack (attack.ts) is made of: the surveys, true rails, and how often an interval holds a rail's value. */
import { Answers } from '../../src/solution/characteristics/answer.js';
import { askAll } from '../../src/solution/characteristics/ask.js';
import { applyFamily } from '../../src/solution/characteristics/linear-family.js';
import type { GreatestQuestion, ProfileQuestion } from '../../src/solution/characteristics/question.js';
import { adjust, type Adjustment } from '../../src/solution/solve/adjustment.js';
import { buildNetwork } from '../../src/solution/solve/network.js';
import type { Errors } from '../../src/solution/verdict/errors.js';
import { Ends, greatestInterval, greatestOfEnds } from '../../src/solution/verdict/greatest.js';
import { signedInterval } from '../../src/solution/verdict/greatest-magnitude.js';
import { createGenerator, type RandomGenerator } from '../../src/base/statistics/random.js';
import {
  carriedOver,
  conditionsOf,
  even,
  fourRails,
  legs,
  levels,
  oneShot,
  uneven,
  type PlannedSurvey,
} from './surveys.js';

export const CONFIRM = Number(process.env['ATTACK_CONFIRM'] ?? 4000);
const SCREEN = Number(process.env['ATTACK_SCREEN'] ?? 50);
const WALK = Number(process.env['ATTACK_WALK'] ?? 8);
/** Surveys take turns with so many sets of draws. */
const SETS = 4;

export const kinds: readonly PlannedSurvey[] = [
  oneShot(1),
  carriedOver(even(25)),
  legs(even(41)),
  oneShot(3, even(25)),
  oneShot(2, uneven(17)),
  levels(even(21)),
  oneShot(1, even(5)),
  oneShot(1, even(41)),
  oneShot(2, even(61, 300)),
  fourRails(),
];

export interface Found {
  readonly survey: string;
  readonly what: string;
  readonly rail: string;
  /** That confirmed it. */
  readonly surveys: number;
  readonly coverage: number;
  readonly covered: number;
  readonly below: number;
  readonly above: number;
  /** Mean, in standard uncertainties of one difference. */
  readonly width: number;
  /** The rail itself, µm at each point of the family. */
  readonly profile: readonly number[];
}

/** A true rail: µm at each point of the family, and what it is called. */
interface Truth {
  readonly name: string;
  readonly profile: Float64Array;
}

export interface Tally {
  below: number;
  above: number;
  width: number;
  count: number;
}

const shapes: Readonly<Record<string, (n: number, random: RandomGenerator) => number[]>> = {
  bays: (n) => row(n, (t) => Math.abs(Math.sin(4 * Math.PI * t))),
  'long bays': (n) => row(n, (t) => Math.abs(Math.sin(2 * Math.PI * t))),
  teeth: (n) => Array.from({ length: n }, (_, k) => (k % 5 === 2 ? 1 : 0)),
  'every other': (n) => Array.from({ length: n }, (_, k) => k % 2),
  wave: (n) => row(n, (t) => Math.sin(6 * Math.PI * t)),
  step: (n) => row(n, (t) => (t > 0.55 ? 1 : 0)),
  kink: (n) => row(n, (t) => Math.max(0, t - 0.4)),
  'hanging end': (n) => row(n, (t) => Math.max(0, t - 0.85) / 0.15),
  bow: (n) => row(n, (t) => 4 * t * (1 - t)),
  'bow and one station': (n) => row(n, (t) => 4 * t * (1 - t)).map((v, k) => (k === n >> 1 ? v + 0.5 : v)),
  'two stations': (n) =>
    Array.from({ length: n }, (_, k) =>
      k === Math.floor(n / 3) ? 1 : k === Math.floor((2 * n) / 3) ? -1 : 0,
    ),
  'one station': (n) => Array.from({ length: n }, (_, k) => (k === Math.floor(n / 3) ? 1 : 0)),
  'short wear': (n) => row(n, (t) => (t > 0.4 && t < 0.6 ? Math.sin(20 * Math.PI * t) : 0)),
  random: (n, random) => Array.from({ length: n }, () => random.nextNormal()),
  walk: (n, random) => {
    let sum = 0;
    return Array.from({ length: n }, () => (sum += random.nextNormal()));
  },
};
const SIZES = [2.5, 5, 10, 25, 100];

const row = (n: number, f: (t: number) => number): number[] =>
  Array.from({ length: n }, (_, k) => f(k / (n - 1)));

type Attacked = ProfileQuestion | GreatestQuestion;

/** What is read of the true places, and the draws that its interval is worked out with. */
interface Part {
  readonly question: ProfileQuestion;
  readonly sets: readonly Errors[];
}

class Arena {
  /** Unknowns that are free to be anything. */
  private readonly points: readonly number[];
  /** Rails that lie one behind the other among the points. */
  private readonly rails: number;

  constructor(
    private readonly question: Attacked,
    private readonly parts: readonly Part[],
    private readonly adjustment: Adjustment,
    private readonly coverage: number,
  ) {
    const { unknowns } = adjustment.network;
    if (question.kind === 'greatest-of') {
      const all = parts.flatMap((part) =>
        part.question.family.local.flatMap(({ index }) => Array.from(index)),
      );
      const railOf = (index: number) => {
        const unknown = unknowns[index]!;
        return 'rail' in unknown ? (unknown.rail ?? '') : '';
      };
      this.points = [...new Set(all)].sort((a, b) =>
        railOf(a) < railOf(b) ? -1 : railOf(a) > railOf(b) ? 1 : a - b,
      );
      this.rails = new Set(this.points.map(railOf)).size;
    } else {
      this.points = question.family.local.map(({ index }) => index[0]!);
      this.rails = question.what === 'coplanarity' ? 2 : 1;
    }
  }

  /** Of a reading's size: the standard uncertainty of a difference of two neighbours. */
  get unit(): number {
    const { covariance } = this.parts[0]!.sets[0]!;
    return Math.sqrt(Math.max(1e-12, covariance(0, 0) + covariance(1, 1) - 2 * covariance(0, 1)) / 2);
  }

  /** What each part's family reads of the true points. */
  truth(profile: ArrayLike<number>): Float64Array[] {
    const x = new Float64Array(this.adjustment.network.unknowns.length);
    this.points.forEach((index, i) => (x[index] = profile[i]!));
    return this.parts.map(({ question }) => applyFamily(question.family, x));
  }

  private interval(d: readonly Float64Array[], s: number): readonly [number, number] {
    const { question, parts, coverage } = this;
    const errorsOf = ({ sets }: Part) => sets[s % sets.length]!;
    if (question.kind === 'signed-extreme')
      return signedInterval(d[0]!, errorsOf(parts[0]!), coverage).interval;
    if (question.kind === 'range')
      return greatestInterval(question.measure.greatest(d[0]!, errorsOf(parts[0]!)), coverage).interval;
    const ends = parts.map((part, k) => ({
      ends: new Ends(part.question.measure.greatest(d[k]!, errorsOf(part)), coverage),
      factor: part.question.factor,
    }));
    return greatestOfEnds(ends, coverage).interval;
  }

  tally(truth: readonly Float64Array[], count: number, random: RandomGenerator): Tally {
    const isGreatest = this.question.kind === 'greatest-of';
    const values = this.parts.map(
      ({ question }, k) => question.measure.explain(truth[k]!).value * (isGreatest ? question.factor : 1),
    );
    const value = isGreatest ? Math.max(...values) : values[0]!;
    const slack = 1e-9 * (1 + Math.abs(value));
    const e = new Float64Array(this.adjustment.network.unknowns.length);
    const tally: Tally = { below: 0, above: 0, width: 0, count };
    for (let s = 0; s < count; s++) {
      this.adjustment.drawError(random, e);
      const d = this.parts.map(({ question }, k) => {
        const noise = applyFamily(question.family, e);
        return truth[k]!.map((v, i) => v + noise[i]!);
      });
      const interval = this.interval(d, s);
      tally.width += interval[1] - interval[0];
      if (value >= interval[0] - slack && value <= interval[1] + slack) continue;
      // Above: farther out than anything in the interval, which a limit would not have shown.
      if (Math.abs(value) > Math.max(Math.abs(interval[0]), Math.abs(interval[1]))) tally.above++;
      else tally.below++;
    }
    return tally;
  }

  /** How bad a rail is: what it misses, above counting twice, for the walk. */
  badness({ below, above, count }: Tally): number {
    return (below + 2 * above) / count;
  }

  attack(random: RandomGenerator): { truth: Truth; tally: Tally } {
    const n = this.points.length;
    const { unit, rails } = this;
    const tried: { truth: Truth; bad: number }[] = [];
    const tryOne = (name: string, profile: readonly number[]) => {
      const made = { name, profile: Float64Array.from(profile) };
      const bad = this.badness(this.tally(this.truth(made.profile), SCREEN, random));
      tried.push({ truth: made, bad });
      return bad;
    };
    tryOne('perfect', new Array<number>(n).fill(0));
    for (const [name, make] of Object.entries(shapes)) {
      for (const size of SIZES) {
        // Of several rails in one profile the others lie as the first does, or not at all.
        const one = make(Math.floor(n / rails), random);
        const whole = Array.from({ length: rails }, (_, k) =>
          k === 0 || random.nextUniform() < 0.5 ? one : one.map(() => 0),
        ).flat();
        tryOne(
          `${name}, ${size}`,
          whole.map((v) => size * unit * v),
        );
      }
    }
    // Steps from the worst: one station, a stretch of them, or the size of all.
    for (let k = 0; k < WALK; k++) {
      tried.sort((a, b) => b.bad - a.bad);
      const from = tried[k % 3]!.truth;
      const profile = [...from.profile];
      const way = random.nextUniform();
      const by = unit * 3 * random.nextNormal();
      if (way < 0.4) profile[Math.floor(n * random.nextUniform())]! += by;
      else if (way < 0.7) {
        const start = Math.floor(n * random.nextUniform());
        for (let i = start; i < Math.min(n, start + 4); i++) profile[i]! += by;
      } else {
        const factor = Math.exp(0.4 * random.nextNormal());
        for (let i = 0; i < n; i++) profile[i]! *= factor;
      }
      tryOne(from.name.replace(/ \(walked\)$/, '') + ' (walked)', profile);
    }
    tried.sort((a, b) => b.bad - a.bad);
    // The three worst once more, with more noise, for the worst of many is partly chance.
    const again = tried.slice(0, 4).map(({ truth }) => {
      const tally = this.tally(this.truth(truth.profile), 5 * SCREEN, random);
      return { truth, bad: this.badness(tally) };
    });
    const worst = again.sort((a, b) => b.bad - a.bad)[0]!.truth;
    return { truth: worst, tally: this.tally(this.truth(worst.profile), CONFIRM, random) };
  }
}

/** The questions of a survey: each once, of the vertical plane, and what has no like there. */
export function questionsOf(survey: PlannedSurvey): { adjustment: Adjustment; list: Attacked[] } {
  const adjustment = adjust(buildNetwork(survey.job, survey.rows));
  const seen = new Set<string>();
  // Of the survey that is asked as drawings ask, nothing that the other surveys are asked too.
  const isDrawn = survey.job.toleranceSet.tolerances.some(({ rails }) => rails !== null);
  const all = askAll(survey.job, adjustment.network);
  const list = all.filter((q): q is ProfileQuestion => {
    if (q.kind !== 'range' && q.kind !== 'signed-extreme') return false;
    if (isDrawn) return conditionsOf(q).length > 0 || q.what.startsWith('rate-of-change');
    if (['twist', 'cross-level'].includes(q.what) || q.what.startsWith('straightness-horizontal'))
      return false;
    const key = `${q.what}|${q.reference ?? ''}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
  // Behind the others, whose seeds go by their place.
  return { adjustment, list: [...list, ...all.filter((q) => q.kind === 'greatest-of')] };
}

/** Which characteristic of which kind of survey, at which stated coverage. */
export interface Task {
  readonly kind: number;
  readonly index: number;
  readonly coverage: number;
}

/** null: the readings do not determine it. */
function arenaOf({ kind, index, coverage }: Task): { arena: Arena; question: Attacked } | null {
  const { adjustment, list } = questionsOf(kinds[kind]!);
  const question = list[index]!;
  const answered = new Answers(adjustment, coverage).answer(question);
  if (!answered.ok) return null;
  const drawn = Array.from({ length: SETS }, (_, k) => {
    const errors = new Map<string, Errors>();
    new Answers(adjustment, coverage, { errors, seed: 1000 + k }).answer(question);
    return errors;
  });
  const parts = (question.kind === 'greatest-of' ? question.parts : [question]).map((part) => ({
    question: part,
    sets: drawn.map((errors) => errors.get(part.familyKey)!),
  }));
  return { arena: new Arena(question, parts, adjustment, coverage), question };
}

/** Near the bounds, what 4000 surveys say is mostly chance: the rail is confirmed once more with this many times as many. */
const MORE = 4;
/** By so much a cell may pass a bound by chance alone: two standard deviations. */
const CHANCE = 2;

export function attackOne(task: Task): Found | null {
  const made = arenaOf(task);
  if (made === null) return null;
  const { arena, question } = made;
  const random = createGenerator(77 + 100 * task.kind + task.index);
  const { truth, tally: first } = arena.attack(random);
  const alpha = 1 - task.coverage;
  const spread = (p: number) => CHANCE * Math.sqrt((p * (1 - p)) / first.count);
  const isNear =
    (first.below + first.above) / first.count > alpha + spread(alpha) ||
    first.above / first.count > alpha / 2 + spread(alpha / 2);
  const tally = isNear ? arena.tally(arena.truth(truth.profile), MORE * first.count, random) : first;
  return {
    survey: kinds[task.kind]!.name,
    what: labelOf(question),
    rail: truth.name,
    surveys: tally.count,
    coverage: task.coverage,
    covered: 1 - (tally.below + tally.above) / tally.count,
    below: tally.below / tally.count,
    above: tally.above / tally.count,
    width: tally.width / tally.count / arena.unit,
    profile: Array.from(truth.profile, (v) => Number(v.toPrecision(6))),
  };
}

function labelOf(question: Attacked): string {
  const { what, reference } = question;
  const conditions = [...(reference === undefined ? [] : [reference]), ...conditionsOf(question)];
  return conditions.length === 0 ? what : `${what} (${conditions.join(', ')})`;
}

/** How often the intervals of one true rail miss it, with noise of its own. */
export function confirmRail(task: Task, profile: readonly number[], count: number, seed: number): Tally {
  const { arena } = arenaOf(task)!;
  return arena.tally(arena.truth(profile), count, createGenerator(seed));
}

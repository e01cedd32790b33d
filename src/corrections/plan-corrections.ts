/** Which adjusters to move, and by how much; what is then to be expected. */
import { Answers, SEED } from '../characteristics/answer.js';
import { askAll } from '../characteristics/ask.js';
import { applyFamily } from '../characteristics/linear-family.js';
import type { Question } from '../characteristics/question.js';
import type { CorrectionWant } from '../job/job-schema.js';
import type { Job } from '../job/job.js';
import type { Reading } from '../readings/readings.js';
import { characteristicsSection } from '../results/characteristics-section.js';
import type { CharacteristicResult, CorrectionPlan } from '../results/results-schema.js';
import { questionOf } from '../results/unstated-section.js';
import { adjust, dot, type Adjustment } from '../solve/adjustment.js';
import { explainer } from '../solve/explain.js';
import { buildNetwork } from '../solve/network.js';
import { sourcesOf } from '../solve/roles.js';
import { quantile, shareAtMost } from '../statistics/quantile.js';
import { createGenerator } from '../statistics/random.js';
import { Demands, leverName, wantShape } from './demands.js';
import { forcesOf, leversOf, type Lever } from './levers.js';
import { Programme, type Solved } from './programme.js';

/** No crew moves less than this, µm. */
const LEAST_MOVE = 0.05;
/** Sheets of one thickness that lie in one place at most. */
const MOST_SHEETS = 12;
/** Beyond any travel, µm: a jack that stands on shims alone goes as high as there are sheets. */
const HIGHEST = 50_000;

/** @param now The characteristics as they were judged of these readings. */
export async function planCorrections(
  job: Job,
  readings: readonly Reading[],
  now: readonly CharacteristicResult[],
): Promise<CorrectionPlan> {
  const network = buildNetwork(job, readings);
  const adjustment = adjust(network);
  const questions = askAll(job, network);
  const { want, untouched } = job.aim;
  const levers = leversOf(
    job,
    network,
    want === 'parallel-to-datum' ? [...untouched, job.datum.id] : untouched,
  );
  const planner = new Planner(job, adjustment, questions, levers, now);
  return want === 'fewest-moves' ? planner.fewest() : planner.shaped(want);
}

interface Judged {
  readonly c: CharacteristicResult;
  readonly question: Question;
  /** What the limit leaves for the value, unit of the characteristic. */
  readonly least: number;
  readonly most: number;
  /** What noise alone makes of it in simulated surveys, ascending. */
  readonly noise: Float64Array;
  /** What it is not exceeded by, with the confidence of a coverage interval's upper end. */
  readonly reach: number;
}

/** What is to be done at one adjuster in one plane. */
interface Move {
  readonly lever: Lever;
  readonly um: number;
  /** Whole sheets, µm each, where it stands on shims. */
  readonly shims: { readonly add: number[]; readonly take: number[] } | null;
}

class Planner {
  private readonly judged: readonly Judged[];

  constructor(
    private readonly job: Job,
    private readonly adjustment: Adjustment,
    private readonly questions: readonly Question[],
    private readonly levers: readonly Lever[],
    private readonly now: readonly CharacteristicResult[],
  ) {
    const judged = now.flatMap((c): Judged[] => {
      const question = c.limit === null || c.value === null ? null : questionOf(questions, c);
      if (question === null) return [];
      const kept = 1 - job.aim.margin;
      const most = kept * (c.zone === undefined ? c.limit! : (c.zone.to ?? Infinity));
      const least = c.zone === undefined ? (c.signed ? -most : -Infinity) : kept * (c.zone.from ?? -Infinity);
      return [{ c, question, least, most, noise: new Float64Array(DRAWS), reach: 0 }];
    });
    this.judged = simulated(judged, adjustment, job.decision.coverage);
  }

  /** As few adjusters as may be, and of those the least movement, so that every tolerance holds with its uncertainty. */
  async fewest(): Promise<CorrectionPlan> {
    const programme = new Programme();
    const demands = new Demands(programme, this.adjustment, this.levers);
    const cost = this.moveVariables(programme, true);
    for (const { question, least, most, reach } of this.judged)
      demands.limit(question, least + reach, most - reach, null);
    const plan = await programme.solve(cost, this.job.aim.timeLimitS);
    if (plan.status === 'impossible') return this.nearest();
    return this.section(plan.status, plan.gap, null, this.read(plan));
  }

  /** Where not everything can be had: what misses its limit by the least share, and which limits those are. */
  private async nearest(): Promise<CorrectionPlan> {
    const programme = new Programme();
    const demands = new Demands(programme, this.adjustment, this.levers);
    const cost = new Map(
      [...this.moveVariables(programme, false)].map(([name, weight]) => [name, 1e-4 * weight]),
    );
    this.judged.forEach(({ c, question, least, most, reach }, k) => {
      const slack = programme.variable(`s${k}`, 0, Infinity);
      cost.set(slack, 1 / Math.max(1e-6, c.limit!));
      demands.limit(question, least + reach, most - reach, slack);
    });
    const plan = await programme.solve(cost, this.job.aim.timeLimitS);
    const moves = plan.status === 'impossible' ? [] : this.read(plan);
    const why = this.judged.flatMap(({ c }, k) => {
      const by = plan.value(`s${k}`);
      return by > 1e-6
        ? [
            `${c.what} of rail ${c.rail} misses its limit by ${by.toPrecision(3)} ${c.unit}, its uncertainty included`,
          ]
        : [];
    });
    return this.section('impossible', null, why.join('; ') || 'no plan was found within the time', moves);
  }

  /** Every rail as near to the wanted shape as its adjusters can bring it, and then the least movement. */
  async shaped(want: Exclude<CorrectionWant, 'fewest-moves'>): Promise<CorrectionPlan> {
    const { job, adjustment, levers } = this;
    const nothing = (why: string) => this.section('impossible', null, why, []);
    const solve = async (most: number, isNear: boolean) => {
      const programme = new Programme();
      const demands = new Demands(programme, adjustment, levers);
      const cost = this.moveVariables(programme, false);
      const size = programme.variable('t', 0, most);
      const why = wantShape(want, job, adjustment, demands, size);
      if (why !== null) return why;
      const plan = await programme.solve(isNear ? new Map([[size, 1]]) : cost, job.aim.timeLimitS);
      return plan.status === 'impossible' ? 'no plan was found within the time' : plan;
    };
    const near = await solve(Infinity, true);
    if (typeof near === 'string') return nothing(near);
    const least = await solve(near.value('t') * (1 + 1e-6) + 0.01, false);
    if (typeof least === 'string') return nothing(least);
    return this.section(least.status, least.gap, null, this.read(least));
  }

  /** Moves, within travel and in whole sheets. @returns What they cost. */
  private moveVariables(programme: Programme, countsAdjusters: boolean): Map<string, number> {
    const cost = new Map<string, number>();
    const travels = this.levers.map(
      ({ travel }) => Math.min(travel.plus, HIGHEST) + Math.min(travel.minus, HIGHEST),
    );
    // All movement together costs less than one adjuster more.
    const each = countsAdjusters ? 0.5 / Math.max(1, sumOf(travels)) : 1;
    const touched = new Map<string, string>();
    this.levers.forEach(({ adjuster, plane, travel }, k) => {
      const [up, down] = [travel.plus, travel.minus].map((v) => Math.min(v, HIGHEST)) as [number, number];
      const m = programme.variable(leverName(k), -down, up);
      const [plus, minus] = [programme.variable(`p${k}`, 0, up), programme.variable(`n${k}`, 0, down)];
      programme.row(
        new Map([
          [m, 1],
          [plus, -1],
          [minus, 1],
        ]),
        { least: 0, most: 0 },
      );
      cost.set(plus, each);
      cost.set(minus, each);
      if (plane === 'vertical' && adjuster.shims !== null) this.sheets(programme, k, cost, each);
      if (!countsAdjusters) return;
      let isTouched = touched.get(adjuster.id);
      if (isTouched === undefined) {
        isTouched = programme.variable(`z${k}`, 0, 1, true);
        touched.set(adjuster.id, isTouched);
        cost.set(isTouched, 1);
      }
      if (up > 0)
        programme.row(
          new Map([
            [plus, 1],
            [isTouched, -up],
          ]),
          { most: 0 },
        );
      if (down > 0)
        programme.row(
          new Map([
            [minus, 1],
            [isTouched, -down],
          ]),
          { most: 0 },
        );
    });
    return cost;
  }

  private sheets(programme: Programme, k: number, cost: Map<string, number>, each: number): void {
    const { have, inUm } = this.levers[k]!.adjuster.shims!;
    const sum = new Map([[leverName(k), 1]]);
    const taken = new Map<string, number>();
    have.forEach((um, s) => {
      const add = programme.variable(`a${k}_${s}`, 0, MOST_SHEETS, true);
      const take = programme.variable(
        `t${k}_${s}`,
        0,
        Math.min(MOST_SHEETS, Math.floor(inUm / um + 1e-9)),
        true,
      );
      sum.set(add, -um);
      sum.set(take, um);
      taken.set(take, um);
      for (const name of [add, take]) cost.set(name, 1e-3 * each * um + 1e-6 * each);
    });
    programme.row(sum, { least: 0, most: 0 });
    programme.row(taken, { most: inUm });
  }

  private read(plan: Solved): Move[] {
    return this.levers
      .map((lever, k): Move => {
        const { adjuster, plane } = lever;
        const m = plan.value(leverName(k));
        if (plane !== 'vertical' || adjuster.shims === null)
          return { lever, um: Math.abs(m) < LEAST_MOVE ? 0 : m, shims: null };
        const { have } = adjuster.shims;
        const sheets = (kind: string) =>
          have.flatMap((um, s) => new Array<number>(Math.round(plan.value(`${kind}${k}_${s}`))).fill(um));
        const shims = { add: sheets('a'), take: sheets('t') };
        return { lever, um: sumOf(shims.add) - sumOf(shims.take), shims };
      })
      .filter(({ um }) => um !== 0);
  }

  /** The characteristics after the moves, with the interval that a new survey of the same kind would have. */
  private predict(moves: readonly Move[]): CharacteristicResult[] {
    const { job, adjustment, questions } = this;
    const x = adjustment.x.slice();
    for (const { lever, um } of moves) for (let i = 0; i < x.length; i++) x[i]! += um * lever.response[i]!;
    const after: Adjustment = { ...adjustment, x, value: (f) => dot(f, x) };
    const answers = new Answers(after, job.decision.coverage);
    const sources = sourcesOf(adjustment.network);
    const list = characteristicsSection(job, after, questions, answers, sources, explainer(job, adjustment));
    return list.map((c, k) => this.foreseen(c, this.now[k]!));
  }

  /** With the confidence that holds of moves that were chosen by the same readings. */
  private foreseen(c: CharacteristicResult, now: CharacteristicResult): CharacteristicResult {
    const judged = this.judged.find((j) => j.c === now);
    if (judged === undefined || c.value === null) return c;
    const left =
      c.zone === undefined
        ? c.limit! - Math.abs(c.value)
        : Math.min((c.zone.to ?? Infinity) - c.zone.greatest!, c.zone.least! - (c.zone.from ?? -Infinity));
    return { ...c, probability: left < 0 ? Math.min(0.5, c.probability!) : shareAtMost(judged.noise, left) };
  }

  private section(
    status: CorrectionPlan['status'],
    gap: number | null,
    why: string | null,
    moves: readonly Move[],
  ): CorrectionPlan {
    const forces = forcesOf(this.job, moves);
    return {
      status,
      want: this.job.aim.want,
      margin: this.job.aim.margin,
      gap,
      ...(why !== null && { why }),
      moves: moves.map(({ lever, um, shims }) => {
        const { adjuster, rail, plane, travel } = lever;
        const force = forces.get(lever);
        return {
          adjuster: adjuster.id,
          rail: rail.id,
          along: adjuster.atMm,
          axis: plane,
          move: um,
          unit: 'um' as const,
          ...(travel.pitchUm !== null && { turns: um / travel.pitchUm }),
          ...(shims !== null && { shims }),
          ...(force !== undefined && { forceN: force }),
        };
      }),
      predicted: this.predict(moves),
    };
  }
}

const sumOf = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0);

/** Simulated surveys. */
const DRAWS = 1000;

/**
 * What noise e makes of each characteristic T. Moves that were chosen by the readings d lean on their noise, so that the
 * interval of one survey does not hold for them. But T is a greatest of linear functionals: whatever the moves,
 * T(true) ≤ T(read) + T(−e), and the quantile of T(−e) holds for all of them at once.
 */
function simulated(judged: readonly Judged[], adjustment: Adjustment, coverage: number): Judged[] {
  const generator = createGenerator(SEED);
  const x = new Float64Array(adjustment.network.unknowns.length);
  for (let b = 0; b < DRAWS; b++) {
    adjustment.drawError(generator, x);
    for (const { question, noise } of judged) noise[b] = sizeOf(question, x);
  }
  return judged.map((j) => {
    j.noise.sort();
    return { ...j, reach: quantile(j.noise, (1 + coverage) / 2) };
  });
}

function sizeOf(question: Question, x: Float64Array): number {
  if (question.kind === 'none') return 0;
  if (question.kind === 'linear') return Math.abs(dot(question.functional, x));
  if (question.kind === 'greatest-of') return Math.max(...question.parts.map((part) => sizeOf(part, x)));
  return Math.abs(question.measure.explain(applyFamily(question.family, x)).value * question.factor);
}

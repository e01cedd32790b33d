/** Which adjusters to move, and by how much; what is then to be expected. */
import { profilesOf } from '../../solution/characteristics/ask.js';
import { applyFamily } from '../../solution/characteristics/linear-family.js';
import { ownDeviations } from '../../solution/characteristics/profiles.js';
import type { CorrectionWant } from '../../survey/job/job-schema.js';
import type { Adjuster, Job, Rail } from '../../survey/job/job.js';
import type { AdjustedPhase } from '../adjusted-phase.js';
import { characteristicsSection } from '../characteristics-section.js';
import type { CharacteristicResult, CorrectionPlan } from '../results-schema.js';
import { dot, type Adjustment } from '../../solution/solve/adjustment.js';
import { explainer } from '../../solution/solve/explain.js';
import { sourcesOf } from '../../solution/solve/roles.js';
import { betweenStations } from './between-stations.js';
import { Demands, leverName, wantShape } from './demands.js';
import {
  forceBy,
  leversOf,
  mayHang,
  piecesOf,
  planes,
  supportForcesOf,
  tiesOf,
  type Lever,
  type Moved,
  type Plane,
  type SupportForce,
} from './levers.js';
import { judgedOf, noiseOf, reachOf, type Judged, type Noise } from './limits.js';
import { orderOf } from './order.js';
import { fewestSheets, MOST_SHEETS, sheetsIn, stepOfSheets, type Sheets } from './sheets.js';
import { GOOD_ENOUGH, Programme, type OnSearch, type Solved } from './programme.js';
import { reason, type Reason } from '../../solution/reasons/reason.js';
import { whyOf } from '../quantity.js';

/** No crew moves less than this, µm. */
const LEAST_MOVE = 0.05;
/** Beyond any travel, µm: a jack that stands on shims alone goes as high as there are sheets. */
const HIGHEST = 50_000;
/** Work of one search, iterations of the simplex method; the searches of the samples end of themselves before a third of it. */
const MOST_WORK = 40_000;
/** How often a plan is made anew for how well its own moves come out. */
const MOST_ROUNDS = 3;
/** Where no instrument states its range, µm either side: half an inch (common practice, no source). */
const USUAL_RANGE = 12_700;
/** Moves of more than this share of the range are made in two goes, the first of them by so much. */
const LARGE_MOVE = 0.2;
const COARSE_SHARE = 0.8;
/** Moves so many times the largest that the least movement needs are looked at. */
const WORTH = 2;

export interface PlanInput {
  readonly job: Job;
  readonly phase: AdjustedPhase;
  /** The characteristics as they were judged of it. */
  readonly now: readonly CharacteristicResult[];
  readonly adjusters: readonly Adjuster[];
  /** false: all movement counts alike, however many adjusters share it. */
  readonly countsAdjusters: boolean;
  /** How well a move comes out; null: not known. */
  readonly response: CorrectionPlan['response'] | null;
  readonly onSearch?: OnSearch | undefined;
}

/** The fewest moves that meet every limit, or bring each rail nearest to the shape that is wanted. */
export async function planCorrections(input: PlanInput): Promise<CorrectionPlan> {
  const { job } = input;
  const { want, untouched } = job.aim;
  const levers = leversOf(
    job.rails,
    input.adjusters,
    input.phase.adjustment.network,
    want === 'parallel-to-datum' ? [...untouched, job.datum.id] : untouched,
  );
  const planner = new Planner(input, levers);
  return want === 'fewest-moves' ? planner.fewest() : planner.shaped(want);
}

/** What is to be done at one adjuster in one plane. */
interface Move extends Moved {
  /** Whole sheets, µm each, where it stands on shims. */
  readonly shims: Sheets | null;
}

class Planner {
  private readonly job: Job;
  private readonly adjustment: Adjustment;
  private readonly judged: readonly Judged[];
  private readonly forces: readonly SupportForce[];

  constructor(
    private readonly input: PlanInput,
    private readonly levers: readonly Lever[],
  ) {
    this.job = input.job;
    this.adjustment = input.phase.adjustment;
    this.judged = judgedOf(input.job, input.phase.questions, input.now);
    this.forces = supportForcesOf(this.job.rails, input.adjusters, levers);
  }

  /** As few adjusters as may be, and of those the least movement, so that every tolerance holds with its uncertainty. */
  async fewest(): Promise<CorrectionPlan> {
    let reaches = this.reaches([]);
    const within = await this.worthLooking(reaches);
    // Moves come out only nearly as asked: what they leave open depends on how large they are.
    for (let round = 0; ; round++) {
      const plan = await this.fewestWithin(reaches, within);
      if (plan.status === 'impossible') return this.nearest(reaches);
      const moves = await this.read(plan);
      const needed = this.reaches(moves);
      const isKept = needed.every((reach, k) => reach <= reaches[k]! + 0.01 * this.judged[k]!.c.limit!);
      if (isKept || round === MOST_ROUNDS) return this.section(plan.status, plan.gap, [], moves);
      reaches = needed.map((reach, k) => Math.max(reach, reaches[k]!));
    }
  }

  /** As few adjusters as may be, and of those the least movement. */
  private async fewestWithin(reaches: readonly number[], within: number): Promise<Solved> {
    const limited = (hasSheets: boolean) =>
      this.kept(reaches, this.programme(this.input.countsAdjusters, false, within, hasSheets));
    const { programme, cost } = limited(true);
    if (!this.input.adjusters.some(({ shims }) => shims !== null)) return this.solve(programme, cost);
    // Without sheets no plan costs more than with them: what is proven of those holds here. Where whole sheets do at the
    // same adjusters, the search among them is short.
    const freely = limited(false);
    const bound = await this.solve(freely.programme, freely.cost, 0.7);
    if (bound.status === 'impossible') return bound;
    const same = limited(true);
    for (const name of same.touched)
      if (bound.value(name) < 0.5) same.programme.row(new Map([[name, 1]]), { most: 0 });
    const near = await this.solve(same.programme, same.cost, 0.1);
    // What those searches left of the work.
    const used = (bound.work + near.work) / MOST_WORK;
    const whole = await this.solve(programme, cost, Math.max(0.2, 1 - used));
    if (whole.status === 'best' || near.status === 'impossible') return whole;
    const plan = near;
    const costOf = (of: Solved, by: ReadonlyMap<string, number>) =>
      sumOf([...by].map(([name, weight]) => weight * of.value(name)));
    const [found, least] = [costOf(plan, freely.cost), costOf(bound, freely.cost) * (1 - (bound.gap ?? 1))];
    const gap = Math.max(0, (found - least) / found);
    return { ...plan, status: gap <= GOOD_ENOUGH ? 'best' : 'found', gap };
  }

  /** All tolerances kept with what is to be left for noise. */
  private kept<T extends { readonly demands: Demands }>(reaches: readonly number[], built: T): T {
    this.judged.forEach(({ question, least, most }, k) =>
      built.demands.limit(question, least + reaches[k]!, most - reaches[k]!, null),
    );
    return built;
  }

  /**
   * How large moves are looked at, µm: some times the largest that the least movement needs, and a thinnest sheet. To
   * lift a whole rail would save a move now and then, and no crew would do it; without a bound the search does not end.
   */
  private async worthLooking(reaches: readonly number[]): Promise<number> {
    if (!this.input.countsAdjusters) return Infinity;
    const { programme, cost } = this.kept(reaches, this.programme(false, true));
    const plan = await this.solve(programme, cost);
    if (plan.status === 'impossible') return Infinity;
    const largest = Math.max(0, ...this.levers.map((_, k) => Math.abs(plan.value(leverName(k)))));
    const sheets = this.levers.flatMap(({ adjuster }) =>
      adjuster.shims === null ? [] : [Math.min(...adjuster.shims.have)],
    );
    return WORTH * largest + Math.max(0, ...sheets);
  }

  /** Where not everything can be had: what misses its limit by the least share, and which limits those are. */
  private async nearest(reaches: readonly number[]): Promise<CorrectionPlan> {
    const plan = await this.leastMissed(reaches, false);
    const moves = plan.status === 'impossible' ? [] : await this.read(plan);
    // Were there travel without end, would the limits still be missed?
    const free = await this.leastMissed(reaches, true);
    const missed = this.judged.flatMap(({ c, most, least }, k): NonNullable<CorrectionPlan['missed']> => {
      const [by, ofFree] = [plan, free].map((p) => p.value(`s${k}`)) as [number, number];
      if (by <= 1e-6) return [];
      const apartM = ofFree > 0.01 * c.limit! ? this.farthestApart(c) : null;
      const leaves = (most === Infinity ? -least : most) + ofFree;
      return [
        {
          characteristic: this.input.now.indexOf(c),
          by,
          unit: c.unit,
          ...(apartM !== null && { coarse: { apartM, leaves } }),
        },
      ];
    });
    const reasons = missed.map(({ characteristic, by, unit, coarse }) => {
      const { what, rail } = this.input.now[characteristic]!;
      return reason('limit-missed', { what, rail, by, unit, apartM: coarse?.apartM ?? null });
    });
    return {
      ...this.section(
        'impossible',
        null,
        reasons.length > 0 ? reasons : [reason('no-plan-in-time', {})],
        moves,
      ),
      missed,
    };
  }

  private leastMissed(reaches: readonly number[], isFree: boolean): Promise<Solved> {
    const { programme, demands, cost: ofMoves } = this.programme(false, isFree);
    const cost = new Map([...ofMoves].map(([name, weight]) => [name, 1e-4 * weight]));
    this.judged.forEach(({ c, question, least, most }, k) => {
      const slack = programme.variable(`s${k}`, 0, Infinity);
      cost.set(slack, 1 / Math.max(1e-6, c.limit!));
      demands.limit(question, least + reaches[k]!, most - reaches[k]!, slack);
    });
    return this.solve(programme, cost);
  }

  /** From one usable adjuster of the rail to the next, m, the most; null: there are not two. */
  private farthestApart({ what, rail }: CharacteristicResult): number | null {
    const plane: Plane = what.includes('horizontal') || what === 'span' ? 'horizontal' : 'vertical';
    const at = this.levers
      .filter((lever) => lever.rail.id === rail && lever.plane === plane)
      .map(({ adjuster }) => adjuster.atMm / 1000)
      .sort((a, b) => a - b);
    return at.length < 2 ? null : Math.max(...at.slice(1).map((x, k) => x - at[k]!));
  }

  /** What the moves are to leave for noise and for how well they come out, for each judged characteristic. */
  private reaches(moves: readonly Moved[]): number[] {
    const { responseU } = this;
    return noiseOf(this.judged, this.adjustment, moves, responseU).map((noise) =>
      reachOf(noise, this.job.decision.coverage),
    );
  }

  private get responseU(): number | null {
    return this.input.response?.u ?? null;
  }

  /** @param share Of the work that a search may take. */
  private solve(programme: Programme, cost: ReadonlyMap<string, number>, share = 1): Promise<Solved> {
    return programme.solve(cost, share * MOST_WORK, this.input.onSearch);
  }

  /** Moves within their travel, whole sheets, pairs that move alike, and no support that is left hanging. */
  private programme(countsAdjusters: boolean, isFree = false, within = Infinity, hasSheets = !isFree) {
    const programme = new Programme();
    const demands = new Demands(programme, this.adjustment, this.levers);
    const { cost, touched } = this.moveVariables(programme, countsAdjusters, isFree, within, hasSheets);
    for (const [k, j] of tiesOf(this.levers))
      programme.row(
        new Map([
          [leverName(k), 1],
          [leverName(j), -1],
        ]),
        { least: 0, most: 0 },
      );
    for (const force of this.forces) {
      if (!mayHang(force)) continue;
      const terms = new Map<string, number>();
      this.levers.forEach((lever, k) => {
        const each = force.each.get(lever);
        if (each !== undefined) terms.set(leverName(k), each);
      });
      programme.row(terms, { least: -force.weight! });
    }
    return { programme, demands, cost, touched };
  }

  /** Every rail as near to the wanted shape as its adjusters can bring it, and then the least movement. */
  async shaped(want: Exclude<CorrectionWant, 'fewest-moves'>): Promise<CorrectionPlan> {
    const { job, adjustment } = this;
    const nothing = (why: Reason) => this.section('impossible', null, [why], []);
    const solve = async (most: number, isNear: boolean) => {
      const { programme, demands, cost } = this.programme(false);
      const size = programme.variable('t', 0, most);
      const why = wantShape(want, job, adjustment, demands, size);
      if (why !== null) return why;
      const plan = await this.solve(programme, isNear ? new Map([[size, 1]]) : cost);
      return plan.status === 'impossible' ? reason('no-plan-in-time', {}) : plan;
    };
    const near = await solve(Infinity, true);
    if ('code' in near) return nothing(near);
    const least = await solve(near.value('t') * (1 + 1e-6) + 0.01, false);
    if ('code' in least) return nothing(least);
    return this.section(least.status, least.gap, [], await this.read(least));
  }

  /** Moves, within travel and in whole sheets. @returns What they cost. */
  private moveVariables(
    programme: Programme,
    countsAdjusters: boolean,
    isFree: boolean,
    within: number,
    hasSheets: boolean,
  ): { cost: Map<string, number>; touched: string[] } {
    const cost = new Map<string, number>();
    const endsOf = ({ travel }: Lever) =>
      (isFree
        ? [HIGHEST, HIGHEST]
        : [travel.plus, travel.minus].map((v) => Math.min(v, HIGHEST, within))) as [number, number];
    const travels = this.levers.map((lever) => sumOf(endsOf(lever)));
    // All movement together costs less than one adjuster more.
    const each = countsAdjusters ? 0.5 / Math.max(1, sumOf(travels)) : 1;
    const touched = new Map<string, string>();
    this.levers.forEach((lever, k) => {
      const { adjuster, plane } = lever;
      const [up, down] = endsOf(lever);
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
      if (plane === 'vertical' && adjuster.shims !== null && hasSheets)
        this.sheets(programme, k, cost, each, [up, down]);
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
    return { cost, touched: [...touched.values()] };
  }

  private sheets(
    programme: Programme,
    k: number,
    cost: Map<string, number>,
    each: number,
    [up, down]: readonly [number, number],
  ): void {
    const { have, inUm } = this.levers[k]!.adjuster.shims!;
    const step = stepOfSheets(have, inUm, up, down);
    if (step !== null) {
      const most = (um: number) => Math.floor(um / step + 1e-9);
      const steps = programme.variable(`w${k}`, -most(Math.min(down, inUm)), most(up), true);
      programme.row(
        new Map([
          [leverName(k), 1],
          [steps, -step],
        ]),
        { least: 0, most: 0 },
      );
      return;
    }
    const sum = new Map([[leverName(k), 1]]);
    const taken = new Map<string, number>();
    have.forEach((um, s) => {
      const add = programme.variable(`a${k}_${s}`, 0, MOST_SHEETS, true);
      const take = programme.variable(`t${k}_${s}`, 0, sheetsIn(inUm, um), true);
      sum.set(add, -um);
      sum.set(take, um);
      taken.set(take, um);
      for (const name of [add, take]) cost.set(name, 1e-3 * each * um + 1e-6 * each);
    });
    programme.row(sum, { least: 0, most: 0 });
    programme.row(taken, { most: inUm });
  }

  private async read(plan: Solved): Promise<Move[]> {
    const moves: Move[] = [];
    for (const [k, lever] of this.levers.entries()) {
      const { adjuster, plane } = lever;
      if (plane !== 'vertical' || adjuster.shims === null) {
        const um = plan.value(leverName(k));
        if (Math.abs(um) >= LEAST_MOVE) moves.push({ lever, um, shims: null });
        continue;
      }
      const { have, inUm } = adjuster.shims;
      const count = (kind: string, s: number) => Math.round(plan.value(`${kind}${k}_${s}`));
      const step = stepOfSheets(have, inUm, 0, 0);
      const inSteps = step === null ? 0 : step * Math.round(plan.value(`w${k}`));
      const um = have.reduce((sum, sheet, s) => sum + sheet * (count('a', s) - count('t', s)), inSteps);
      if (Math.abs(um) >= LEAST_MOVE) moves.push({ lever, um, shims: await fewestSheets(have, inUm, um) });
    }
    return moves;
  }

  /** The characteristics after the moves, with the interval that a new survey of the same kind would have. */
  private predict(moves: readonly Move[]): CharacteristicResult[] {
    const { job, adjustment } = this;
    const { questions, answers } = this.input.phase;
    const x = this.moved(moves);
    const after: Adjustment = { ...adjustment, x, value: (f) => dot(f, x) };
    const sources = sourcesOf(adjustment.network);
    const list = characteristicsSection(
      job,
      after,
      questions,
      answers.after(after),
      sources,
      explainer(job, adjustment),
    );
    const noise = noiseOf(this.judged, adjustment, moves, this.responseU);
    return list.map((c, k) => this.foreseen(c, this.input.now[k]!, noise));
  }

  /** The unknowns after the moves. */
  private moved(moves: readonly Moved[]): Float64Array {
    const x = this.adjustment.x.slice();
    for (const { lever, um } of moves) for (let i = 0; i < x.length; i++) x[i]! += um * lever.response[i]!;
    return x;
  }

  /** With the confidence that holds of moves that were chosen by the same readings. */
  private foreseen(
    c: CharacteristicResult,
    now: CharacteristicResult,
    noise: readonly Noise[],
  ): CharacteristicResult {
    // The bound of one survey does not hold of moves that were chosen by it.
    delete c.risk;
    const own = this.judged.findIndex((j) => j.c === now);
    if (own < 0 || c.value === null) return c;
    const left =
      c.zone === undefined
        ? c.limit! - Math.abs(c.value)
        : Math.min((c.zone.to ?? Infinity) - c.zone.greatest!, c.zone.least! - (c.zone.from ?? -Infinity));
    return { ...c, probability: left < 0 ? Math.min(0.5, c.probability!) : noise[own]!.shareAtMost(left) };
  }

  private section(
    status: CorrectionPlan['status'],
    gap: number | null,
    reasons: readonly Reason[],
    moves: readonly Move[],
  ): CorrectionPlan {
    const { job, input } = this;
    const coarseShare = this.coarseShare(moves);
    return {
      status,
      of: input.countsAdjusters ? 'adjusters' : 'stations',
      want: job.aim.want,
      margin: job.aim.margin,
      gap,
      ...(reasons.length > 0 && whyOf(reasons)),
      moves: moves.map(({ lever, um, shims }) => {
        const { adjuster, rail, plane, travel } = lever;
        const force = this.forces.find((f) => f.plane === plane && f.support.adjusters.includes(adjuster));
        return {
          adjuster: adjuster.id,
          rail: rail.id,
          along: adjuster.atMm,
          axis: plane,
          move: um,
          unit: 'um' as const,
          ...(travel.pitchUm !== null && { turns: um / travel.pitchUm }),
          ...(shims !== null && { shims }),
          ...(force !== undefined && { forceN: forceBy(force, moves) / force.support.adjusters.length }),
        };
      }),
      predicted: this.predict(moves),
      order: this.order(moves),
      ...(coarseShare !== null && { coarseShare }),
      ...(input.response && { response: input.response }),
      after: this.after(moves),
    };
  }

  /** The order of the moves, for each rail between its joints and each plane. */
  private order(moves: readonly Move[]): NonNullable<CorrectionPlan['order']> {
    const { job, input, adjustment } = this;
    return job.rails.flatMap((rail) =>
      planes.flatMap((plane) =>
        piecesOf(rail, input.adjusters).flatMap(({ supports }) => {
          const own = moves.filter(
            ({ lever }) =>
              lever.plane === plane && supports.some((s) => s.adjusters.includes(lever.adjuster)),
          );
          if (own.length === 0) return [];
          const places = supports.map(({ atMm }) => atMm / 1000);
          const lies = this.liesAt(rail, plane, adjustment.x, places);
          const isOwn = ({ support }: SupportForce) =>
            supports.some((s) => s.adjusters[0] === support.adjusters[0]);
          const forces = this.forces.filter((f) => f.plane === plane && isOwn(f));
          const { moves: ordered, rounds } = orderOf(own, places, lies, forces);
          return [
            { rail: rail.id, axis: plane, adjusters: ordered.map(({ lever }) => lever.adjuster.id), rounds },
          ];
        }),
      ),
    );
  }

  /** How a rail lies at places along, µm from its own line; straight between its stations. */
  private liesAt(rail: Rail, plane: Plane, x: Float64Array, placesM: readonly number[]): number[] {
    const profile = profilesOf(this.adjustment.network, rail)[plane];
    const family = profile && ownDeviations(profile);
    if (!family) return placesM.map(() => 0);
    const [at, um] = [family.positions, applyFamily(family, x)];
    return placesM.map((place) => {
      const { before, share } = betweenStations(at, place);
      return um[before]! + share * (um[before + 1]! - um[before]!);
    });
  }

  /** Moves beyond a share of what the targets can read: a part of them first, and a new survey. null: they are not. */
  private coarseShare(moves: readonly Move[]): number | null {
    const limits = this.job.instruments.flatMap(({ rangeLimit, measures }) =>
      rangeLimit === null || measures === 'slope' ? [] : [rangeLimit],
    );
    const range = limits.length === 0 ? USUAL_RANGE : Math.min(...limits);
    const largest = Math.max(0, ...moves.map(({ um, shims }) => (shims === null ? Math.abs(um) : 0)));
    return largest > LARGE_MOVE * range ? COARSE_SHARE : null;
  }

  /** Deviations of the stations from their rail's own line, of the rails and planes that are moved. */
  private after(moves: readonly Move[]): NonNullable<CorrectionPlan['after']> {
    const { job, adjustment } = this;
    const x = this.moved(moves);
    return job.rails.flatMap((rail) =>
      planes.flatMap((axis) => {
        if (!moves.some(({ lever }) => lever.rail === rail && lever.plane === axis)) return [];
        const profile = profilesOf(adjustment.network, rail)[axis];
        const family = profile && ownDeviations(profile);
        if (!family) return [];
        const [now, then] = [adjustment.x, x].map((v) => applyFamily(family, v)) as [
          Float64Array,
          Float64Array,
        ];
        return family.points.map(({ station }, i) => ({
          rail: rail.id,
          station,
          axis,
          now: now[i]!,
          after: then[i]!,
        }));
      }),
    );
  }
}

const sumOf = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0);

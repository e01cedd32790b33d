/** Which adjusters to move, by how much, and the result to expect. */
import { profilesOf } from '../../solution/characteristics/ask.js';
import { applyFamily, uncertainties } from '../../solution/characteristics/linear-family.js';
import { meanOf, ownDeviations, slopeOf, type RailProfile } from '../../solution/characteristics/profiles.js';
import type { CorrectionWant } from '../../survey/job/job-schema.js';
import type { Adjuster, Job, Rail } from '../../survey/job/job.js';
import { reason, type Reason } from '../../solution/reasons/reason.js';
import type { AdjustedPhase } from '../adjusted-phase.js';
import { characteristicsSection } from '../characteristics-section.js';
import { whyOf } from '../quantity.js';
import type { CharacteristicResult, CorrectionPlan } from '../results-schema.js';
import { dot, type Adjustment, type Functional } from '../../solution/solve/adjustment.js';
import { explainer } from '../../solution/solve/explain.js';
import { sourcesOf } from '../../solution/solve/roles.js';
import { normalQuantile } from '../../base/statistics/normal.js';
import { betweenStations } from './between-stations.js';
import { Demands, leverName, wantShape } from './demands.js';
import { carriedNow, spareOf, type Carried } from './carrying.js';
import {
  forceBy,
  hangingGuards,
  leversOf,
  planes,
  supportForcesOf,
  supportsOf,
  type Guard,
  type Lever,
  type Moved,
  type Plane,
  type SupportForce,
} from './levers.js';
import { allowedOf, judgedOf, noiseOf, reachOf, type Allowed, type Judged, type Noise } from './limits.js';
import { listOf, type Move, type MoveList } from './move-list.js';
import { Programme, type OnSearch, type Solved } from './programme.js';
import {
  fewestMoves,
  leversThatMatter,
  movesProgramme,
  railKey,
  reachable,
  travelOf,
  Work,
  type FoundMoves,
  type SearchInput,
} from './search.js';
import { gainOf, scatterOf, type Response } from './response.js';
import { fewestSheets, stepOfSheets } from './sheets.js';

/** Rounding of the solver, µm. */
const TINY = 1e-6;
/** Iterations of the plan with the scatter of its own moves. */
const MOST_ROUNDS = 2;
/** Shares of the margin for scatter that are tried if the full margin leaves no plan. */
const PARTS_OF_MARGIN = [0.75, 0.5, 0.25];
/** A loss of probability below this does not justify more moves. */
const ABOUT_AS_LIKELY = 0.05;
/** Range of a target if no instrument states one, µm to each side: half an inch (common practice, no source). */
const USUAL_RANGE = 12_700;
/** Moves larger than this share of the range are made in two rounds; the first one moves this share. */
const LARGE_MOVE = 0.2;
const COARSE_SHARE = 0.8;

export interface PlanInput {
  readonly job: Job;
  readonly phase: AdjustedPhase;
  /** Its judged characteristics. */
  readonly now: readonly CharacteristicResult[];
  readonly adjusters: readonly Adjuster[];
  /** The adjusters; for a job that names none, its stations. */
  readonly of: CorrectionPlan['of'];
  /** Response and scatter of the moves. */
  readonly response: Response;
  readonly onSearch?: OnSearch | undefined;
}

/**
 * The fewest moves that meet every limit, or those that bring each rail nearest to the shape that is wanted.
 *
 * A support over which the rail hangs has no effect until it touches the rail, and the survey does not show the gap. So a plan
 * without such supports is searched first. If there is none, they are raised until they just carry.
 */
export async function planCorrections(input: PlanInput): Promise<CorrectionPlan> {
  const { job, adjusters, phase } = input;
  const planOf = (carried: readonly Carried[], alone: readonly Adjuster[]) => {
    const planner = new Planner(input, carried, alone);
    const { want } = job.aim;
    return want === 'fewest-moves' ? planner.fewest() : planner.shaped(want);
  };
  const carried = carriedNow(job, adjusters, phase.adjustment);
  const hanging = carried.flatMap(({ says, support }) => (says === 'hangs' ? support.adjusters : []));
  if (hanging.length > 0) {
    const others = adjusters.filter((adjuster) => !hanging.includes(adjuster));
    const plan = await planOf(carriedNow(job, others, phase.adjustment), hanging);
    if (plan.status !== 'impossible') return plan;
  }
  return planOf(carried, []);
}

interface Tried {
  readonly found: FoundMoves;
  readonly moves: readonly Move[];
}

class Planner {
  private readonly job: Job;
  private readonly adjustment: Adjustment;
  private readonly judged: readonly Judged[];
  /** Levers that may move. */
  private readonly levers: readonly Lever[];
  private readonly forces: readonly SupportForce[];
  private readonly guards: readonly Guard[];
  /** Supports that carry the rail, or will carry it. */
  private readonly adjusters: readonly Adjuster[];
  private readonly work = new Work();
  private readonly uncertainOf = new Map<string, readonly number[]>();

  /** @param alone Supports over which the rail hangs and that are not used. */
  constructor(
    private readonly input: PlanInput,
    private readonly carried: readonly Carried[],
    private readonly alone: readonly Adjuster[],
  ) {
    const { job, phase } = input;
    this.job = job;
    this.adjustment = phase.adjustment;
    this.judged = judgedOf(job, phase.questions, input.now);
    this.adjusters = input.adjusters.filter((adjuster) => !alone.includes(adjuster));
    const all = leversOf(job, this.adjusters, phase.adjustment.network, gainOf(input.response));
    const datumStays = job.aim.datum === 'stays' && !this.datumItselfIsOpen(all);
    this.levers = all.filter(({ rail }) => !(datumStays && rail === job.datum));
    this.forces = supportForcesOf(job, this.adjusters, this.levers, (rail, support) =>
      spareOf(carried.find((c) => c.rail === rail && c.support.atMm === support.atMm)!),
    );
    this.guards = [
      ...this.forces.filter(({ mayHang }) => mayHang),
      ...hangingGuards(job, this.adjusters, this.levers, alone),
    ];
  }

  /** true: a limit of the datum rail by itself, which no move of another rail can meet. */
  private datumItselfIsOpen(levers: readonly Lever[]): boolean {
    const { datum, aim } = this.job;
    if (aim.want === 'parallel-to-datum') return false;
    if (aim.want !== 'fewest-moves') return true;
    const demands = new Demands(new Programme(), this.adjustment, levers);
    return this.judged.some(({ question, isKept }) => {
      if (isKept) return false;
      const touched = demands.levered(question);
      return touched.includes(true) && levers.every(({ rail }, k) => !touched[k] || rail === datum);
    });
  }

  /** The fewest adjusters with which every tolerance is met with its uncertainty. */
  async fewest(): Promise<CorrectionPlan> {
    if (this.judged.every(({ isKept }) => isKept)) return this.section('best', 0, [], []);
    const input = this.searchInput();
    const exact = this.reaches([]);
    let reaches = exact;
    const tried: Tried[] = [];
    // The scatter of the moves depends on their size.
    for (let round = 0; round <= MOST_ROUNDS; round++) {
      const allowed = this.allowed(input, reaches);
      const found = await this.fewestLarge(input, allowed, tried.at(-1)?.found.adjusters ?? 0);
      if (found.status === 'ended' && tried.length === 0) return this.fromLeastMovement(input, allowed);
      if (found.status === 'none' && tried.length === 0) return this.nearest(input, reaches);
      if (found.status === 'none' || found.status === 'ended') break;
      const moves = await this.read(input.levers, found.value);
      tried.push({ found, moves });
      const needed = this.reaches(moves);
      const isKept = needed.every((reach, k) => reach <= reaches[k]! + 0.01 * this.judged[k]!.c.limit!);
      if (isKept) return this.section(found.status as 'best' | 'found', found.gap, [], moves);
      reaches = needed.map((reach, k) => Math.max(reach, reaches[k]!));
    }
    return this.likeliest(input, tried, exact, reaches);
  }

  /**
   * Exact moves would meet every limit, but with the full margin for scatter there is no plan. Takes the plan with the fewest moves
   * among those that are nearly the likeliest to meet the limits; the probability is predicted.
   */
  private async likeliest(
    input: SearchInput,
    tried: readonly Tried[],
    exact: readonly number[],
    wanted: readonly number[],
  ): Promise<CorrectionPlan> {
    const all = [...tried];
    for (const share of PARTS_OF_MARGIN) {
      const allowed = this.allowed(
        input,
        exact.map((reach, k) => reach + share * (wanted[k]! - reach)),
      );
      if ((await reachable(input, allowed)) === null) continue;
      const found = await this.fewestLarge(input, allowed, tried[0]!.found.adjusters);
      if (found.status === 'best' || found.status === 'found')
        all.push({ found, moves: await this.read(input.levers, found.value) });
      break;
    }
    const chances = all.map(({ moves }) =>
      Math.min(
        ...this.predict(moves).flatMap(({ limit, value, probability }) =>
          limit === null || value === null ? [] : [probability!],
        ),
      ),
    );
    const best = Math.max(...chances);
    const [chosen] = all
      .filter((_, k) => chances[k]! >= best - ABOUT_AS_LIKELY)
      .sort((a, b) => a.found.adjusters - b.found.adjusters);
    const percent = Number((100 * this.input.response.u).toPrecision(2));
    return this.section('found', chosen!.found.gap, [reason('moves-scatter', { percent })], chosen!.moves);
  }

  private searchInput(): SearchInput {
    const { adjustment, judged, guards } = this;
    const levers = leversThatMatter({ adjustment, judged, levers: this.levers });
    return {
      adjustment,
      judged,
      levers,
      least: levers.map((lever) => this.leastOf(lever)),
      wholeLeast: levers.map(() => null),
      guards,
      wholes: new Set(this.wholes(levers).keys()),
      onSearch: this.input.onSearch,
    };
  }

  /** Smallest move at a place: by the job, by the uncertainty of the place, and by the adjuster. */
  private leastOf({ adjuster, rail, plane }: Lever): number {
    const thinnest = plane === 'vertical' && adjuster.shims !== null ? Math.min(...adjuster.shims.have) : 0;
    return Math.max(
      this.job.aim.leastUm,
      this.coverageFactor * this.uncertaintyAt(rail, plane, adjuster.atMm),
      thinnest,
    );
  }

  /**
   * The fewest moves, without a move of a whole rail that is smaller than the uncertainty of its line. The condition is added only
   * for rails for which a search found such a move, because it makes a search longer.
   */
  private async fewestLarge(
    input: SearchInput,
    allowed: readonly Allowed[],
    fewest = 0,
  ): Promise<FoundMoves> {
    for (let own = input; ;) {
      const found = await fewestMoves(own, allowed, this.work, fewest);
      if (found.status === 'none' || found.status === 'ended') return found;
      const small = this.smallWholes(await this.read(own.levers, found.value));
      const wholeLeast = own.levers.map((lever, k) =>
        small.has(railKey(lever)) ? this.wholeLeastOf(lever) : own.wholeLeast[k]!,
      );
      if (wholeLeast.every((least, k) => least === own.wholeLeast[k])) return found;
      own = { ...own, wholeLeast };
    }
  }

  /** Rails and planes that would move as a whole, at both ends by less than the smallest move. */
  private smallWholes(moves: readonly Move[]): Set<string> {
    return new Set(
      this.listed(moves).wholes.flatMap((whole) => {
        const { rail, plane, moves: own } = whole;
        const isLarge = own.some(({ lever, um }) => Math.abs(um) >= this.wholeLeastOf(lever) - 0.01);
        return isLarge ? [] : [railKey({ rail, plane })];
      }),
    );
  }

  private wholeLeastOf({ rail, plane, adjuster }: Pick<Lever, 'rail' | 'plane' | 'adjuster'>): number {
    const u = this.lineUncertainty(rail, plane, adjuster.atMm / 1000) ?? 0;
    return Math.max(this.job.aim.leastUm, this.coverageFactor * u);
  }

  private get coverageFactor(): number {
    return normalQuantile((1 + this.job.decision.coverage) / 2);
  }

  /** Standard uncertainty of a rail's deviation from its own line at a place, µm: the greater of those of the adjacent stations. */
  private uncertaintyAt(rail: Rail, plane: Plane, atMm: number): number {
    const profile = profilesOf(this.adjustment.network, rail)[plane];
    const family = profile && ownDeviations(profile);
    if (!family) return 0;
    const key = JSON.stringify([rail.id, plane]);
    const u = this.uncertainOf.get(key) ?? [...uncertainties(family, this.adjustment)];
    this.uncertainOf.set(key, u);
    const { before } = betweenStations(family.positions, atMm / 1000);
    return Math.max(u[before]!, u[before + 1] ?? 0);
  }

  /** Rails and planes that can move as a whole, with their numbers of levers. */
  private wholes(levers: readonly Lever[]): Map<string, number> {
    const wholes = new Map<string, number>();
    for (const rail of this.job.rails)
      for (const plane of planes) {
        const own = levers.filter((lever) => lever.rail === rail && lever.plane === plane);
        const places = this.adjusters.filter((adjuster) => adjuster.rail === rail.id);
        if (own.length > 0 && own.length === places.length) wholes.set(railKey(own[0]!), own.length);
      }
    return wholes;
  }

  private allowed(input: SearchInput, reaches: readonly number[]): Allowed[] {
    const demands = new Demands(new Programme(), this.adjustment, input.levers);
    return this.judged.map((judged, k) =>
      allowedOf(judged, reaches[k]!, demands.now(judged.question, judged.c.value!)),
    );
  }

  /** If the search ended without a plan, it is repeated with only the places that the least movement uses. */
  private async fromLeastMovement(input: SearchInput, allowed: readonly Allowed[]): Promise<CorrectionPlan> {
    const programme = movesProgramme(input, travelOf(input.levers), allowed);
    const least = await this.work.of(1, programme, movementIn(programme, input.levers), 0, input.onSearch);
    const isUsed = input.levers.map((_, k) => Math.abs(least.value(leverName(k))) > TINY);
    const some: SearchInput = {
      ...input,
      levers: input.levers.filter((_, k) => isUsed[k]),
      least: input.least.filter((_, k) => isUsed[k]),
      wholeLeast: input.wholeLeast.filter((_, k) => isUsed[k]),
    };
    const found = await this.fewestLarge(some, allowed);
    if (found.status === 'none' || found.status === 'ended')
      return this.section('found', null, [reason('no-plan-in-search', {})], []);
    return this.section('found', null, [], await this.read(some.levers, found.value));
  }

  /** If no plan meets every limit: the plan that exceeds the limits by the least share, and the limits that are exceeded. */
  private async nearest(input: SearchInput, reaches: readonly number[]): Promise<CorrectionPlan> {
    const allowed = this.allowed(input, reaches);
    const { leastUm } = this.job.aim;
    if ((await reachable(input, allowed)) !== null) {
      // Only moves below the smallest move, or parts of a sheet, would meet them.
      const isRefused = input.levers.some(
        ({ adjuster, plane }, k) =>
          input.least[k]! > 0 ||
          input.wholeLeast[k] !== null ||
          (plane === 'vertical' && adjuster.shims !== null),
      );
      return isRefused
        ? this.section('impossible', null, [reason('moves-too-small', { leastUm })], [])
        : this.section('found', null, [reason('no-plan-in-search', {})], []);
    }
    const plan = await this.leastMissed(input, allowed, false);
    if (plan.status === 'ended') return this.section('found', null, [reason('no-plan-in-search', {})], []);
    // Would unlimited travel meet the limits?
    const free = await this.leastMissed(input, allowed, true);
    const missed = this.judged.flatMap(({ c, most, least }, k): NonNullable<CorrectionPlan['missed']> => {
      const [by, ofFree] = [plan, free].map((p) => p.value(`s${k}`)) as [number, number];
      if (by <= 1e-4) return [];
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
    // The fewest moves that exceed them by no more.
    const relaxed = allowed.map(({ least, most }, k): Allowed => {
      const slack = 1.01 * plan.value(`s${k}`) + 0.01 * this.judged[k]!.c.limit!;
      return { least: least - slack, most: most + slack };
    });
    const found = plan.status === 'none' ? null : await this.fewestLarge(input, relaxed);
    const isFound = found !== null && (found.status === 'best' || found.status === 'found');
    const moves = isFound ? await this.read(input.levers, found.value) : [];
    return {
      ...this.section(
        'impossible',
        null,
        reasons.length > 0 ? reasons : [reason('nothing-can-move', {})],
        moves,
      ),
      missed,
    };
  }

  private leastMissed(input: SearchInput, allowed: readonly Allowed[], isFree: boolean): Promise<Solved> {
    const programme = movesProgramme(input, travelOf(input.levers, isFree), allowed, (k, own) =>
      own.variable(`s${k}`, 0, Infinity),
    );
    const cost = new Map(
      [...movementIn(programme, input.levers)].map(([name, weight]) => [name, 1e-6 * weight]),
    );
    this.judged.forEach(({ c }, k) => cost.set(`s${k}`, 1 / Math.max(1e-6, c.limit!)));
    return this.work.of(1, programme, cost, 0, input.onSearch);
  }

  /** Greatest distance between neighbouring usable adjusters of the rail, m; null: there are fewer than two. */
  private farthestApart({ what, rail }: CharacteristicResult): number | null {
    const plane: Plane = what.includes('horizontal') || what === 'span' ? 'horizontal' : 'vertical';
    const at = this.levers
      .filter((lever) => lever.rail.id === rail && lever.plane === plane)
      .map(({ adjuster }) => adjuster.atMm / 1000)
      .sort((a, b) => a - b);
    return at.length < 2 ? null : Math.max(...at.slice(1).map((x, k) => x - at[k]!));
  }

  /** Margins for noise and for the scatter of the moves, per judged characteristic. */
  private reaches(moves: readonly Moved[]): number[] {
    const { response } = this.input;
    return noiseOf(this.judged, this.adjustment, moves, scatterOf(response)).map((noise) =>
      reachOf(noise, this.job.decision.coverage),
    );
  }

  /**
   * Brings every rail as near to the wanted shape as its adjusters can, with the least movement. First the greatest distance of a
   * station from the shape is made as small as possible. Then moves below the smallest move are left out, and the others are
   * calculated again: each station as near as before, as far as the moves that are left can bring it there.
   */
  async shaped(want: Exclude<CorrectionWant, 'fewest-moves'>): Promise<CorrectionPlan> {
    const unfinished = () => this.section('found', null, [reason('no-plan-in-search', {})], []);
    const nothing = (why: Reason) => this.section('impossible', null, [why], []);
    const isUnsolved = ({ status }: Solved) => status === 'none' || status === 'ended';
    let levers = this.levers;
    let moves: Move[] = [];
    let isStraight = false;
    for (let reached: number | null = null; ;) {
      const found: Reason | { readonly near: Solved; readonly least: Solved } = await this.nearShape(
        want,
        levers,
        reached,
      );
      if ('code' in found) return nothing(found);
      if (reached === null && found.near.status === 'none') return nothing(reason('nothing-can-move', {}));
      if (isUnsolved(found.near) || isUnsolved(found.least)) return unfinished();
      moves = await this.read(levers, found.least.value);
      if (reached === null) isStraight = moves.length === 0;
      reached ??= found.near.cost;
      const small = this.smallWholes(moves);
      const left = levers.filter(
        (lever) =>
          !small.has(railKey(lever)) &&
          moves.some((move) => move.lever === lever && Math.abs(move.um) >= this.leastOf(lever)),
      );
      if (moves.every(({ lever }) => left.includes(lever))) break;
      levers = left;
    }
    return moves.length === 0 && !isStraight
      ? nothing(reason('moves-too-small', { leastUm: this.job.aim.leastUm }))
      : this.section('best', 0, [], moves);
  }

  /**
   * The nearest that these levers bring the rails to the wanted shape, and the least movement that does so.
   *
   * @param reached null: the greatest distance of all stations is made small; else the sum of what each is farther than this, µm.
   */
  private async nearShape(
    want: Exclude<CorrectionWant, 'fewest-moves'>,
    levers: readonly Lever[],
    reached: number | null,
  ): Promise<Reason | { readonly near: Solved; readonly least: Solved }> {
    const own: SearchInput = { ...this.searchInput(), judged: [], levers, least: [], wholeLeast: [] };
    const solve = async (most: number, isNear: boolean) => {
      const programme = movesProgramme(own, travelOf(levers), []);
      const movement = movementIn(programme, levers);
      const distances = new Map<string, number>();
      const sizeOf = () => {
        if (reached === null && distances.size > 0) return 't0';
        const name = programme.variable(`t${distances.size}`, reached ?? 0, Infinity);
        distances.set(name, 1);
        return name;
      };
      const demands = new Demands(programme, this.adjustment, levers);
      const why = wantShape(want, this.job, this.adjustment, demands, sizeOf);
      if (why !== null) return why;
      if (distances.size > 0) programme.row(distances, { most });
      return this.work.of(1, programme, isNear ? distances : movement, 0, this.input.onSearch);
    };
    const near = await solve(Infinity, true);
    if ('code' in near) return near;
    if (near.status === 'none' || near.status === 'ended') return { near, least: near };
    const least = await solve(near.cost * (1 + 1e-6) + 0.01, false);
    return 'code' in least ? least : { near, least };
  }

  private async read(levers: readonly Lever[], value: (name: string) => number): Promise<Move[]> {
    const moves: Move[] = [];
    for (const [k, lever] of levers.entries()) {
      const { adjuster, plane } = lever;
      if (plane !== 'vertical' || adjuster.shims === null) {
        const um = value(leverName(k));
        if (Math.abs(um) > NOTHING) moves.push({ lever, um, shims: null });
        continue;
      }
      // Whole steps of the available sheets.
      const { have, inUm } = adjuster.shims;
      const step = stepOfSheets(have, inUm, 0, 0)!;
      const um = step * Math.round(value(leverName(k)) / step);
      if (Math.abs(um) > NOTHING) moves.push({ lever, um, shims: await fewestSheets(have, inUm, um) });
    }
    return moves;
  }

  /** The characteristics after the moves, with the interval of a new survey of the same kind. */
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
    const noise = noiseOf(this.judged, adjustment, moves, scatterOf(this.input.response));
    return list.map((c, k) => this.foreseen(c, this.input.now[k]!, noise));
  }

  /** The unknowns after the moves. */
  private moved(moves: readonly Moved[]): Float64Array {
    const x = this.adjustment.x.slice();
    for (const { lever, um } of moves) for (let i = 0; i < x.length; i++) x[i]! += um * lever.response[i]!;
    return x;
  }

  /** With the confidence that is valid for moves that were chosen by the same readings. */
  private foreseen(
    c: CharacteristicResult,
    now: CharacteristicResult,
    noise: readonly Noise[],
  ): CharacteristicResult {
    // The bound of one survey is not valid for moves that were chosen by it.
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
    chosen: readonly Move[],
  ): CorrectionPlan {
    const { job, input } = this;
    const { wholes, moves } = this.listed(chosen);
    const coarseShare = this.coarseShare(moves);
    return {
      status,
      of: input.of,
      want: job.aim.want,
      margin: job.aim.margin,
      leastUm: job.aim.leastUm,
      datum: { rail: job.datum.id, moves: moves.some(({ lever }) => lever.rail === job.datum) },
      gap,
      ...(reasons.length > 0 && whyOf(reasons)),
      wholes: wholes.map(({ step, rail, plane, moves: own, ends }) => ({
        step,
        rail: rail.id,
        axis: plane,
        adjusters: own.map(({ lever }) => lever.adjuster.id),
        ends: this.endsOf(rail, plane, own, ends),
      })),
      moves: moves.map(({ lever, um, shims, step, rounds }) => {
        const { adjuster, rail, plane, travel } = lever;
        const force = this.forces.find((f) => f.plane === plane && f.support.adjusters.includes(adjuster));
        return {
          step,
          adjuster: adjuster.id,
          rail: rail.id,
          along: adjuster.atMm,
          axis: plane,
          move: um,
          unit: 'um' as const,
          direction: directionOf(rail, plane, um),
          amount: Math.abs(um),
          u: this.uncertaintyAt(rail, plane, adjuster.atMm),
          // Without stated adjusters, each move of a station counts as one.
          rounds: input.of === 'stations' ? 1 : rounds,
          ...(travel.pitchUm !== null && { turns: um / travel.pitchUm }),
          ...(shims !== null && { shims }),
          ...(force !== undefined && { forceN: forceBy(force, moves) / force.support.adjusters.length }),
        };
      }),
      ...(input.of === 'adjusters' && {
        places: input.adjusters.map(({ id, rail, atMm }) => ({ adjuster: id, rail, along: atMm })),
      }),
      toRead: input.now.flatMap(({ limit, value }, characteristic) =>
        limit !== null && value === null ? [characteristic] : [],
      ),
      ...this.supports(moves),
      predicted: this.predict(moves),
      ...(coarseShare !== null && { coarseShare }),
      response: input.response,
      after: this.after(moves),
    };
  }

  /** Present load of every support, and its change, for rails with a stated stiffness. */
  private supports(moves: readonly Moved[]): Pick<CorrectionPlan, 'supports'> {
    const { alone } = this;
    const supports = this.job.rails.flatMap((rail) => {
      const hung = supportsOf(alone.filter((adjuster) => adjuster.rail === rail.id)).map((support) => ({
        rail,
        support,
        says: 'hangs' as const,
        force: null,
      }));
      return [...this.carried.filter((c) => c.rail === rail), ...hung]
        .sort((a, b) => a.support.atMm - b.support.atMm)
        .flatMap(({ support, says, force }): NonNullable<CorrectionPlan['supports']> =>
          planes.flatMap((axis) => {
            const by = this.forces.find(
              (f) => f.rail === rail && f.plane === axis && f.support.atMm === support.atMm,
            );
            const isHung = axis === 'vertical' && says === 'hangs';
            const change = by === undefined ? null : forceBy(by, moves);
            const isTold = axis === 'vertical' ? rail.stiffness !== null || isHung : (change ?? 0) !== 0;
            if (!isTold) return [];
            return [
              {
                rail: rail.id,
                adjusters: support.adjusters.map(({ id }) => id),
                along: support.atMm,
                axis,
                carries:
                  axis === 'horizontal' || says === 'open' ? 'not-known' : says === 'hangs' ? 'no' : 'yes',
                ...(axis === 'vertical' && force !== null && { now: force }),
                change,
                // It is raised until it just carries, before any other move.
                ...(isHung && !alone.includes(support.adjusters[0]!) && { bringUp: true }),
              },
            ];
          }),
        );
    });
    return supports.length === 0 ? {} : { supports };
  }

  private listed(moves: readonly Move[]): MoveList {
    const { job, adjustment } = this;
    return listOf(moves, {
      rails: job.rails,
      adjusters: this.adjusters,
      forces: this.forces,
      wholes: this.wholes(this.levers),
      liesAt: (rail, plane, places) => this.liesAt(rail, plane, adjustment.x, places),
    });
  }

  /** Move of a whole rail at its first and last adjuster, with the uncertainty of its line from the datum rail's line there. */
  private endsOf(rail: Rail, plane: Plane, moves: readonly Move[], ends: readonly [number, number]) {
    const at = moves.map(({ lever }) => lever.adjuster).sort((a, b) => a.atMm - b.atMm);
    return [at[0]!, at.at(-1)!].map((adjuster, k) => {
      const u = this.lineUncertainty(rail, plane, adjuster.atMm / 1000);
      const um = ends[k]!;
      return {
        adjuster: adjuster.id,
        along: adjuster.atMm,
        move: um,
        direction: directionOf(rail, plane, um),
        amount: Math.abs(um),
        ...(u !== null && { u }),
      };
    });
  }

  /** Uncertainty of the rail's least-squares line minus the datum rail's at a place along, µm; null: not determined. */
  private lineUncertainty(rail: Rail, plane: Plane, atM: number): number | null {
    const { network } = this.adjustment;
    const line = (of: Rail, sign: number): Functional | null => {
      const profile = profilesOf(network, of)[plane];
      return profile && lineAt(profile, atM, sign);
    };
    const parts = rail === this.job.datum ? [line(rail, 1)] : [line(rail, 1), line(this.job.datum, -1)];
    if (parts.some((part) => part === null)) return null;
    const f: Functional = {
      index: parts.flatMap((part) => Array.from(part!.index)),
      weight: parts.flatMap((part) => Array.from(part!.weight)),
    };
    return this.adjustment.isDetermined(f) ? this.adjustment.standardUncertainty(f) : null;
  }

  /** Deviation of a rail from its own line at places along, µm; linear between its stations. */
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

  /** First part of moves that are too large for the range of the targets, before a new survey. null: no move is too large. */
  private coarseShare(moves: readonly Move[]): number | null {
    const limits = this.job.instruments.flatMap(({ rangeLimit, measures }) =>
      rangeLimit === null || measures === 'slope' ? [] : [rangeLimit],
    );
    const range = limits.length === 0 ? USUAL_RANGE : Math.min(...limits);
    const largest = Math.max(0, ...moves.map(({ um, shims }) => (shims === null ? Math.abs(um) : 0)));
    return largest > LARGE_MOVE * range ? COARSE_SHARE : null;
  }

  /** Deviations of the stations from their rail's own line, for the rails and planes that are moved. */
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

/** A move below this is rounding of the search, µm. */
const NOTHING = 1e-3;

/** The sum of all movements, as the cost. */
function movementIn(programme: Programme, levers: readonly Lever[]): Map<string, number> {
  const cost = new Map<string, number>();
  levers.forEach((_, k) => {
    const [plus, minus] = ['p', 'n'].map((side) => programme.variable(`${side}${k}`, 0, Infinity)) as [
      string,
      string,
    ];
    programme.row(
      new Map([
        [leverName(k), 1],
        [plus, -1],
        [minus, 1],
      ]),
      { least: 0, most: 0 },
    );
    cost.set(plus, 1);
    cost.set(minus, 1);
  });
  return cost;
}

type Direction = NonNullable<CorrectionPlan['moves'][number]['direction']>;

function directionOf(rail: Rail, plane: Plane, um: number): Direction {
  if (plane === 'vertical') return um > 0 ? 'raise' : 'lower';
  if (rail.direction === 'along') return um > 0 ? 'left' : 'right';
  return um > 0 ? 'ahead' : 'back';
}

/** The least-squares line of a profile at a place, m. */
function lineAt(profile: RailProfile, atM: number, sign: number): Functional | null {
  const slope = slopeOf(profile);
  if (slope === null) return null;
  const mean = meanOf(profile);
  const middle = profile.positions.reduce((sum, x) => sum + x / profile.positions.length, 0);
  return {
    index: [mean, slope].flatMap(({ index }) => Array.from(index)),
    weight: [
      ...Array.from(mean.weight, (w) => sign * w),
      ...Array.from(slope.weight, (w) => sign * w * (atM - middle)),
    ],
  };
}

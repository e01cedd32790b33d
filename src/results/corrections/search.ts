/**
 * The fewest adjusters whose moves meet every limit; among these plans the fewest amounts (a rail that moves as a whole,
 * linearly from end to end, is one amount); among these the least movement. Three searches, each within the result of the
 * one before.
 *
 * Two things make them short. Only levers that share a limit with a characteristic that is not met can move. And the range of
 * each place is first calculated from the limits (`ranges`), so that the bounds of the search are tight.
 */
import { extent } from '../../base/statistics/extent.js';
import type { Adjustment } from '../../solution/solve/adjustment.js';
import { Demands, leverName } from './demands.js';
import { tiesOf, type Guard, type Lever } from './levers.js';
import type { Allowed, Judged } from './limits.js';
import { Programme, type OnSearch, type Solved } from './programme.js';
import { MOST_SHEETS, sheetsIn, stepOfSheets } from './sheets.js';

/** Travel of a lever, µm, + and −. */
export type Reach = readonly [up: number, down: number];

export interface SearchInput {
  readonly adjustment: Adjustment;
  readonly judged: readonly Judged[];
  /** Those that may move. */
  readonly levers: readonly Lever[];
  /** Smallest move of each lever, µm. */
  readonly least: readonly number[];
  /**
   * For a rail that moves as a whole, the smallest move at this place, µm; null: none. If all places of the rail and plane move,
   * at least one of them must move by this amount.
   */
  readonly wholeLeast: readonly (number | null)[];
  readonly guards: readonly Guard[];
  /** Keys (`railKey`) of the rails and planes that may move as a whole: every support of them can. */
  readonly wholes: ReadonlySet<string>;
  readonly onSearch: OnSearch | undefined;
}

export const railKey = ({ rail, plane }: Pick<Lever, 'rail' | 'plane'>): string =>
  JSON.stringify([rail.id, plane]);

export interface FoundMoves {
  /** none: it is proven that there is no plan; ended: the search ended first. */
  readonly status: 'best' | 'found' | 'none' | 'ended';
  /** Greatest share of adjusters that another plan can save; if none, the share of the movement; null: not known. */
  readonly gap: number | null;
  readonly adjusters: number;
  readonly value: (name: string) => number;
}

/** Absolute gap for counts: no other plan is lower by 1. */
const WHOLE = 0.999;
/** Greatest travel that is used, µm; also for an adjuster without a stated travel. */
const HIGHEST = 50_000;
/** Limit of the work for one plan, in iterations of the simplex method. */
const MOST_WORK = 60_000;
/** Rows of a programme for which an iteration counts once; with more rows it counts proportionally more. */
const ROWS = 600;
/** Least number of supports of a rail that moves as a whole. With fewer, each support is a separate amount. */
const FEWEST_OF_WHOLE = 3;
/** Rounding, µm. */
const TINY = 1e-6;

/** Remaining work of one plan, shared by all its searches. */
export class Work {
  private left = MOST_WORK;

  /** Runs a search with a share of the remaining work. */
  async of(
    share: number,
    programme: Programme,
    cost: ReadonlyMap<string, number>,
    absoluteGap: number,
    onSearch: OnSearch | undefined,
  ): Promise<Solved> {
    const each = Math.max(1, programme.rows / ROWS);
    const mostWork = Math.max(LEAST_WORK, Math.floor((share * this.left) / each));
    const solved = await programme.solve(cost, { mostWork, absoluteGap, onSearch });
    this.left = Math.max(0, this.left - solved.work * each);
    return solved;
  }
}

/** Least work of a search, even if nothing remains. */
const LEAST_WORK = 500;

/** The linear programme of the moves: travel, ties, supports that must carry, limits. */
export function movesProgramme(
  { adjustment, judged, levers, guards }: SearchInput,
  reaches: readonly Reach[],
  allowed: readonly Allowed[],
  slackOf: ((k: number, programme: Programme) => string) | null = null,
): Programme {
  const programme = new Programme();
  const demands = new Demands(programme, adjustment, levers);
  levers.forEach((_, k) => programme.variable(leverName(k), -reaches[k]![1], reaches[k]![0]));
  for (const [k, j] of tiesOf(levers))
    programme.row(
      new Map([
        [leverName(k), 1],
        [leverName(j), -1],
      ]),
      { least: 0, most: 0 },
    );
  for (const { each: by, spare } of guards) {
    const terms = new Map<string, number>();
    levers.forEach((lever, k) => {
      const each = by.get(lever);
      if (each !== undefined) terms.set(leverName(k), each);
    });
    if (terms.size > 0) programme.row(terms, { least: -spare });
  }
  judged.forEach(({ question }, k) => {
    const { least, most } = allowed[k]!;
    demands.limit(question, least - TINY, most + TINY, slackOf?.(k, programme) ?? null);
  });
  return programme;
}

/** Greatest move of each lever by its travel. */
export const travelOf = (levers: readonly Lever[], isFree = false): Reach[] =>
  levers.map(({ travel: { plus, minus } }) =>
    isFree ? [HIGHEST, HIGHEST] : [Math.min(plus, HIGHEST), Math.min(minus, HIGHEST)],
  );

/**
 * Levers that share a limit, directly or through other levers, with a limit that is not met. Moving the others would not help.
 */
export function leversThatMatter(input: Pick<SearchInput, 'adjustment' | 'judged' | 'levers'>): Lever[] {
  const { adjustment, judged, levers } = input;
  const demands = new Demands(new Programme(), adjustment, levers);
  const touches = judged.map(({ question }) => demands.levered(question));
  const ties = tiesOf(levers);
  const matters = levers.map(() => false);
  const open = judged.map(({ isKept }) => !isKept);
  for (let grows = true; grows;) {
    grows = false;
    const mark = (k: number) => {
      if (matters[k]) return;
      matters[k] = true;
      grows = true;
    };
    open.forEach((isOpen, c) => {
      if (isOpen) touches[c]!.forEach((touched, k) => touched && mark(k));
      else if (touches[c]!.some((touched, k) => touched && matters[k])) open[c] = grows = true;
    });
    for (const [k, j] of ties) if (matters[k] || matters[j]) [k, j].forEach(mark);
  }
  return levers.filter((_, k) => matters[k]);
}

/** @returns null: no moves of any size and number meet the limits. */
export async function reachable(input: SearchInput, allowed: readonly Allowed[]): Promise<Reach[] | null> {
  const programme = movesProgramme(input, travelOf(input.levers), allowed);
  const ranges = await programme.ranges(
    input.levers.map((_, k) => leverName(k)),
    input.onSearch,
  );
  return ranges && ranges.map(([least, most]) => [Math.max(0, most + TINY), Math.max(0, TINY - least)]);
}

/**
 * @param fewest Lower bound of the number of adjusters, from an earlier search.
 */
export async function fewestMoves(
  input: SearchInput,
  allowed: readonly Allowed[],
  work: Work,
  fewest = 0,
): Promise<FoundMoves> {
  const nothing = (status: 'none' | 'ended'): FoundMoves => ({
    status,
    gap: null,
    adjusters: 0,
    value: () => 0,
  });
  const reaches = await reachable(input, allowed);
  if (reaches === null) return nothing('none');
  const { onSearch } = input;
  const model = (withWholes: boolean) => new Model(input, allowed, reaches, withWholes);

  const few = model(false);
  few.programme.row(few.touched, { least: fewest });
  const first = await work.of(0.5, few.programme, few.touched, WHOLE, onSearch);
  if (first.status === 'none' || first.status === 'ended') return nothing(first.status);
  const adjusters = Math.round(sumOf(few.touched, first));
  const bound = Math.min(adjusters, Math.ceil(first.bound - 1e-6));

  // With the same number of adjusters, a rail that moves as a whole counts as one amount.
  let plan: Solved = first;
  let isProven = first.status === 'best';
  let wholes: readonly string[] = [];
  const whole = model(true);
  if (wholeRailsOf(input).some((places) => places.length <= adjusters)) {
    whole.programme.row(whole.touched, { most: adjusters });
    whole.programme.row(whole.wholes, { least: 1 });
    const second = await work.of(0.5, whole.programme, whole.spared, WHOLE, onSearch);
    isProven &&= second.status === 'best' || second.status === 'none';
    if (second.status === 'best' || second.status === 'found') {
      plan = second;
      wholes = [...whole.wholes.keys()].filter((name) => second.value(name) > 0.5);
    }
  }

  const last = model(wholes.length > 0);
  last.programme.row(last.touched, { most: adjusters });
  for (const name of wholes) last.programme.row(terms([name, 1]), { least: 1 });
  const third = await work.of(0.9, last.programme, last.movement, 0, onSearch);
  if (third.status === 'best' || third.status === 'found') plan = third;
  isProven &&= third.status === 'best';
  return {
    status: isProven ? 'best' : 'found',
    gap: bound < adjusters ? (adjusters - bound) / adjusters : third.gap,
    adjusters,
    value: plan.value,
  };
}

const sumOf = (names: ReadonlyMap<string, number>, { value }: Solved): number =>
  [...names].reduce((sum, [name, weight]) => sum + weight * value(name), 0);

const terms = (...list: readonly (readonly [string, number])[]) => new Map(list);

/** The programme with the counted variables: adjusters, amounts, movement. */
class Model {
  readonly programme: Programme;
  readonly touched = new Map<string, number>();
  /** Number of amounts that each rail saves if it moves as a whole, as a (negative) cost. */
  readonly spared = new Map<string, number>();
  readonly wholes = new Map<string, number>();
  readonly movement = new Map<string, number>();
  private readonly touchedOf = new Map<string, string>();
  /** Positive and negative part of each lever's move, and whether it moves in that direction. */
  private readonly sidesOf: { readonly part: string; readonly is: string | null }[][] = [];

  constructor(
    private readonly input: SearchInput,
    allowed: readonly Allowed[],
    private readonly reaches: readonly Reach[],
    withWholes: boolean,
  ) {
    this.programme = movesProgramme(input, reaches, allowed);
    input.levers.forEach((lever, k) => this.move(lever, k));
    for (const places of wholeRailsOf(input)) this.refuseSmallWhole(places);
    if (withWholes) this.wholeRails();
  }

  /** A move is zero, or at least the smallest move. */
  private move(lever: Lever, k: number): void {
    const { programme } = this;
    const { adjuster } = lever;
    let touched = this.touchedOf.get(adjuster.id);
    if (touched === undefined) {
      touched = programme.variable(`z${k}`, 0, 1, true);
      this.touchedOf.set(adjuster.id, touched);
      this.touched.set(touched, 1);
    }
    const least = this.input.least[k]!;
    const sides = (['p', 'n'] as const).map((side, s) => {
      const most = this.reaches[k]![s]! < least - TINY ? 0 : this.reaches[k]![s]!;
      const part = programme.variable(`${side}${k}`, 0, most);
      this.movement.set(part, 1);
      if (most === 0) return { part, is: null };
      const is = programme.variable(`${side}is${k}`, 0, 1, true);
      programme.row(terms([part, 1], [is, -most]), { most: 0 });
      programme.row(terms([part, 1], [is, -Math.min(least, most)]), { least: 0 });
      return { part, is };
    });
    this.sidesOf[k] = sides;
    const [plus, minus] = sides as [(typeof sides)[0], (typeof sides)[0]];
    programme.row(terms([leverName(k), 1], [plus.part, -1], [minus.part, 1]), { least: 0, most: 0 });
    programme.row(
      terms([touched, -1], ...sides.flatMap(({ is }) => (is === null ? [] : [[is, 1] as const]))),
      { most: 0 },
    );
    if (lever.plane === 'vertical' && adjuster.shims !== null) this.sheets(lever, k);
  }

  /** Excludes a move of all places of a rail by less than the uncertainty of its line. */
  private refuseSmallWhole(places: readonly number[]): void {
    const { programme } = this;
    if (places.some((k) => this.input.wholeLeast[k] === null)) return;
    const moved = new Map<string, number>();
    for (const k of places) {
      const least = this.input.wholeLeast[k]!;
      for (const { part, is } of this.sidesOf[k]!) {
        if (is === null) continue;
        moved.set(is, 1);
        const large = programme.variable(`large${part}`, 0, 1, true);
        programme.row(terms([part, 1], [large, -least]), { least: 0 });
        moved.set(large, -1);
      }
    }
    programme.row(moved, { most: places.length - 1 });
  }

  /** Whole sheets: one whole number if every multiple of a step is possible, else one per thickness. */
  private sheets({ adjuster }: Lever, k: number): void {
    const { programme } = this;
    const [up, down] = this.reaches[k]!;
    const { have, inUm } = adjuster.shims!;
    const step = stepOfSheets(have, inUm, up, down);
    if (step !== null) {
      const most = (um: number) => Math.floor(um / step + 1e-6);
      const steps = programme.variable(`w${k}`, -most(Math.min(down, inUm)), most(up), true);
      programme.row(terms([leverName(k), 1], [steps, -step]), { least: 0, most: 0 });
      return;
    }
    const sum = terms([leverName(k), 1]);
    const taken = new Map<string, number>();
    have.forEach((um, s) => {
      const add = programme.variable(`a${k}_${s}`, 0, MOST_SHEETS, true);
      const take = programme.variable(`t${k}_${s}`, 0, sheetsIn(inUm, um), true);
      sum.set(add, -um);
      sum.set(take, um);
      taken.set(take, um);
    });
    programme.row(sum, { least: 0, most: 0 });
    programme.row(taken, { most: inUm });
  }

  /** A rail that moves as a whole in one plane: every place moves, linearly between the ends. It counts as one amount. */
  private wholeRails(): void {
    const { programme } = this;
    for (const [g, places] of wholeRailsOf(this.input).entries()) {
      const most = Math.max(...places.map((k) => Math.max(...this.reaches[k]!)));
      const whole = programme.variable(`whole${g}`, 0, 1, true);
      this.wholes.set(whole, 1);
      this.spared.set(whole, 1 - places.length);
      const ends = [0, 1].map((e) => programme.variable(`end${g}_${e}`, -2 * most, 2 * most));
      const shares = sharesAlong(places.map((k) => this.input.levers[k]!));
      places.forEach((k, i) => {
        const { adjuster, plane } = this.input.levers[k]!;
        const far = 2 * most + Math.max(...this.reaches[k]!);
        const slack = plane === 'vertical' ? halfStep(adjuster.shims) : 0;
        for (const side of [1, -1])
          programme.row(
            terms(
              [leverName(k), side],
              [ends[0]!, -side * (1 - shares[i]!)],
              [ends[1]!, -side * shares[i]!],
              [whole, far],
            ),
            { most: slack + far },
          );
        programme.row(terms([this.touchedOf.get(adjuster.id)!, 1], [whole, -1]), { least: 0 });
      });
    }
  }
}

/** Sheets approximate the line within their smallest step. */
export const halfStep = (shims: Lever['adjuster']['shims']): number =>
  shims === null ? 0 : Math.min(...shims.have) / 2 + TINY;

/** Places of the levers of a rail in one plane. */
function wholeRailsOf({ levers, wholes }: SearchInput): number[][] {
  const rails = new Map<string, number[]>();
  levers.forEach((lever, k) => {
    const key = railKey(lever);
    if (wholes.has(key)) rails.set(key, [...(rails.get(key) ?? []), k]);
  });
  return [...rails.values()].filter(
    (places) => new Set(places.map((k) => levers[k]!.adjuster.atMm)).size >= FEWEST_OF_WHOLE,
  );
}

/** Relative position of each, from the first (0) to the last (1). */
export function sharesAlong(levers: readonly Pick<Lever, 'adjuster'>[]): number[] {
  const at = levers.map(({ adjuster }) => adjuster.atMm);
  const [from, to] = extent(at);
  return at.map((mm) => (mm - from) / (to - from));
}

/**
 * The readings that are planned, in the order in which a crew takes them: direction first, then height, then the
 * rails forward and back, and a closing look before the set-up is left.
 */
import { axes, type Axis } from '../../survey/job/job.js';
import { railId, railIds, type Plan } from './plan.js';

/** Why the row is there: the field sheet makes a table of each run of rows of one part, rail and pass. */
export type Part = 'sign' | 'direction' | 'height' | 'rail' | 'closing';

export interface OffsetRow {
  readonly part: Part;
  readonly setup: string;
  /** null: a monument. */
  readonly rail: string | null;
  /** Numbered from 1; null at monuments. */
  readonly station: number | null;
  readonly monument: string | null;
  readonly target: string;
  readonly pass: number;
  /** What is to be read there. */
  readonly axes: readonly Axis[];
  /** Of a sign check: how the target is moved for it. */
  readonly check: string;
  readonly note: string;
}

export interface SpanRow {
  readonly rail: string;
  readonly other: string;
  readonly station: number;
  readonly pass: number;
}

/** A step with a level, in the names of the columns. */
export interface SlopeRow {
  readonly from_rail: string;
  readonly from_station: number;
  readonly to_rail: string;
  readonly to_station: number;
  readonly axis: 'vertical';
  readonly pass: number;
}

export const SETUPS = { one: ['S1'], two: ['S1', 'S2'] } as const;
export const MONUMENTS = ['M1', 'M2'] as const;
export const RAIL_TARGET = 'T1';
export const MONUMENT_TARGET = 'T2';

const ofRails: readonly Axis[] = ['vertical', 'horizontal'];

/** What is read from a set-up, in the order of its axes. */
export const axesOf = ({ setups }: Pick<Plan, 'setups'>): readonly Axis[] =>
  setups === 'two' ? axes : ofRails;

/** One phase's offset readings. */
export function offsetRows(plan: Plan): OffsetRow[] {
  const ids = railIds(plan);
  if (plan.setups === 'one') return readRails('S1', ids, plan, []);
  const [datum, ...others] = ids;
  return [...readRails('S1', [datum!], plan, []), ...readRails('S2', others, plan, [datum!])];
}

function readRails(
  setup: string,
  rails: readonly string[],
  plan: Plan,
  heightFrom: readonly string[],
): OffsetRow[] {
  const last = plan.stations.length;
  const passes = Array.from({ length: plan.passes }, (_, k) => k + 1);
  const monuments = plan.setups === 'two';
  const forward = rails.flatMap((rail) => plan.stations.map((_, k) => ({ rail, station: k + 1 })));
  const onRail = passes.flatMap((pass) =>
    (pass % 2 === 1 ? forward : [...forward].reverse()).map((point): OffsetRow => ({
      ...rowOf(setup, 'rail', pass),
      ...point,
      axes: ofRails,
    })),
  );
  const closing = monuments
    ? monumentRows(setup, 'closing', [plan.passes + 1])
    : plan.passes % 2 === 0 // the return pass ends where the first began
      ? []
      : [{ ...rowOf(setup, 'closing', plan.passes + 1), ...forward[0]!, axes: ofRails }];
  return [
    ...(monuments ? monumentRows(setup, 'direction', passes) : []),
    ...signRows(setup, rails[0]!, plan),
    ...heightFrom.flatMap((rail) =>
      [1, last].flatMap((station) =>
        passes.map((pass): OffsetRow => ({
          ...rowOf(setup, 'height', pass),
          rail,
          station,
          axes: ['vertical'],
        })),
      ),
    ),
    ...onRail,
    ...closing,
  ];
}

const monumentRows = (setup: string, part: Part, passes: readonly number[]): OffsetRow[] =>
  passes.flatMap((pass) =>
    MONUMENTS.map((monument) => ({
      ...rowOf(setup, part, pass),
      monument,
      target: MONUMENT_TARGET,
      axes: ['along'] as const,
    })),
  );

/** The first point once more, with the target moved to a known side in each plane that is read. */
const signRows = (setup: string, rail: string, plan: Plan): OffsetRow[] =>
  axesOf(plan).map((axis) => ({
    ...rowOf(setup, 'sign', 1),
    ...(axis === 'along' ? { monument: MONUMENTS[0], target: MONUMENT_TARGET } : { rail, station: 1 }),
    axes: [axis],
    check: `${PLUS[axis]} ${plan.units === 'mm' ? '1 mm' : '0.05 in'}`,
  }));

const PLUS = { vertical: 'up', horizontal: 'left', along: 'ahead' } as const;

const notes: Record<Part, string> = {
  sign: 'sign check',
  direction: 'direction carried over',
  height: 'height carried over',
  rail: '',
  closing: 'closing look',
};

const rowOf = (setup: string, part: Part, pass: number): OffsetRow => ({
  part,
  setup,
  rail: null,
  station: null,
  monument: null,
  target: RAIL_TARGET,
  pass,
  axes: [],
  check: '',
  note: notes[part],
});

/** One phase's distances across: from the datum rail to each other rail, at stations spread over its length. */
export function spanRows(plan: Plan): SpanRow[] {
  const datum = railId(0);
  const others = railIds(plan).slice(1);
  const stations = spread(plan.stations.length, plan.spans);
  return Array.from({ length: plan.spans === 0 ? 0 : plan.passes }, (_, k) => k + 1).flatMap((pass) =>
    others.flatMap((other) => stations.map((station) => ({ rail: datum, other, station, pass }))),
  );
}

/** One phase's steps with a level: each rail from station to station, then from the datum rail to each other rail. */
export function slopeRows({ slopes, passes, stations, ...plan }: Plan): SlopeRow[] {
  if (slopes === 'none') return [];
  const [datum, ...others] = railIds(plan) as [string, ...string[]];
  const steps = [datum, ...others].flatMap((rail) =>
    stations.slice(1).map((_, k) => [rail, k + 1, rail, k + 2] as const),
  );
  const across =
    slopes === 'both'
      ? others.flatMap((other) => stations.map((_, k) => [datum, k + 1, other, k + 1] as const))
      : [];
  return Array.from({ length: passes }, (_, k) => k + 1).flatMap((pass) =>
    [...steps, ...across].map(([from_rail, from_station, to_rail, to_station]) => ({
      ...{ from_rail, from_station, to_rail, to_station },
      ...{ axis: 'vertical' as const, pass },
    })),
  );
}

/** `count` of the stations 1 to `last`, both ends among them; one alone is in the middle. */
function spread(last: number, count: number): number[] {
  if (count === 1) return [Math.ceil(last / 2)];
  return Array.from({ length: count }, (_, k) => 1 + Math.round((k * (last - 1)) / (count - 1)));
}

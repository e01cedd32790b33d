/**
 * One slope with a tolerance, as it was judged: the stations about the middle of their line, the line, and the slopes of the
 * limits through the same middle. The judged value is drawn at the end of the rail: slope times half the length.
 */
import { extent } from '../../base/statistics/extent.js';
import type { StationResult } from '../../results/results-schema.js';
import type { Chart, Row } from './chart.js';
import {
  isJudged,
  outcomeLines,
  railPosition,
  railWords,
  sameAsked,
  type Context,
  type Judged,
  type PhaseContext,
} from './context.js';
import { besideRows, profileChart, told, type ProfileInput } from './profile.js';

/** Quantity, the direction in which it rises with a positive slope, and the direction of slopes that are single functionals. */
const drawn = {
  'level-along': { pick: (s: StationResult) => s.height, sense: 1 },
  'level-across': { pick: (s: StationResult) => s.height, sense: 1 },
  squareness: { pick: (s: StationResult) => s.ahead, sense: -1 },
} as const;

export const isSlope = (c: Judged): c is Judged & { readonly what: keyof typeof drawn } =>
  Object.hasOwn(drawn, c.what) && c.over === undefined;

type Input = Pick<ProfileInput, 'phase' | 'c' | 'key' | 'place'>;

/** @returns Empty: fewer than two of its stations have a known place. */
export function slopeChart(context: Context, { phase, c, key, place }: Input): Chart[] {
  const made = isSlope(c) ? asProfile(context, phase, c) : null;
  if (made === null) return [];
  const first = context.phases[0]!;
  const before = first === phase ? undefined : first.phase.characteristics.find((b) => sameAsked(b, c));
  const earlier =
    before !== undefined && isJudged(before) && isSlope(before) ? asProfile(context, first, before) : null;
  const chart = profileChart(context, {
    phase,
    c: made,
    before: earlier === null ? undefined : { words: first.words, c: earlier },
    key,
    span: 0,
    place,
    isSloped: true,
  });
  const outcome = outcomeLines(context, phase, c);
  const { zone, limits, guard, left, found } = chart.data;
  const [lower, upper, value] = chart.data['caps']!.map((row) => row['y'] as number) as [
    number,
    number,
    number,
  ];
  const within = limits!.map(({ y }) => (y as number) + ((y as number) > 0 ? value - upper : value - lower));
  const xs = [...left!, ...found!].map((row) => row['x'] as number);
  const [from, to] = extent(xs);
  /** Through the middle, to both ends. */
  const ends = (y: number) => [
    { x: from, y: -y, line: String(y) },
    { x: to, y, line: String(y) },
  ];
  return [
    {
      ...chart,
      stations: [],
      caption: [context.say('slope.caption'), chart.caption].filter(Boolean).join(' '),
      alt: context.say('profile.alt', { title: chart.title, outcome: outcome.join('; ') }),
      outcome: told(outcome),
      params: {
        ...chart.params,
        heading: context.say(`profile.y.${c.what === 'squareness' ? 'squareness' : 'level'}`, {
          rail: railWords(c.rail, context),
          unit: context.deviation.label,
        }),
      },
      data: {
        ...chart.data,
        zone: zone!.flatMap((row): Row[] => [
          { x: from, from: -(row['from'] as number), to: -(row['to'] as number) },
          { x: (from + to) / 2, from: 0, to: 0 },
          { x: to, ...row },
        ]),
        limits: limits!.flatMap(({ y }) => ends(y as number)),
        guard: guard!.length === 0 ? [] : within.flatMap(ends),
        zero: ends(value),
        decides: [],
        words: besideRows(outcome),
      },
    },
  ];
}

/** The slope times half the length of the rail: a signed figure in µm, with the stations about the middle of their line. */
function asProfile({ results }: Context, { phase }: PhaseContext, c: Judged): Judged | null {
  if (!isSlope(c)) return null;
  const rail = results.survey.rails.find(({ id }) => id === c.rail);
  const { pick, sense } = drawn[c.what];
  const points = (rail?.stations ?? []).flatMap((place) => {
    const found = phase.stations.find((s) => s.rail === c.rail && s.station === place.station);
    const value = found === undefined ? null : (pick(found)?.value ?? null);
    return value === null ? [] : [{ station: place.station, position: railPosition(rail!, place), value }];
  });
  if (points.length < 2) return null;
  const mean = (of: (p: (typeof points)[number]) => number) =>
    points.reduce((sum, p) => sum + of(p), 0) / points.length;
  const positions = points.map(({ position }) => position);
  const middle = (Math.min(...positions) + Math.max(...positions)) / 2;
  const halfM = (Math.max(...positions) - Math.min(...positions)) / 2000;
  const factor = sense * halfM;
  const level = mean(({ value }) => value) + ((sense * c.value) / 1000) * (middle - mean((p) => p.position));
  const turned = <T>([a, b]: readonly [T, T]): [T, T] => (sense > 0 ? [a, b] : [b, a]);
  const scaled = (x: number | null) => (x === null ? null : x * factor);
  const [from, to] = turned([c.zone?.from ?? null, c.zone?.to ?? null]);
  return {
    ...c,
    unit: 'um',
    value: c.value * factor,
    u: c.u * halfM,
    limit: c.limit * halfM,
    interval: turned([c.interval[0] * factor, c.interval[1] * factor]),
    profile: points.map((p) => ({ ...p, rail: c.rail, value: p.value - level })),
    // Its whole interval, not that of its magnitude.
    judged: undefined,
    ...(c.zone !== undefined && { zone: { ...c.zone, from: scaled(from), to: scaled(to) } }),
  };
}

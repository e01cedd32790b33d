/**
 * Effects that may be present and that the job does not state: air of uneven temperature, a cone of the swept planes, scale, roll
 * and seating of a target, the zero error of a level, a machine that becomes warm. They are not in the interval. This section
 * gives their usual size, and the size from which each verdict would change.
 */
import { closed } from '../solution/characteristics/answer.js';
import { estimateOf } from '../solution/characteristics/estimate.js';
import { applyFamily } from '../solution/characteristics/linear-family.js';
import type { Question } from '../solution/characteristics/question.js';
import { leastOf, lengthOf, mostOf } from '../base/statistics/extent.js';
import { hoursOf } from '../survey/readings/clock.js';
import { positionMm, type Axis, type Job } from '../survey/job/job.js';
import { dot, type Adjustment } from '../solution/solve/adjustment.js';
import { bendPerGradient } from '../solution/solve/refraction.js';
import { sightLengths } from '../solution/solve/sight-lengths.js';
import { placeOfPoint } from '../survey/readings/place-of-point.js';
import type { OffsetReading } from '../survey/readings/readings.js';
import { byRule, decide, type Judged } from '../solution/verdict/decision-rule.js';
import { questionFinder } from './question-of.js';
import type { CharacteristicResult, Determined, UnstatedEffect, UnstatedSource } from './results-schema.js';
import { cube } from '../base/statistics/power.js';

interface Source {
  readonly source: UnstatedSource;
  readonly unit: UnstatedEffect['unit'];
  /** Usual size: the report gives the effect of this size. */
  readonly usual: number;
  /** Greatest possible size. */
  readonly most: number;
  /** Change of a reading per unit of the effect, µm; 0 if the job states the effect, or the effect does not change the reading. */
  readonly adds: (r: OffsetReading, signs: Signs, distanceM: number) => number;
}

interface Signs {
  readonly own: 1 | -1;
  /** The same for both planes. */
  readonly both: 1 | -1;
}

function sourcesOf(job: Job, adjustment: Adjustment): Source[] {
  const bend = bendPerGradient(job);
  const airOf = new Map(job.setups.map((s) => [s.id, s.air]));
  const states = (setup: string, way: 'vertical' | 'sideways') =>
    (airOf.get(setup) ?? []).some((air) => air[way] !== null);
  const coneOf = new Map(
    job.setups.map((s) => [s.id, job.instruments.find((i) => i.id === s.instrument)?.coneU ?? null] as const),
  );
  const targetOf = new Map((job.targets ?? []).map((t) => [t.id, t]));
  const lookOf = (r: OffsetReading, axis: string) =>
    JSON.stringify([r.setup, r.point, r.target, r.pass, axis]);
  let byLook: Map<string, number> | null = null;
  const readAt = (look: string): number => {
    byLook ??= new Map(
      adjustment.network.observations.flatMap((o) =>
        o.kind === 'offset' ? [[lookOf(o, o.axis), o.um] as const] : [],
      ),
    );
    return byLook.get(look) ?? 0;
  };
  const air = (source: 'air' | 'air-sideways', axis: Axis, way: 'vertical' | 'sideways'): Source => ({
    source,
    unit: 'K/m',
    usual: 0.1,
    most: 10,
    adds: (r, { own }, d) => (r.axis !== axis || states(r.setup, way) ? 0 : own * bend * d * d),
  });
  return [
    ...levelZeros(job),
    ...bowOf(job, adjustment),
    air('air', 'vertical', 'vertical'),
    air('air-sideways', 'horizontal', 'sideways'),
    {
      source: 'cone',
      unit: 'um/m',
      usual: 1,
      most: 50,
      adds: (r, { own }, d) => ((coneOf.get(r.setup) ?? null) !== null ? 0 : own * d),
    },
    {
      source: 'target-scale',
      unit: '%',
      usual: 0.2,
      most: 10,
      adds: (r) => ((targetOf.get(r.target)?.scaleU ?? null) === null ? r.um / 100 : 0),
    },
    {
      source: 'target-roll',
      unit: 'mrad',
      usual: 1,
      most: 100,
      adds: (r, { both }) => {
        if (r.axis === 'along' || (targetOf.get(r.target)?.rollU ?? null) !== null) return 0;
        const other = readAt(lookOf(r, r.axis === 'vertical' ? 'horizontal' : 'vertical'));
        return ((r.axis === 'vertical' ? 1 : -1) * both * other) / 1000;
      },
    },
  ];
}

/** One arc second: usual zero error of a level that is checked by reversal now and then. Common practice, no source. */
const USUAL_ZERO = 5;

/** Zero error of a level, along and across its axis; common to all levelled set-ups of an instrument, turned by their heading. */
function levelZeros(job: Job): Source[] {
  const setups = new Map(job.setups.map((s) => [s.id, s]));
  const isOpen = (id: string) =>
    job.instruments.some((i) => i.id === id && i.levelU !== null && i.levelZeroU === null);
  const zero = (source: 'level-zero-along' | 'level-zero-across', turnedBy: number): Source => ({
    source,
    unit: 'um/m',
    usual: USUAL_ZERO,
    most: 500,
    adds: (r, { own }) => {
      const setup = setups.get(r.setup)!;
      if (r.axis !== 'vertical' || !setup.levelled || !isOpen(setup.instrument)) return 0;
      const place = placeOfPoint(job, r.point);
      const turn = ((setup.headingDeg + turnedBy) * Math.PI) / 180;
      const [dx, dy] = [place.alongMm - setup.alongMm, place.acrossMm - setup.acrossMm];
      return (-own * (Math.cos(turn) * dx + Math.sin(turn) * dy)) / 1000;
    },
  });
  return [zero('level-zero-along', 0), zero('level-zero-across', 90)];
}

/** Expansion of steel and cast iron, µm/m per K; height of a bed if the job states none, m. Common practice, no source. */
const EXPANSION = 11.5;
const BED_HEIGHT_M = 0.6;
/** Share of a change of the air temperature by which the top of a bed is ahead of its foot; 0.5 K if nothing is stated. Common practice, no source. */
const LAG = 0.2;
const USUAL_LAG_K = 0.5;

/**
 * A machine whose temperature changes during the survey. The top becomes warmer than the foot, linearly from the first reading to
 * the last, and the rails bow by E·ΔT/h·½((L/2)² − x²). Only if the job does not state the bow.
 */
function bowOf(job: Job, { network }: Adjustment): Source[] {
  const { temperatureC } = job.conditions;
  const usual =
    temperatureC === null ? USUAL_LAG_K : Math.max(0.1, LAG * (temperatureC.to - temperatureC.from));
  const rails = new Map(job.rails.map((r) => [r.id, r]));
  const hours = network.observations.map((o) =>
    o.kind === 'offset' && o.time !== null ? hoursOf(o.time) : null,
  );
  const known = hours.filter((h) => h !== null);
  const [first, last] = [leastOf(known), mostOf(known)];
  const order = new Map(network.observations.map((o, i) => [o as unknown, i]));
  const partOf = (r: OffsetReading): number => {
    const i = order.get(r) ?? 0;
    const at = hours[i] ?? null;
    return at === null || !(last > first) ? i / network.observations.length : (at - first) / (last - first);
  };
  return [
    {
      source: 'bow',
      unit: 'K',
      usual,
      most: 20,
      adds: (r, { own }) => {
        const rail = r.point.kind === 'station' ? rails.get(r.point.rail) : undefined;
        if (r.axis !== 'vertical' || r.point.kind !== 'station' || rail === undefined) return 0;
        if (rail.thermal !== null || rail.direction !== 'along') return 0;
        const [from, to] = [positionMm(rail, rail.stations[0]!), positionMm(rail, rail.stations.at(-1)!)];
        const x = (positionMm(rail, rail.stations[r.point.station - 1]!) - (from + to) / 2) / 1000;
        const half = (to - from) / 2000;
        return (own * partOf(r) * (EXPANSION / BED_HEIGHT_M) * (half * half - x * x)) / 2;
      },
    },
  ];
}

/** Effect of a given size on a determined characteristic. */
interface Consequence {
  /** Change of the judged value, in the characteristic's unit; for a random effect, the added standard uncertainty. */
  readonly by: (size: number) => number;
  /** The judged value with the effect, with either sign. */
  readonly with: (judged: Judged, u: number, size: number) => readonly Judged[];
}

interface Effect {
  readonly source: UnstatedSource;
  readonly unit: UnstatedEffect['unit'];
  readonly most: number;
  readonly line: UnstatedEffect;
  /** null: the characteristic is not determined. */
  readonly on: (question: Question, middle: number) => Consequence | null;
}

function effectsOf(job: Job, adjustment: Adjustment): Effect[] {
  const { observations } = adjustment.network;
  const setups = new Map(job.setups.map((s) => [s.id, s]));
  const lengthOf = sightLengths(job);
  const shared = sourcesOf(job, adjustment).flatMap((source): Effect[] => {
    const change = new Float64Array(observations.length);
    let largest: { size: number; rail: string; station: number } | null = null;
    observations.forEach((o, i) => {
      if (o.kind !== 'offset') return;
      const setup = setups.get(o.setup)!;
      const both = (setup.sign.vertical * setup.sign.horizontal) as 1 | -1;
      change[i] = source.adds(o, { own: setup.sign[o.axis], both }, lengthOf(o));
      const size = Math.abs(change[i]!);
      if (o.point.kind === 'station' && size > (largest?.size ?? 0))
        largest = { size, rail: o.point.rail, station: o.point.station };
    });
    const most = largest as { size: number; rail: string; station: number } | null;
    if (most === null) return [];
    const line: UnstatedEffect = {
      source: source.source,
      unit: source.unit,
      size: source.usual,
      readingUm: source.usual * most.size,
      rail: most.rail,
      station: most.station,
    };
    const response = adjustment.respond(change);
    return [{ ...source, line, on: (question, middle) => shifting(question, adjustment, response, middle) }];
  });
  return [...shared, ...seatingOf(job, adjustment)];
}

/** Repeatability of placing a target with clean faces, µm. Common practice, no source. */
const USUAL_SEAT = 3;
const MOST_SEAT = 100;

/**
 * Seating of carried targets, if the job does not state it. It is random and the same for all readings of one placing, so it adds
 * √Σ(Σ weights of a placing)² to the uncertainty per µm. Readings without a placing each have their own, as in the network.
 */
function seatingOf(job: Job, adjustment: Adjustment): Effect[] {
  const seatOf = new Map((job.targets ?? []).map(({ id, seatU }) => [id, seatU]));
  const signOf = new Map(job.setups.map(({ id, sign }) => [id, sign]));
  const placings = new Map<string, { i: number; sign: number }[]>();
  let first: { rail: string; station: number } | null = null;
  adjustment.network.observations.forEach((o, i) => {
    if (o.kind !== 'offset' || (seatOf.get(o.target) ?? null) !== null) return;
    if (o.point.kind === 'station') first ??= { rail: o.point.rail, station: o.point.station };
    const placing = o.placing ?? null;
    const key = placing === null ? `${i}` : JSON.stringify([o.axis, o.target, placing]);
    const own = placings.get(key) ?? [];
    own.push({ i, sign: signOf.get(o.setup)![o.axis] });
    placings.set(key, own);
  });
  const place = first as { rail: string; station: number } | null;
  if (place === null) return [];
  const line: UnstatedEffect = {
    source: 'seating',
    unit: 'um',
    size: USUAL_SEAT,
    readingUm: USUAL_SEAT,
    ...place,
  };
  const on = (question: Question): Consequence | null => {
    const made = estimateOf(question, adjustment);
    if (made === null) return null;
    const weights = adjustment.influence(made.functional);
    const each = [...placings.values()].map((own) =>
      own.reduce((sum, { i, sign }) => sum + sign * weights[i]!, 0),
    );
    return widening(lengthOf(each));
  };
  return [{ source: 'seating', unit: 'um', most: MOST_SEAT, line, on }];
}

/** @param perUnit Added standard uncertainty per unit of the effect, in the characteristic's unit. */
const widening = (perUnit: number): Consequence => ({
  by: (size) => size * perUnit,
  with: ({ value, lower, upper }, u, size) => {
    const wider = u === 0 ? 1 : Math.hypot(1, (size * perUnit) / u);
    return [{ value, lower: value - (value - lower) * wider, upper: value + (upper - value) * wider }];
  },
});

/** A shift of the readings shifts the judged value and its interval. */
function shifting(
  question: Question,
  adjustment: Adjustment,
  response: Float64Array,
  middle: number,
): Consequence | null {
  const reachAt = reachAlong(question, adjustment, response, middle);
  if (reachAt === null) return null;
  const start = reachAt(0);
  return {
    by: (size) => Math.max(...[size, -size].map((s) => Math.abs(reachAt(s) - start))),
    with: (judged, _, size) => [size, -size].map((s) => shifted(judged, reachAt(s) - start)),
  };
}

/** Number of sizes that are tried between zero and the greatest possible size. */
const STEPS = 48;

/**
 * The effects that the job does not state, ordered by the share of a limit that they use, and for each characteristic the size from
 * which its verdict would change.
 *
 * @param questions The questions of the characteristics, by identity.
 */
export function unstatedSection(
  job: Job,
  adjustment: Adjustment,
  questions: readonly Question[],
  characteristics: readonly CharacteristicResult[],
): { unstated: UnstatedEffect[]; characteristics: CharacteristicResult[] } {
  const questionOf = questionFinder(questions);
  const effects = effectsOf(job, adjustment);
  const weighed = effects.map(({ line }) => ({ line, does: [] as Done[], turnsAt: null as number | null }));
  const withSizes = characteristics.map((c) => {
    const question = c.limit === null || c.value === null ? null : questionOf(c);
    if (question === null) return c;
    const holdsUpTo = effects.flatMap(({ source, unit, most, on, line }, k) => {
      const own = on(question, middleOf(c.zone));
      if (own === null) return [];
      const by = own.by(line.size);
      weighed[k]!.does.push({
        share: by / c.limit!,
        shown: { what: c.what, rail: c.rail, by, unit: c.unit },
      });
      const upTo = heldUpTo(c as Determined, own, most, job.decision);
      if (upTo === null) return [];
      weighed[k]!.turnsAt = Math.min(weighed[k]!.turnsAt ?? Infinity, upTo);
      return [{ source, unit, upTo }];
    });
    return holdsUpTo.length === 0 ? c : { ...c, holdsUpTo };
  });
  const shareOf = ({ does }: { does: readonly Done[] }) => does[0]?.share ?? 0;
  for (const { does } of weighed) does.sort((a, b) => b.share - a.share);
  const unstated = weighed
    .sort((a, b) => shareOf(b) - shareOf(a))
    .map(({ line, does, turnsAt }) => ({
      ...line,
      ...(does.length > 0 && { does: does.map(({ shown }) => shown), turnsAt }),
    }));
  return { unstated, characteristics: withSizes };
}

interface Done {
  /** Share of the limit. */
  readonly share: number;
  readonly shown: NonNullable<UnstatedEffect['does']>[number];
}

/** null: no possible size changes the verdict, or there is no verdict. */
function heldUpTo(
  { judged, verdict, u, rule: own }: Determined,
  consequence: Consequence,
  most: number,
  decision: Job['decision'],
): number | null {
  if (judged === undefined || (verdict !== 'conforms' && verdict !== 'does-not-conform')) return null;
  const { rule } = byRule(decision, own);
  const holds = (size: number): boolean =>
    consequence.with(judged, u, size).every((one) => decide(one, judged.limit, rule) === verdict);
  const sizeAt = (step: number) => most * cube(step / STEPS);
  const step = verdict === 'conforms' ? firstOfConvex(sizeAt, holds) : firstOfAll(sizeAt, holds);
  if (step === null) return null;
  let [low, high] = [sizeAt(step - 1), sizeAt(step)];
  for (let n = 0; n < 30; n++) {
    const middle = (low + high) / 2;
    if (holds(middle)) low = middle;
    else high = middle;
  }
  return low;
}

/** The first step whose size changes the verdict; null: none does. */
function firstOfAll(sizeAt: (step: number) => number, holds: (size: number) => boolean): number | null {
  for (let step = 1; step <= STEPS; step++) if (!holds(sizeAt(step))) return step;
  return null;
}

/**
 * The same with a few trials. The judged value is the greatest of linear functions of the readings, so it is convex in the size:
 * the sizes of one sign that keep it within a limit are all those up to one size.
 */
function firstOfConvex(sizeAt: (step: number) => number, holds: (size: number) => boolean): number | null {
  let [held, first] = [0, STEPS];
  if (holds(sizeAt(first))) return null;
  while (first - held > 1) {
    const step = (held + first) >> 1;
    if (holds(sizeAt(step))) held = step;
    else first = step;
  }
  return first;
}

/** A magnitude and its ends, increased by a given amount. */
export const shifted = ({ value, lower, upper }: Judged, by: number): Judged => ({
  value: value + by,
  lower: lower + by,
  upper: upper + by,
});

/** Middle of the zone in which a signed characteristic is judged. */
export const middleOf = (zone: CharacteristicResult['zone']): number =>
  zone === undefined ? 0 : closed(zone).middle;

/** The judged value of a characteristic, in its unit, from a solution with an effect of this size. */
export function reachAlong(
  question: Question,
  adjustment: Adjustment,
  response: Float64Array,
  middle: number,
): ((size: number) => number) | null {
  if (question.kind === 'none') return null;
  if (question.kind === 'linear') {
    const [value, by] = [adjustment.value(question.functional), dot(question.functional, response)];
    return (size) => Math.abs(value + size * by - middle);
  }
  if (question.kind === 'greatest-of') {
    const parts = question.parts.map((part) => reachAlong(part, adjustment, response, middle)!);
    return (size) => Math.max(...parts.map((reachAt) => reachAt(size)));
  }
  const { family, measure, factor } = question;
  const [d, by] = [applyFamily(family, adjustment.x), applyFamily(family, response)];
  const at = (size: number, i: number) => d[i]! + size * by[i]! - middle / factor;
  if (question.kind !== 'signed-extreme')
    return (size) => measure.explain(d.map((_, i) => at(size, i))).value * factor;
  return (size) => {
    let most = 0;
    for (let i = 0; i < d.length; i++) most = Math.max(most, Math.abs(at(size, i)));
    return most * factor;
  };
}

/**
 * What the job does not state and a hall may have: air of uneven temperature, a cone of the swept planes, a target's
 * scale and roll. None of it is in the interval; here is how much it would be, and from which size on each verdict would
 * no longer hold.
 */
import { closed } from '../solution/characteristics/answer.js';
import { applyFamily } from '../solution/characteristics/linear-family.js';
import type { Question } from '../solution/characteristics/question.js';
import type { Axis, Job } from '../survey/job/job.js';
import { dot, type Adjustment } from '../solution/solve/adjustment.js';
import { bendPerGradient } from '../solution/solve/refraction.js';
import { sightLengths } from '../solution/solve/sight-lengths.js';
import type { OffsetReading } from '../survey/readings/readings.js';
import { decide, type Judged } from '../solution/verdict/decision-rule.js';
import { questionFinder } from './question-of.js';
import type { CharacteristicResult, Determined, UnstatedEffect, UnstatedSource } from './results-schema.js';

interface Source {
  readonly source: UnstatedSource;
  readonly unit: UnstatedEffect['unit'];
  /** What is ordinary: the line of the report is about so much. */
  readonly usual: number;
  /** No hall has more. */
  readonly most: number;
  /** What one of the unit adds to a reading as read, µm; 0 where the job states it, or it does not touch. */
  readonly adds: (r: OffsetReading, signs: Signs, distanceM: number) => number;
}

interface Signs {
  readonly own: 1 | -1;
  /** Of both planes together. */
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

interface Effect extends Source {
  /** Change of every unknown for one of the unit. */
  readonly response: Float64Array;
  readonly line: UnstatedEffect;
}

function effectsOf(job: Job, adjustment: Adjustment): Effect[] {
  const { observations } = adjustment.network;
  const setups = new Map(job.setups.map((s) => [s.id, s]));
  const lengthOf = sightLengths(job);
  return sourcesOf(job, adjustment).flatMap((source): Effect[] => {
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
    return [{ ...source, response: adjustment.respond(change), line }];
  });
}

/** Sizes looked at between zero and the most that a hall has. */
const STEPS = 48;

/**
 * The effects that the job does not state, and each characteristic with the size from which its verdict would change.
 *
 * @param questions Those that the characteristics answer, by what they are of.
 */
export function unstatedSection(
  job: Job,
  adjustment: Adjustment,
  questions: readonly Question[],
  characteristics: readonly CharacteristicResult[],
): { unstated: UnstatedEffect[]; characteristics: CharacteristicResult[] } {
  const effects = effectsOf(job, adjustment);
  const questionOf = questionFinder(questions);
  return {
    unstated: effects.map(({ line }) => line),
    characteristics: characteristics.map((c) => {
      const question = questionOf(c);
      if (question === null || c.judged === undefined || c.value === null) return c;
      if (c.verdict !== 'conforms' && c.verdict !== 'does-not-conform') return c;
      const holdsUpTo = effects.flatMap((effect) => {
        const upTo = heldUpTo(c, question, effect, adjustment, job.decision);
        return upTo === null ? [] : [{ source: effect.source, unit: effect.unit, upTo }];
      });
      return holdsUpTo.length === 0 ? c : { ...c, holdsUpTo };
    }),
  };
}

/** null: whatever a hall has. */
function heldUpTo(
  { judged, zone, verdict }: Determined,
  question: Question,
  { response, most }: Effect,
  adjustment: Adjustment,
  { rule }: Job['decision'],
): number | null {
  const reachAt = reachAlong(question, adjustment, response, middleOf(zone));
  if (reachAt === null || judged === undefined) return null;
  const start = reachAt(0);
  const holds = (size: number): boolean =>
    [size, -size].every((s) => decide(shifted(judged, reachAt(s) - start), judged.limit, rule) === verdict);
  let held = 0;
  for (let k = 1; k <= STEPS; k++) {
    const size = most * (k / STEPS) ** 3;
    if (holds(size)) {
      held = size;
      continue;
    }
    let [low, high] = [held, size];
    for (let n = 0; n < 30; n++) {
      const middle = (low + high) / 2;
      if (holds(middle)) low = middle;
      else high = middle;
    }
    return low;
  }
  return null;
}

/** A magnitude with its ends, farther out by so much. */
export const shifted = ({ value, lower, upper }: Judged, by: number): Judged => ({
  value: value + by,
  lower: lower + by,
  upper: upper + by,
});

/** Middle of the zone that a signed characteristic is judged in. */
export const middleOf = (zone: CharacteristicResult['zone']): number =>
  zone === undefined ? 0 : closed({ from: zone.from ?? -Infinity, to: zone.to ?? Infinity }).middle;

/** What is judged of a characteristic, in its own unit, when an effect has a size: the survey solved with it. */
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
  const at = (size: number) => d.map((v, i) => v + size * by[i]! - middle / factor);
  return question.kind === 'signed-extreme'
    ? (size) => at(size).reduce((most, v) => Math.max(most, Math.abs(v)), 0) * factor
    : (size) => measure.explain(at(size)).value * factor;
}

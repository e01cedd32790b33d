/**
 * The observation equations of one phase. Every kind of survey is this one model; surveys differ only in the rows that are
 * there.
 *
 * Units: unknowns µm or µm/m, distances m, so that every product is in µm. Rows have readings as read, with
 * the sign of `plus` in the coefficients: a residual is then observed − computed, as read.
 */
import {
  axes,
  positionMm,
  shapeAt,
  type Axis,
  type Instrument,
  type Job,
  type Rail,
  type Setup,
  type Target,
} from '../../survey/job/job.js';
import { hoursOf } from '../../survey/readings/clock.js';
import { curvatureOrigin, levelSurfaceSlope, spanCorrectionUm, type PlaceM } from './corrections.js';
import type {
  OffsetReading,
  PointRef,
  Reading,
  SlopeReading,
  SpanReading,
} from '../../survey/readings/readings.js';
import { benchmarkHeight } from './effects/benchmark.js';
import type { EffectInPhase, OffsetRow, Part, PriorObject } from './effects/effect.js';
import { effects, type EffectName } from './effects/effects.js';
import type { PriorKind } from './priors.js';
import { UnknownRegister, type Unknown } from './unknowns.js';

/** A pseudo-reading that states what was known before: a levelled plane, a square instrument. */
export interface Prior extends PriorObject {
  readonly kind: 'prior';
  readonly prior: PriorKind;
}

export type Observation = Reading | Prior;

/** A prior, of nothing but what it names. */
type PriorOf = Pick<Prior, 'prior' | 'of'> & Partial<Prior>;
const NOTHING_OF = { setup: null, instrument: '' } as const;
const ownOf = ({ id, instrument }: Setup) => ({ setup: id, instrument });

/** Sparse rows: row i has entries start[i] … start[i+1]−1 of `column` and `coefficient`. */
export interface Network {
  readonly unknowns: readonly Unknown[];
  /** One key per unknown; it does not depend on the order of the rows. */
  readonly keys: readonly string[];
  readonly find: (key: string) => number | undefined;
  readonly observations: readonly Observation[];
  readonly start: Int32Array;
  readonly column: Int32Array;
  readonly coefficient: Float64Array;
  /** Readings as read, µm or µm/m. */
  readonly observed: Float64Array;
  /** Standard uncertainty of each, same unit. */
  readonly sigma: Float64Array;
  /** The part of sigma² that grows with distance, for the budget by source. */
  readonly sigmaDistance: Float64Array;
}

/** Keys of unknowns. */
export const keyOf = {
  station: (kind: 'height' | 'offset' | 'place', rail: string, station: number) =>
    `${kind}\u0000${rail}\u0000${station}`,
  monument: (kind: 'height' | 'place', monument: string) => `${kind}-monument\u0000${monument}`,
  setup: (kind: 'plane-height' | 'pitch' | 'roll' | 'yaw' | 'square-place', setup: string) =>
    `${kind}\u0000${setup}`,
  runningOffset: (setup: string, rail: string) => `running-offset\u0000${setup}\u0000${rail}`,
  drift: (axis: Axis, setup: string) => `drift-${axis}\u0000${setup}`,
  squareness: (instrument: string) => `squareness\u0000${instrument}`,
  target: (kind: 'rod-height' | 'bracket-across' | 'bracket-along', target: string) =>
    `${kind}\u0000${target}`,
  sight: (sight: string) => `sight\u0000${sight}`,
};

/** The unknown kind that a point has in each reading axis. */
export const pointKind = { vertical: 'height', horizontal: 'offset', along: 'place' } as const;

/**
 * @param job Resolved job: nominal places and instruments.
 * @param readings All used readings of one phase, in any order.
 * @returns The network, priors after the readings.
 * @throws {Error} a reading names something that the job does not have: a programming mistake, because the reader refuses it.
 */
export function buildNetwork(job: Job, readings: readonly Reading[]): Network {
  const build = new NetworkBuilder(job, firstLooks(job, readings), readings);
  for (const reading of readings) {
    if (reading.kind === 'offset') build.offset(reading);
    else if (reading.kind === 'slope') build.slope(reading);
    else build.span(reading);
  }
  build.priors();
  return build.finish();
}

/** Time of the first reading from each set-up that may drift, hours. */
function firstLooks(job: Job, readings: readonly Reading[]): Map<string, number> {
  const drifting = new Set(job.setups.filter((s) => s.drift).map((s) => s.id));
  const began = new Map<string, number>();
  for (const r of readings) {
    if (r.kind !== 'offset' || !drifting.has(r.setup)) continue;
    const hours = hoursOf(r.time!)!; // the reader refuses rows of such a set-up without a time
    began.set(r.setup, Math.min(began.get(r.setup) ?? Infinity, hours));
  }
  return began;
}

class NetworkBuilder {
  private readonly register = new UnknownRegister();
  private readonly observations: Observation[] = [];
  private readonly start: number[] = [0];
  private readonly column: number[] = [];
  private readonly coefficient: number[] = [];
  private readonly observed: number[] = [];
  private readonly sigma: number[] = [];
  private readonly sigmaDistance: number[] = [];
  /** null: the curvature of the earth is not used. */
  private readonly origin: PlaceM | null;
  private readonly setups: ReadonlyMap<string, Setup>;
  private readonly targets: ReadonlyMap<string, Target>;
  private readonly effects: readonly (readonly [EffectName, EffectInPhase])[];
  /** Of those effects that add to the noise of each reading by itself. */
  private readonly ownNoises: readonly NonNullable<EffectInPhase['ownUm']>[];
  /** Priors of effects, in the order in which readings first need them. */
  private readonly effectPriors: (PriorOf & { readonly unknown: number; readonly u: number })[] = [];
  private readonly instruments: ReadonlyMap<string, Instrument>;

  constructor(
    private readonly job: Job,
    /** Time of the first reading from each set-up that may drift, hours. */
    private readonly began: ReadonlyMap<string, number>,
    readings: readonly Reading[],
  ) {
    this.targets = new Map((job.targets ?? []).map((t) => [t.id, t]));
    this.effects = effects.map(({ name, inPhase }) => [name, inPhase(job, readings)]);
    this.ownNoises = this.effects.flatMap(([, { ownUm }]) => ownUm ?? []);
    this.origin = job.corrections.earthCurvature ? curvatureOrigin(job) : null;
    this.setups = new Map(job.setups.map((s) => [s.id, s]));
    this.instruments = new Map(job.instruments.map((i) => [i.id, i]));
  }

  offset(r: OffsetReading): void {
    const setup = required(this.setups, r.setup);
    const { alongM, acrossM } = this.placeOf(r.point);
    const dx = alongM - setup.alongMm / 1000;
    const dy = acrossM - setup.acrossMm / 1000;
    const s = setup.sign[r.axis];
    if (benchmarkHeight(this.job, r) === null) this.add(this.point(r.axis, r.point), s);
    if (r.axis === 'vertical') {
      this.add(this.target('rod-height', r.target), s);
      this.add(this.ofSetup('plane-height', r.setup), -s);
      this.add(this.ofSetup('pitch', r.setup), -s * dx);
      this.add(this.ofSetup('roll', r.setup), -s * dy);
    } else if (r.axis === 'horizontal') {
      const rail = r.point.kind === 'station' ? r.point.rail : `monument ${r.point.monument}`;
      this.add(this.target('bracket-across', r.target), s);
      const { setup: id } = r;
      this.add(
        this.register.index(keyOf.runningOffset(id, rail), { kind: 'running-offset', setup: id, rail }),
        -s,
      );
      this.add(this.ofSetup('yaw', r.setup), -s * dx);
    } else {
      this.add(this.target('bracket-along', r.target), s);
      this.add(this.ofSetup('square-place', r.setup), -s);
      this.add(this.ofSetup('yaw', r.setup), s * dy);
      this.add(this.squareness(setup.instrument), s * dy);
    }
    const instrument = required(this.instruments, setup.instrument);
    const row: OffsetRow = {
      ...{ reading: r, setup, instrument, sign: s, distanceM: Math.hypot(dx, dy) },
      place: { alongM, acrossM },
      rail: r.point.kind === 'station' ? this.railOf(r.point.rail) : null,
      target: this.targets.get(r.target) ?? null,
    };
    const corrected = this.addEffects(({ offset }) => offset?.(row));
    const began = this.began.get(r.setup);
    if (began !== undefined) {
      const { axis, setup: id } = r;
      const drift = this.register.index(keyOf.drift(axis, id), { kind: 'drift', setup: id, axis });
      // The plane has risen by rate·hours, so the reading of the target is lower by this amount.
      this.add(drift, -s * (hoursOf(r.time!)! - began));
    }
    this.close(
      r,
      r.um - corrected - s * this.wanted(r.axis, r.point),
      instrument,
      row.distanceM,
      Math.hypot(...this.ownNoises.map((ownUm) => ownUm(row))),
    );
  }

  slope(r: SlopeReading): void {
    const from: PointRef = { kind: 'station', ...r.from };
    const to: PointRef = { kind: 'station', ...r.to };
    const a = this.placeOf(from);
    const b = this.placeOf(to);
    const distance = Math.hypot(b.alongM - a.alongM, b.acrossM - a.acrossM);
    this.add(this.point(r.axis, to), 1 / distance);
    this.add(this.point(r.axis, from), -1 / distance);
    if (r.sight !== null) {
      const { sight } = r;
      this.add(this.register.index(keyOf.sight(sight), { kind: 'sight', sight }), 1);
    }
    const wanted = (this.wanted(r.axis, to) - this.wanted(r.axis, from)) / distance;
    this.close(
      r,
      r.umPerM + this.levelSlope(r, a, b, distance) - wanted,
      required(this.instruments, r.instrument),
      0,
    );
  }

  /** Wanted place of a station, µm: its unknown is the departure from there. */
  private wanted(axis: Axis, point: PointRef): number {
    if (point.kind !== 'station') return 0;
    const rail = this.railOf(point.rail);
    const shape = rail.nominal?.[axis === 'vertical' ? 'vertical' : 'horizontal'] ?? null;
    return shape === null ? 0 : shapeAt(shape, positionMm(rail, rail.stations[point.station - 1]!));
  }

  /** Slope of the level surface along a step that is read against gravity, if the job asks for this reduction. */
  private levelSlope(r: SlopeReading, a: PlaceM, b: PlaceM, distance: number): number {
    if (this.origin === null || r.sight !== null || r.axis !== 'vertical') return 0;
    const middle = { alongM: (a.alongM + b.alongM) / 2, acrossM: (a.acrossM + b.acrossM) / 2 };
    const level = levelSurfaceSlope(middle, this.origin);
    return (level.along * (b.alongM - a.alongM) + level.across * (b.acrossM - a.acrossM)) / distance;
  }

  span(r: SpanReading): void {
    const a: PointRef = { kind: 'station', rail: r.rail, station: r.station };
    const b: PointRef = { kind: 'station', rail: r.other, station: r.otherStation };
    const side = Math.sign(this.placeOf(b).acrossM - this.placeOf(a).acrossM);
    this.add(this.point('horizontal', b), side);
    this.add(this.point('horizontal', a), -side);
    const wanted = side * (this.wanted('horizontal', b) - this.wanted('horizontal', a));
    const departure = r.departureUm + spanCorrectionUm(this.job, r.nominalMm) - wanted;
    this.addEffects(({ span }) => span?.(r));
    this.close(r, departure, required(this.instruments, r.instrument), r.nominalMm / 1000);
  }

  /** There are priors only for what a reading needs: a set-up without readings adds no redundancy. */
  priors(): void {
    for (const setup of this.job.setups) {
      const instrument = required(this.instruments, setup.instrument);
      if (setup.levelled && instrument.levelU !== null) this.levelPriors(setup, instrument.levelU);
      if (setup.drift && instrument.driftU !== null) this.driftPriors(setup, instrument.driftU);
    }
    for (const { unknown, u, ...about } of this.effectPriors) this.prior(about, unknown, 0, u);
    this.rodPriors();
    for (const { id: instrument, squareU } of this.job.instruments) {
      const unknown = this.register.find(keyOf.squareness(instrument));
      if (unknown === undefined || squareU === null) continue;
      this.prior({ prior: 'square', of: 'squareness', instrument }, unknown, 0, squareU);
    }
  }

  /** A levelled plane is square to gravity at the place of the instrument. */
  private levelPriors(setup: Setup, levelU: number): void {
    const at = { alongM: setup.alongMm / 1000, acrossM: setup.acrossMm / 1000 };
    const level = this.origin === null ? { along: 0, across: 0 } : levelSurfaceSlope(at, this.origin);
    for (const [of, slope] of [
      ['pitch', level.along],
      ['roll', level.across],
    ] as const) {
      const unknown = this.register.find(keyOf.setup(of, setup.id));
      if (unknown === undefined) continue;
      for (const [name, { level: inLevel }] of this.effects)
        for (const part of inLevel?.(of, setup, required(this.instruments, setup.instrument)) ?? [])
          this.addPart(name, part);
      this.prior({ prior: 'level', of, ...ownOf(setup) }, unknown, slope, levelU);
    }
  }

  /** Two rods whose difference is known tie the readings of both targets. */
  private rodPriors(): void {
    for (const { targets, differenceUm, uUm } of this.job.rods) {
      const [upper, lower] = targets.map((target) => this.register.find(keyOf.target('rod-height', target)));
      if (upper === undefined || lower === undefined) continue;
      this.add(upper, 1);
      this.add(lower, -1);
      const of = `rods of ${targets.join(' and ')}`;
      this.push({ kind: 'prior', prior: 'rods', of, ...NOTHING_OF }, differenceUm, uUm, 0);
    }
  }

  private driftPriors(setup: Setup, driftU: number): void {
    for (const axis of axes) {
      const unknown = this.register.find(keyOf.drift(axis, setup.id));
      if (unknown === undefined) continue;
      this.prior({ prior: 'drift', of: `drift-${axis}`, ...ownOf(setup) }, unknown, 0, driftU);
    }
  }

  finish(): Network {
    return {
      unknowns: this.register.list,
      keys: this.register.keys,
      find: (key) => this.register.find(key),
      observations: this.observations,
      start: Int32Array.from(this.start),
      column: Int32Array.from(this.column),
      coefficient: Float64Array.from(this.coefficient),
      observed: Float64Array.from(this.observed),
      sigma: Float64Array.from(this.sigma),
      sigmaDistance: Float64Array.from(this.sigmaDistance),
    };
  }

  private prior(about: PriorOf, unknown: number, value: number, u: number): void {
    this.add(unknown, 1);
    this.push({ kind: 'prior', ...NOTHING_OF, ...about }, value, u, 0);
  }

  /** @param ownUm Standard uncertainty by effects that the reading shares with no other one, µm. */
  private close(r: Reading, observed: number, instrument: Instrument, distanceM: number, ownUm = 0): void {
    const grown = instrument.perMetreU * distanceM;
    this.push(r, observed, Math.hypot(instrument.readingU, grown, ownUm), grown);
  }

  /** Adds the parts of all effects to the open row. @returns The change of the reading by their stated values, µm. */
  private addEffects(partIn: (effect: EffectInPhase) => Part | null | undefined): number {
    let corrected = 0;
    for (const [name, inPhase] of this.effects) {
      const part = partIn(inPhase);
      if (!part) continue;
      this.addPart(name, part);
      corrected += part.correctedUm ?? 0;
    }
    return corrected;
  }

  /** Adds an entry to the open row, and a prior if the unknown is new. */
  private addPart(name: EffectName, { key, perUnit, place, of, setup, instrument, u }: Part): void {
    const isNew = this.register.find(key) === undefined;
    const made: Unknown =
      place === undefined
        ? { kind: 'effect', effect: name }
        : { kind: 'placed-effect', effect: name, ...place };
    const unknown = this.register.index(key, made);
    if (isNew)
      this.effectPriors.push({
        ...{ prior: name, of, unknown, u },
        ...{ setup: setup ?? null, instrument: instrument ?? '' },
      });
    this.add(unknown, perUnit);
  }

  private railOf(id: string): Rail {
    this.placeOf({ kind: 'station', rail: id, station: 1 });
    return required(this.railById, id);
  }

  private push(o: Observation, observed: number, sigma: number, sigmaDistance: number): void {
    this.observations.push(o);
    this.start.push(this.column.length);
    this.observed.push(observed);
    this.sigma.push(sigma);
    this.sigmaDistance.push(sigmaDistance);
  }

  /** Adds an entry to the open row. A zero coefficient is kept: the row still names the unknown. */
  private add(column: number, coefficient: number): void {
    this.column.push(column);
    this.coefficient.push(coefficient);
  }

  private point(axis: Axis, point: PointRef): number {
    const kind = pointKind[axis];
    const place = this.placeOf(point);
    if (point.kind === 'station') {
      const { rail, station } = point;
      return this.register.index(keyOf.station(kind, rail, station), { kind, rail, station, ...place });
    }
    const { monument } = point;
    if (kind === 'offset')
      throw new Error(`monument ${monument} has no running plane: the reader refuses this`);
    return this.register.index(keyOf.monument(kind, monument), { kind, monument, ...place });
  }

  private target(kind: 'rod-height' | 'bracket-across' | 'bracket-along', target: string): number {
    return this.register.index(keyOf.target(kind, target), { kind, target });
  }

  private ofSetup(kind: 'plane-height' | 'pitch' | 'roll' | 'yaw' | 'square-place', setup: string): number {
    return this.register.index(keyOf.setup(kind, setup), { kind, setup });
  }

  private squareness(instrument: string): number {
    return this.register.index(keyOf.squareness(instrument), { kind: 'squareness', instrument });
  }

  private readonly railById = new Map<string, Job['rails'][number]>();
  private readonly monumentById = new Map<string, Job['monuments'][number]>();

  private placeOf(point: PointRef): { alongM: number; acrossM: number } {
    if (this.railById.size === 0) {
      for (const rail of this.job.rails) this.railById.set(rail.id, rail);
      for (const monument of this.job.monuments) this.monumentById.set(monument.id, monument);
    }
    const place =
      point.kind === 'station'
        ? required(this.railById, point.rail).stations[point.station - 1]
        : required(this.monumentById, point.monument);
    if (place === undefined) throw new Error(`no station ${JSON.stringify(point)} in the job`);
    return { alongM: place.alongMm / 1000, acrossM: place.acrossMm / 1000 };
  }
}

function required<T>(map: ReadonlyMap<string, T>, id: string): T {
  const found = map.get(id);
  if (found === undefined) throw new Error(`the job holds no '${id}'`);
  return found;
}

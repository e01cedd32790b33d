/** Instruments and set-ups: uncertainties in µm and µm/m, signs from `plus`. */
import type { Findings } from '../../base/diagnostics/diagnostic.js';
import { declare, ifGiven, lookUp, slopeU, type Declared } from './declared.js';
import type { Draft, InstrumentInput, Item, SetupInput, TargetInput } from './draft.js';
import { axes, type Air, type Estimate, type Instrument, type Rail, type Setup, type Target } from './job.js';
import { unitWords } from './schema-findings.js';
import {
  familyOf,
  toBase,
  toKelvinPerM,
  toMm,
  toUm,
  toUmPerHour,
  type GradientUnit,
  type LengthUnit,
} from '../../base/units/units.js';

/** µm or µm/m: a tenth of an atom. A smaller one is a slip, and readings whose weights differ by 1e14 leave no digits for the rest. */
const LEAST_U = 1e-5;

/**
 * Every instrument of the job file.
 *
 * Reports: ID_DUPLICATE; VALUE_WRONG for a `u` that no reading has; KEY_MISPLACED for `perMetre` of a slope instrument; UNIT_UNKNOWN for a range in
 * another kind of unit than the readings; CALIBRATION_OVERDUE (a warning) if it was due before the day of the survey.
 */
export function resolveInstruments(
  draft: Draft,
  surveyedOn: string | null,
  findings: Findings,
): Declared<Instrument> {
  return declare(
    'instrument',
    draft.instruments,
    (input, item) => resolveInstrument(input, item, surveyedOn, findings),
    draft.isComplete('instruments'),
    findings,
  );
}

/**
 * Standard uncertainty that a display with this step adds: the true indication is anywhere within half a step.
 * @see JCGM 100:2008, F.2.2.1.
 */
const displayU = (step: number): number => step / Math.sqrt(12);

function resolveInstrument(
  input: InstrumentInput,
  item: Item<InstrumentInput>,
  surveyedOn: string | null,
  findings: Findings,
): Instrument | null {
  const { reading, level, range } = input;
  const measures = familyOf(reading.unit);
  let sound = true;
  if (reading.perMetre !== undefined && measures === 'slope') {
    sound = false;
    findings.misplaced('perMetre', 'slope-instrument', item.at('reading', 'perMetre'));
  }
  if (range !== undefined && familyOf(range.unit) !== measures) {
    sound = false;
    const data = { found: JSON.stringify(range.unit), wanted: unitWords(measures) };
    findings.error('UNIT_UNKNOWN', data, item.at('range', 'unit'));
  }
  if (toBase(reading.u, reading.unit) < LEAST_U) {
    sound = false;
    const wanted = `an uncertainty that a reading can have, in ${reading.unit}`;
    findings.wrong(String(reading.u), wanted, item.at('reading', 'u'));
  }
  const due = input.calibrationDue ?? null;
  if (due !== null && surveyedOn !== null && due < surveyedOn) {
    const data = { instrument: input.id, due, on: surveyedOn };
    findings.warn('CALIBRATION_OVERDUE', data, item.at('calibrationDue'));
  }
  if (!sound) return null;
  const ofReading = (value: number) => toBase(value, reading.unit);
  const resolution = ifGiven(reading.resolution, ofReading);
  return {
    id: input.id,
    description: input.description ?? null,
    serial: input.serial ?? null,
    certificate: input.certificate ?? null,
    calibrationDue: due,
    calibrated: { by: input.calibrated?.by ?? null, on: input.calibrated?.on ?? null },
    readingU: Math.hypot(ofReading(reading.u), displayU(resolution ?? 0)),
    resolution,
    perMetreU: ofReading(reading.perMetre ?? 0),
    measures,
    levelU: ifGiven(level, slopeU),
    levelZeroU: ifGiven(level?.zero, slopeU),
    coneU: ifGiven(input.cone, slopeU),
    squareU: ifGiven(input.square, slopeU),
    driftU: ifGiven(input.drift, ({ u, unit }) => toUmPerHour(u, unit)),
    rangeLimit: ifGiven(range, ({ limit, unit }) => toBase(limit, unit)),
  };
}

/**
 * Every set-up of the job file.
 *
 * Reports: ID_DUPLICATE; ID_UNKNOWN for its instrument; VALUE_WRONG if that one measures slopes;
 * KEY_MISSING if the set-up is levelled and its instrument has no `level`.
 */
export function resolveSetups(
  draft: Draft,
  instruments: Declared<Instrument>,
  rails: Declared<Rail>,
  unit: LengthUnit,
  findings: Findings,
): Declared<Setup> {
  const unlevel = new Set<string>();
  const resolve = (input: SetupInput, item: Item<SetupInput>): Setup => {
    const instrument = lookUp('instrument', instruments, input.instrument, item.at('instrument'), findings);
    if (instrument?.measures === 'slope') {
      findings.wrong(
        `${instrument.id}, which reads slopes`,
        'an instrument that reads lengths',
        item.at('instrument'),
      );
    } else if (input.levelled === true && instrument !== null && instrument.levelU === null) {
      if (!unlevel.has(instrument.id)) reportNoLevel(draft, instrument.id, input.id, findings);
      unlevel.add(instrument.id);
    }
    if (
      input.drift === 'linear' &&
      instrument !== null &&
      instrument.measures === 'length' &&
      instrument.driftU === null
    ) {
      const item = draft.instruments.find((i) => i.id === instrument.id)!;
      const wanted = `the standard uncertainty u of its drift and a unit such as um/h, because set-up ${input.id} asks for drift`;
      findings.missing('drift', wanted, item.at('drift'));
    }
    return { ...resolveSetup(input, unit), air: resolveAir(input, item, rails, findings) };
  };
  return declare('set-up', draft.setups, resolve, draft.isComplete('setups'), findings);
}

function reportNoLevel(draft: Draft, instrument: string, setup: string, findings: Findings): void {
  const item = draft.instruments.find((i) => i.id === instrument)!;
  const wanted = `its standard uncertainty u and unit, because set-up ${setup} is levelled with it`;
  findings.missing('level', wanted, item.at('level'));
}

/**
 * Reports: ID_UNKNOWN for a rail; ID_DUPLICATE for two entries of one rail; KEY_MISSING for an entry without a gradient;
 * GRADIENT_LARGE (a warning).
 */
function resolveAir(
  { air }: SetupInput,
  item: Item<SetupInput>,
  rails: Declared<Rail>,
  findings: Findings,
): Air[] {
  if (air === undefined) return [];
  const entries: { rail?: string | undefined; vertical?: GradientInput; sideways?: GradientInput }[] =
    Array.isArray(air) ? air : [air];
  const seen = new Set<string>();
  return entries.map((entry, k) => {
    const at = (...keys: (string | number)[]) => item.at('air', ...(Array.isArray(air) ? [k] : []), ...keys);
    if (entry.rail !== undefined) lookUp('rail', rails, entry.rail, at('rail'), findings);
    const key = entry.rail ?? '';
    if (seen.has(key)) findings.error('ID_DUPLICATE', { kind: 'entry of air for the rail', id: key }, at());
    seen.add(key);
    if (entry.vertical === undefined && entry.sideways === undefined)
      findings.missing('vertical', 'a gradient, vertical or sideways', at());
    const resolve = (axis: 'vertical' | 'sideways'): Estimate | null => {
      const input = entry[axis];
      if (input === undefined) return null;
      const value = toKelvinPerM(input.gradient, input.unit);
      const u = toKelvinPerM(input.u, input.unit);
      if (Math.abs(value) > LARGE_GRADIENT_K_PER_M)
        findings.warn('GRADIENT_LARGE', { gradient: `${Number(value.toPrecision(3))} K/m` }, at(axis));
      return { value, u };
    };
    return { rail: entry.rail ?? null, vertical: resolve('vertical'), sideways: resolve('sideways') };
  });
}

type GradientInput = { gradient: number; u: number; unit: GradientUnit } | undefined;

/** K/m. Air in a hall has less, except close to a hot floor or a heater. */
const LARGE_GRADIENT_K_PER_M = 5;

function resolveSetup(input: SetupInput, unit: LengthUnit): Setup {
  const plus = input.plus ?? {};
  return {
    id: input.id,
    instrument: input.instrument,
    alongMm: toMm(input.along, unit),
    acrossMm: toMm(input.across, unit),
    levelled: input.levelled ?? false,
    drift: input.drift === 'linear',
    sign: {
      vertical: plus.vertical === 'down' ? -1 : 1,
      horizontal: plus.horizontal === 'right' ? -1 : 1,
      along: plus.along === 'back' ? -1 : 1,
    },
    signAssumed: axes.filter((axis) => plus[axis] === undefined),
    headingDeg: input.heading ?? 0,
    air: [],
    note: input.note ?? null,
  };
}

const SHARE = { '%': 1e-2, ppm: 1e-6 } as const;

/** A target with its scale as a share, roll in µm/m, seating in µm, rod in mm. */
export function resolveTarget(input: TargetInput): Target {
  const { scale, roll, seat, rod } = input;
  return {
    id: input.id,
    serial: input.serial ?? null,
    scaleU: ifGiven(scale, ({ u, unit }) => u * SHARE[unit]),
    rollU: ifGiven(roll, slopeU),
    seatU: ifGiven(seat, ({ u, unit }) => toUm(u, unit)),
    rodMm: ifGiven(rod, ({ height, unit }) => toMm(height, unit)),
  };
}

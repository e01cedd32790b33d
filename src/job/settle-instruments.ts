/** Instruments and set-ups: uncertainties in µm and µm/m, signs from `plus`. */
import type { Findings } from '../diagnostics/diagnostic.js';
import { declare, lookUp } from './declared.js';
import type { Declared } from './declared.js';
import type { Draft, InstrumentInput, Item, SetupInput } from './draft.js';
import type { Instrument, Setup } from './job.js';
import { unitWords } from './schema-findings.js';
import { familyOf, isLengthUnit, toMm, toUm, toUmPerHour, toUmPerM } from './units.js';
import type { LengthUnit, SlopeUnit } from './units.js';

/** µm of a length, µm/m of a slope. */
const toBase = (value: number, unit: LengthUnit | SlopeUnit): number =>
  isLengthUnit(unit) ? toUm(value, unit) : toUmPerM(value, unit);

/**
 * Every instrument of the job file.
 *
 * Reports: ID_DUPLICATE; KEY_MISPLACED for `perMetre` of a slope instrument; UNIT_UNKNOWN for a range that is
 * not in units of the readings; CALIBRATION_OVERDUE (a warning) on the day of the survey.
 */
export function settleInstruments(
  draft: Draft,
  surveyedOn: string | null,
  findings: Findings,
): Declared<Instrument> {
  return declare(
    'instrument',
    draft.instruments,
    (input, item) => settleInstrument(input, item, surveyedOn, findings),
    draft.isComplete('instruments'),
    findings,
  );
}

function settleInstrument(
  input: InstrumentInput,
  item: Item<InstrumentInput>,
  surveyedOn: string | null,
  findings: Findings,
): Instrument | null {
  const { reading, level, square, range } = input;
  const measures = familyOf(reading.unit);
  let sound = true;
  if (reading.perMetre !== undefined && measures === 'slope') {
    sound = false;
    findings.error(
      'KEY_MISPLACED',
      { key: 'perMetre', because: 'slope-instrument' },
      item.at('reading', 'perMetre'),
    );
  }
  if (range !== undefined && familyOf(range.unit) !== measures) {
    sound = false;
    const data = { found: JSON.stringify(range.unit), wanted: unitWords(measures) };
    findings.error('UNIT_UNKNOWN', data, item.at('range', 'unit'));
  }
  const due = input.calibrationDue ?? null;
  if (due !== null && surveyedOn !== null && due < surveyedOn) {
    const data = { instrument: input.id, due, on: surveyedOn };
    findings.warn('CALIBRATION_OVERDUE', data, item.at('calibrationDue'));
  }
  if (!sound) return null;
  return {
    id: input.id,
    description: input.description ?? null,
    serial: input.serial ?? null,
    certificate: input.certificate ?? null,
    calibrationDue: due,
    readingU: toBase(reading.u, reading.unit),
    perMetreU: toBase(reading.perMetre ?? 0, reading.unit),
    measures,
    levelU: level === undefined ? null : toUmPerM(level.u, level.unit),
    squareU: square === undefined ? null : toUmPerM(square.u, square.unit),
    driftU: input.drift === undefined ? null : toUmPerHour(input.drift.u, input.drift.unit),
    rangeLimit: range === undefined ? null : toBase(range.limit, range.unit),
  };
}

/**
 * Every set-up of the job file.
 *
 * Reports: ID_DUPLICATE; ID_UNKNOWN for its instrument; VALUE_WRONG where that one measures slopes;
 * KEY_MISSING where the set-up is levelled and its instrument does not say how well.
 */
export function settleSetups(
  draft: Draft,
  instruments: Declared<Instrument>,
  unit: LengthUnit,
  findings: Findings,
): Declared<Setup> {
  const unlevel = new Set<string>();
  const settle = (input: SetupInput, item: Item<SetupInput>): Setup => {
    const instrument = lookUp('instrument', instruments, input.instrument, item.at('instrument'), findings);
    if (instrument?.measures === 'slope') {
      const data = {
        found: `${instrument.id}, which reads slopes`,
        wanted: 'an instrument that reads lengths',
      };
      findings.error('VALUE_WRONG', data, item.at('instrument'));
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
      findings.error('KEY_MISSING', { key: 'drift', wanted }, item.at('drift'));
    }
    return settleSetup(input, unit);
  };
  return declare('set-up', draft.setups, settle, draft.isComplete('setups'), findings);
}

function reportNoLevel(draft: Draft, instrument: string, setup: string, findings: Findings): void {
  const item = draft.instruments.find((i) => i.id === instrument)!;
  const wanted = `its standard uncertainty u and unit, because set-up ${setup} is levelled with it`;
  findings.error('KEY_MISSING', { key: 'level', wanted }, item.at('level'));
}

function settleSetup(input: SetupInput, unit: LengthUnit): Setup {
  const { vertical, horizontal, along } = input.plus ?? {};
  return {
    id: input.id,
    instrument: input.instrument,
    alongMm: toMm(input.along, unit),
    acrossMm: toMm(input.across, unit),
    levelled: input.levelled ?? false,
    drift: input.drift === 'linear',
    sign: {
      vertical: vertical === 'down' ? -1 : 1,
      horizontal: horizontal === 'right' ? -1 : 1,
      along: along === 'back' ? -1 : 1,
    },
    note: input.note ?? null,
  };
}

/** From a draft of the job file to a Job: every unit and every reference is resolved and checked. */
import { Findings, sortDiagnostics, type Outcome, type Place } from '../../base/diagnostics/diagnostic.js';
import { declare, ifGiven, soundOnes, type Declared } from './declared.js';
import { isReadingTime } from '../../base/input/time.js';
import { draftJob, itemsAt, type Draft, type Item } from './draft.js';
import type { GivenTolerances } from './given-tolerances.js';
import type {
  Adjuster,
  Corrections,
  Instrument,
  Job,
  PhaseFacts,
  Monument,
  Rail,
  Target,
  ReportStyle,
  Setup,
  Tolerance,
  ToleranceSet,
} from './job.js';
import { toleranceSchema, type JobInput, type PhaseName, type ToleranceInput } from './job-schema.js';
import { sourceOfValue, type JsonSource } from './json-source.js';
import { ofGrade } from './layered-set.js';
import { valueAt, type KeyPath } from './key-path.js';
import { resolveInstruments, resolveSetups, resolveTarget } from './resolve-instruments.js';
import { aimOf, resolveAdjusters, resolveAim } from './resolve-adjusters.js';
import { datumOf, resolveMonuments, resolveRails } from './resolve-rails.js';
import { namedPhases, resolveReadingsFiles, type FileEntry } from './resolve-readings-files.js';
import { resolveTolerances } from './resolve-tolerances.js';
import {
  isInchFamily,
  isLengthUnit,
  toCelsius,
  toUm,
  type LengthUnit,
  type TemperatureUnit,
} from '../../base/units/units.js';

/** What readings are checked against: a Job, or the sound parts of a faulty job file. */
export interface Frame {
  readonly lengthUnit: LengthUnit;
  readonly readingUnit: LengthUnit;
  readonly rails: Declared<Rail>;
  readonly monuments: Declared<Monument>;
  readonly instruments: Declared<Instrument>;
  readonly setups: Declared<Setup>;
  /** Declared target assemblies; null: the job declares none, and the readings may name any. */
  readonly targets: Declared<Target> | null;
  readonly files: readonly FileEntry[];
  /** Names of the phases, in the order of the work. */
  readonly phases: readonly PhaseName[];
  /** true: `files` has every file of the job. Only then can something be reported as never read. */
  readonly complete: boolean;
  /** Day of the survey, ISO; null: not stated. */
  readonly surveyedOn: string | null;
  readonly setupPlace: (id: string) => Place;
  readonly readingsPlace: Place;
}

export interface Resolved {
  /** null: something is wrong. */
  readonly job: Job | null;
  /** null: the units are not known. */
  readonly frame: Frame | null;
  readonly findings: Findings;
  /** The tolerance set in force, with the values of its grade; null: the job has its own list. */
  readonly set: JsonSource | null;
}

/** The document of the tolerance file that the job names; null: it could not be read, which is reported. */
export type SharedTolerances = JsonSource | null;

/** A job from a value in memory. Its diagnostics have key paths but no lines. */
export function resolveJob(input: JobInput): Outcome<Job> {
  const { job, findings } = resolveDraft(draftJob(sourceOfValue(input, 'job.json')), null);
  const diagnostics = sortDiagnostics(findings.list);
  return job === null ? { ok: false, diagnostics } : { ok: true, value: job, diagnostics };
}

/**
 * Every check that the draft allows. A part that does not fit the schema is not checked further, and references to its
 * id are not reported.
 *
 * @param given Tolerances that are used instead of the job's own and of `shared`.
 * @param basedOn The other files from which `shared` was merged.
 */
export function resolveDraft(
  draft: Draft,
  shared: SharedTolerances,
  given: GivenTolerances | null = null,
  basedOn: readonly string[] = [],
): Resolved {
  const findings = new Findings();
  for (const d of draft.schemaDiagnostics) findings.list.push(d);
  // If the unit is not known, metres are assumed: different stations are then never reported as the same place.
  const { length, reading } = draft.units ?? { length: statedLength(draft) ?? 'm', reading: 'um' };
  const rails = resolveRails(draft, length, findings);
  const monuments = resolveMonuments(draft, length, findings);
  const instruments = resolveInstruments(draft, surveyDay(draft), findings);
  const setups = resolveSetups(draft, instruments, rails, length, findings);
  const targets = declare('target', draft.targets, resolveTarget, draft.isComplete('targets'), findings);
  const adjusters = resolveAdjusters(draft, rails, length, findings);
  resolveAim(draft, rails, findings);
  const files = resolveReadingsFiles(draft, instruments, reading, findings);
  const grade = valueAt(draft.source.value, ['grade']);
  const stated = given?.source ?? shared;
  const set = stated && ofGrade(stated, typeof grade === 'string' ? grade : null, findings);
  if (stated === null && grade !== undefined && draft.toleranceFile === null)
    findings.misplaced('grade', 'no-set', draft.source.at(['grade']));
  const items = toleranceItems(draft, set);
  const tolerances = resolveTolerances(items, rails, length, findings, given !== null);
  const frame: Frame = {
    lengthUnit: length,
    readingUnit: reading,
    rails,
    monuments,
    instruments,
    setups,
    targets: draft.source.has(['targets']) ? targets : null,
    files,
    phases: phaseOrder(namedPhases(draft)),
    complete: files.length === draft.readings.length,
    surveyedOn: surveyDay(draft),
    setupPlace: (id) => draft.setups.find((item) => item.id === id)?.at('id') ?? draft.source.at(['setups']),
    readingsPlace: draft.source.at(['readings']),
  };
  if (draft.input !== null) checkSense(draft, draft.input, findings);
  const datum = datumOf(rails);
  const job =
    findings.hasErrors || draft.input === null || datum === null
      ? null
      : assemble(
          draft.input,
          frame,
          datum,
          adjusters,
          {
            ...toleranceSet(set, basedOn, tolerances),
            ...(given !== null && { whatIf: { inPlaceOf: placeOfTolerances(draft) } }),
          },
          (path) => draft.source.at(path),
        );
  return { job, frame: draft.units === null ? null : frame, findings, set };
}

/** Values that fit the schema and are impossible. Reports: TEMPERATURE_WRONG; warns: DATES_REVERSED. */
function checkSense(draft: Draft, input: JobInput, findings: Findings): void {
  const at = (...path: string[]) => draft.source.at(path);
  const isAbove = (value: number, unit: TemperatureUnit) => toCelsius(value, unit) >= ABSOLUTE_ZERO_C;
  checkTemperature(input.conditions, ['conditions']);
  checkRods(draft, input, findings);
  for (const [name, { conditions, instruments = [] }] of Object.entries(input.phases ?? {})) {
    checkTemperature(conditions, ['phases', name, 'conditions']);
    const known = input.instruments.map((instrument) => instrument.id);
    instruments.forEach((id, i) => {
      if (!known.includes(id))
        findings.error(
          'ID_UNKNOWN',
          { kind: 'instrument', id, known: known.join(', ') },
          draft.source.at(['phases', name, 'instruments', i]),
        );
    });
  }
  function checkTemperature(conditions: JobInput['conditions'], path: readonly string[]): void {
    const t = conditions?.temperature;
    if (t === undefined) return;
    for (const key of ['from', 'to'] as const) {
      const value = t[key];
      if (value !== undefined && !isAbove(value, t.unit))
        reportCold(`${value} ${t.unit}`, at(...path, 'temperature', key));
    }
    if (t.to !== undefined && t.to < t.from) {
      const data = { found: `${t.from} to ${t.to}`, wanted: 'the lowest as "from", the highest as "to"' };
      findings.error('TEMPERATURE_WRONG', data, at(...path, 'temperature'));
    }
  }
  const span = input.corrections?.spanAt20;
  if (span !== undefined && !isAbove(span.temperature, span.unit))
    reportCold(`${span.temperature} ${span.unit}`, at('corrections', 'spanAt20', 'temperature'));
  const [surveyed, prepared] = [input.surveyed?.on, input.prepared?.on];
  if (surveyed !== undefined && prepared !== undefined && prepared < surveyed) {
    const data = {
      one: `The survey (${surveyed})`,
      other: `the day on which its report was prepared (${prepared})`,
    };
    findings.warn('DATES_REVERSED', data, at('prepared', 'on'));
  }

  function reportCold(found: string, place: Place): void {
    findings.error('TEMPERATURE_WRONG', { found, wanted: 'a temperature above absolute zero' }, place);
  }
}

/** Reports: ID_UNKNOWN for a target that is not declared; VALUE_WRONG for a rod that is compared with itself. */
function checkRods(draft: Draft, { rods = [], targets }: JobInput, findings: Findings): void {
  const known = targets?.map(({ id }) => id);
  rods.forEach(({ targets: pair }, i) => {
    pair.forEach((id, k) => {
      if (known !== undefined && !known.includes(id))
        findings.error(
          'ID_UNKNOWN',
          { kind: 'target', id, known: known.join(', ') },
          draft.source.at(['rods', i, 'targets', k]),
        );
    });
    if (pair[0] === pair[1])
      findings.wrong(`${pair[0]} twice`, 'two targets', draft.source.at(['rods', i, 'targets']));
  });
}

const ABSOLUTE_ZERO_C = -273.15;

/** The length unit of a job whose `units` has another mistake. */
function statedLength(draft: Draft): LengthUnit | null {
  const unit = valueAt(draft.source.value, ['units', 'length']);
  return typeof unit === 'string' && isLengthUnit(unit) ? unit : null;
}

function surveyDay(draft: Draft): string | null {
  const on = valueAt(draft.source.value, ['surveyed', 'on']);
  return typeof on === 'string' && on.length === 10 && isReadingTime(on) ? on : null;
}

const toleranceItems = (draft: Draft, shared: SharedTolerances): readonly Item<ToleranceInput>[] =>
  shared === null ? draft.tolerances : itemsAt(shared, ['tolerances'], toleranceSchema);

const placeOfTolerances = (draft: Draft): string | null =>
  draft.toleranceFile ?? (draft.tolerances.length > 0 ? draft.source.file : null);

function toleranceSet(
  shared: SharedTolerances,
  basedOn: readonly string[],
  tolerances: readonly Tolerance[],
): ToleranceSet {
  const text = (key: string): string | null => {
    const value = shared === null ? undefined : valueAt(shared.value, [key]);
    return typeof value === 'string' ? value : null;
  };
  return {
    name: text('name'),
    source: text('source'),
    file: shared?.file ?? null,
    grade: text('grade'),
    basedOn,
    tolerances,
  };
}

function assemble(
  input: JobInput,
  frame: Frame,
  datum: Rail,
  adjusters: readonly Adjuster[],
  toleranceSet: ToleranceSet,
  placeOf: (path: KeyPath) => Place,
): Job {
  return {
    id: input.id,
    language: input.language ?? null,
    ...texts(input, ['title', 'issuer', 'customer', 'site', 'revision', 'procedure']),
    machine: texts(input.machine, ['name', 'serial']),
    surveyed: texts(input.surveyed, ['by', 'on']),
    prepared: texts(input.prepared, ['by', 'on']),
    approved: texts(input.approved, ['by', 'on', 'role']),
    contacts: texts(input.contacts, ['issuer', 'customer']),
    externalProviders: input.externalProviders ?? [],
    conditions: resolveConditions(input.conditions),
    phases: resolvePhases(input.phases),
    lengthUnit: frame.lengthUnit,
    readingUnit: frame.readingUnit,
    style: resolveStyle(input.report ?? {}, frame.lengthUnit),
    rails: soundOnes(frame.rails),
    datum,
    monuments: soundOnes(frame.monuments),
    instruments: soundOnes(frame.instruments),
    setups: soundOnes(frame.setups),
    targets: frame.targets === null ? null : soundOnes(frame.targets),
    // eslint-disable-next-line @typescript-eslint/no-unused-vars
    readingsFiles: frame.files.map(({ at, ...file }) => file),
    toleranceSet,
    corrections: resolveCorrections(input.corrections),
    adjusters,
    rods: (input.rods ?? []).map(({ targets, difference, u, unit }) => ({
      targets,
      differenceUm: toUm(difference, unit),
      uUm: toUm(u, unit),
    })),
    aim: aimOf(input.corrections),
    confirmed: (input.confirmed ?? []).map(({ what, in: file, by, because }, i) => ({
      what,
      file: file ?? null,
      by,
      because,
      at: placeOf(['confirmed', i]),
    })),
    decision: {
      rule: input.decision?.rule ?? 'simple',
      coverage: input.decision?.coverage ?? 0.95,
      guardBand: input.decision?.guardBand ?? 1,
      ...(input.decision?.risk !== undefined && { risk: input.decision.risk }),
    },
  };
}

/** Texts that may be left out; null: left out. */
const texts = <K extends string>(
  input: { readonly [Key in K]?: string | undefined } | undefined,
  keys: readonly K[],
): Record<K, string | null> =>
  Object.fromEntries(keys.map((key) => [key, input?.[key] ?? null])) as Record<K, string | null>;

function resolveCorrections(input: JobInput['corrections']): Corrections {
  return {
    earthCurvature: input?.earthCurvature ?? false,
    spanAt20: ifGiven(input?.spanAt20, ({ temperature, u, unit, machine, instrument }) => ({
      temperatureC: toCelsius(temperature, unit),
      temperatureU: ifGiven(u, (kelvin) => (unit === 'F' ? (kelvin * 5) / 9 : kelvin)),
      machine: machine * 1e-6,
      instrument: instrument * 1e-6,
    })),
  };
}

/** as-found is first and as-left is last, unless the job lists them in another place. */
function phaseOrder(named: readonly PhaseName[]): PhaseName[] {
  return [
    ...(named.includes('as-found') ? [] : ['as-found']),
    ...named,
    ...(named.includes('as-left') ? [] : ['as-left']),
  ];
}

function resolvePhases(phases: JobInput['phases'] = {}): PhaseFacts[] {
  return phaseOrder(Object.keys(phases)).map((name) => {
    const { surveyed, conditions, machineState, instruments } = phases[name] ?? {};
    return {
      name,
      surveyed: texts(surveyed, ['by', 'on']),
      ...resolveConditions(conditions),
      machineState: machineState ?? null,
      instruments: instruments ?? [],
    };
  });
}

function resolveConditions(input: JobInput['conditions']): Job['conditions'] {
  const temperatureC = ifGiven(input?.temperature, ({ from, to = from, unit }) => ({
    from: toCelsius(from, unit),
    to: toCelsius(to, unit),
  }));
  return { temperatureC, note: input?.note ?? null };
}

/** Units that the job does not state follow the family of its length unit. */
export function resolveStyle(report: NonNullable<JobInput['report']>, lengthUnit: LengthUnit): ReportStyle {
  const [first, second] = report.units ?? [];
  const own = usualUnits(first ?? lengthUnit);
  return {
    length: report.length ?? own.length,
    deviation: report.deviation ?? own.deviation,
    slope: report.slope ?? own.slope,
    paper: report.paper ?? (isInchFamily(lengthUnit) ? 'Letter' : 'A4'),
    ...(second !== undefined && { also: usualUnits(second) }),
  };
}

/** The units that go with a unit of length. */
export const usualUnits = (length: LengthUnit): Required<ReportStyle>['also'] =>
  isInchFamily(length)
    ? { length, deviation: 'thou', slope: 'thou/ft' }
    : { length, deviation: 'um', slope: 'um/m' };

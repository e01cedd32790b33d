/**
 * Limits, places and days of a job that are very unusual. A person must confirm each, because a verdict depends on it. What is
 * usual is common practice, without a source, and the message says so.
 */
import { groupBy } from '../../base/lists.js';
import { estimateOf } from '../characteristics/estimate.js';
import type { Question } from '../characteristics/question.js';
import type { Diagnostic, DiagnosticData, Place } from '../../base/diagnostics/diagnostic.js';
import { limitLengthMm, limitOver } from '../../survey/job/growing-limit.js';
import {
  positionMm,
  railLengthMm,
  type Job,
  type Rail,
  type Setup,
  type Tolerance,
} from '../../survey/job/job.js';
import type { PhaseName } from '../../survey/job/job-schema.js';
import { fromMm, fromUm, unitLabel, type LengthUnit } from '../../base/units/units.js';
import { hoursOf } from '../../survey/readings/clock.js';
import { phaseWords } from '../../survey/readings/phase-words.js';
import type { PhaseRead } from '../../survey/readings/what-was-read.js';
import type { Reading, Readings, SpanReading } from '../../survey/readings/readings.js';
import { median } from '../../survey/readings/suspicions/series.js';
import { applies } from '../characteristics/applies.js';
import { leastOf, mostOf } from '../../base/statistics/extent.js';
import type { Solved } from './planned-findings.js';

/** A limit that is this many times larger than what was read rejects nothing. */
const FAR_ABOVE = 100;
/** No limit of a machine rail is larger than this: µm and µm per m of length; µm/m. Common practice. */
const WIDEST = { um: 5000, umPerM: 1000, slope: 10_000 };

/**
 * Limits that are smaller than the uncertainty of what they judge, or much larger than all that was read. Asks: LIMIT_IMPLAUSIBLE.
 * For the limits of a what-if run it only warns, because no report is issued by them.
 */
export function implausibleLimits(
  job: Job,
  solved: ReadonlyMap<PhaseName, Solved>,
  severity: 'confirm' | 'warning',
): Diagnostic[] {
  const phases = [...solved.values()];
  return job.toleranceSet.tolerances.flatMap((tolerance): Diagnostic[] => {
    const looks = phases.map((phase) =>
      phase.questions.flatMap((question) => lookAt(job, tolerance, question, phase)),
    );
    // What it is uncertain by now; what it read in any phase.
    const small = (looks.at(-1) ?? []).find(({ limit, u }) => limit < u);
    const all = looks.flat();
    const isLarge = ({ limit, size, widest }: Look) => limit > FAR_ABOVE * size || limit > widest;
    const large = all.length > 0 && all.every(isLarge) ? all[0] : undefined;
    const look = small ?? large;
    if (look === undefined) return [];
    const worst = large === undefined ? look : all.reduce((a, b) => (b.size > a.size ? b : a));
    const shown = (v: number) => shownIn(v, look.unit, job.style.deviation);
    const data = {
      what: tolerance.what,
      rail: look.rail,
      way: small === undefined ? 'large' : 'small',
      limit: shown(look.limit),
      against: shown(small === undefined ? worst.value : look.u),
      length: shownLengthOf(look.lengthMm, job.lengthUnit),
      usual:
        look.unit === 'um'
          ? `${shown(5)} to ${shown(Math.max(50, look.lengthMm / 10))}`
          : `${shown(5)} to ${shown(500)}`,
    } as const;
    return [{ code: 'LIMIT_IMPLAUSIBLE', severity, data, at: tolerance.at }];
  });
}

interface Look {
  readonly rail: string;
  readonly unit: 'um' | 'um/m';
  readonly limit: number;
  readonly value: number;
  readonly u: number;
  /** What was read, or what noise alone would give. */
  readonly size: number;
  readonly widest: number;
  readonly lengthMm: number;
}

function lookAt(job: Job, tolerance: Tolerance, question: Question, { adjustment }: Solved): Look[] {
  if (tolerance.limit === null || !applies(tolerance, question)) return [];
  const made = estimateOf(question, adjustment);
  const rail = job.rails.find(({ id }) => id === question.rail);
  if (made === null || rail === undefined) return [];
  const other = job.rails.find(({ id }) => id === question.against) ?? job.datum;
  const lengthMm = limitLengthMm(question, rail, other);
  const limit = limitOver(tolerance.limit, lengthMm);
  if (!Number.isFinite(limit)) return [];
  // As the instruments state it: readings that disagree are another matter.
  const [value, u] = [made.value, made.u / adjustment.scale];
  const widest =
    question.unit === 'um' ? WIDEST.um + (WIDEST.umPerM * railLengthMm(rail)) / 1000 : WIDEST.slope;
  const size = Math.max(Math.abs(value), 2 * u);
  return [{ rail: rail.id, unit: question.unit, limit, value, u, size, widest, lengthMm }];
}

const shownIn = (v: number, unit: 'um' | 'um/m', deviation: LengthUnit): string =>
  unit === 'um'
    ? `${Number(fromUm(v, deviation).toPrecision(3))} ${unitLabel(deviation)}`
    : `${Number(v.toPrecision(3))} µm/m`;
const shownLengthOf = (mm: number, unit: LengthUnit): string =>
  `${Number(fromMm(mm, unit).toPrecision(4))} ${unit}`.replace('-', '−');

/** Smallest and largest usual distance between stations of machine rails, mm. Common practice. */
const SPACING = { least: 60, most: 3000 };
const FEWEST_STATIONS = 3;
/** A set-up is usually not farther from the rails than this many times their extent, or this many mm. Common practice. */
const REACH = { times: 3, leastMm: 5000 };

/**
 * Places that do not fit each other, as after a typing mistake: spacings that no machine has, set-ups far from the rails,
 * rails next to each other whose stations do not match. Asks: GEOMETRY_IMPLAUSIBLE. Of a rail that is on the other side of the
 * datum rail than all that read it, or nearer or farther than its spans say, it only warns: an instrument may be next to a
 * machine, and a rail may be far off.
 */
export function implausibleGeometry(
  job: Job,
  { phases }: Readings,
  read: ReadonlyMap<PhaseName, PhaseRead>,
): Diagnostic[] {
  const length = (mm: number) => shownLengthOf(mm, job.lengthUnit);
  const ask = (
    way: DiagnosticData['GEOMETRY_IMPLAUSIBLE']['way'],
    one: string,
    other: string,
    size: number,
    against: string,
    column: string,
  ): Diagnostic => ({
    code: 'GEOMETRY_IMPLAUSIBLE',
    severity: 'confirm',
    data: { way, one, other, size: length(size), against },
    at: { file: 'job.json', column },
  });
  const spacings = job.rails.flatMap((rail, i) => {
    const spacing = spacingOf(rail);
    if (spacing === null || (spacing >= SPACING.least && spacing <= SPACING.most)) return [];
    const usual = `${length(100)} to ${length(2000)}`;
    return [ask('spacing', rail.id, length(railLengthMm(rail)), spacing, usual, `rails[${i}].stations`)];
  });
  const setups = job.setups.flatMap((setup, i) => {
    const [beyond, extent] = beyondRails(job, setup);
    if (beyond <= Math.max(REACH.leastMm, REACH.times * extent)) return [];
    return [ask('setup', setup.id, '', beyond, length(extent), `setups[${i}].along`)];
  });
  const sides = wrongSides(job, read).map(([rail, setup]): Diagnostic => {
    const asked = ask(
      'side',
      rail.id,
      setup.id,
      acrossOf(rail),
      length(setup.acrossMm),
      `rails[${job.rails.indexOf(rail)}].across`,
    );
    return { ...asked, severity: 'warning' };
  });
  const far = farSpans([...phases.values()].flat()).map(([{ rail, other, nominalMm }, span]): Diagnostic => {
    const column = `rails[${job.rails.findIndex(({ id }) => id === other)}].across`;
    return { ...ask('span', rail, other, span, length(nominalMm), column), severity: 'warning' };
  });
  const lengthwise = job.rails.filter(({ direction }) => direction === 'along');
  const near = lengthwise.flatMap((rail, i) => {
    const gapTo = (other: Rail) => Math.abs(acrossOf(other) - acrossOf(rail));
    const other = lengthwise.slice(0, i).find((one) => gapTo(one) > 0 && gapTo(one) < NEAREST_MM);
    if (other === undefined) return [];
    const column = `rails[${job.rails.indexOf(rail)}].across`;
    return [ask('near', rail.id, other.id, gapTo(other), length(NEAREST_MM), column)];
  });
  return [...spacings, ...setups, ...near, ...unlikeRails(job, ask), ...sides, ...far];
}

/** No two rails of a machine lie nearer to each other than this, unless one is above or behind the other. Common practice. */
const NEAREST_MM = 20;
/** Rails of one machine are within so much of the distance that they should have, mm. Common practice. */
const FAR_OFF_MM = 3;

/** Pairs of rails whose spans are all about the same amount off their nominal span, with the middle one of what was read, mm. */
function farSpans(readings: readonly Reading[]): [SpanReading, number][] {
  const spans = readings.filter((r) => r.kind === 'span');
  return [...groupBy(spans, ({ rail, other }) => `${rail}|${other}`).values()].flatMap(
    (own): [SpanReading, number][] => {
      const off = median(own.map(({ departureUm }) => departureUm)) / 1000;
      return Math.abs(off) > FAR_OFF_MM ? [[own[0]!, own[0]!.nominalMm + off]] : [];
    },
  );
}

const acrossOf = ({ stations }: Rail): number => median(stations.map((s) => s.acrossMm));

/** Nearer to the datum rail than this share of the distance of the rails, a set-up is on no side of it. Common practice. */
const ON_NO_SIDE = 0.05;

/** Rails along, all set-ups of which are on the other side of the datum rail; with one of these set-ups. */
function wrongSides(job: Job, read: ReadonlyMap<PhaseName, PhaseRead>): [Rail, Setup][] {
  const datum = acrossOf(job.datum);
  return job.rails.flatMap((rail): [Rail, Setup][] => {
    if (rail === job.datum || rail.direction !== 'along') return [];
    const gauge = acrossOf(rail) - datum;
    const ids = new Set(
      [...read.values()].flatMap(({ rails }) => rails.flatMap((r) => (r.rail === rail.id ? r.setups : []))),
    );
    const setups = job.setups.filter(({ id }) => ids.has(id));
    const isBeyond = ({ acrossMm }: Setup) => (acrossMm - datum) / gauge < -ON_NO_SIDE;
    return setups.length > 0 && setups.every(isBeyond) ? [[rail, setups[0]!]] : [];
  });
}

/** Median distance between neighbours, mm; null: too few stations. */
function spacingOf(rail: Rail): number | null {
  if (rail.stations.length < FEWEST_STATIONS) return null;
  return median(stepsOf(rail));
}

const stepsOf = (rail: Rail): number[] =>
  rail.stations.slice(1).map((s, i) => positionMm(rail, s) - positionMm(rail, rail.stations[i]!));

/** Distance of a set-up from the rectangle around all rails, and the longer side of the rectangle, mm. */
function beyondRails(job: Job, setup: Setup): [beyond: number, extent: number] {
  const all = job.rails.flatMap(({ stations }) => stations);
  const [x0, x1] = [leastOf(all.map((s) => s.alongMm)), mostOf(all.map((s) => s.alongMm))];
  const [y0, y1] = [leastOf(all.map((s) => s.acrossMm)), mostOf(all.map((s) => s.acrossMm))];
  const dx = Math.max(x0 - setup.alongMm, setup.alongMm - x1, 0);
  const dy = Math.max(y0 - setup.acrossMm, setup.acrossMm - y1, 0);
  return [Math.hypot(dx, dy), Math.max(x1 - x0, y1 - y0)];
}

/** Rails along with as many stations as the datum rail and another spacing: one of the two is probably mistyped. */
function unlikeRails(
  { rails, datum, lengthUnit }: Job,
  ask: (
    way: 'rails',
    one: string,
    other: string,
    size: number,
    against: string,
    column: string,
  ) => Diagnostic,
): Diagnostic[] {
  const uniform = (rail: Rail): number | null => {
    const steps = stepsOf(rail);
    return steps.length >= FEWEST_STATIONS && mostOf(steps) - leastOf(steps) < 0.5 ? steps[0]! : null;
  };
  const wanted = uniform(datum);
  return rails.flatMap((rail, i) => {
    if (rail === datum || rail.direction !== 'along' || wanted === null) return [];
    const spacing = uniform(rail);
    const isAlike = spacing === null || Math.abs(spacing - wanted) < 0.5;
    if (isAlike || rail.stations.length !== datum.stations.length) return [];
    return [
      ask('rails', rail.id, datum.id, spacing, shownLengthOf(wanted, lengthUnit), `rails[${i}].stations`),
    ];
  });
}

/** No survey that is reported with this program was made before or after these years. */
const YEARS = { first: 1990, last: 2046 };

/** Impossible days: years away, or a phase that was read before the one that it follows. Asks: DATE_IMPLAUSIBLE, PHASES_REVERSED. */
export function implausibleDays(job: Job, readings: Readings): Diagnostic[] {
  const found: Diagnostic[] = [];
  const look = (day: string | null, what: string, at: Place) => {
    if (day === null) return;
    const year = Number(day.slice(0, 4));
    if (year >= YEARS.first && year <= YEARS.last) return;
    const data = { what, day: day.slice(0, 10), first: YEARS.first, last: YEARS.last };
    found.push({ code: 'DATE_IMPLAUSIBLE', severity: 'confirm', data, at });
  };
  look(job.surveyed.on, 'the survey', { file: 'job.json', column: 'surveyed.on' });
  look(job.prepared.on, 'the report', { file: 'job.json', column: 'prepared.on' });
  for (const { name, surveyed } of job.phases)
    look(surveyed.on, `the survey ${phaseWords(name)}`, {
      file: 'job.json',
      column: `phases.${name}.surveyed.on`,
    });
  for (const list of readings.phases.values()) {
    const files = new Set<string>();
    for (const { time, source } of list) {
      if (time === null || files.has(source.file)) continue;
      const before = found.length;
      look(time, 'a reading', { ...source, column: 'time' });
      if (found.length > before) files.add(source.file);
    }
  }
  return [...found, ...reversedPhases(job, readings)];
}

interface Span {
  readonly phase: PhaseName;
  readonly from: string;
  readonly to: string;
  readonly at: Place;
}

function reversedPhases(job: Job, readings: Readings): Diagnostic[] {
  const spans = [...readings.phases.keys()].flatMap((phase) => spanOf(job, readings, phase));
  return spans.slice(1).flatMap((later, i): Diagnostic[] => {
    const earlier = spans[i]!;
    if (!isBefore(later.to, earlier.from)) return [];
    const data = {
      one: phaseWords(later.phase),
      oneDay: later.to,
      other: phaseWords(earlier.phase),
      otherDay: earlier.from,
    };
    return [{ code: 'PHASES_REVERSED', severity: 'confirm', data, at: later.at }];
  });
}

/** First and last reading of a phase; if none has a time, the day that the job states. */
function spanOf(job: Job, { phases }: Readings, phase: PhaseName): Span[] {
  const timed = (phases.get(phase) ?? []).flatMap((r) => (r.time === null ? [] : [{ ...r, time: r.time }]));
  const on = job.phases.find(({ name }) => name === phase)?.surveyed.on ?? null;
  if (timed.length === 0)
    return on === null
      ? []
      : [{ phase, from: on, to: on, at: { file: 'job.json', column: `phases.${phase}.surveyed.on` } }];
  const first = timed.reduce((a, b) => (isBefore(b.time, a.time) ? b : a));
  const last = timed.reduce((a, b) => (isBefore(a.time, b.time) ? b : a));
  return [{ phase, from: first.time, to: last.time, at: { ...last.source, column: 'time' } }];
}

/** true: certainly before; by the clock if both have a time of day, else by the day. */
function isBefore(one: string, other: string): boolean {
  const [a, b] = [hoursOf(one), hoursOf(other)];
  return a !== null && b !== null ? a < b : one.slice(0, 10) < other.slice(0, 10);
}

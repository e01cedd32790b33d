/** A job in fixed units: positions mm, deviations µm, slopes µm/m. Every later stage reads this. */
import type { Languages } from './languages.js';
import type {
  CharacteristicName,
  CorrectionWant,
  DecisionRuleName,
  LimitInput,
  PhaseName,
  ReferenceName,
} from './job-schema.js';
import type { ConfirmableCode, Place } from '../../base/diagnostics/diagnostic.js';
import type { LengthUnit, SlopeUnit } from '../../base/units/units.js';

/** A limit as a job states it. It is plain data, so that a job can be saved. */
export interface Limit {
  readonly stated: LimitInput;
  readonly unit: LengthUnit | SlopeUnit;
  /** Unit of the lengths on which the limit depends. */
  readonly lengthUnit: LengthUnit;
}

/** Reading axes: from the level plane, from the running plane, from the square plane. */
export type Axis = 'vertical' | 'horizontal' | 'along';
export const axes: readonly Axis[] = ['vertical', 'horizontal', 'along'];

/** A nominal place in the machine's frame, mm: along with the rails, across positive to the left. */
export interface Place2D {
  readonly alongMm: number;
  readonly acrossMm: number;
}

export interface Station extends Place2D {
  /** Numbered from 1 in the order of the job file. */
  readonly number: number;
}

/** Points of a wanted shape: mm along the direction of the rail, ascending; µm, + up or left. */
export type Shape = readonly { readonly atMm: number; readonly um: number }[];

export interface Rail {
  readonly id: string;
  readonly name: string | null;
  readonly datum: boolean;
  /** 'along' runs with the machine's long axis; 'across' is a cross rail. */
  readonly direction: 'along' | 'across';
  /** What bends the rail by temperature: mm, K, 1/K; null: not stated. */
  readonly thermal: {
    readonly heightMm: number;
    readonly topWarmerByK: number;
    readonly expansion: number;
    /** K; null: the report states the bow, but does not subtract it. */
    readonly u: number | null;
  } | null;
  /** Standard uncertainty of the tilt across at each station, µm/m; null: not stated. */
  readonly tiltU: number | null;
  /** Where the rail is divided, mm along its direction, ascending. Nothing is interpolated across a joint. */
  readonly jointsMm: readonly number[];
  /** The wanted shape, straight between its points; null: straight. Every deviation is from it. */
  readonly nominal: { readonly vertical: Shape | null; readonly horizontal: Shape | null } | null;
  /** Bending stiffness EI, N m²; null: straight pieces between the supports. */
  readonly stiffness: number | null;
  /** Its weight, N/m; null: not stated, and the plan does not check that every support carries load. */
  readonly weight: number | null;
  /** Ascending along the direction of the rail. */
  readonly stations: readonly Station[];
}

/** The station's position along the direction of the rail, mm. */
export const positionMm = (rail: Rail, station: Place2D): number =>
  rail.direction === 'along' ? station.alongMm : station.acrossMm;

/** Ordinate of a wanted shape at a place between its ends, µm: straight from point to point. */
export function shapeAt(shape: Shape, atMm: number): number {
  const next = Math.max(
    1,
    shape.findIndex((p) => p.atMm >= atMm),
  );
  const [a, b] = [shape[next - 1]!, shape[next]!];
  return a.um + ((b.um - a.um) * (atMm - a.atMm)) / (b.atMm - a.atMm);
}

/** First to last nominal station, mm. */
export function railLengthMm(rail: Rail): number {
  const first = rail.stations[0]!;
  const last = rail.stations[rail.stations.length - 1]!;
  return positionMm(rail, last) - positionMm(rail, first);
}

export interface Monument extends Place2D {
  readonly id: string;
  /** Of a benchmark: its height above the nominal height of the rails, µm. */
  readonly heightUm?: Estimate | null;
}

export interface Instrument {
  readonly id: string;
  readonly description: string | null;
  readonly serial: string | null;
  readonly certificate: string | null;
  readonly calibrationDue: string | null;
  readonly calibrated: SignedOff;
  /** Standard uncertainty (k = 1) of one reading, its display included: µm for offsets and spans, µm/m for slopes. */
  readonly readingU: number;
  /** Step of the display, in the same unit; null: not stated. */
  readonly resolution: number | null;
  /** Growth with distance, µm per metre, root-sum-square with `readingU`; 0 for slope instruments. */
  readonly perMetreU: number;
  readonly measures: 'length' | 'slope';
  /** Standard uncertainty of a levelled plane about each axis, µm/m. */
  readonly levelU: number | null;
  /** Standard uncertainty of the zero of the level, common to all its set-ups, µm/m; null: not stated. */
  readonly levelZeroU: number | null;
  /** Standard uncertainty of the angle by which each swept plane is a cone, µm/m; null: not stated. */
  readonly coneU: number | null;
  /** Standard uncertainty of the square plane's angle to the running plane, µm/m; null: not known at all. */
  readonly squareU: number | null;
  /** Standard uncertainty of a plane's drift, µm/h; null: not stated. */
  readonly driftU: number | null;
  /** Largest reading the target can give, µm (µm/m for slope instruments). */
  readonly rangeLimit: number | null;
}

export interface Setup extends Place2D {
  readonly id: string;
  readonly instrument: string;
  readonly levelled: boolean;
  /** Each of its planes may drift at a constant rate. */
  readonly drift: boolean;
  /** +1: a positive reading means up / left / ahead. −1: the other side. */
  readonly sign: Readonly<Record<Axis, 1 | -1>>;
  /** Axes for which job.json states no side; up, left and ahead are assumed. */
  readonly signAssumed: readonly Axis[];
  /** Degrees, 0 along the rails, + to the left. */
  readonly headingDeg: number;
  /** Gradients of the air between it and the rails; empty: nothing is known. */
  readonly air: readonly Air[];
  readonly note: string | null;
}

/** Gradients of temperature, K/m: + warmer above, + warmer to the left; null: not stated. */
export interface Air {
  /** null: all rails that no other entry names. */
  readonly rail: string | null;
  readonly vertical: Estimate | null;
  readonly sideways: Estimate | null;
}

/** A value with its standard uncertainty. */
export interface Estimate {
  readonly value: number;
  readonly u: number;
}

/** A target assembly that the job declares. */
export interface Target {
  readonly id: string;
  readonly serial: string | null;
  /** Standard uncertainties: of its scale, as a share; of its roll, µm/m; of its seating, µm. null: not stated. */
  readonly scaleU: number | null;
  readonly rollU: number | null;
  readonly seatU: number | null;
  readonly rodMm: number | null;
}

export interface ReadingsFile {
  readonly file: string;
  readonly phase: PhaseName;
  readonly kind: 'offset' | 'slope' | 'span';
  /** Only for slope and span files; offset readings have the instrument of their set-up. */
  readonly instrument: string | null;
  readonly unit: string;
  /** true: the entry states the unit. false: a unit in the header of the file counts instead. */
  readonly unitStated: boolean;
  /** What slopes are measured against; null: by the axis (vertical: gravity, else: sight). */
  readonly against: 'gravity' | 'sight' | null;
  /** The decimal mark; null: it is determined from the file. */
  readonly decimal: 'point' | 'comma' | null;
  /** How the columns of a file with other columns are read; null: the columns are ours. */
  readonly mapping?: Mapping | null;
}

/** Where a file with other columns has one of our columns. */
export interface MappedColumn {
  /** The header as job.json gives it. */
  readonly header: string;
  /** Which of several columns with this header, from 1; null: there must be only one. */
  readonly nth: number | null;
  /** null: the unit of the header or of the file's entry. */
  readonly unit: string | null;
  /** Our word for each text in the cells. */
  readonly words: ReadonlyMap<string, string>;
}

/** A value that a file does not have, and the place in the job file that gives it. */
export interface FixedValue {
  readonly text: string;
  readonly at: Place;
}

/** One of our rows, by our column names. */
export interface MappedRow {
  readonly columns: ReadonlyMap<string, MappedColumn>;
  readonly values: ReadonlyMap<string, FixedValue>;
}

export interface Mapping {
  /** Each row of the file is read once for each of these; at least one. */
  readonly rows: readonly MappedRow[];
  /** Headers of columns that are left out on purpose. */
  readonly ignore: readonly string[];
  /** First text of the rows that are left out on purpose. */
  readonly ignoreRows: readonly string[];
  /** The order of dates such as 03/04/2026; null: such dates are not read. */
  readonly dates: 'day-month' | 'month-day' | null;
}

export interface Tolerance {
  readonly what: CharacteristicName;
  /** null: every rail that has the characteristic. */
  readonly rail: string | null;
  readonly reference: ReferenceName | null;
  /** null: `zone` has the limits. */
  readonly limit: Limit | null;
  readonly overMm: number | null;
  /** Two sides with different limits, µm or µm/m; ±Infinity: no limit to that side. null: `limit` holds for both sides. */
  readonly zone: { readonly from: number; readonly to: number } | null;
  /** The other rail of a pair, if it is not the datum. */
  readonly against: string | null;
  /** Rails that are judged together. */
  readonly rails: readonly string[] | null;
  /** Working length, mm along the direction of the rail. */
  readonly betweenMm: readonly [number, number] | null;
  /** The one side to which the rail may depart from the line through its ends. */
  readonly side: 'convex' | 'hollow' | null;
  /** null: that of the job. */
  readonly rule: DecisionRuleName | null;
  /** Its place in the input, for messages. */
  readonly at: Place;
}

export interface ToleranceSet {
  readonly name: string | null;
  readonly source: string | null;
  /** The shared file it came from; null: it is in job.json. */
  readonly file: string | null;
  /** The grade whose values hold; null: the set has none. */
  readonly grade: string | null;
  /** Files of the sets that it is based on, the nearest first. */
  readonly basedOn: readonly string[];
  readonly tolerances: readonly Tolerance[];
  /** For a set that was given to the run (given-tolerances.ts); absent: the job's own set. */
  readonly whatIf?: WhatIf;
}

export interface WhatIf {
  /** Where the job's own limits are: the path of its tolerance file, or job.json; null: it has none. */
  readonly inPlaceOf: string | null;
}

export interface ReportStyle {
  readonly length: LengthUnit;
  readonly deviation: LengthUnit;
  readonly slope: SlopeUnit;
  readonly paper: 'A4' | 'Letter';
  /** Units that are printed next to these. */
  readonly also?: Pick<ReportStyle, 'length' | 'deviation' | 'slope'>;
}

export interface SignedOff {
  readonly by: string | null;
  readonly on: string | null;
}

/** Remaining travel of an adjuster each way, µm, and the pitch of its screw, µm per turn. */
export interface Travel {
  /** Up, or left. */
  readonly plus: number;
  /** Down, or right. */
  readonly minus: number;
  readonly pitchUm: number | null;
}

/** A place where a rail can be moved. */
export interface Adjuster {
  readonly id: string;
  readonly rail: string;
  /** Along the direction of the rail. */
  readonly atMm: number;
  /** Distance from the line of the targets, + left, for one of a pair across a bed. */
  readonly asideMm: number;
  /** The adjuster that moves by the same amount; null: it moves by itself. */
  readonly movesWith: string | null;
  /** It can pull the rail down as well as carry it. */
  readonly holdsDown: boolean;
  /** Whether the rail lies on it now, as a person found; null: not stated. */
  readonly carries: boolean | null;
  readonly vertical: Travel | null;
  readonly horizontal: Travel | null;
  /** Available sheets, µm, descending; total thickness under it now, µm. */
  readonly shims: { readonly have: readonly number[]; readonly inUm: number } | null;
  readonly fixed: boolean;
  /** The unit in which the job gives its travel. */
  readonly unit: LengthUnit;
}

/** The aim of the correction plan. */
export interface CorrectionAim {
  readonly want: CorrectionWant;
  readonly margin: number;
  readonly untouched: readonly string[];
  /** No smaller move is asked for, µm. */
  readonly leastUm: number;
  readonly datum: 'stays' | 'moves';
  /** Seconds after which the job ends without a report; null: no limit. The plan does not depend on it. */
  readonly timeLimitS: number | null;
  /** Standard uncertainty of a move, as a share of it; null: not stated. */
  readonly responseU: number | null;
}

/** Physical reductions of the readings that the job asks for. */
export interface Corrections {
  readonly earthCurvature: boolean;
  /** Reduces spans to 20 °C: temperature during the spans in °C, expansions in 1/K. */
  readonly spanAt20: {
    readonly temperatureC: number;
    readonly machine: number;
    readonly instrument: number;
    /** Standard uncertainty of the temperature, K, common to all spans; null: not stated. */
    readonly temperatureU: number | null;
  } | null;
}

/** A person confirms that what looks wrong is right. */
export interface Confirmation {
  readonly what: ConfirmableCode;
  /** The file that it is about; null: no file. */
  readonly file: string | null;
  readonly by: string;
  readonly because: string;
  readonly at: Place;
}

/** What a job says about one phase. */
export interface PhaseFacts {
  readonly name: PhaseName;
  readonly surveyed: SignedOff;
  readonly temperatureC: { readonly from: number; readonly to: number } | null;
  readonly note: string | null;
  readonly machineState: string | null;
  /** Ids of the instruments that were used. */
  readonly instruments: readonly string[];
}

export interface Job {
  readonly id: string;
  /** null: the job names none. */
  readonly language: Languages | null;
  readonly title: string | null;
  readonly issuer: string | null;
  readonly customer: string | null;
  readonly site: string | null;
  readonly machine: { readonly name: string | null; readonly serial: string | null };
  readonly surveyed: SignedOff;
  readonly prepared: SignedOff;
  readonly approved: SignedOff & { readonly role: string | null };
  /** Address, telephone, e-mail. */
  readonly contacts: { readonly issuer: string | null; readonly customer: string | null };
  readonly revision: string | null;
  readonly procedure: string | null;
  readonly externalProviders: readonly { readonly name: string; readonly did: string }[];
  readonly conditions: {
    readonly temperatureC: { readonly from: number; readonly to: number } | null;
    readonly note: string | null;
  };
  /** In the order of the work; `as-found` and `as-left` are always in the list. */
  readonly phases: readonly PhaseFacts[];
  /** Unit of every length and position in the job file and of `position` cells. */
  readonly lengthUnit: LengthUnit;
  /** Unit of offset readings, unless a readings file states another. */
  readonly readingUnit: LengthUnit;
  readonly style: ReportStyle;
  readonly rails: readonly Rail[];
  readonly datum: Rail;
  readonly monuments: readonly Monument[];
  readonly instruments: readonly Instrument[];
  readonly setups: readonly Setup[];
  /** Declared target assemblies; null: the job declares none, and the readings may name any. */
  readonly targets: readonly Target[] | null;
  readonly readingsFiles: readonly ReadingsFile[];
  readonly toleranceSet: ToleranceSet;
  readonly corrections: Corrections;
  readonly adjusters: readonly Adjuster[];
  /** Rods that were measured against each other, µm: the point of the first target is higher by the difference. */
  readonly rods: readonly {
    readonly targets: readonly [string, string];
    readonly differenceUm: number;
    readonly uUm: number;
  }[];
  readonly aim: CorrectionAim;
  readonly confirmed: readonly Confirmation[];
  readonly decision: {
    readonly rule: DecisionRuleName;
    readonly coverage: number;
    /** r of the guard band w = r·U. */
    readonly guardBand: number;
    /** Greatest risk of wrong acceptance, one-sided; undefined: what coverage and guard band give. */
    readonly risk?: number | undefined;
  };
}

/** Distance across between two rails that run along, mm, always positive. */
export const distanceAcrossMm = (rail: Rail, other: Rail): number =>
  Math.abs(rail.stations[0]!.acrossMm - other.stations[0]!.acrossMm);

/**
 * job.json as people write it, in their units. Strict: an unknown key is an error, because a
 * misspelt key that is passed over would silently change what is reported.
 */
import { z } from 'zod';
import { confirmable } from '../../base/diagnostics/diagnostic.js';
import { referenceNames, type ReferenceName } from '../characteristics/characteristic.js';
import { characteristicNames, type CharacteristicName } from '../characteristics/characteristics.js';
import { mappingKeys } from './mapping-schema.js';
import { gradientUnits, lengthUnits, rateUnits, slopeUnits } from '../../base/units/units.js';

/** No control characters but line ends and tabs: they would end up in the PDF's own facts. */
const text = z
  .string()
  .max(2000)

  .regex(/^[^\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f]*$/, 'text without control characters');
/** Ids become file names, CSV cells and captions, so they are kept plain; also those that stand in readings alone. */
export const idPattern = /^[\p{L}\p{N}](?:[\p{L}\p{N}._+/ -]{0,62}[\p{L}\p{N}._+/-])?$/u;
export const idWords = 'an id: letters, digits, . _ - + / and spaces between them, at most 64 characters';
const id = z.string().regex(idPattern, idWords);
const jobId = z
  .string()
  .regex(
    /^[\p{L}\p{N}](?:[\p{L}\p{N}._-]{0,62}[\p{L}\p{N}_-])?$/u,
    'a job id that can name a folder: letters, digits, . _ - and no dot at the end, at most 64 characters',
  )
  .regex(
    /^(?!(?:con|prn|aux|nul|com[0-9]|lpt[0-9])(?:\.|$))/i,
    'a job id that can name a folder everywhere: Windows keeps CON, PRN, AUX, NUL, COM1 and LPT1 and their like for itself',
  );
/**
 * No survey has lengths, uncertainties or limits beyond these, in any unit; squares and quotients of what lies
 * between stay far within what numbers can hold.
 */
const LARGEST = 1e9;
const SMALLEST = 1e-9;
const finite = z.number().min(-LARGEST).max(LARGEST);
const positive = z.number().positive({ abort: true }).min(SMALLEST).max(LARGEST);
const nonNegative = z.number().nonnegative().max(LARGEST);
const date = z.iso.date();
const relativePath = z.string().min(1).max(500);

const lengthUnit = z.enum(lengthUnits);
const slopeUnit = z.enum(slopeUnits);
const anyUnit = z.enum([...lengthUnits, ...slopeUnits]);

export { characteristicNames, referenceNames };
export type { CharacteristicName, ReferenceName };

export const correctionWants = [
  'level-and-straight',
  'straight',
  'parallel-to-datum',
  'fewest-moves',
] as const;
export type CorrectionWant = (typeof correctionWants)[number];

const growingLimit = z.strictObject({
  upTo: positive,
  limit: positive,
  more: z.strictObject({ each: positive, limit: nonNegative }),
  most: positive.optional(),
});

/** A table by length: the limit of the first step that is long enough. */
const steppedLimit = z.strictObject({
  steps: z
    .array(z.strictObject({ upTo: positive, limit: positive }))
    .min(1)
    .max(100),
});

const limit = z.union([positive, growingLimit, steppedLimit]);
export type LimitInput = z.infer<typeof limit>;

export const toleranceSchema = z.strictObject({
  what: z.enum(characteristicNames),
  rail: id.optional(),
  /** Rails that are judged together. */
  rails: z.array(id).min(2).max(1000).optional(),
  /** The other rail of a pair, where it is not the datum. */
  against: id.optional(),
  reference: z.enum(referenceNames).optional(),
  limit: limit.optional(),
  /** In place of `limit`, for two sides that differ; one that is left out is open. */
  from: finite.optional(),
  to: finite.optional(),
  /** The one way in which a rail may depart from the line through its ends: high in the middle, or low. */
  side: z.enum(['convex', 'hollow']).optional(),
  /** Working length, in the job's length unit. */
  between: z.tuple([finite, finite]).optional(),
  /** In place of `limit`: stretches with a limit each; each is judged for itself, as by `between`. */
  zones: z
    .array(z.strictObject({ between: z.tuple([finite, finite]), limit: positive }))
    .min(1)
    .max(100)
    .optional(),
  unit: anyUnit,
  over: z.strictObject({ length: positive, unit: lengthUnit }).optional(),
});
export type ToleranceInput = z.infer<typeof toleranceSchema>;

/** The name of a value in the table of a grade. */
const valueName = z
  .string()
  .regex(/^[A-Za-z][\w-]{0,39}$/, 'the name of a value: a letter, then letters, digits, - and _');

/** In a set, limits may be named; their values then stand in the table of the grade. */
export const setToleranceSchema = toleranceSchema.extend({
  limit: z.union([limit, valueName]).optional(),
  from: z.union([finite, valueName]).optional(),
  to: z.union([finite, valueName]).optional(),
  /** In place of the grade that the set or the job names. */
  grade: id.optional(),
});
export type SetToleranceInput = z.infer<typeof setToleranceSchema>;

export const toleranceSetSchema = z.strictObject({
  name: text,
  source: text.optional(),
  /** Path of another set, from the folder of this one: what it says holds here where nothing else is said. */
  basedOn: relativePath.optional(),
  /** The grade that holds where the job names none. */
  grade: id.optional(),
  /** By grade (class, quality), the values that tolerances name. */
  grades: z.record(id, z.record(valueName, z.union([limit, finite]))).optional(),
  /** Tolerances of the set that this one is based on which do not hold here. */
  without: z
    .array(z.strictObject({ what: z.enum(characteristicNames), rail: id.optional() }))
    .max(1000)
    .optional(),
  tolerances: z.array(setToleranceSchema),
});

/** Either `first`, `spacing` and `count`, or `at`; which of the two is checked when the job is settled. */
const stations = z.strictObject({
  first: finite.optional(),
  spacing: positive.optional(),
  count: z.int().min(1).max(100_000).optional(),
  at: z.array(finite).min(1).max(100_000).optional(),
});

const shape = z
  .array(z.strictObject({ along: finite, offset: finite }))
  .min(2)
  .max(10_000);

export const railSchema = z.strictObject({
  id,
  name: text.optional(),
  datum: z.boolean().optional(),
  direction: z.enum(['along', 'across']).optional(),
  across: finite.optional(),
  along: finite.optional(),
  /**
   * What bends the rail: its section's height (job's length unit), how much warmer its top is (K), and its
   * expansion (ppm/K). Without `u` nothing is corrected by it, and the report says how large the bow is.
   */
  thermal: z
    .strictObject({
      height: positive,
      topWarmerBy: finite,
      expansion: positive.max(100),
      /** Standard uncertainty of topWarmerBy, K: with it the bow is taken off the heights, and is uncertain by so much. */
      u: positive.optional(),
    })
    .optional(),
  /** Standard uncertainty of the rail's own tilt across at each station; moves a target sideways by rod height × tilt. */
  tilt: z.strictObject({ u: positive, unit: slopeUnit }).optional(),
  /** Where the rail is parted: nothing is interpolated across. */
  joints: z.array(finite).min(1).max(1000).optional(),
  /** The wanted shape, straight between its points; every deviation is from it. */
  nominal: z
    .strictObject({ vertical: shape.optional(), horizontal: shape.optional(), unit: lengthUnit })
    .optional(),
  /** Bending stiffness EI: between its supports the rail is then an elastic beam, else straight pieces. */
  beam: z
    .strictObject({
      stiffness: z.strictObject({ value: positive.max(1e15), unit: z.enum(['MN m2', 'kN m2', 'N m2']) }),
      /** Its weight a metre: no support is then left hanging. */
      weight: z.strictObject({ value: positive.max(1e6), unit: z.enum(['kg/m', 'N/m']) }).optional(),
    })
    .optional(),
  stations,
});

const travel = nonNegative.max(1e6);
/** A place where a crew can move a rail. */
export const adjusterSchema = z.strictObject({
  id,
  rail: id,
  /** Along the rail, in the job's length unit. */
  along: finite,
  /** Travel left each way (0: cannot), and travel a turn of the screw. */
  moves: z
    .strictObject({
      vertical: z
        .strictObject({ up: travel, down: travel, unit: lengthUnit, pitch: positive.optional() })
        .optional(),
      horizontal: z
        .strictObject({ left: travel, right: travel, unit: lengthUnit, pitch: positive.optional() })
        .optional(),
    })
    .optional(),
  /** Sheets at hand, and what lies there now. */
  shims: z
    .strictObject({ have: z.array(positive).min(1).max(50), in: nonNegative.optional(), unit: lengthUnit })
    .optional(),
  /** Beside the line on which the targets ride, + left, in the job's length unit: one of a pair across a bed. */
  aside: finite.optional(),
  /** The adjuster that moves by the same amount. */
  movesWith: id.optional(),
  /** It can pull the rail down as well as carry it. */
  holdsDown: z.boolean().optional(),
  /** It holds the rail and is not to be touched. */
  fixed: z.boolean().optional(),
});

export const instrumentSchema = z.strictObject({
  id,
  description: text.optional(),
  serial: text.optional(),
  certificate: text.optional(),
  calibrationDue: date.optional(),
  /** The laboratory that calibrated it, and on which day. */
  calibrated: z.strictObject({ by: text.optional(), on: date.optional() }).optional(),
  reading: z.strictObject({
    u: positive,
    perMetre: nonNegative.optional(),
    /** Step of its display, where `u` does not contain it. */
    resolution: positive.optional(),
    unit: anyUnit,
  }),
  level: z
    .strictObject({
      u: positive,
      unit: slopeUnit,
      /** Error of the level itself, common to all set-ups of the instrument; `u` is then the setting alone. */
      zero: z.strictObject({ u: positive, unit: slopeUnit }).optional(),
    })
    .optional(),
  /** Each swept plane is a shallow cone: standard uncertainty of its angle. */
  cone: z.strictObject({ u: positive, unit: slopeUnit }).optional(),
  square: z.strictObject({ u: positive, unit: slopeUnit }).optional(),
  /** Standard uncertainty of how far a plane of light drifts in an hour; for set-ups with `drift`. */
  drift: z.strictObject({ u: positive, unit: z.enum(rateUnits) }).optional(),
  range: z.strictObject({ limit: positive, unit: anyUnit }).optional(),
});

const gradient = z.strictObject({
  gradient: z.number().min(-100).max(100),
  u: positive.max(100),
  unit: z.enum(gradientUnits),
});
/** Gradients of temperature in the air that the light goes through: + warmer above, + warmer to the left. */
const airKeys = { vertical: gradient.optional(), sideways: gradient.optional() };

export const setupSchema = z.strictObject({
  id,
  instrument: id,
  along: finite,
  across: finite,
  levelled: z.boolean().optional(),
  /** Each plane of this set-up may drift at a constant rate, to be found from repeated looks with times. */
  drift: z.enum(['linear']).optional(),
  plus: z
    .strictObject({
      vertical: z.enum(['up', 'down']).optional(),
      horizontal: z.enum(['left', 'right']).optional(),
      along: z.enum(['ahead', 'back']).optional(),
    })
    .optional(),
  /** Degrees that the instrument was turned, 0 along the rails, + to the left: turns the level's own zero. */
  heading: z.number().min(-360).max(360).optional(),
  air: z
    .union([
      z.strictObject(airKeys),
      z
        .array(z.strictObject({ rail: id.optional(), ...airKeys }))
        .min(1)
        .max(200),
    ])
    .optional(),
  note: text.optional(),
});

/** The phases that every job knows; a job may name more, between them (`phases`). */
export const phaseNames = ['as-found', 'as-left'] as const;
/** `as-found`, `as-left`, or one that the job names: small letters, digits and hyphens. */
export type PhaseName = string;
export const phaseName = z
  .string()
  .regex(
    /^[a-z](?:-?[a-z0-9]){0,39}$/,
    'small letters, digits and single hyphens, such as after-first-round',
  );

export const readingsEntrySchema = z.strictObject({
  file: relativePath,
  phase: phaseName,
  kind: z.enum(['offset', 'slope', 'span']).optional(),
  instrument: id.optional(),
  unit: anyUnit.optional(),
  against: z.enum(['gravity', 'sight']).optional(),
  /** For a file whose numbers do not show it: `1,234` alone could be either. */
  decimal: z.enum(['point', 'comma']).optional(),
  /** For a file with other columns than ours: mapping-schema.ts. */
  ...mappingKeys,
});

const signedOff = z.strictObject({ by: text.optional(), on: date.optional() });
const conditionsSchema = z.strictObject({
  temperature: z.strictObject({ from: finite, to: finite.optional(), unit: z.enum(['C', 'F']) }).optional(),
  note: text.optional(),
});

export const monumentSchema = z.strictObject({ id, along: finite, across: finite });
export const targetSchema = z.strictObject({
  id,
  serial: text.optional(),
  note: text.optional(),
  /** Standard uncertainty of its scale: a share of every reading. */
  scale: z.strictObject({ u: positive.max(10), unit: z.enum(['%', 'ppm']) }).optional(),
  /** Standard uncertainty of its roll about the line of sight. */
  roll: z.strictObject({ u: positive, unit: slopeUnit }).optional(),
  /** How well it sits down again: readings of one `placing` share it. */
  seat: z.strictObject({ u: positive, unit: lengthUnit }).optional(),
  /** Height of the target point over the rail. */
  rod: z.strictObject({ height: positive, unit: lengthUnit }).optional(),
});
export const unitsSchema = z.strictObject({ length: lengthUnit, reading: lengthUnit });

export const jobSchema = z.strictObject({
  $schema: z.string().optional(),
  format: z.literal('waysheet-job/1'),
  id: jobId,
  /** Of the report. */
  language: z.enum(['en']).optional(),
  title: text.optional(),
  issuer: text.optional(),
  customer: text.optional(),
  site: text.optional(),
  machine: z.strictObject({ name: text.optional(), serial: text.optional() }).optional(),
  surveyed: signedOff.optional(),
  prepared: signedOff.optional(),
  approved: z.strictObject({ by: text.optional(), on: date.optional(), role: text.optional() }).optional(),
  /** Address and how to be reached. */
  contacts: z.strictObject({ issuer: text.optional(), customer: text.optional() }).optional(),
  /** Of the job's own papers: a drawing's or an order's revision that was surveyed to. */
  revision: text.optional(),
  /** By which written procedure the crew worked. */
  procedure: text.optional(),
  externalProviders: z
    .array(z.strictObject({ name: text, did: text }))
    .max(100)
    .optional(),
  units: unitsSchema,
  report: z
    .strictObject({
      length: lengthUnit.optional(),
      deviation: lengthUnit.optional(),
      slope: slopeUnit.optional(),
      paper: z.enum(['A4', 'Letter']).optional(),
    })
    .optional(),
  conditions: conditionsSchema.optional(),
  /** What one phase has of its own; names and order of further phases. */
  phases: z
    .record(
      phaseName,
      z.strictObject({
        surveyed: signedOff.optional(),
        conditions: conditionsSchema.optional(),
        /** Bridge on or off and where parked, loads, what was clamped. */
        machineState: text.optional(),
        instruments: z.array(id).max(200).optional(),
      }),
    )
    .optional(),
  rails: z.array(railSchema).min(1).max(200),
  monuments: z.array(monumentSchema).max(1000).optional(),
  instruments: z.array(instrumentSchema).min(1).max(200),
  setups: z.array(setupSchema).max(1000).optional(),
  targets: z.array(targetSchema).max(1000).optional(),
  adjusters: z.array(adjusterSchema).max(1000).optional(),
  /** Rods that were measured against each other: the point of the first target stands higher by `difference`. */
  rods: z
    .array(z.strictObject({ targets: z.tuple([id, id]), difference: finite, u: positive, unit: lengthUnit }))
    .max(1000)
    .optional(),
  readings: z.array(readingsEntrySchema).min(1).max(1000),
  tolerances: z.union([z.array(toleranceSchema), relativePath]).optional(),
  /** The grade of the tolerance set by which this machine is judged. */
  grade: id.optional(),
  /** Physical corrections, off unless asked for. */
  corrections: z
    .strictObject({
      /** Level readings and levelled planes follow the earth; heights are then given from a straight line. */
      earthCurvature: z.boolean().optional(),
      /** What the moves are to reach. */
      want: z.enum(correctionWants).optional(),
      /** Share of each limit that is to stay unused. */
      margin: nonNegative.max(0.95).optional(),
      /** Rails that are not to be moved. */
      untouched: z.array(id).max(1000).optional(),
      /** How well a move comes out: standard uncertainty, as a share of the move. */
      response: z
        .union([positive.max(1), z.strictObject({ u: positive.max(100), unit: z.literal('%') })])
        .optional(),
      /** No smaller move is asked for. */
      least: z.strictObject({ value: nonNegative, unit: lengthUnit }).optional(),
      /** Whether the datum rail may be moved for the limits of other rails. */
      datum: z.enum(['stays', 'moves']).optional(),
      /** Seconds that the search for the plan may take; after them the job ends without a report. */
      timeLimit: positive.max(3600).optional(),
      /** Spans reduced to 20 °C: temperature during the spans, expansions in ppm/K. */
      spanAt20: z
        .strictObject({
          temperature: finite,
          /** Standard uncertainty of that temperature, in degrees of `unit`, common to all spans. */
          u: positive.max(100).optional(),
          unit: z.enum(['C', 'F']),
          machine: nonNegative.max(100),
          instrument: nonNegative.max(100),
        })
        .optional(),
    })
    .optional(),
  /** What looked wrong and is right, by whom it was looked at and why. */
  confirmed: z
    .array(
      z.strictObject({
        what: z.enum(confirmable),
        in: relativePath.optional(),
        by: z.string().regex(/\S/, 'the name of a person').max(200),
        because: z.string().regex(/\S/, 'the reason').max(2000),
      }),
    )
    .max(100)
    .optional(),
  decision: z
    .strictObject({
      rule: z.enum(['simple', 'guarded']).optional(),
      coverage: z.number().min(0.5).max(0.9999).optional(),
      /** Guard band as a multiple r of the expanded uncertainty, w = r·U; 1 where it is left out. */
      guardBand: positive.max(5).optional(),
      /** Greatest risk of wrong acceptance under guarded acceptance, one-sided; (1 − coverage)/2 where it is left out. */
      risk: nonNegative.max(0.5).optional(),
    })
    .refine(({ guardBand, risk }) => guardBand === undefined || risk === undefined, {
      path: ['risk'],
      message:
        'state one of the two, "risk" or "guardBand": each says how far inside the limit a value must lie',
    })
    .optional(),
});
export type JobInput = z.infer<typeof jobSchema>;

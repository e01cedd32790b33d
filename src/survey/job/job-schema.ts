/**
 * job.json as people write it, in their units. Strict: an unknown key is an error, because a
 * misspelt key that is passed over would silently change what is reported.
 *
 * The description of each key is part of its schema. The JSON Schemas in templates/schemas and the form take it from here.
 */
import { languagesSchema } from './languages.js';
import * as z from 'zod';
import { confirmable, renamed } from '../../base/diagnostics/diagnostic.js';
import { referenceNames, type ReferenceName } from '../characteristics/characteristic.js';
import { characteristicNames, type CharacteristicName } from '../characteristics/characteristics.js';
import { mappingKeys } from './mapping-schema.js';
import { gradientUnits, lengthUnits, rateUnits, slopeUnits } from '../../base/units/units.js';

/** No control characters except line ends and tabs: they would get into the PDF's metadata. */
const text = z
  .string()
  .max(2000)
  .regex(/^[^\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f]*$/, 'text without control characters');
/** Ids become file names, CSV cells and captions, so they are plain. The same holds for ids that only readings have. */
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
 * No survey has lengths, uncertainties or limits beyond these, in any unit. Squares and quotients of numbers between
 * them cannot overflow.
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

/** A standard uncertainty and its unit. */
const uncertainty = <U extends z.ZodType>(unit: U, u = positive) =>
  z.strictObject({ u: u.describe('Standard uncertainty (k = 1).'), unit: unit.describe('Its unit.') });
const day = date.optional().describe('Day, such as 2026-03-14.');

const limitAtLength = z.strictObject({
  upTo: positive.describe(
    'The limit holds up to this length, in the length unit of the job. Lengths ascend.',
  ),
  limit: positive.describe('The limit there.'),
});

const growingLimit = z.strictObject({
  upTo: positive.describe('Up to this length, in the length unit of the job, the limit is "limit".'),
  limit: positive.describe('The limit up to "upTo".'),
  more: z
    .strictObject({
      each: positive.describe('This much further length adds "limit"; a part of it adds its share.'),
      limit: nonNegative.describe('How much is added for each such length.'),
    })
    .describe('How the limit grows beyond "upTo".'),
  most: positive.optional().describe('The limit never grows beyond this.'),
});

const steppedLimit = z.strictObject({
  steps: z
    .array(limitAtLength)
    .min(1)
    .max(100)
    .describe('A table instead: the limit of the first step that is long enough.'),
});

const limit = z.union([positive, growingLimit, steppedLimit]);
export type LimitInput = z.infer<typeof limit>;
const limitText =
  'Tolerance limit in "unit": a number, or one that grows with the length of the rail. For a signed characteristic it limits the size.';
const fromText = 'Instead of "limit": the smallest value that is allowed. Left out: no limit to that side.';
const toText = 'Instead of "limit": the largest value that is allowed. Left out: no limit to that side.';

const workingLength = z.tuple([finite, finite]);

/** Decision rules in the words of JCGM 106: simple acceptance and guarded acceptance. */
export const ruleNames = ['simple', 'guarded'] as const;
export type DecisionRuleName = (typeof ruleNames)[number];

export const toleranceSchema = z.strictObject({
  what: z.enum(characteristicNames).describe('The characteristic that is limited.'),
  rail: id.optional().describe('The rail. Left out: every rail that has the characteristic.'),
  rails: z
    .array(id)
    .min(2)
    .max(1000)
    .optional()
    .describe('Rails that are judged together: all in one plane, or any two of them.'),
  against: id.optional().describe('The other rail of the pair, if it is not the datum.'),
  reference: z
    .enum(referenceNames)
    .optional()
    .describe(
      'Reference line or plane of the verdict: least-squares (if left out), minimum-zone, end-points.',
    ),
  limit: limit.optional().describe(limitText),
  from: finite.optional().describe(fromText),
  to: finite.optional().describe(toText),
  side: z
    .enum(['convex', 'hollow'])
    .optional()
    .describe(
      'The one side to which the rail may depart from the line through its ends: convex (high, or left, in the middle) or hollow.',
    ),
  between: workingLength
    .optional()
    .describe('Working length: only stations between these two positions along are judged.'),
  zones: z
    .array(
      z.strictObject({
        between: workingLength.describe('The two positions along between which the limit holds.'),
        limit: positive.describe('Limit of this stretch, in "unit".'),
      }),
    )
    .min(1)
    .max(100)
    .optional()
    .describe('Instead of "limit": stretches with their own limits. Each is judged by itself.'),
  unit: anyUnit.describe(
    'Unit of the limit: a length, or a slope for level-along, cross-level, twist, squareness.',
  ),
  over: z
    .strictObject({ length: positive.describe('The length.'), unit: lengthUnit.describe('Its unit.') })
    .optional()
    .describe(
      'Length of the window of a -local characteristic or a rate of change. Twist, parallelism and level-along are then those of any stretch of this length.',
    ),
  rule: z
    .enum(ruleNames)
    .optional()
    .describe('Decision rule of this tolerance, if it is not that of the job ("decision").'),
});
export type ToleranceInput = z.infer<typeof toleranceSchema>;

/** The name of a value in the table of a grade. */
const valueName = z
  .string()
  .regex(/^[A-Za-z][\w-]{0,39}$/, 'the name of a value: a letter, then letters, digits, - and _');

/** In a set, a limit may be the name of a value; the value is then in the table of the grade. */
export const setToleranceSchema = toleranceSchema.extend({
  limit: z.union([limit, valueName]).optional().describe(limitText),
  from: z.union([finite, valueName]).optional().describe(fromText),
  to: z.union([finite, valueName]).optional().describe(toText),
  grade: id.optional().describe('Grade of this tolerance, instead of the grade of the set or of the job.'),
});
export type SetToleranceInput = z.infer<typeof setToleranceSchema>;

export const toleranceSetSchema = z
  .strictObject({
    name: text.describe('Name of the set.'),
    source: text
      .optional()
      .describe('Where the limits come from: drawing, standard, contract, with its edition.'),
    basedOn: relativePath
      .optional()
      .describe(
        'Path of another set, from the folder of this one. Its tolerances hold, unless this set has one for the same thing.',
      ),
    grade: id.optional().describe('The grade (class, quality) that holds if the job names none.'),
    grades: z
      .record(
        id,
        z
          .record(valueName, z.union([limit, finite]))
          .describe('Values by name: a limit, fixed or by length, or one side of a limit.'),
      )
      .optional()
      .describe('For each grade, the values that tolerances name instead of a number.'),
    without: z
      .array(
        z.strictObject({
          what: z.enum(characteristicNames).describe('Characteristic.'),
          rail: id.optional().describe('Rail. Left out: every rail.'),
        }),
      )
      .max(1000)
      .optional()
      .describe('Tolerances of the set named in "basedOn" that do not hold here.'),
    tolerances: z.array(setToleranceSchema).describe('The tolerances.'),
  })
  .describe('A waysheet tolerance set. Job files name it by its path.');

/** Either `first`, `spacing` and `count`, or `at`; resolve-rails.ts checks which of the two. */
const stations = z.strictObject({
  first: finite.optional().describe('Place of station 1.'),
  spacing: positive.optional().describe('Distance from each station to the next.'),
  count: z.int().min(1).max(100_000).optional().describe('Number of stations.'),
  at: z
    .array(finite)
    .min(1)
    .max(100_000)
    .optional()
    .describe('All places, increasing, instead of the other three.'),
});

const shape = z
  .array(
    z.strictObject({
      along: finite.describe('Place along.'),
      offset: finite.describe('Wanted height or offset there.'),
    }),
  )
  .min(2)
  .max(10_000);

export const railSchema = z.strictObject({
  id: id.describe('The name that readings use.'),
  name: text.optional().describe('The name that people use.'),
  datum: z.boolean().optional().describe('true for the one rail from which the others are measured.'),
  direction: z
    .enum(['along', 'across'])
    .optional()
    .describe('along (if left out): runs with the machine. across: a cross rail.'),
  across: finite
    .optional()
    .describe(
      'Nominal place across of a rail that runs along: positive to the LEFT of someone who faces increasing along.',
    ),
  along: finite.optional().describe('Nominal place along of a cross rail.'),
  thermal: z
    .strictObject({
      height: positive.describe('Height of the section.'),
      topWarmerBy: finite.describe('How much warmer the top is than the bottom, in kelvin.'),
      expansion: positive.max(100).describe('Expansion coefficient, ppm/K (steel: about 11.5).'),
      u: positive
        .optional()
        .describe(
          'Standard uncertainty of topWarmerBy, in kelvin. With it the bow is subtracted from the heights, and its uncertainty counts.',
        ),
    })
    .optional()
    .describe(
      'What bends the rail by temperature. Without "u" nothing is corrected by it; the report then says how large the bow is.',
    ),
  tilt: uncertainty(slopeUnit)
    .optional()
    .describe(
      'How far the rail may lean across at each station. It moves a target sideways by rod height × tilt.',
    ),
  joints: z
    .array(finite)
    .min(1)
    .max(1000)
    .optional()
    .describe('Positions along where the rail is divided. Nothing is interpolated across a joint.'),
  nominal: z
    .strictObject({
      vertical: shape.optional().describe('Heights, + up.'),
      horizontal: shape.optional().describe('Offsets, + left.'),
      unit: lengthUnit.describe('Unit of the heights and offsets.'),
    })
    .optional()
    .describe('The wanted shape, straight between its points. Every deviation is measured from it.'),
  beam: z
    .strictObject({
      stiffness: z
        .strictObject({
          value: positive.max(1e15).describe('The value.'),
          unit: z.enum(['MN m2', 'kN m2', 'N m2']).describe('Its unit.'),
        })
        .describe('Bending stiffness EI.'),
      weight: z
        .strictObject({
          value: positive.max(1e6).describe('The value.'),
          unit: z.enum(['kg/m', 'N/m']).describe('Its unit.'),
        })
        .optional()
        .describe('Weight of the rail per metre. With it the plan leaves no support without load.'),
    })
    .optional()
    .describe(
      'The rail as an elastic beam between its supports, for the correction plan. Left out: straight pieces.',
    ),
  stations: stations.describe(
    'Where targets are placed, numbered from 1: "first", "spacing" and "count", or "at".',
  ),
});

const travel = nonNegative.max(1e6);
const travelKeys = {
  unit: lengthUnit.describe('Unit of travel and pitch.'),
  pitch: positive.optional().describe('Travel per turn of the screw.'),
};

export const adjusterSchema = z.strictObject({
  id: id.describe('As it is marked on the machine.'),
  rail: id.describe('Which rail it moves.'),
  along: finite.describe('Its place along.'),
  moves: z
    .strictObject({
      vertical: z
        .strictObject({
          up: travel.describe('Remaining travel upwards. 0: none.'),
          down: travel.describe('Remaining travel downwards. 0: none.'),
          ...travelKeys,
        })
        .optional()
        .describe('Up and down.'),
      horizontal: z
        .strictObject({
          left: travel.describe('Remaining travel to the left. 0: none.'),
          right: travel.describe('Remaining travel to the right. 0: none.'),
          ...travelKeys,
        })
        .optional()
        .describe('Left and right of someone who faces increasing along.'),
    })
    .optional()
    .describe('How far it can still move each way.'),
  shims: z
    .strictObject({
      have: z.array(positive).min(1).max(50).describe('Thicknesses that are available.'),
      in: nonNegative.optional().describe('Total thickness under it now.'),
      unit: lengthUnit.describe('Unit of the sheets.'),
    })
    .optional()
    .describe('Sheets under it.'),
  aside: finite
    .optional()
    .describe(
      'Distance from the line of the targets, + left. For one of a pair across a bed; both then move alike.',
    ),
  movesWith: id.optional().describe('The adjuster that moves by the same amount.'),
  holdsDown: z.boolean().optional().describe('It can pull the rail down as well as carry it.'),
  carries: z
    .boolean()
    .optional()
    .describe(
      'Whether the rail lies on it now, by a feeler gauge. Left out: by the shape of the rail, if it tells.',
    ),
  fixed: z.boolean().optional().describe('It holds the rail and must not be touched.'),
});

export const instrumentSchema = z.strictObject({
  id: id.describe('The name that set-ups and readings entries use.'),
  description: text.optional().describe('Kind of instrument.'),
  serial: text.optional().describe('Serial number.'),
  certificate: text.optional().describe('Number of the calibration certificate.'),
  calibrationDue: date.optional().describe('Day, such as 2026-09-30.'),
  calibrated: z
    .strictObject({ by: text.optional().describe('The laboratory.'), on: day })
    .optional()
    .describe('The last calibration.'),
  reading: z
    .strictObject({
      u: positive.describe(
        'Near the instrument. If an expanded uncertainty with k = 2 is stated, write half of it.',
      ),
      perMetre: nonNegative
        .optional()
        .describe('Growth per metre of distance. Not for instruments that read slopes.'),
      resolution: positive
        .optional()
        .describe(
          'Step of its display or file, if u does not contain it: adds step/√12 (JCGM 100, F.2.2.1).',
        ),
      unit: anyUnit.describe(
        'Unit of u, perMetre and resolution. With a slope unit the instrument reads slopes.',
      ),
    })
    .describe(
      'Standard uncertainty (k = 1) of one reading: u and perMetre × distance combine as a root sum of squares.',
    ),
  level: uncertainty(slopeUnit)
    .extend({
      zero: uncertainty(slopeUnit)
        .optional()
        .describe(
          'Error of the level that all set-ups of the instrument share. "u" is then only the setting of one set-up.',
        ),
    })
    .optional()
    .describe('How well its plane is levelled, about each axis. Needed if a set-up is levelled.'),
  cone: uncertainty(slopeUnit)
    .optional()
    .describe('How far each swept plane may be a shallow cone: the angle of the cone.'),
  square: uncertainty(slopeUnit)
    .optional()
    .describe('How well its square plane is at a right angle to its running plane.'),
  drift: uncertainty(z.enum(rateUnits))
    .optional()
    .describe('How far a plane drifts per hour. Needed if a set-up has "drift".'),
  range: z
    .strictObject({
      limit: positive.describe('The largest reading.'),
      unit: anyUnit.describe('Its unit.'),
    })
    .optional()
    .describe(
      'What its target can read on either side of zero. Readings beyond it are refused; above 80 % of it there is a warning.',
    ),
});

const gradient = z.strictObject({
  gradient: z.number().min(-100).max(100).describe('As measured; readings are corrected for it.'),
  u: positive.max(100).describe('Standard uncertainty (k = 1).'),
  unit: z.enum(gradientUnits).describe('Unit of both.'),
});
const airKeys = {
  vertical: gradient.optional().describe('+ if it is warmer above.'),
  sideways: gradient.optional().describe('+ if it is warmer to the left.'),
};

export const setupSchema = z.strictObject({
  id: id.describe('The name that readings use.'),
  instrument: id.describe('Which instrument.'),
  along: finite.describe('Its place along.'),
  across: finite.describe('Its place across.'),
  levelled: z
    .boolean()
    .optional()
    .describe(
      'true: its plane was levelled, to within "level" of the instrument. false: pitch and roll are unknown.',
    ),
  drift: z
    .enum(['linear'])
    .optional()
    .describe(
      'linear: each plane may drift at a constant rate, which is found from repeated readings with times.',
    ),
  plus: z
    .strictObject({
      vertical: z.enum(['up', 'down']).optional().describe('up or down.'),
      horizontal: z
        .enum(['left', 'right'])
        .optional()
        .describe('left or right of someone who faces increasing along.'),
      along: z.enum(['ahead', 'back']).optional().describe('ahead (towards increasing along) or back.'),
    })
    .optional()
    .describe(
      'On which side of the beam plane the target point is when the reading is positive. Left out: up, left, ahead, and check says so.',
    ),
  heading: z
    .number()
    .min(-360)
    .max(360)
    .optional()
    .describe(
      'Which way the instrument was turned, in degrees from along, + to the left. The zero error of its level turns with it.',
    ),
  air: z
    .union([
      z.strictObject(airKeys),
      z
        .array(z.strictObject({ rail: id.optional().describe('The rail that is in this air.'), ...airKeys }))
        .min(1)
        .max(200),
    ])
    .optional()
    .describe(
      'Gradient of temperature in the air that its beams cross. A list if rails are in different air.',
    ),
  note: text.optional().describe('Anything else to know about it.'),
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
  file: relativePath.describe('Path inside the job folder, with /.'),
  phase: phaseName.describe('as-found: before the work. as-left: after it. Or a phase that "phases" names.'),
  kind: z
    .enum(['offset', 'slope', 'span'])
    .optional()
    .describe(
      'offset (if left out): targets in beam planes. slope: level or autocollimator. span: distances across.',
    ),
  instrument: id.optional().describe('Which instrument. Only for slope and span files.'),
  unit: anyUnit.optional().describe('Unit of the readings. Needed for slope and span files.'),
  against: z
    .enum(['gravity', 'sight'])
    .optional()
    .describe(
      'Slopes against gravity (a level) or against a sight line of the instrument (an autocollimator).',
    ),
  decimal: z
    .enum(['point', 'comma'])
    .optional()
    .describe('The decimal mark, if the file does not show which one it uses: 1,234 could be either.'),
  ...mappingKeys,
});

const signedOff = z.strictObject({
  by: text.optional().describe('Name.'),
  on: day,
});
const conditionsSchema = z.strictObject({
  temperature: z
    .strictObject({
      from: finite.describe('Lowest, or the only one.'),
      to: finite.optional().describe('Highest.'),
      unit: z.enum(['C', 'F']).describe('C or F.'),
    })
    .optional()
    .describe('Temperature during the survey.'),
  note: text.optional().describe('Anything else that a reader should know: sun, draughts, loads, doors.'),
});

export const monumentSchema = z.strictObject({
  id: id.describe('The name that readings use.'),
  along: finite.describe('Nominal place along.'),
  across: finite.describe('Nominal place across.'),
  height: z
    .strictObject({
      value: finite.describe('The height; negative: lower than the rails.'),
      u: positive.describe('Standard uncertainty (k = 1), a block under the target included.'),
      unit: lengthUnit.describe('Its unit.'),
    })
    .optional()
    .describe(
      'Of a benchmark: how much higher a target sits on it, or on the block put there, than the rails should be. "elevation" is measured from it.',
    ),
});
export const targetSchema = z.strictObject({
  id: id.describe('One assembly at one rod height and bracket offset. A rod that is set again is a new one.'),
  serial: text.optional().describe('Serial number.'),
  note: text.optional().describe('Anything else to know about it.'),
  scale: uncertainty(z.enum(['%', 'ppm']), positive.max(10))
    .optional()
    .describe('How well its scale is known, as a share of every reading.'),
  roll: uncertainty(slopeUnit).optional().describe('How far it may be rolled about the line of sight.'),
  seat: uncertainty(lengthUnit)
    .optional()
    .describe('How well it repeats when it is placed again. Readings of one "placing" share this error.'),
  rod: z
    .strictObject({
      height: positive.describe('Height of the target point above the rail.'),
      unit: lengthUnit.describe('Its unit.'),
    })
    .optional()
    .describe('Its rod.'),
});
export const unitsSchema = z.strictObject({
  length: lengthUnit.describe('For nominal places: stations, distances across, set-ups, monuments.'),
  reading: lengthUnit.describe('For offset readings, unless the file itself says another.'),
});

const approvedSchema = signedOff.extend({
  role: text.optional().describe('In which role, for example head of the laboratory.'),
});

const correctionsSchema = z.strictObject({
  earthCurvature: z
    .boolean()
    .optional()
    .describe(
      'Level readings and levelled planes follow the earth. With this, heights are given from a straight line.',
    ),
  want: z.enum(correctionWants).optional().describe('What the moves shall reach.'),
  margin: nonNegative.max(0.95).optional().describe('Share of each limit that shall stay unused.'),
  untouched: z.array(id).max(1000).optional().describe('Rails that must not be moved.'),
  response: z
    .union([positive.max(1), uncertainty(z.literal('%'), positive.max(100))])
    .optional()
    .describe(
      'How well a move comes out: standard uncertainty (k = 1) as a share of the move, or in %. Left out: 0.1, assumed (common practice). What is stated here is allowed for in the list of moves.',
    ),
  least: z
    .strictObject({ value: nonNegative.describe('The amount.'), unit: lengthUnit.describe('Its unit.') })
    .optional()
    .describe('No smaller move is asked for. Left out: 10 um (common practice).'),
  datum: z
    .enum(['stays', 'moves'])
    .optional()
    .describe(
      'stays (if left out): the datum rail is moved only for limits of its own. moves: also for limits of other rails.',
    ),
  timeLimit: positive
    .max(3600)
    .optional()
    .describe(
      'Seconds that the search for the plan may take. After them the job ends without a report; the plan itself never depends on time. Left out: no limit.',
    ),
  spanAt20: z
    .strictObject({
      temperature: finite.describe('Temperature while the spans were measured.'),
      u: positive
        .max(100)
        .optional()
        .describe('Standard uncertainty of the temperature, in degrees of "unit", common to all spans.'),
      unit: z.enum(['C', 'F']).describe('C or F.'),
      machine: nonNegative.max(100).describe('Expansion coefficient of the machine, ppm/K.'),
      instrument: nonNegative.max(100).describe('Expansion coefficient of the tape or micrometer, ppm/K.'),
    })
    .optional()
    .describe('Reduces spans to 20 °C.'),
});

const confirmationSchema = z.strictObject({
  what: z
    .enum([...confirmable, ...(Object.keys(renamed) as (keyof typeof renamed)[])])
    .describe('The code of what was found, as check prints it.'),
  in: relativePath.optional().describe('The file in which it was found. Left out: any file.'),
  by: z.string().regex(/\S/, 'the name of a person').max(200).describe('Who looked at it.'),
  because: z
    .string()
    .regex(/\S/, 'the reason')
    .max(2000)
    .describe('Why it is right. Page 1 of the report prints it.'),
});

export const jobSchema = z
  .strictObject({
    $schema: z.string().optional().describe('Only for editors: where this schema is.'),
    format: z.literal('waysheet-job/1').describe('The format of this file.'),
    id: jobId.describe('Number of the job and of its report. It names the output folder.'),
    language: languagesSchema
      .optional()
      .describe(
        'Language of the report and of its sheets, or a list of two: the second small below the first, sheets in the first. Default: that of the brand, else en.',
      ),
    title: text.optional().describe('Title of the report.'),
    issuer: text.optional().describe('Who issues the report.'),
    customer: text.optional().describe('For whom.'),
    site: text.optional().describe('Where the machine is.'),
    machine: z
      .strictObject({
        name: text.optional().describe('Type or name of the machine.'),
        serial: text.optional().describe('Its serial number.'),
      })
      .optional()
      .describe('What was measured.'),
    surveyed: signedOff
      .optional()
      .describe('Who measured, and on which day. A calibration that was due before that day is reported.'),
    prepared: signedOff
      .optional()
      .describe('Who prepared the report, and on which day. The PDF has this date too.'),
    approved: approvedSchema
      .optional()
      .describe(
        'Who approved the report, and on which day. Left out: the report has a line to sign by hand.',
      ),
    contacts: z
      .strictObject({
        issuer: text.optional().describe('Address of the issuer.'),
        customer: text.optional().describe('Address of the customer.'),
      })
      .optional()
      .describe('Addresses, telephone numbers, e-mail.'),
    revision: text.optional().describe('Revision of the drawing or order on which the survey is based.'),
    procedure: text
      .optional()
      .describe('Number and edition of the written procedure that the crew followed.'),
    externalProviders: z
      .array(z.strictObject({ name: text.describe('Who.'), did: text.describe('Which part.') }))
      .max(100)
      .optional()
      .describe('Others who did a part of the work.'),
    units: unitsSchema.describe('Units of the numbers in this file and in the readings.'),
    report: z
      .strictObject({
        length: lengthUnit.optional().describe('Unit of nominal places.'),
        deviation: lengthUnit.optional().describe('Unit of deviations.'),
        slope: slopeUnit.optional().describe('Unit of slopes and angles.'),
        units: z
          .tuple([z.enum(['mm', 'in']), z.enum(['mm', 'in'])])
          .refine(([first, second]) => first !== second, 'both "mm" and "in", the first one first')
          .optional()
          .describe(
            'Both units next to each other: mm, um and um/m with in, thou and thou/ft. Figures are drawn in the first.',
          ),
        paper: z.enum(['A4', 'Letter']).optional().describe('Paper of the PDF.'),
      })
      .optional()
      .describe('Units and paper of the report. What is left out follows "units.length".'),
    conditions: conditionsSchema.optional().describe('Conditions during the survey.'),
    phases: z
      .record(
        phaseName,
        z.strictObject({
          surveyed: signedOff.optional().describe('Who measured this phase, and on which day.'),
          conditions: conditionsSchema.optional().describe('Conditions during this phase.'),
          machineState: text
            .optional()
            .describe('State of the machine: bridge on or off and where parked, loads, what was clamped.'),
          instruments: z.array(id).max(200).optional().describe('Instruments of this phase.'),
        }),
      )
      .optional()
      .describe(
        'Facts of one phase alone, by the name of the phase. Phases other than as-found and as-left are named here, in the order of the work.',
      ),
    rails: z.array(railSchema).min(1).max(200).describe('The rails. Exactly one of them is the datum.'),
    monuments: z
      .array(monumentSchema)
      .max(1000)
      .optional()
      .describe('Fixed points next to the machine that carry direction from one set-up to another.'),
    instruments: z
      .array(instrumentSchema)
      .min(1)
      .max(200)
      .describe('The instruments, and how accurate they are.'),
    setups: z
      .array(setupSchema)
      .max(1000)
      .optional()
      .describe('Where the instrument was placed. If it is moved or levelled again, that is a new set-up.'),
    targets: z
      .array(targetSchema)
      .max(1000)
      .optional()
      .describe('The target assemblies. If they are listed, readings may name no others.'),
    adjusters: z.array(adjusterSchema).max(1000).optional().describe('Places where a crew can move a rail.'),
    rods: z
      .array(
        z.strictObject({
          targets: z.tuple([id, id]).describe('Two targets. The point of the first is higher.'),
          difference: finite.describe('By how much.'),
          u: positive.describe('Standard uncertainty (k = 1) of the difference.'),
          unit: lengthUnit.describe('Unit of both.'),
        }),
      )
      .max(1000)
      .optional()
      .describe(
        'Rods that were measured against each other: a known difference ties the readings of two targets.',
      ),
    readings: z.array(readingsEntrySchema).min(1).max(1000).describe('The readings files.'),
    tolerances: z
      .union([z.array(toleranceSchema), relativePath])
      .optional()
      .describe('The tolerances: a list, or the path of a JSON file that has one.'),
    grade: id
      .optional()
      .describe('The grade (class, quality) of the tolerance set by which this machine is judged.'),
    corrections: correctionsSchema
      .optional()
      .describe('Physical reductions of the readings, each off if left out; and what the moves shall reach.'),
    confirmed: z
      .array(confirmationSchema)
      .max(100)
      .optional()
      .describe(
        'What looked wrong and is right, because a person checked it. Without this the job is not reported.',
      ),
    decision: z
      .strictObject({
        rule: z
          .enum(ruleNames)
          .optional()
          .describe(
            'simple: the value must be inside the limit. guarded: the whole coverage interval must be.',
          ),
        coverage: z
          .number()
          .min(0.5)
          .max(0.9999)
          .optional()
          .describe('Probability that the coverage interval holds the true value, such as 0.95.'),
        guardBand: positive
          .max(5)
          .optional()
          .describe(
            'For the guarded rule: guard band as a multiple r of the expanded uncertainty, w = r·U (JCGM 106). Left out: 1.',
          ),
        risk: nonNegative
          .max(0.5)
          .optional()
          .describe(
            'For the guarded rule: greatest risk of wrong acceptance, one-sided. Left out: half of 1 − coverage. Not together with guardBand.',
          ),
      })
      .refine(({ guardBand, risk }) => guardBand === undefined || risk === undefined, {
        path: ['risk'],
        message:
          'state one of the two, "risk" or "guardBand": each says how far inside the limit a value must lie',
      })
      .optional()
      .describe('How a value is judged against its limit (JCGM 106).'),
  })
  .describe(
    'A waysheet job: what was surveyed, how, and the tolerances. Lengths are in "units.length" unless another unit is given.',
  );
export type JobInput = z.infer<typeof jobSchema>;

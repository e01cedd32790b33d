/**
 * results.json: the one document from which charts, report and audit are made.
 * Units are fixed whatever the job used: positions mm, deviations and readings µm, slopes and angles µm/m.
 * Everything that the report says stands here; nothing in it is rounded.
 */
import { z } from 'zod';
import { omissible } from './omissible.js';
import { identityShape } from '../survey/characteristics/identity.js';
import { correctionWants, phaseName } from '../survey/job/job-schema.js';
import { effectKinds } from '../solution/solve/effect-kinds.js';
import { budgetSources } from '../solution/solve/budget-sources.js';

export { budgetSources, type BudgetSource } from '../solution/solve/budget-sources.js';

export const verdicts = ['conforms', 'does-not-conform', 'undecided', 'reported'] as const;

/** What a sentence says, for programs: a code of src/solution/reasons/reason.ts, and what it is about. */
const coded = z.strictObject({
  code: z.string(),
  data: z.record(
    z.string(),
    z.union([z.string(), z.number(), z.boolean(), z.null(), z.array(z.string()).readonly()]),
  ),
});
const reasons = z.array(coded);

/** A value with its standard uncertainty (k = 1), or null and the reason why the readings cannot give it. */
const quantity = z.union([
  z.strictObject({ value: z.number(), u: z.number() }),
  z.strictObject({ value: z.null(), why: z.string(), reasons: reasons.optional() }),
]);

const stated = z.strictObject({ value: z.number(), u: z.number() });
const place = z.strictObject({ file: z.string().nullable(), row: z.int().nullable() });
const railStation = z.strictObject({ rail: z.string(), station: z.int() });

/** What came in that deserves a line in the report, in words. */
const warning = z.strictObject({
  code: z.string(),
  file: z.string().nullable(),
  row: z.int().nullable(),
  column: z.string().nullable(),
  message: z.string(),
});

const suspect = z.strictObject({
  /** null: not a reading but a prior, named in `prior`. */
  file: z.string().nullable(),
  row: z.int().nullable(),
  axis: z.string(),
  prior: z.string().nullable(),
  /** The reading in words: "S1 on A:7, pass 1". */
  what: z.string(),
  /** Observed − computed, as read; µm, or µm/m for slopes. */
  residual: z.number(),
  standardised: z.number(),
  /** The error of a whole group (`groups`) that makes it look bad; it is innocent then. */
  explainedBy: z.string().optional(),
});

/** An error that many readings share, the likeliest first. */
const groupError = z.strictObject({
  kind: z.enum(['monument', 'target', 'rail', 'pass', 'sign', 'scale', 'curvature']),
  what: z.string(),
  mend: z.string(),
  setup: z.string(),
  axis: z.string(),
  readings: z.int(),
  /** µm; of a sign 1; of a scale a share; of a curvature µm/m². */
  size: z.number(),
  u: z.number(),
  unit: z.enum(['um', '1', 'um/m2']),
  /** By how much χ² falls when it is allowed for. */
  fall: z.number(),
});

/** The smallest error of a tie that would show (α = 0.001, power 0.80), and what one just below it does. */
const reliability = z.strictObject({
  what: z.string(),
  /** µm; null: nothing checks it. */
  shows: z.number().nullable(),
  /** Of characteristics with a tolerance, those it moves most; of what nothing checks, by 10 µm of it. */
  moves: z.array(
    z.strictObject({ what: z.string(), rail: z.string(), by: z.number(), unit: z.enum(['um', 'um/m']) }),
  ),
});

const adjustment = z.strictObject({
  /** Readings and priors. */
  readings: z.int(),
  priors: z.int(),
  unknowns: z.int(),
  rank: z.int(),
  redundancy: z.int(),
  /** null where no reading is checked by another. */
  sigma0: z.number().nullable(),
  /** Every u and interval is multiplied by it; never below 1. */
  scale: z.number(),
  /** Upper and lower tail probability of the χ² test of σ₀, null at redundancy 0. */
  chiSquare: z.strictObject({ statistic: z.number(), upperTail: z.number() }).nullable(),
  /** So many times as noisy as stated, readings would be noticed in 95 of 100 surveys. */
  noticedNoise: z.number().optional(),
  suspects: z.array(suspect),
  groups: z.array(groupError).optional(),
  reliability: z.array(reliability).optional(),
  /** Pooled standard deviation of repeated rows beside what the instrument claims. */
  repeatability: z.array(
    z.strictObject({
      instrument: z.string(),
      axis: z.string(),
      unit: z.enum(['um', 'um/m']),
      s: z.number(),
      claimed: z.number(),
      degreesOfFreedom: z.int(),
    }),
  ),
});

/** How a set-up stood, and how true its beam was to the work. */
const setupResult = z.strictObject({
  id: z.string(),
  readings: z.int(),
  yaw: quantity,
  pitch: quantity,
  roll: quantity,
  /** Largest |reading| in each axis as read, µm, null where not read; and the target range it had. */
  largest: z.strictObject({
    vertical: z.number().nullable(),
    horizontal: z.number().nullable(),
    along: z.number().nullable(),
  }),
  rangeLimit: z.number().nullable(),
  /** Rate of each plane where the set-up asked for it: µm/h, + up / left / ahead; significant at the job's coverage. */
  drift: z
    .array(
      z.strictObject({
        axis: z.enum(['vertical', 'horizontal', 'along']),
        rate: quantity,
        significant: z.boolean(),
      }),
    )
    .optional(),
});

const tie = z.strictObject({
  what: z.enum(['direction', 'height']),
  from: z.string(),
  to: z.string(),
  /** The points or target assemblies that carry it, in words. */
  by: z.array(z.string()),
  /** Distance between the outermost direction points across, mm; null for height. */
  baselineMm: z.number().nullable(),
  /** Yaw of `to` less yaw of `from` (µm/m), or height of the planes (µm) where it has a meaning. */
  difference: quantity,
});

const closure = z.strictObject({
  setup: z.string(),
  point: z.string(),
  target: z.string(),
  axis: z.string(),
  looks: z.int(),
  first: z.strictObject({ time: z.string().nullable(), reading: z.number(), row: place }),
  last: z.strictObject({ time: z.string().nullable(), reading: z.number(), row: place }),
  /** Last less first, as read, µm. */
  closure: z.number(),
  /** How much of it the drift found makes, where the set-up asks for drift, µm; the rest is held against `allowed`. */
  drift: z.number().optional(),
  /** What the stated uncertainty allows at the job's coverage, µm. */
  allowed: z.number(),
  exceeded: z.boolean(),
});

const loop = z.strictObject({
  /** The stations at which it goes from rail to rail. */
  through: z.array(z.string()),
  steps: z.int(),
  /** What the steps add up to, µm. */
  misclosure: z.number(),
  u: z.number(),
  /** What the stated uncertainty allows at the job's coverage, all loops together, µm. */
  allowed: z.number(),
  exceeded: z.boolean(),
});

const stationResult = z.strictObject({
  rail: z.string(),
  station: z.int(),
  along: z.number(),
  across: z.number(),
  /** + up, from the mean of the datum rail's stations. Absent where the station was not read in that plane. */
  height: quantity.optional(),
  /** + left, from the datum rail's least-squares line; of another rail less the mean of that phase, unless spans tie it. */
  offset: quantity.optional(),
  /** Cross rails: + ahead, from the rail's own mean, square to the datum rail's line. */
  ahead: quantity.optional(),
  /** Distance from the rail's own least-squares line; `along` for cross rails, in place of horizontal. */
  deviation: z.strictObject({
    vertical: quantity.optional(),
    horizontal: quantity.optional(),
    along: quantity.optional(),
  }),
  /**
   * This station less the datum rail at the same position along; `offset` about its mean unless `offsetTied`.
   * `acrossFromDatum` and `offsetTied` say how to read it.
   */
  difference: z.strictObject({ height: quantity.optional(), offset: quantity.optional() }).optional(),
});

/** What a new survey could do otherwise. */
export const remedies = [
  'more-passes',
  'other-end',
  'middle',
  'new-setups',
  'turned-level',
  'even-air',
  'centred-target',
  'turned-target',
  'own-placings',
  'lower-rod',
  'known-temperature',
  'quicker',
  'monuments-again',
  'heights-again',
  'one-target',
] as const;
export type Remedy = (typeof remedies)[number];

/** What may be in the hall and is not in the intervals, because the job does not state it. */
export const unstatedSources = ['air', 'air-sideways', 'cone', 'target-scale', 'target-roll'] as const;
const unstatedUnits = ['K/m', 'um/m', '%', 'mrad'] as const;

const unstatedEffect = z.strictObject({
  source: z.enum(unstatedSources),
  unit: z.enum(unstatedUnits),
  /** An ordinary size of it; `readingUm` is what it would add to a reading there, the most of all stations, µm. */
  size: z.number(),
  readingUm: z.number(),
  rail: z.string(),
  station: z.int(),
});

const endParts = z.strictObject({ reads: z.number(), factor: z.number(), u: z.number() });

const ofEither = {
  ...identityShape,
  unit: z.enum(['um', 'um/m']),
  /** Of limits that differ to two sides, the size of the one that the value comes nearest to. */
  limit: z.number().nullable(),
  /** Limits that differ to two sides; null: that side is open. Every point counts, not only the greatest magnitude. */
  zone: z
    .strictObject({
      from: z.number().nullable(),
      to: z.number().nullable(),
      /** Of all points. */
      least: z.number().nullable(),
      greatest: z.number().nullable(),
    })
    .optional(),
  verdict: z.enum(verdicts),
  /** That the true value meets the limit. */
  probability: z.number().nullable(),
  /** Signed characteristics are judged by |value|. */
  signed: z.boolean(),
  /** The stations that make the value: greatest first, then least; or the window's ends; or the one station. */
  at: z.array(railStation),
  /**
   * Of one with a tolerance, the points as they were judged, each from the reference that was taken, in `unit`; of a local
   * one those of its window. Empty where the value is no matter of single points. `position` is along the rail, mm.
   */
  profile: z
    .array(z.strictObject({ rail: z.string(), station: z.int(), position: z.number(), value: z.number() }))
    .optional(),
  /** Length for which a growing limit was taken, mm; null for a fixed limit. */
  limitLength: z.number().nullable(),
  /** Share of the variance by source, summing to 1; empty where there is no value. */
  budget: z.partialRecord(z.enum(budgetSources), z.number()),
  /** Readings that weigh most in a value with a tolerance, the most of its variance first; `trace` gives all. */
  readings: z
    .array(z.strictObject({ file: z.string(), row: z.int(), axis: z.string(), share: z.number() }))
    .optional(),
  /** Of one with a tolerance: what the lower and the upper end of the interval are worked out of, each reads + factor·u. */
  ends: z.strictObject({ lower: endParts, upper: endParts }).optional(),
  /** What would settle an undecided verdict, in one sentence. */
  settle: z.string().optional(),
  settling: coded.optional(),
  /** Share of its width that the interval of an undecided one must lose, and what would take how much of it. */
  helps: z
    .strictObject({
      needed: z.number(),
      ways: z.array(z.strictObject({ way: z.enum(remedies), narrower: z.number() })),
    })
    .optional(),
  /** Of effects that are not stated: up to which size the verdict would hold; those that no hall has enough of are left out. */
  holdsUpTo: z
    .array(z.strictObject({ source: z.enum(unstatedSources), unit: z.enum(unstatedUnits), upTo: z.number() }))
    .optional(),
};

/** With a value, or with the reason why there is none. */
const characteristic = z.union([
  z.strictObject({
    ...ofEither,
    value: z.number(),
    interval: z.tuple([z.number(), z.number()]),
    u: z.number(),
  }),
  z.strictObject({
    ...ofEither,
    value: z.null(),
    why: z.string(),
    reasons: reasons.optional(),
    interval: z.null(),
    u: z.null(),
  }),
]);

const residual = z.strictObject({
  file: z.string().nullable(),
  row: z.int().nullable(),
  /** offset, slope, span, or the name of a prior. */
  kind: z.string(),
  setup: z.string().nullable(),
  rail: z.string().nullable(),
  station: z.int().nullable(),
  axis: z.string(),
  pass: z.string().nullable(),
  residual: z.number(),
  /** null where nothing checks the reading (redundancy number 0). */
  standardised: z.number().nullable(),
  redundancy: z.number(),
});

const nullableText = z.string().nullable();
const signedOff = z.strictObject({ by: nullableText, on: nullableText });

/** Declared and read; see src/survey/readings/what-was-read.ts, whose shape this is. */
const railRead = z.strictObject({
  rail: z.string(),
  declared: z.int(),
  read: z.int(),
  unread: z.array(z.int()).readonly(),
  leftOut: z.array(z.int()).readonly(),
  lengthMm: z.number(),
  readLengthMm: z.number(),
  passes: z.strictObject({ fewest: z.int(), most: z.int() }),
  setups: z.array(z.string()).readonly(),
  planes: z
    .array(
      z.strictObject({
        plane: z.enum(['vertical', 'horizontal']),
        read: z.int(),
        unread: z.array(z.int()).readonly(),
      }),
    )
    .readonly(),
});

const phaseRead = z.strictObject({
  rails: z.array(railRead).readonly(),
  setups: z
    .array(
      z.strictObject({
        setup: z.string(),
        readings: z.int(),
        passes: z.int(),
        monuments: z.array(z.string()).readonly(),
        monumentsUnread: z.array(z.string()).readonly(),
        signChecks: z.array(z.enum(['vertical', 'horizontal', 'along'])).readonly(),
      }),
    )
    .readonly(),
  /** The same in words, as every command and page says it. */
  words: z.array(z.string()).readonly(),
});

const phase = z.strictObject({
  verdict: z.enum(verdicts),
  /** What was declared and what was read of it: stations by rail, monuments and sign checks by set-up. */
  read: phaseRead.optional(),
  /** What the job says of this phase alone. */
  facts: z
    .strictObject({
      surveyed: signedOff,
      temperatureC: z.strictObject({ from: z.number(), to: z.number() }).nullable(),
      note: nullableText,
      machineState: nullableText,
      instruments: z.array(z.string()),
    })
    .optional(),
  adjustment,
  setups: z.array(setupResult),
  ties: z.array(tie),
  closures: z.array(closure),
  /** Of level steps; absent where none close. */
  loops: z.array(loop).optional(),
  stations: z.array(stationResult),
  /** true for a rail whose offsets are tied to the datum by spans. */
  offsetTied: z.record(z.string(), z.boolean()),
  characteristics: z.array(characteristic),
  /** Residuals of readings and priors; of very large surveys the worst only, as `residualsLeftOut` says. */
  residuals: z.array(residual),
  residualsLeftOut: z.int(),
  /** Effects that are stated, as they were found: the prior and what the readings make of it. */
  effects: z
    .array(
      z.strictObject({
        kind: z.enum(effectKinds),
        of: z.string(),
        setup: z.string().nullable(),
        unit: z.enum(['K/m', 'um/m', '%', 'mrad', 'um', 'K']),
        /** Departure from what is stated. */
        value: z.number(),
        u: z.number(),
        statedU: z.number(),
      }),
    )
    .optional(),
  unstated: z.array(unstatedEffect).optional(),
  /** What the readings of this phase cannot determine, and which reading would. */
  undetermined: z.array(z.strictObject({ what: z.string(), why: z.string(), reasons: reasons.optional() })),
});

const correctionPlan = z.strictObject({
  /** best: no plan does better; found: the time ended before that was shown; impossible: not every limit can be met. */
  status: z.enum(['best', 'found', 'impossible']),
  /** What `adjuster` names; stations are named as "A:7". */
  of: z.enum(['adjusters', 'stations']),
  want: z.enum(correctionWants),
  margin: z.number(),
  /** By what share a better plan could be cheaper at most; null: not known. */
  gap: z.number().nullable(),
  /** What stands in the way, in words, and as figures. */
  why: z.string().optional(),
  reasons: reasons.optional(),
  missed: z
    .array(
      z.strictObject({
        /** Place among the phase's characteristics, from 0. */
        characteristic: z.int(),
        /** By how much the limit is missed, uncertainty included. */
        by: z.number(),
        unit: z.enum(['um', 'um/m']),
        /** Adjusters so far apart, m, that no travel would do: they leave so much. */
        coarse: z.strictObject({ apartM: z.number(), leaves: z.number() }).optional(),
      }),
    )
    .optional(),
  moves: z.array(
    z.strictObject({
      adjuster: z.string(),
      rail: z.string(),
      /** Along the rail, mm. */
      along: z.number(),
      axis: z.enum(['vertical', 'horizontal']),
      /** + up or left. */
      move: z.number(),
      unit: z.literal('um'),
      /** Turns of the screw, + in the direction of the move. */
      turns: z.number().optional(),
      /** Sheets to put in and to take out, µm each. */
      shims: z.strictObject({ add: z.array(z.number()), take: z.array(z.number()) }).optional(),
      /** What the adjuster has to press more than now, N, + upwards or to the left. */
      forceN: z.number().optional(),
    }),
  ),
  /** After the moves, with the interval that a new survey of the same kind would have. */
  predicted: z.array(characteristic),
  /** In which order the moves are made: rail by rail, and how many rounds there are of each rail. */
  order: z
    .array(
      z.strictObject({
        rail: z.string(),
        axis: z.enum(['vertical', 'horizontal']),
        adjusters: z.array(z.string()),
        rounds: z.int(),
      }),
    )
    .optional(),
  /** Moves so large that the readings' range is in the way: this share of each first, and a new survey. */
  coarseShare: z.number().optional(),
  /** Standard uncertainty of a move as a share of it: stated, or learnt from so many moves. */
  response: z.strictObject({ u: z.number(), learntFrom: z.int().nullable() }).optional(),
  /** Deviations of the stations from their rail's own line, now and after the moves, µm. */
  after: z
    .array(
      z.strictObject({
        rail: z.string(),
        station: z.int(),
        axis: z.enum(['vertical', 'horizontal']),
        now: z.number(),
        after: z.number(),
      }),
    )
    .optional(),
});
export type CorrectionPlan = z.infer<typeof correctionPlan>;

/** The move that brings a station to where it is wanted, µm: + up, left, or ahead. */
const pointMove = z.strictObject({
  rail: z.string(),
  station: z.int(),
  /** Position along the rail's own direction, mm. */
  along: z.number(),
  axis: z.enum(['vertical', 'horizontal', 'along']),
  move: z.number(),
  u: z.number(),
  /** The two parts of it: the rail as a whole, and the station onto the rail's line. */
  ofRail: z.number().optional(),
  ofStation: z.number().optional(),
});
export type PointMove = z.infer<typeof pointMove>;

/** A rail as a whole, at its first and last station: to lie level, or with the datum rail. */
const railMove = z.strictObject({
  rail: z.string(),
  axis: z.enum(['vertical', 'horizontal']),
  to: z.enum(['level', 'datum']),
  ends: z
    .array(z.strictObject({ station: z.int(), along: z.number(), move: z.number(), u: z.number() }))
    .length(2),
});
export type RailMove = z.infer<typeof railMove>;

/** What was asked of an adjuster after the survey before, and what the rail did there, µm. */
const doneMove = z.strictObject({
  adjuster: z.string(),
  rail: z.string(),
  axis: z.enum(['vertical', 'horizontal']),
  asked: z.number(),
  did: stated,
  says: z.enum(['as-asked', 'too-little', 'too-much', 'not-moved', 'not-asked', 'turned-the-wrong-way']),
});
export type DoneMove = z.infer<typeof doneMove>;

/** What makes a draft an issued report. @see ISO/IEC 17025:2017, 7.8.2 (identification) and 7.8.8 (amendments). */
export const issueSchema = z.strictObject({
  /** Unique among all issued reports of the office. */
  number: z.string(),
  /** Day of issue, ISO 8601. */
  on: z.string(),
  by: z.string(),
  /** What the job does not record, and the report was issued without. */
  without: z.array(z.enum(omissible)).min(1).optional(),
  /** Of the electronic signature on the PDF: names of the signer and of who certified it. */
  certificate: z.strictObject({ subject: z.string(), issuer: z.string() }).optional(),
  /** The report that this one takes the place of. */
  amends: z
    .strictObject({
      number: z.string(),
      because: z.string(),
      /** What is said otherwise than there, in words. */
      changes: z.array(z.string()),
    })
    .optional(),
});
export type Issue = z.infer<typeof issueSchema>;

export const resultsSchema = z.strictObject({
  format: z.literal('waysheet-results/1'),
  job: z.string(),
  /** Absent in a draft. */
  issue: issueSchema.optional(),
  verdict: z.enum(verdicts),
  software: z.strictObject({ name: z.literal('waysheet'), version: z.string(), method: z.string() }),
  inputs: z.array(z.strictObject({ path: z.string(), bytes: z.int(), sha256: z.string(), read: z.string() })),
  settings: z.strictObject({
    rule: z.enum(['simple', 'guarded']),
    coverage: z.number(),
    /** r of the guard band w = r·U, where it is not 1. */
    guardBand: z.number().optional(),
    draws: z.int(),
    seed: z.string(),
  }),
  subject: z.strictObject({
    title: nullableText,
    issuer: nullableText,
    customer: nullableText,
    site: nullableText,
    machine: z.strictObject({ name: nullableText, serial: nullableText }),
    surveyed: signedOff,
    prepared: signedOff,
    approved: signedOff.extend({ role: nullableText }).optional(),
    contacts: z.strictObject({ issuer: nullableText, customer: nullableText }).optional(),
    revision: z.string().optional(),
    procedure: z.string().optional(),
    externalProviders: z.array(z.strictObject({ name: z.string(), did: z.string() })).optional(),
    /** First and last day on which a reading was taken, from the readings' own times. */
    readingsTaken: z.strictObject({ from: nullableText, to: nullableText }),
    temperatureC: z.strictObject({ from: z.number(), to: z.number() }).nullable(),
    conditionsNote: nullableText,
  }),
  style: z.strictObject({
    length: z.string(),
    deviation: z.string(),
    slope: z.string(),
    paper: z.enum(['A4', 'Letter']),
  }),
  survey: z.strictObject({
    rails: z.array(
      z.strictObject({
        id: z.string(),
        name: nullableText,
        datum: z.boolean(),
        direction: z.enum(['along', 'across']),
        /** Stations that are declared, and those of them that the last phase read; `unread` by number. */
        read: z
          .strictObject({ declared: z.int(), read: z.int(), unread: z.array(z.int()).readonly() })
          .optional(),
        /** Where it is parted, mm along: nothing is interpolated across. */
        joints: z.array(z.number()).optional(),
        /** The shape it is wanted in, mm and µm, from which all its deviations are taken. */
        nominal: z
          .array(
            z.strictObject({
              plane: z.enum(['vertical', 'horizontal']),
              points: z.array(z.strictObject({ along: z.number(), offset: z.number() })),
            }),
          )
          .optional(),
        stations: z.array(z.strictObject({ station: z.int(), along: z.number(), across: z.number() })),
      }),
    ),
    monuments: z.array(z.strictObject({ id: z.string(), along: z.number(), across: z.number() })),
    instruments: z.array(
      z.strictObject({
        id: z.string(),
        description: nullableText,
        serial: nullableText,
        certificate: nullableText,
        calibrationDue: nullableText,
        /** The last calibration: laboratory and day. */
        calibrated: signedOff.optional(),
        /** true where the calibration had run out on the (last) day of measurement; null: dates not recorded. */
        overdue: z.boolean().nullable(),
        measures: z.enum(['length', 'slope']),
        readingU: z.number(),
        perMetreU: z.number(),
        levelU: z.number().nullable(),
        levelZeroU: z.number().nullable().optional(),
        coneU: z.number().nullable().optional(),
        /** Step of its display, contained in `readingU`; absent: not stated. */
        resolution: z.number().optional(),
        squareU: z.number().nullable(),
        /** Standard uncertainty of a plane's drift, µm/h. */
        driftU: z.number().nullable(),
        rangeLimit: z.number().nullable(),
      }),
    ),
    setups: z.array(
      z.strictObject({
        id: z.string(),
        instrument: z.string(),
        along: z.number(),
        across: z.number(),
        levelled: z.boolean(),
        plus: z.strictObject({
          vertical: z.enum(['up', 'down']),
          horizontal: z.enum(['left', 'right']),
          along: z.enum(['ahead', 'back']),
        }),
        headingDeg: z.number().optional(),
        /** Gradients as stated, K/m. */
        air: z
          .array(
            z.strictObject({
              rail: nullableText,
              vertical: stated.nullable(),
              sideways: stated.nullable(),
            }),
          )
          .optional(),
        note: nullableText,
        /** What was read from here, over all phases: rails by id, monuments by id. */
        sights: z.array(
          z.strictObject({
            rail: nullableText,
            monument: nullableText,
            along: z.number(),
            across: z.number(),
          }),
        ),
      }),
    ),
  }),
  toleranceSet: z.strictObject({
    name: nullableText,
    source: nullableText,
    file: nullableText,
    /** Whose values hold; absent: the set has none. */
    grade: z.string().optional(),
    /** Files of the sets that it is based on. */
    basedOn: z.array(z.string()).optional(),
  }),
  /** Only where the job was judged by a set that is not its own. */
  whatIf: z
    .strictObject({
      /** Path of the set among the inputs. */
      tolerances: z.string(),
      /** Where the job's own limits stand; null: it has none. */
      inPlaceOf: nullableText,
    })
    .optional(),
  /** In the order of the work. */
  phases: z.record(phaseName, phase),
  excluded: z.array(
    z.strictObject({
      file: z.string(),
      row: z.int(),
      phase: phaseName,
      what: z.string(),
      note: z.string(),
    }),
  ),
  warnings: z.array(warning),
  /** What looked wrong and was confirmed by a person; in documents of later editions than the first. */
  confirmations: z
    .array(
      z.strictObject({
        code: z.string(),
        file: nullableText,
        message: z.string(),
        by: z.string(),
        because: z.string(),
      }),
    )
    .optional(),
  /** Departure of a level surface from a straight line over the longest rail (sagitta), µm. */
  curvature: z.strictObject({ lengthMm: z.number(), sagittaUm: z.number() }),
  /** Physical corrections in force, and what is stated only as a caution. */
  corrections: z.strictObject({
    earthCurvature: z.boolean(),
    spanAt20: z
      .strictObject({ temperatureC: z.number(), machine: z.number(), instrument: z.number() })
      .nullable(),
    /** How far temperature alone would bow a rail, + up in the middle, µm. Nothing is corrected by it. */
    thermalBow: z.array(z.strictObject({ rail: z.string(), topWarmerByK: z.number(), bowUm: z.number() })),
    /** What to move. Of a job without adjusters the stations stand for them, where a verdict asks for moves. */
    ...correctionPlan.partial().shape,
    /** Every station to where it is wanted, and each rail as a whole. */
    points: z.array(pointMove).optional(),
    rails: z.array(railMove).optional(),
    /** As left beside what was asked after as found. */
    done: z.array(doneMove).optional(),
  }),
});

export type Results = z.infer<typeof resultsSchema>;
export type Quantity = z.infer<typeof quantity>;
export type PhaseResults = z.infer<typeof phase>;
export type CharacteristicResult = z.infer<typeof characteristic>;
/** One that the readings determine. */
export type Determined = Extract<CharacteristicResult, { value: number }>;
/** One that they do not: it says why. */
export type Undetermined = Extract<CharacteristicResult, { value: null }>;
export type StationResult = z.infer<typeof stationResult>;
export type SetupResult = z.infer<typeof setupResult>;
export type TieResult = z.infer<typeof tie>;
export type ClosureResult = z.infer<typeof closure>;
export { leftOpen } from '../solution/solve/closures.js';
export type AdjustmentResult = z.infer<typeof adjustment>;
export type Suspect = z.infer<typeof suspect>;
export type ResidualResult = z.infer<typeof residual>;
export type Verdict = (typeof verdicts)[number];
export type UnstatedEffect = z.infer<typeof unstatedEffect>;
export type UnstatedSource = (typeof unstatedSources)[number];
export type LoopResult = z.infer<typeof loop>;

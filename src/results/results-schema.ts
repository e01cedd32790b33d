/**
 * results.json: the one document from which charts, report and audit are made.
 * Units do not depend on the job: positions mm, deviations and readings µm, slopes and angles µm/m.
 * Everything that the report says is in it, and nothing in it is rounded. The description of each key is part of its
 * schema; the JSON Schema in templates/schemas takes it from here.
 */
import * as z from 'zod';
import { omissible } from './omissible.js';
import { identityShape } from '../survey/characteristics/identity.js';
import { correctionWants, phaseName, ruleNames } from '../survey/job/job-schema.js';
import { effectKinds } from '../solution/solve/priors.js';
import { budgetSources } from '../solution/solve/budget-sources.js';

export { budgetSources, type BudgetSource } from '../solution/solve/budget-sources.js';

export const verdicts = ['conforms', 'does-not-conform', 'undecided', 'reported'] as const;

/** The content of a sentence, for programs: a code of src/solution/reasons/reason.ts and its data. */
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

const warning = z.strictObject({
  code: z.string(),
  file: z.string().nullable(),
  row: z.int().nullable(),
  column: z.string().nullable(),
  message: z.string(),
});

const suspect = z.strictObject({
  file: z.string().nullable().describe('null: not a reading but a prior, which "prior" names.'),
  row: z.int().nullable(),
  axis: z.string(),
  prior: z.string().nullable(),
  what: z.string().describe('The reading in words: "S1 on A:7, pass 1".'),
  residual: z.number().describe('Observed − computed, as read, µm, or µm/m for slopes.'),
  standardised: z.number(),
});

const reliability = z
  .strictObject({
    what: z.string(),
    shows: z.number().nullable().describe('µm; null: nothing checks it.'),
    moves: z
      .array(
        z.strictObject({ what: z.string(), rail: z.string(), by: z.number(), unit: z.enum(['um', 'um/m']) }),
      )
      .describe(
        'The characteristics with a tolerance that it changes most: by how much what is judged changes, the survey solved with the error to either side. If nothing checks it: the effect of 10 µm.',
      ),
    turns: z
      .strictObject({ size: z.number(), characteristic: z.int(), to: z.enum(verdicts) })
      .optional()
      .describe(
        'If nothing checks it: the least error, µm, that would turn a verdict, and the place of that characteristic in the list.',
      ),
  })
  .describe(
    'The smallest error of a tie that would be noticed (α = 0.001, power 0.80), and the effect of an error just below it.',
  );

const adjustment = z.strictObject({
  readings: z.int().describe('Number of readings and of priors, such as a levelled plane.'),
  priors: z.int(),
  unknowns: z.int(),
  rank: z.int(),
  redundancy: z.int().describe('Readings minus rank: how many are checked by others.'),
  sigma0: z
    .number()
    .nullable()
    .describe(
      'Scatter of the readings relative to what the instruments claim; null: no reading is checked by another.',
    ),
  scale: z.number().describe('Factor of every u and interval, at least 1.'),
  chiSquare: z
    .strictObject({ statistic: z.number(), upperTail: z.number() })
    .nullable()
    .describe('χ² test of σ₀; null if the redundancy is 0.'),
  noticedNoise: z
    .number()
    .optional()
    .describe(
      'If the readings were this many times as noisy as stated, 95 of 100 such surveys would notice it.',
    ),
  suspects: z
    .array(suspect)
    .describe('Readings that the others contradict. The program leaves none of them out.'),
  critical: z
    .number()
    .optional()
    .describe(
      'A reading is a suspect if its |standardised| is greater: in 1 of 100 surveys without a mistake one is. Absent: no reading is checked.',
    ),
  reliability: z.array(reliability).optional(),
  repeatability: z
    .array(
      z.strictObject({
        instrument: z.string(),
        axis: z.string(),
        unit: z.enum(['um', 'um/m']),
        s: z.number(),
        claimed: z.number(),
        degreesOfFreedom: z.int(),
      }),
    )
    .describe('Pooled standard deviation of repeated rows, and what the instrument claims.'),
});

const setupResult = z.strictObject({
  id: z.string(),
  readings: z.int(),
  yaw: quantity.describe(
    'Rotation from along to across, from the datum rail’s least-squares line, µm/m. Value with its standard uncertainty u (k = 1), or null and why the readings cannot give it.',
  ),
  pitch: quantity.describe(
    'Rises with along, µm/m. Value with its standard uncertainty u (k = 1), or null and why the readings cannot give it.',
  ),
  roll: quantity.describe(
    'Rises to the left, µm/m. Value with its standard uncertainty u (k = 1), or null and why the readings cannot give it.',
  ),
  largest: z
    .strictObject({
      vertical: z.number().nullable(),
      horizontal: z.number().nullable(),
      along: z.number().nullable(),
    })
    .describe('Largest |reading| in each axis as read, µm; null: not read.'),
  rangeLimit: z.number().nullable().describe('Range of the target, µm; null: not stated.'),
  drift: z
    .array(
      z.strictObject({
        axis: z.enum(['vertical', 'horizontal', 'along']),
        rate: quantity,
        significant: z.boolean(),
      }),
    )
    .optional()
    .describe(
      'Rate of each plane, if the set-up has "drift": µm/h, + up / left / ahead; significant at the coverage of the job.',
    ),
});

const tie = z.strictObject({
  what: z.enum(['direction', 'height']),
  from: z.string(),
  to: z.string(),
  by: z.array(z.string()).describe('The points or target assemblies that carry it, in words.'),
  baselineMm: z
    .number()
    .nullable()
    .describe('Distance between the outermost direction points across, mm; null for height.'),
  difference: quantity.describe(
    'Yaw of "to" minus yaw of "from" (µm/m), or difference of height of the planes (µm) if it has a meaning.',
  ),
});

const closure = z.strictObject({
  setup: z.string(),
  point: z.string(),
  target: z.string(),
  axis: z.string(),
  looks: z.int(),
  first: z.strictObject({ time: z.string().nullable(), reading: z.number(), row: place }),
  last: z.strictObject({ time: z.string().nullable(), reading: z.number(), row: place }),
  closure: z.number().describe('Last minus first, as read, µm.'),
  drift: z
    .number()
    .optional()
    .describe(
      'The part of it that the drift explains, if the set-up has "drift", µm. The rest is compared with "allowed".',
    ),
  allowed: z
    .number()
    .describe(
      'What the stated uncertainty allows: in 1 of 100 surveys without a mistake one of all closures exceeds it, µm.',
    ),
  exceeded: z.boolean(),
});

const loop = z.strictObject({
  through: z.array(z.string()).describe('The stations at which it goes from rail to rail.'),
  steps: z.int(),
  misclosure: z.number().describe('Sum of the steps, µm.'),
  u: z.number(),
  allowed: z
    .number()
    .describe('What the stated uncertainty allows at the coverage of the job, for all loops together, µm.'),
  exceeded: z.boolean(),
});

const stationResult = z.strictObject({
  rail: z.string(),
  station: z.int(),
  along: z.number(),
  across: z.number(),
  height: quantity
    .optional()
    .describe(
      '+ up, from the mean of the datum rail’s stations, µm; absent: not read in this plane. Value with its standard uncertainty u (k = 1), or null and why the readings cannot give it.',
    ),
  offset: quantity
    .optional()
    .describe(
      '+ left, from the datum rail’s least-squares line, or about the mean of the rail itself if no span ties it, µm. Value with its standard uncertainty u (k = 1), or null and why the readings cannot give it.',
    ),
  ahead: quantity
    .optional()
    .describe(
      'For cross rails: + ahead, from the mean of the rail, square to the datum rail’s line, µm. Value with its standard uncertainty u (k = 1), or null and why the readings cannot give it.',
    ),
  deviation: z
    .strictObject({
      vertical: quantity.optional(),
      horizontal: quantity.optional(),
      along: quantity.optional(),
    })
    .describe(
      'Distance from the rail’s own least-squares line, µm; cross rails have "along" instead of "horizontal".',
    ),
  difference: z
    .strictObject({ height: quantity.optional(), offset: quantity.optional() })
    .optional()
    .describe(
      'This station minus the datum rail at the same place along, µm. "offset" is about its mean, unless "offsetTied" is true for the rail.',
    ),
});

/** What a new survey could change to get a narrower interval. */
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

/** Effects that may be present and are not in the intervals, because the job does not state them. */
export const unstatedSources = [
  'air',
  'air-sideways',
  'cone',
  'target-scale',
  'target-roll',
  'level-zero-along',
  'level-zero-across',
  'bow',
  'seating',
] as const;
const unstatedUnits = ['K/m', 'um/m', '%', 'mrad', 'K', 'um'] as const;

const unstatedEffect = z.strictObject({
  source: z.enum(unstatedSources),
  unit: z.enum(unstatedUnits),
  size: z.number().describe('An ordinary size of it.'),
  readingUm: z
    .number()
    .describe('What it would add to a reading at this station, µm: the largest of all stations.'),
  rail: z.string(),
  station: z.int(),
  does: z
    .array(
      z.strictObject({ what: z.string(), rail: z.string(), by: z.number(), unit: z.enum(['um', 'um/m']) }),
    )
    .optional()
    .describe(
      'How much an effect of this size would change each characteristic that has a limit; the nearest to its limit first. Seating is random: the standard uncertainty that it would add.',
    ),
  turnsAt: z
    .number()
    .nullable()
    .optional()
    .describe('The size from which the first verdict would change; null: none would, at any plausible size.'),
});

const endParts = z.strictObject({ reads: z.number(), factor: z.number(), u: z.number() });

const extreme = z.strictObject({ value: z.number(), u: z.number(), rail: z.string(), station: z.int() });

const characteristicKeys = {
  ...identityShape,
  unit: z.enum(['um', 'um/m']),
  limit: z
    .number()
    .nullable()
    .describe(
      'Tolerance limit; null: none. If the two sides have different limits: the size of the one that is nearest to the value, which is the extreme that lies nearest to its own limit.',
    ),
  zone: z
    .strictObject({
      from: z.number().nullable(),
      to: z.number().nullable(),
      least: z.number().nullable().describe('Least value of all points.'),
      greatest: z.number().nullable().describe('Greatest value of all points.'),
    })
    .optional()
    .describe(
      'If the two sides have different limits: both limits (null: no limit to that side). Every point counts, not only the greatest magnitude.',
    ),
  rule: z
    .enum(ruleNames)
    .optional()
    .describe('Decision rule of this limit, if it is not that of the settings.'),
  verdict: z.enum(verdicts),
  probability: z.number().nullable().describe('Confidence that the true value meets the limit.'),
  signed: z.boolean().describe('A signed characteristic is judged by |value|.'),
  at: z
    .array(railStation)
    .describe(
      'The stations that determine the value: greatest first, then least; or the ends of the window; or the one station.',
    ),
  profile: z
    .array(z.strictObject({ rail: z.string(), station: z.int(), position: z.number(), value: z.number() }))
    .optional()
    .describe(
      'With a tolerance: the points as they were judged, from the reference, in "unit" (for a local characteristic, those of its window). Empty if single points do not determine the value. "position" is along the rail, mm.',
    ),
  limitLength: z
    .number()
    .nullable()
    .describe('Length for which a growing limit was calculated, mm; null: the limit is fixed.'),
  budget: z
    .partialRecord(z.enum(budgetSources), z.number())
    .describe('Share of the variance by source. The sum is 1; empty if there is no value.'),
  readings: z
    .array(z.strictObject({ file: z.string(), row: z.int(), axis: z.string(), share: z.number() }))
    .optional()
    .describe(
      'With a tolerance: the readings with the largest shares of the variance, the largest first. The command trace gives all.',
    ),
  ends: z
    .strictObject({ lower: endParts, upper: endParts })
    .optional()
    .describe('With a tolerance: how each end of the interval was calculated, reads + factor·u.'),
  extremes: z
    .strictObject({ least: extreme, greatest: extreme })
    .optional()
    .describe('Both ends of a signed figure, with their stations.'),
  judged: z
    .strictObject({ value: z.number(), lower: z.number(), upper: z.number(), limit: z.number() })
    .optional()
    .describe(
      'What was judged, with the ends that the rule looks at: the magnitude, of a signed figure the distance from the middle of its zone, of a zone open to one side the figure from zero towards its limit. It conforms up to "upper" = "limit".',
    ),
  risk: z
    .strictObject({ of: z.enum(['wrong-acceptance', 'wrong-rejection']), atMost: z.number() })
    .optional()
    .describe('If it was decided: the greatest risk of the wrong decision, as the interval proves it.'),
  settle: z.string().optional().describe('What would decide an undecided verdict, in one sentence.'),
  settling: coded.optional().describe('The same as a code and its data, for programs.'),
  helps: z
    .strictObject({
      needed: z.number(),
      ways: z.array(z.strictObject({ way: z.enum(remedies), narrower: z.number() })),
    })
    .optional()
    .describe(
      'For an undecided verdict: the share of its width that the interval must lose, and how much of it each change of a new survey would take.',
    ),
  holdsUpTo: z
    .array(z.strictObject({ source: z.enum(unstatedSources), unit: z.enum(unstatedUnits), upTo: z.number() }))
    .optional()
    .describe(
      'For effects that are not stated: up to which size the verdict would hold. Sizes that no hall has are left out.',
    ),
};

const characteristic = z.union([
  z.strictObject({
    ...characteristicKeys,
    value: z.number().describe('The plain estimate, in "unit".'),
    interval: z
      .tuple([z.number(), z.number()])
      .describe('Coverage interval: holds the true value with the probability settings.coverage.'),
    u: z.number().describe('Standard uncertainty (k = 1).'),
  }),
  z.strictObject({
    ...characteristicKeys,
    value: z.null().describe('The readings do not determine it; "why" says why.'),
    why: z.string(),
    reasons: reasons.optional().describe('What "why" says, as codes and their data, for programs.'),
    interval: z.null(),
    u: z.null(),
  }),
]);

const residual = z.strictObject({
  file: z.string().nullable(),
  row: z.int().nullable(),
  kind: z.string().describe('offset, slope, span, or the name of a prior.'),
  setup: z.string().nullable(),
  rail: z.string().nullable(),
  station: z.int().nullable(),
  axis: z.string(),
  pass: z.string().nullable(),
  residual: z.number(),
  standardised: z.number().nullable().describe('null: nothing checks the reading (redundancy number 0).'),
  redundancy: z.number(),
});

const nullableText = z.string().nullable();
const signedOff = z.strictObject({ by: nullableText, on: nullableText });

/** The shape of src/survey/readings/what-was-read.ts. */
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
  words: z.array(z.string()).readonly().describe('The same in words, as every command and page prints it.'),
});

/** For schemas of more than this: `...characteristicPlace.shape`. A reference and a window are always there, or null. */
export const characteristicPlace = z.strictObject({
  phase: phaseName,
  ...identityShape,
  reference: identityShape.reference.unwrap().nullable(),
  over: identityShape.over.unwrap().nullable(),
  unit: z.enum(['um', 'um/m']),
});
export type CharacteristicPlace = z.infer<typeof characteristicPlace>;

const judgedFigures = z.strictObject({
  value: z.number().nullable(),
  u: z.number().nullable(),
  interval: z.tuple([z.number(), z.number()]).nullable(),
  limit: z.number().nullable(),
  /** Limits that differ to two sides; null: that side is open. */
  zone: z.strictObject({ from: z.number().nullable(), to: z.number().nullable() }).optional(),
  probability: z.number().nullable(),
  verdict: z.enum(verdicts),
});
export type JudgedFigures = z.infer<typeof judgedFigures>;

/** One characteristic in two reports of a job. */
export const judgedChange = z.strictObject({
  ...characteristicPlace.shape,
  signed: z.boolean(),
  /** null: the report has no such characteristic. */
  before: judgedFigures.nullable(),
  after: judgedFigures.nullable(),
});
export type JudgedChange = z.infer<typeof judgedChange>;

const phase = z.strictObject({
  verdict: z.enum(verdicts),
  read: phaseRead
    .optional()
    .describe(
      'What was declared, and what of it was read: stations by rail, monuments and sign checks by set-up.',
    ),
  facts: z
    .strictObject({
      surveyed: signedOff,
      temperatureC: z.strictObject({ from: z.number(), to: z.number() }).nullable(),
      note: nullableText,
      machineState: nullableText,
      instruments: z.array(z.string()),
    })
    .optional()
    .describe('What the job says about this phase alone.'),
  adjustment: adjustment.describe('The least-squares solution.'),
  setups: z
    .array(setupResult)
    .describe('How each set-up was placed, and the tilt and direction of its planes.'),
  ties: z.array(tie).describe('How direction and height were carried from set-up to set-up.'),
  closures: z.array(closure).describe('Last reading of a point minus the first, from one set-up.'),
  loops: z
    .array(loop)
    .optional()
    .describe('Sums of level steps around a closed way, the largest excess first; absent: no way is closed.'),
  stations: z.array(stationResult).describe('Every station that was read.'),
  offsetTied: z
    .record(z.string(), z.boolean())
    .describe('true: spans tie the offsets of this rail to the datum.'),
  characteristics: z.array(characteristic).describe('Each characteristic with its interval and verdict.'),
  residuals: z
    .array(residual)
    .describe('Observed − computed, as read, for readings and priors. Of very large surveys only the worst.'),
  residualsLeftOut: z.int().describe('How many residuals are left out.'),
  effects: z
    .array(
      z.strictObject({
        kind: z.enum(effectKinds),
        of: z.string(),
        setup: z.string().nullable(),
        unit: z.enum(['K/m', 'um/m', '%', 'mrad', 'um', 'K']),
        value: z.number().describe('Departure from what is stated.'),
        u: z.number(),
        statedU: z.number(),
      }),
    )
    .optional()
    .describe(
      'Effects that the job states, as they were found: the prior, and the result from the readings.',
    ),
  unstated: z
    .array(unstatedEffect)
    .optional()
    .describe(
      'Effects that may be present and are not in the intervals, because the job does not state them.',
    ),
  undetermined: z
    .array(z.strictObject({ what: z.string(), why: z.string(), reasons: reasons.optional() }))
    .describe('What the readings of this phase cannot determine, and which reading would.'),
});

/** Directions of a move: a cross rail goes ahead and back, another rail left and right. */
const directions = ['raise', 'lower', 'left', 'right', 'ahead', 'back'] as const;

const correctionPlan = z.strictObject({
  status: z
    .enum(['best', 'found', 'impossible'])
    .describe(
      'best: no plan is better. found: the search ended before that was shown. impossible: it is proven that not every limit can be met.',
    ),
  of: z.enum(['adjusters', 'stations']).describe('What "adjuster" names; a station is named as "A:7".'),
  want: z.enum(correctionWants),
  margin: z.number(),
  leastUm: z.number().optional().describe('No smaller move is asked for, µm.'),
  datum: z
    .strictObject({ rail: z.string(), moves: z.boolean() })
    .optional()
    .describe('The datum rail stays, unless a limit of its own asks for a move or the job lets it move.'),
  gap: z
    .number()
    .nullable()
    .describe(
      'The largest share of adjusters that a better plan could save; if it cannot save any, the largest share of movement. null: not known.',
    ),
  why: z.string().optional().describe('What prevents a plan, in words.'),
  reasons: reasons.optional(),
  missed: z
    .array(
      z.strictObject({
        characteristic: z.int().describe('Index in the characteristics of the phase, from 0.'),
        by: z.number().describe('By how much the limit is missed, uncertainty included.'),
        unit: z.enum(['um', 'um/m']),
        coarse: z
          .strictObject({ apartM: z.number(), leaves: z.number() })
          .optional()
          .describe('The adjusters are this far apart, m. However far they move, this much remains.'),
      }),
    )
    .optional(),
  wholes: z
    .array(
      z.strictObject({
        step: z.string().describe('Number in the list.'),
        rail: z.string(),
        axis: z.enum(['vertical', 'horizontal']),
        adjusters: z.array(z.string()).describe('In the order in which they are moved.'),
        ends: z
          .array(
            z.strictObject({
              adjuster: z.string(),
              along: z.number(),
              move: z.number().describe('+ up or left, µm.'),
              direction: z.enum(directions),
              amount: z.number(),
              u: z
                .number()
                .optional()
                .describe(
                  'Standard uncertainty of the rail’s line relative to the datum rail’s, µm; absent: the readings do not determine it.',
                ),
            }),
          )
          .length(2)
          .describe('At the first and the last adjuster along.'),
      }),
    )
    .optional()
    .describe(
      'Rails that move as a whole, in proportion between the ends. Their moves are the first of "moves".',
    ),
  moves: z
    .array(
      z.strictObject({
        step: z
          .string()
          .optional()
          .describe(
            'Number in the list: "1a", "1b" for a rail that moves as a whole, "2" for a single place.',
          ),
        adjuster: z.string(),
        rail: z.string(),
        along: z.number().describe('Along the rail, mm.'),
        axis: z.enum(['vertical', 'horizontal']),
        move: z.number().describe('+ up or left.'),
        unit: z.literal('um'),
        direction: z.enum(directions).optional().describe('The direction of the move as a word.'),
        amount: z.number().optional().describe('The amount of the move without a sign, µm.'),
        u: z
          .number()
          .optional()
          .describe('Standard uncertainty of the place of the rail there, from its own line, µm.'),
        rounds: z.int().optional().describe('Number of rounds, each with an equal share of the move.'),
        turns: z.number().optional().describe('Turns of the screw, + in the direction of the move.'),
        shims: z
          .strictObject({ add: z.array(z.number()), take: z.array(z.number()) })
          .optional()
          .describe('Sheets to add and to take out, µm each.'),
        forceN: z
          .number()
          .optional()
          .describe('Increase of the force on the adjuster, N, + upwards or to the left.'),
      }),
    )
    .describe(
      'The one list, in the order of the work: whole rails, then single places. Each place is in it once.',
    ),
  predicted: z
    .array(characteristic)
    .describe('After the moves, with the interval that a new survey of the same kind would have.'),
  places: z
    .array(z.strictObject({ adjuster: z.string(), rail: z.string(), along: z.number() }))
    .optional()
    .describe('Every adjuster of the job, moved or not; absent if the plan names stations.'),
  toRead: z
    .array(z.int())
    .optional()
    .describe(
      'Characteristics with a limit that were not measured, by their index in the phase: they need a reading, not a move.',
    ),
  coarseShare: z
    .number()
    .optional()
    .describe(
      'The moves are too large for the range of the readings: make this share of each first, then survey again.',
    ),
  response: z
    .strictObject({
      u: z.number(),
      learntFrom: z.int().nullable(),
      assumed: z.boolean().optional(),
      gain: z.number().optional().describe('Part of a move that arrives at the rail; absent: the whole.'),
      own: z
        .array(
          z.strictObject({
            adjuster: z.string(),
            axis: z.enum(['vertical', 'horizontal']),
            gain: z.number(),
          }),
        )
        .optional()
        .describe('Adjusters whose moves came out otherwise than those of the others.'),
    })
    .optional()
    .describe(
      'Standard uncertainty of a move as a share of it. "learntFrom": the number of moves from which it was estimated; null: stated, or assumed (common practice).',
    ),
  supports: z
    .array(
      z.strictObject({
        rail: z.string(),
        adjusters: z.array(z.string()),
        along: z.number().describe('Along the rail, mm.'),
        axis: z.enum(['vertical', 'horizontal']),
        carries: z
          .enum(['yes', 'no', 'not-known'])
          .describe('Whether the rail lies on it now, by its shape and weight or as the job states.'),
        now: z
          .strictObject({ value: z.number(), u: z.number() })
          .optional()
          .describe('Force now, N, by the shape and weight of the rail.'),
        change: z.number().nullable().describe('Change of force by the moves, N; null: not known.'),
        bringUp: z
          .boolean()
          .optional()
          .describe('It is brought up until it just carries before any move is made.'),
      }),
    )
    .optional()
    .describe('Supports of the rails whose stiffness is stated, and those over which a rail hangs.'),
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
    .optional()
    .describe('Deviations of the stations from their own rail’s line, now and after the moves, µm.'),
});
export type CorrectionPlan = z.infer<typeof correctionPlan>;

/** The move that brings a station to its wanted place, µm: + up, left, or ahead. */
const pointMove = z.strictObject({
  rail: z.string(),
  station: z.int(),
  along: z.number().describe('Position along the direction of the rail, mm.'),
  axis: z.enum(['vertical', 'horizontal', 'along']),
  move: z.number(),
  u: z.number(),
  ofRail: z.number().optional().describe('The part of the move that moves the rail as a whole.'),
  ofStation: z
    .number()
    .optional()
    .describe('The part of the move that brings the station onto the line of the rail.'),
});

/** The move of a rail as a whole, at its first and last station: to level, or to the datum rail. */
const railMove = z.strictObject({
  rail: z.string(),
  axis: z.enum(['vertical', 'horizontal']),
  to: z.enum(['level', 'datum']),
  ends: z
    .array(z.strictObject({ station: z.int(), along: z.number(), move: z.number(), u: z.number() }))
    .length(2),
});

/** The planned move of an adjuster after the survey before, and how the rail moved there, µm. */
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
  number: z.string().describe('Unique among all issued reports of the office.'),
  on: z.string().describe('Day of issue, ISO 8601.'),
  by: z.string(),
  without: z
    .array(z.enum(omissible))
    .min(1)
    .optional()
    .describe('What the job does not record. The report was issued without it.'),
  certificate: z
    .strictObject({ subject: z.string(), issuer: z.string() })
    .optional()
    .describe('Electronic signature of the PDF: names of the signer and of the certification authority.'),
  amends: z
    .strictObject({
      number: z.string(),
      because: z.string(),
      verdictBefore: z
        .enum(verdicts)
        .optional()
        .describe('Verdict of the replaced report; absent: the same.'),
      changes: z
        .array(z.union([judgedChange, z.string()]))
        .describe('Characteristics that changed, with their figures; in reports before 0.6.0 in words.'),
    })
    .optional()
    .describe('The report that this one replaces.'),
});
export type Issue = z.infer<typeof issueSchema>;

export const resultsSchema = z
  .strictObject({
    format: z.literal('waysheet-results/1').describe('The format of this file.'),
    job: z.string().describe('The id of the job.'),
    issue: issueSchema.optional().describe('Absent in a draft.'),
    verdict: z.enum(verdicts).describe('Verdict on the last phase that was surveyed.'),
    software: z
      .strictObject({ name: z.literal('waysheet'), version: z.string(), method: z.string() })
      .describe('The program that made it. "method" changes with anything that can change a number.'),
    inputs: z
      .array(z.strictObject({ path: z.string(), bytes: z.int(), sha256: z.string(), read: z.string() }))
      .describe('Every input file, with its SHA-256 and how it was read.'),
    settings: z
      .strictObject({
        rule: z.enum(ruleNames),
        coverage: z.number(),
        guardBand: z.number().optional().describe('r of the guard band w = r·U; absent: 1.'),
        risk: z
          .number()
          .optional()
          .describe('Greatest risk of wrong acceptance, one-sided, under guarded acceptance.'),
        draws: z.int(),
        seed: z.string(),
      })
      .describe('Decision rule, coverage, and the draws of the simulation with their seed.'),
    subject: z
      .strictObject({
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
        readingsTaken: z
          .strictObject({ from: nullableText, to: nullableText })
          .describe('First and last day of the readings, from their own times.'),
        temperatureC: z.strictObject({ from: z.number(), to: z.number() }).nullable(),
        conditionsNote: nullableText,
      })
      .describe('What the job says about the machine, the customer and the conditions; null: not recorded.'),
    style: z
      .strictObject({
        length: z.string(),
        deviation: z.string(),
        slope: z.string(),
        paper: z.enum(['A4', 'Letter']),
        also: z
          .strictObject({ length: z.string(), deviation: z.string(), slope: z.string() })
          .optional()
          .describe('Units that are printed next to these.'),
      })
      .describe('Units and paper of the report.'),
    survey: z
      .strictObject({
        rails: z.array(
          z.strictObject({
            id: z.string(),
            name: nullableText,
            datum: z.boolean(),
            direction: z.enum(['along', 'across']),
            read: z
              .strictObject({ declared: z.int(), read: z.int(), unread: z.array(z.int()).readonly() })
              .optional()
              .describe(
                'Stations that are declared, and those that the last phase read; "unread" by number.',
              ),
            joints: z
              .array(z.number())
              .optional()
              .describe('Where the rail is divided, mm along. Nothing is interpolated across a joint.'),
            nominal: z
              .array(
                z.strictObject({
                  plane: z.enum(['vertical', 'horizontal']),
                  points: z.array(z.strictObject({ along: z.number(), offset: z.number() })),
                }),
              )
              .optional()
              .describe('The wanted shape, mm and µm. All deviations are from it.'),
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
            calibrated: signedOff.optional().describe('The last calibration: laboratory and day.'),
            overdue: z
              .boolean()
              .nullable()
              .describe(
                'true: the calibration had expired on the (last) day of measurement; null: dates not recorded.',
              ),
            measures: z.enum(['length', 'slope']),
            readingU: z.number(),
            perMetreU: z.number(),
            levelU: z.number().nullable(),
            levelZeroU: z.number().nullable().optional(),
            coneU: z.number().nullable().optional(),
            resolution: z
              .number()
              .optional()
              .describe('Step of its display, contained in "readingU"; absent: not stated.'),
            squareU: z.number().nullable(),
            driftU: z.number().nullable().describe('Standard uncertainty of the drift of a plane, µm/h.'),
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
            air: z
              .array(
                z.strictObject({
                  rail: nullableText,
                  vertical: stated.nullable(),
                  sideways: stated.nullable(),
                }),
              )
              .optional()
              .describe('Gradients as stated, K/m.'),
            note: nullableText,
            sights: z
              .array(
                z.strictObject({
                  rail: nullableText,
                  monument: nullableText,
                  along: z.number(),
                  across: z.number(),
                }),
              )
              .describe('What was read from here, in all phases: rails by id, monuments by id.'),
          }),
        ),
      })
      .describe('What the job declares, in mm and µm.'),
    toleranceSet: z
      .strictObject({
        name: nullableText,
        source: nullableText,
        file: nullableText,
        grade: z.string().optional().describe('The grade whose values hold; absent: the set has none.'),
        basedOn: z.array(z.string()).optional().describe('Files of the sets on which it is based.'),
      })
      .describe('Where the limits come from.'),
    whatIf: z
      .strictObject({
        tolerances: z.string().describe('Path of the set among the inputs.'),
        inPlaceOf: nullableText.describe('Where the limits of the job itself are; null: it has none.'),
      })
      .optional()
      .describe(
        'Only if the job was judged by a tolerance set that is not its own. Such a report is not issued.',
      ),
    phases: z.record(phaseName, phase).describe('Each phase, solved by itself, in the order of the work.'),
    excluded: z
      .array(
        z.strictObject({
          file: z.string(),
          row: z.int(),
          phase: phaseName,
          what: z.string(),
          note: z.string(),
        }),
      )
      .describe('Rows that a person left out with use = no.'),
    warnings: z.array(warning).describe('What a reader of the report should know about the input, in words.'),
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
      .optional()
      .describe('What looked wrong and was confirmed by a person.'),
    curvature: z
      .strictObject({ lengthMm: z.number(), sagittaUm: z.number() })
      .describe('Departure of a level surface from a straight line over the longest rail (sagitta), µm.'),
    corrections: z
      .strictObject({
        earthCurvature: z.boolean(),
        spanAt20: z
          .strictObject({ temperatureC: z.number(), machine: z.number(), instrument: z.number() })
          .nullable(),
        thermalBow: z
          .array(z.strictObject({ rail: z.string(), topWarmerByK: z.number(), bowUm: z.number() }))
          .describe(
            'Bow of a rail by temperature alone, + up in the middle, µm. Nothing is corrected by it.',
          ),
        // A job without adjusters has a plan for its stations, if a verdict asks for moves.
        ...correctionPlan.partial().shape,
        points: z
          .array(pointMove)
          .optional()
          .describe('Written up to 0.5.0: the move of every station to its wanted place, µm.'),
        rails: z
          .array(railMove)
          .optional()
          .describe('Written up to 0.5.0: the move of each rail as a whole.'),
        done: z.array(doneMove).optional().describe('Planned moves compared with the as-left survey.'),
      })
      .describe(
        'Physical reductions that were applied, what is stated only as a caution, and the plan of moves.',
      ),
  })
  .describe(
    'What waysheet found, with all digits. Positions are in mm, deviations and readings in µm, slopes and angles in µm/m, whatever units the job used.',
  );

export type Results = z.infer<typeof resultsSchema>;
export type Quantity = z.infer<typeof quantity>;
export type PhaseResults = z.infer<typeof phase>;
export type CharacteristicResult = z.infer<typeof characteristic>;
/** A characteristic that the readings determine. */
export type Determined = Extract<CharacteristicResult, { value: number }>;
/** A characteristic that the readings do not determine. */
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

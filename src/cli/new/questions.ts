/**
 * What `waysheet new` asks, in this order. Every question is also a flag; what is neither answered nor given is
 * taken as usual, and said.
 */
import * as z from 'zod';
import type { Estimate } from '../../survey/job/job.js';
import { languages } from '../../survey/job/languages.js';
import { jobSchema, phaseNames, type PhaseName } from '../../survey/job/job-schema.js';
import type { Characteristic } from '../../survey/characteristics/characteristic.js';
import { characteristics, type CharacteristicName } from '../../survey/characteristics/characteristics.js';
import { toleranceRoot } from '../../survey/job/job-paths.js';
import { unitLabel } from '../../base/units/units.js';
import { MOST_PASSES, MOST_RAILS, MOST_STATIONS, readingUnit, slopeUnit, tidy, type Plan } from './plan.js';
import { placeStations, type StationsAsked } from './place-stations.js';
import {
  any,
  count,
  length,
  notNegative,
  oneOf,
  positive,
  quantity,
  reading,
  type Wrong,
} from './read-answer.js';

/** Answers so far, in the order of the questions; filled up by `take`. */
export type Draft = { -readonly [K in keyof Plan]?: Plan[K] } & { asked: StationsAsked };

export interface Question {
  readonly flag: string;
  /** What is asked, as a prompt and as the flag's help. */
  readonly what: (draft: Draft) => string;
  /** The explanation that an answer of "?" prints. */
  readonly explain: string;
  /** The answer when nothing is said, as it would be typed; '' is none. */
  readonly usual: (draft: Draft) => string;
  /** Whether the question makes sense after the answers so far; a flag is always looked at. */
  readonly isAsked: (draft: Draft) => boolean;
  /** Puts the answer into the draft, or says what is wrong with it. */
  readonly take: (text: string, draft: Draft) => Wrong | null;
}

const always = (): boolean => true;
const hasSeveralRails = (draft: Draft): boolean => (draft.rails ?? 0) > 1;
const hasAdjusters = (draft: Draft): boolean => typeof draft.adjusterSpacing === 'number';
const hasSet = (draft: Draft): boolean => (draft.toleranceSet ?? null) !== null;
const inches = (draft: Draft): boolean => draft.units === 'in';
const unit = (draft: Draft): 'mm' | 'in' => draft.units ?? 'mm';
const readingIn = (draft: Draft) => readingUnit({ units: unit(draft) });
const slopeIn = (draft: Draft) => slopeUnit({ units: unit(draft) });
const readingLabel = (draft: Draft): string => unitLabel(readingIn(draft));

export const questions: readonly Question[] = [
  {
    flag: 'id',
    what: () => 'Number of the job',
    explain:
      'It names the folder of the report, its pages and its line in the register: no two jobs share one.',
    usual: (draft) => draft.id ?? 'JOB-1',
    isAsked: always,
    take: (text, draft) => {
      const id = jobSchema.shape.id.safeParse(text);
      if (!id.success) return `wanted: ${id.error.issues[0]!.message}`;
      draft.id = id.data;
      return null;
    },
  },
  words('title', 'Title of the report', 'It is on the first page, as "Gantry mill, rails after regrout".'),
  words('customer', 'Customer', 'Who the report is for. Without it the report says "not recorded".'),
  words('site', 'Site', 'Where the machine is. Without it the report says "not recorded".'),
  words('machine', 'Machine, type or name', 'As its owner calls it; its serial number goes into job.json.'),
  words('by', 'Who surveys', 'The name that the report gives next to the date of the survey.'),
  {
    flag: 'on',
    what: () => 'Day of the survey, as 2026-03-14',
    explain: 'Year, month, day. Leave it out where it is not known yet, and put it into job.json later.',
    usual: () => '',
    isAsked: always,
    take: (text, draft) => {
      if (text !== '' && !z.iso.date().safeParse(text).success) return 'wanted: a day as 2026-03-14';
      draft.on = text === '' ? null : text;
      return null;
    },
  },
  {
    flag: 'units',
    what: () => 'Units of lengths: mm (readings in µm) or in (readings in thou)',
    explain: 'A number may still be given in any unit, with the unit after it: 10.8 m, 35 ft 5 in, 2 thou.',
    usual: () => 'mm',
    isAsked: always,
    take: (text, draft) => oneOf(text, ['mm', 'in'], (word) => (draft.units = word)),
  },
  {
    flag: 'rails',
    what: () => 'How many rails side by side',
    explain: 'Rail A is the datum, from which the others are measured; B, C … lie to the left of it.',
    usual: () => '2',
    isAsked: always,
    take: (text, draft) => count(text, 1, MOST_RAILS, (n) => (draft.rails = n)),
  },
  {
    flag: 'first',
    what: (draft) => `Place of station 1 along, ${unit(draft)}`,
    explain: 'Where the first target is, counted from whatever the machine counts from.',
    usual: () => '0',
    isAsked: always,
    take: (text, draft) => length(text, unit(draft), any, (value) => (draft.asked.first = value)),
  },
  {
    flag: 'count',
    what: () => 'How many stations on a rail, where that is known',
    explain: 'Two of count, length and spacing are enough. Nothing: they follow from length and spacing.',
    usual: () => '',
    isAsked: always,
    take: (text, draft) =>
      text === '' ? null : count(text, 2, MOST_STATIONS, (n) => (draft.asked.count = n)),
  },
  {
    flag: 'length',
    what: (draft) => `Length of a rail from its first to its last station, ${unit(draft)}`,
    explain: 'As 10800, 10.8 m or 35 ft 5 in. With a count, nothing: it follows from the spacing.',
    usual: (draft) => (draft.asked.count !== undefined ? '' : inches(draft) ? '240' : '6000'),
    isAsked: always,
    take: (text, draft) =>
      text === '' ? null : length(text, unit(draft), positive, (value) => (draft.asked.length = value)),
  },
  {
    flag: 'spacing',
    what: (draft) => `From station to station, ${unit(draft)}`,
    explain: 'Where it does not divide the length, the end of the rail is one more station.',
    usual: (draft) => (hasCountAndLength(draft) ? '' : usualSpacing(draft)),
    isAsked: (draft) => !hasCountAndLength(draft),
    take: (text, draft) => {
      const put = (value: number) => (draft.asked.spacing = value);
      return (text === '' ? null : length(text, unit(draft), positive, put)) ?? settleStations(draft);
    },
  },
  {
    flag: 'across',
    what: (draft) =>
      `Distance across from rail to rail, ${unit(draft)}; where they differ, one after the other, as 2000, 1400`,
    explain: 'Nominal, from the middle of one rail to the middle of the next.',
    usual: (draft) => (!hasSeveralRails(draft) ? '' : inches(draft) ? '84' : '2000'),
    isAsked: hasSeveralRails,
    take: (text, draft) => {
      draft.across = [0];
      if (text === '') return null;
      if (!hasSeveralRails(draft)) return 'there is one rail';
      const across = [0];
      const count = draft.rails! - 1;
      const given = text.split(/[,;]\s+|;/);
      if (given.length !== 1 && given.length !== count)
        return `wanted: one distance, or ${count}, one for each rail after the first`;
      for (let k = 0; k < count; k++) {
        const put = (value: number) => across.push(tidy(across[k]! + value));
        const wrong = length(given[given.length === 1 ? 0 : k]!, unit(draft), positive, put);
        if (wrong !== null) return wrong;
      }
      draft.across = across;
      return null;
    },
  },
  {
    flag: 'setups',
    what: () =>
      'Set-ups: one (all rails in one shot from the middle) or two (direction carried over by two monuments)',
    explain:
      'Two, where the rails lie too far apart for the targets: the instrument is moved across, two reference targets on the floor carry its direction over, and one target read on both rails its height.',
    usual: () => 'one',
    isAsked: hasSeveralRails,
    take: (text, draft) =>
      text === 'two' && !hasSeveralRails(draft)
        ? 'there is one rail: one set-up reads it'
        : oneOf(text, ['one', 'two'], (word) => (draft.setups = word)),
  },
  {
    flag: 'passes',
    what: () => 'Passes over each rail, forward and return in turn',
    explain: 'With one pass no reading is checked by another: a slip would not show.',
    usual: () => '2',
    isAsked: always,
    take: (text, draft) => count(text, 1, MOST_PASSES, (n) => (draft.passes = n)),
  },
  {
    flag: 'crews',
    what: () => 'Crews that take the passes in turn, each with a readings file of its own',
    explain:
      'Two people who type into one file overwrite each other. A crew that levels the instrument again adds a set-up.',
    usual: () => '1',
    isAsked: ({ passes = 1 }) => passes > 1,
    take: (text, draft) => count(text, 1, draft.passes ?? 1, (n) => (draft.crews = n)),
  },
  {
    flag: 'phases',
    what: () => 'Phases: as-found, as-left or both',
    explain:
      'As found before anything is moved, as left when the adjusters are done. Both: the files of the second may stay empty until it is measured.',
    usual: () => 'as-left',
    isAsked: always,
    take: (text, draft) =>
      oneOf(text, [...phaseNames, 'both'], (word) => {
        draft.phases = word === 'both' ? phaseNames : [word as PhaseName];
      }),
  },
  {
    flag: 'u',
    what: (draft) =>
      `Standard uncertainty (k = 1) of one reading near the instrument, ${readingLabel(draft)}`,
    explain:
      "How much readings of one place scatter, as a standard deviation. From the instrument's certificate (half of what it states at k = 2), or from twenty readings of one place.",
    usual: (draft) => (inches(draft) ? '0.06' : '1.5'),
    isAsked: always,
    take: (text, draft) => reading(text, readingIn(draft), positive, (value) => (draft.u = value)),
  },
  {
    flag: 'per-metre',
    what: (draft) => `Its growth for every metre of distance, ${readingLabel(draft)}`,
    explain:
      'The part that grows with the distance from the instrument; 0 where the certificate states none.',
    usual: (draft) => (inches(draft) ? '0.012' : '0.3'),
    isAsked: always,
    take: (text, draft) => reading(text, readingIn(draft), notNegative, (value) => (draft.perMetre = value)),
  },
  {
    flag: 'level-u',
    what: () => 'Standard uncertainty (k = 1) of the levelled plane, arcsec',
    explain:
      'How well the plane is level after levelling: the level vial or the compensator, about each axis.',
    usual: () => '1',
    isAsked: always,
    take: (text, draft) => quantity(text, ['arcsec', 'um/m'], positive, (level) => (draft.level = level)),
  },
  {
    flag: 'thermometers',
    what: () =>
      'Air next to the rails, thermometers at two heights: below, above, and how far apart, as 21.0 C, 21.3 C, 1.5 m; or none',
    explain:
      'Light bends towards colder air: 0.1 degrees a metre bend it by some 7 µm over 12 m, and no number of passes averages that. Hang one at knee height and one at head height for a quarter of an hour. Without them the report says what the air could have done.',
    usual: () => 'none',
    isAsked: always,
    take: (text, draft) => {
      if (text === 'none') draft.air = null;
      else {
        const gradient = gradientOf(text);
        if (typeof gradient === 'string') return gradient;
        draft.air = gradient;
      }
      return null;
    },
  },
  {
    flag: 'target-scale',
    what: () => 'How far the scale of a target may be off, % (k = 1), or none',
    explain:
      'From its certificate, or from moving it by a known shim: reads 0.997 for 1 mm is 0.3 %. It matters where readings are far from zero.',
    usual: () => 'none',
    isAsked: always,
    take: (text, draft) => {
      if (text !== 'none')
        return quantity(
          text.replace(/\s*%$/, ''),
          ['%'],
          positive,
          ({ value }) => (draft.targetScale = value),
        );
      draft.targetScale = null;
      return null;
    },
  },
  {
    flag: 'range',
    what: (draft) => `What the target reads either side of zero, ${unit(draft)}, or none`,
    explain: 'Readings beyond it are refused, and those beyond 80 % of it are named.',
    usual: (draft) => (inches(draft) ? '0.5' : '12.7'),
    isAsked: always,
    take: (text, draft) => {
      if (text !== 'none') return length(text, unit(draft), positive, (value) => (draft.range = value));
      draft.range = null;
      return null;
    },
  },
  {
    flag: 'spans',
    what: () =>
      'At how many stations the distance across is measured (tape, micrometer, tracker), 0 for none',
    explain:
      'The instrument sees how far each rail departs from straight and parallel, not how far apart they are.',
    usual: (draft) => (hasSeveralRails(draft) ? String(Math.min(3, draft.stations?.length ?? 0)) : '0'),
    isAsked: hasSeveralRails,
    take: (text, draft) =>
      hasSeveralRails(draft)
        ? count(text, 0, draft.stations?.length ?? 0, (n) => (draft.spans = n))
        : count(text, 0, 0, (n) => (draft.spans = n)),
  },
  {
    flag: 'span-u',
    what: (draft) => `Standard uncertainty (k = 1) of such a distance, ${unit(draft)}`,
    explain: 'Of one measurement of the distance across, the setting of the ends included.',
    usual: (draft) => (inches(draft) ? '0.002' : '0.05'),
    isAsked: (draft) => (draft.spans ?? 0) > 0,
    take: (text, draft) => length(text, unit(draft), positive, (value) => (draft.spanU = value)),
  },
  {
    flag: 'slopes',
    what: () => 'Steps with a level: none, along (each rail from station to station) or both (and across)',
    explain:
      'A level reads against gravity and needs no target: it checks heights and level independently of the instrument.',
    usual: () => 'none',
    isAsked: always,
    take: (text, draft) => oneOf(text, ['none', 'along', 'both'], (word) => (draft.slopes = word)),
  },
  {
    flag: 'slope-u',
    what: (draft) => `Standard uncertainty (k = 1) of one reading of the level, ${unitLabel(slopeIn(draft))}`,
    explain: 'From its certificate, or from twenty readings of one place.',
    usual: (draft) => (inches(draft) ? '0.05' : '4'),
    isAsked: (draft) => draft.slopes !== 'none',
    take: (text, draft) => quantity(text, [slopeIn(draft)], positive, ({ value }) => (draft.slopeU = value)),
  },
  {
    flag: 'tolerance-set',
    what: () =>
      'Tolerance set of the office, its path from the job folder (../tolerances/name.json), or none',
    explain:
      'A file with the limits that many machines share, which the job names: inside the job folder, or in a folder “tolerances” above it. None: limits are asked for one by one.',
    usual: () => 'none',
    isAsked: always,
    take: (text, draft) => {
      draft.toleranceSet = null;
      if (text === 'none') return null;
      if (toleranceRoot(text) === null)
        return 'wanted: a path inside the job folder, or as ../tolerances/name.json';
      draft.toleranceSet = { file: text, grade: null };
      return null;
    },
  },
  {
    flag: 'grade',
    what: () => 'Grade of the machine in that set, or none',
    explain: 'Where the set has its limits by grade or class. None: the grade that the set itself names.',
    usual: () => 'none',
    isAsked: hasSet,
    take: (text, draft) => {
      if (text === 'none') return null;
      if (!draft.toleranceSet) return 'a grade is one of a tolerance set: give --tolerance-set too';
      const grade = jobSchema.shape.grade.safeParse(text);
      if (!grade.success) return `wanted: ${grade.error.issues[0]!.message}`;
      draft.toleranceSet = { ...draft.toleranceSet, grade: text };
      return null;
    },
  },
  ...characteristics.flatMap((of) => (of.prompt === null ? [] : [tolerance(of, of.prompt)])),
  {
    flag: 'decision',
    what: () => 'Decision: guarded or simple',
    explain:
      'Guarded: conforms only where the whole 95 % interval lies inside the limit, and what cannot be told is "undecided"; a rail beyond the limit passes once in forty times at most. Simple: the value alone decides; a rail just beyond its limit then passes up to half of the time. The contract, or ISO 14253-1 where it says nothing, tells which.',
    usual: () => 'guarded',
    isAsked: (draft) => hasSet(draft) || (draft.tolerances ?? []).length > 0,
    take: (text, draft) => oneOf(text, ['guarded', 'simple'], (word) => (draft.rule = word)),
  },
  {
    flag: 'adjusters',
    what: (draft) => `From one adjuster to the next along a rail, ${unit(draft)}, or none`,
    explain:
      'Levelling screws, wedges or jacks under each rail, the first at station 1. With them the report plans which to turn, and by how much. Shims, pitches and single places go into job.json.',
    usual: () => 'none',
    isAsked: always,
    take: (text, draft) => {
      if (text !== 'none')
        return length(text, unit(draft), positive, (value) => (draft.adjusterSpacing = value));
      draft.adjusterSpacing = null;
      return null;
    },
  },
  {
    flag: 'travel',
    what: (draft) => `Travel that each adjuster has left, up and down, ${unit(draft)}`,
    explain: 'Of the one that has least; where they differ, job.json says it for each.',
    usual: (draft) => (!hasAdjusters(draft) ? '' : inches(draft) ? '0.04' : '1'),
    isAsked: hasAdjusters,
    take: (text, draft) => {
      draft.travel = null;
      if (text === '') return null;
      if (!hasAdjusters(draft)) return 'there are no adjusters';
      return length(text, unit(draft), positive, (value) => (draft.travel = value));
    },
  },
  {
    flag: 'language',
    what: () => 'Language: en, de, fr, es or it',
    explain: 'Of the report and of the field sheet. Numbers and files stay as they are.',
    usual: () => 'en',
    isAsked: always,
    take: (text, draft) => oneOf(text, languages, (word) => (draft.language = word)),
  },
  {
    flag: 'paper',
    what: () => 'Paper: A4 or Letter',
    explain: 'Of the report and of the field sheet.',
    usual: (draft) => (inches(draft) ? 'Letter' : 'A4'),
    isAsked: always,
    take: (text, draft) => oneOf(text, ['A4', 'Letter'], (word) => (draft.paper = word)),
  },
];

function words(
  flag: 'title' | 'customer' | 'site' | 'machine' | 'by',
  what: string,
  explain: string,
): Question {
  return {
    flag,
    what: () => what,
    explain,
    usual: () => '',
    isAsked: always,
    take: (text, draft) => {
      if (text.length > 2000) return 'wanted: at most 2000 characters';
      draft[flag] = text === '' ? null : text;
      return null;
    },
  };
}

function tolerance(
  { name: what, family, rails }: Characteristic<CharacteristicName>,
  name: string,
): Question {
  const isSlope = family === 'slope';
  const isAsked = (draft: Draft): boolean =>
    what === 'span' ? (draft.spans ?? 0) > 0 : rails !== 'against-datum' || hasSeveralRails(draft);
  const own = (draft: Draft) => (isSlope ? slopeIn(draft) : readingIn(draft));
  return {
    flag: what,
    what: (draft) => `Tolerance of ${name}, ${unitLabel(own(draft))}`,
    explain:
      'As the drawing or the contract has it, with its unit if that is another. Nothing: it is reported without a verdict. Limits that grow with length, and others, go into job.json.',
    usual: () => '',
    isAsked: (draft) => !hasSet(draft) && isAsked(draft),
    take: (text, draft) => {
      draft.tolerances ??= [];
      if (text === '') return null;
      if (hasSet(draft)) return 'the limits are in the tolerance set already: one of the two';
      if (!isAsked(draft)) return 'this plan has nothing that it could be asked of';
      const unitOfLimit = own(draft);
      const put = (limit: number) =>
        (draft.tolerances = [...draft.tolerances!, { what, limit, unit: unitOfLimit }]);
      if (!isSlope) return reading(text, readingIn(draft), positive, put);
      const units = [unitOfLimit, ...(['um/m', 'mm/m', 'thou/ft', 'arcsec'] as const)] as const;
      return quantity(text, units, positive, ({ value, unit: given }) => {
        draft.tolerances = [...draft.tolerances!, { what, limit: value, unit: given }];
      });
    },
  };
}

/** How well a thermometer reads that hangs in a hall, K (common practice, no source). */
const THERMOMETER_U = 0.1;

/** "21.0 C, 21.3 C, 1.5 m" → K/m, + warmer above, and how well it is known. */
function gradientOf(text: string): Estimate | Wrong {
  const wanted = 'wanted: temperature below, temperature above, how far apart, as 21.0 C, 21.3 C, 1.5 m';
  const parts = text.split(/[,;]\s+|\s*;\s*/);
  if (parts.length !== 3) return wanted;
  const degrees = parts.slice(0, 2).map((part) => /^([+-]?\d+(?:\.\d+)?)\s*°?([CF])$/i.exec(part.trim()));
  let apart = 0;
  const wrong = length(parts[2]!, 'm', positive, (value) => (apart = value));
  const [below, above] = degrees;
  if (wrong !== null || !below || !above || below[2]!.toUpperCase() !== above[2]!.toUpperCase())
    return wanted;
  const kelvin = below[2]!.toUpperCase() === 'F' ? 5 / 9 : 1;
  const value = tidy(((Number(above[1]) - Number(below[1])) * kelvin) / apart);
  return { value, u: tidy((Math.SQRT2 * THERMOMETER_U) / apart) };
}

const hasCountAndLength = ({ asked }: Draft): boolean =>
  asked.count !== undefined && asked.length !== undefined;

const usualSpacing = (draft: Draft): string => {
  const usual = inches(draft) ? 24 : 500;
  const span = draft.asked.length;
  return String(span === undefined || span >= 4 * usual ? usual : tidy(span / 8));
};

function settleStations(draft: Draft): Wrong | null {
  const placed = placeStations(draft.asked, unit(draft));
  if (typeof placed === 'string') return placed;
  draft.stations = placed;
  return null;
}

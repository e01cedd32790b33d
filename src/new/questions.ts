/**
 * What `waysheet new` asks, in this order. Every question is also a flag; what is neither answered nor given is
 * taken as usual, and said.
 */
import { jobSchema, phaseNames, type PhaseName } from '../job/job-schema.js';
import { fromMm, fromUm, isLengthUnit, toMm, toUm, unitLabel, type LengthUnit } from '../job/units.js';
import { readNumber } from '../readings/number.js';
import { MOST_PASSES, MOST_RAILS, MOST_STATIONS, readingUnit, tidy, type Plan } from './plan.js';
import { placeStations, type StationsAsked } from './place-stations.js';

/** Answers so far, in the order of the questions; filled up by `take`. */
export type Draft = { -readonly [K in keyof Plan]?: Plan[K] } & { asked: StationsAsked };
type Wrong = string;

export interface Question {
  readonly flag: string;
  /** What is asked, as a prompt and as the flag's help. */
  readonly what: (draft: Draft) => string;
  /** The answer when nothing is said, as it would be typed; '' stands for none. */
  readonly usual: (draft: Draft) => string;
  /** Whether the question makes sense after the answers so far; a flag is always looked at. */
  readonly isAsked: (draft: Draft) => boolean;
  /** Puts the answer into the draft, or says what is wrong with it. */
  readonly take: (text: string, draft: Draft) => Wrong | null;
}

const always = (): boolean => true;
const hasSeveralRails = (draft: Draft): boolean => (draft.rails ?? 0) > 1;
const inches = (draft: Draft): boolean => draft.units === 'in';
const unit = (draft: Draft): string => draft.units ?? 'mm';
const readingLabel = (draft: Draft): string => unitLabel(readingUnit({ units: draft.units ?? 'mm' }));

export const questions: readonly Question[] = [
  {
    flag: 'id',
    what: () => 'Number of the job',
    usual: (draft) => draft.id ?? 'JOB-1',
    isAsked: always,
    take: (text, draft) => {
      const id = jobSchema.shape.id.safeParse(text);
      if (!id.success) return `wanted: ${id.error.issues[0]!.message}`;
      draft.id = id.data;
      return null;
    },
  },
  words('title', 'Title of the report'),
  words('customer', 'Customer'),
  words('machine', 'Machine, type or name'),
  {
    flag: 'units',
    what: () => 'Units of lengths: mm (readings in µm) or in (readings in thou)',
    usual: () => 'mm',
    isAsked: always,
    take: (text, draft) => oneOf(text, ['mm', 'in'], (word) => (draft.units = word)),
  },
  {
    flag: 'rails',
    what: () => 'How many rails side by side',
    usual: () => '2',
    isAsked: always,
    take: (text, draft) => count(text, 1, MOST_RAILS, (n) => (draft.rails = n)),
  },
  {
    flag: 'first',
    what: (draft) => `Place of station 1 along, ${unit(draft)}`,
    usual: () => '0',
    isAsked: always,
    take: (text, draft) => length(text, draft, any, (value) => (draft.asked.first = value)),
  },
  {
    flag: 'length',
    what: (draft) => `Length of a rail from its first to its last station, ${unit(draft)}`,
    usual: (draft) =>
      draft.asked.spacing !== undefined && draft.asked.count !== undefined
        ? ''
        : inches(draft)
          ? '240'
          : '6000',
    isAsked: (draft) => draft.asked.spacing === undefined || draft.asked.count === undefined,
    take: (text, draft) =>
      text === '' ? null : length(text, draft, positive, (value) => (draft.asked.length = value)),
  },
  {
    flag: 'spacing',
    what: (draft) => `From station to station, ${unit(draft)}`,
    usual: (draft) => (draft.asked.count === undefined ? usualSpacing(draft) : ''),
    isAsked: (draft) => draft.asked.count === undefined,
    take: (text, draft) => {
      const wrong =
        text === '' ? null : length(text, draft, positive, (value) => (draft.asked.spacing = value));
      return wrong ?? settleStations(draft);
    },
  },
  {
    flag: 'across',
    what: (draft) => `Distance across from rail to rail, ${unit(draft)}`,
    usual: (draft) => (!hasSeveralRails(draft) ? '' : inches(draft) ? '84' : '2000'),
    isAsked: hasSeveralRails,
    take: (text, draft) => {
      if (text === '') draft.across = 0;
      else if (!hasSeveralRails(draft)) return 'there is one rail';
      else return length(text, draft, positive, (value) => (draft.across = value));
      return null;
    },
  },
  {
    flag: 'setups',
    what: () =>
      'Set-ups: one (all rails in one shot from the middle) or two (direction carried over by two monuments)',
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
    usual: () => '2',
    isAsked: always,
    take: (text, draft) => count(text, 1, MOST_PASSES, (n) => (draft.passes = n)),
  },
  {
    flag: 'phases',
    what: () => 'Phases: as-found, as-left or both',
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
    usual: (draft) => (inches(draft) ? '0.06' : '1.5'),
    isAsked: always,
    take: (text, draft) => reading(text, draft, positive, (value) => (draft.u = value)),
  },
  {
    flag: 'per-metre',
    what: (draft) => `Its growth for every metre of distance, ${readingLabel(draft)}`,
    usual: (draft) => (inches(draft) ? '0.012' : '0.3'),
    isAsked: always,
    take: (text, draft) => reading(text, draft, notNegative, (value) => (draft.perMetre = value)),
  },
  {
    flag: 'level-u',
    what: () => 'Standard uncertainty (k = 1) of the levelled plane, arcsec',
    usual: () => '1',
    isAsked: always,
    take: (text, draft) => {
      const read = numberOf(text);
      if (read === null) return NOT_A_NUMBER;
      if (read.unit !== null && read.unit !== 'arcsec' && read.unit !== 'um/m')
        return 'wanted: arcsec or um/m';
      if (!(read.value > 0)) return positive.words;
      draft.level = { value: read.value, unit: read.unit ?? 'arcsec' };
      return null;
    },
  },
  {
    flag: 'range',
    what: (draft) => `What the target reads either side of nought, ${unit(draft)}, or none`,
    usual: (draft) => (inches(draft) ? '0.5' : '12.7'),
    isAsked: always,
    take: (text, draft) => {
      if (text !== 'none') return length(text, draft, positive, (value) => (draft.range = value));
      draft.range = null;
      return null;
    },
  },
  {
    flag: 'spans',
    what: () =>
      'At how many stations the distance across is measured (tape, micrometer, tracker), 0 for none',
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
    usual: (draft) => (inches(draft) ? '0.002' : '0.05'),
    isAsked: (draft) => (draft.spans ?? 0) > 0,
    take: (text, draft) => length(text, draft, positive, (value) => (draft.spanU = value)),
  },
  {
    flag: 'paper',
    what: () => 'Paper: A4 or Letter',
    usual: (draft) => (inches(draft) ? 'Letter' : 'A4'),
    isAsked: always,
    take: (text, draft) => oneOf(text, ['A4', 'Letter'], (word) => (draft.paper = word)),
  },
];

/** A flag that is no question of its own: `count` takes the place of `spacing` or `length`. */
export const COUNT_FLAG = 'count';
export const takeCount = (text: string, draft: Draft): Wrong | null =>
  count(text, 2, MOST_STATIONS, (n) => (draft.asked.count = n));

function words(flag: 'title' | 'customer' | 'machine', what: string): Question {
  return {
    flag,
    what: () => what,
    usual: () => '',
    isAsked: always,
    take: (text, draft) => {
      if (text.length > 2000) return 'wanted: at most 2000 characters';
      draft[flag] = text === '' ? null : text;
      return null;
    },
  };
}

const usualSpacing = (draft: Draft): string => {
  const usual = inches(draft) ? 24 : 500;
  const span = draft.asked.length ?? 0;
  return String(span >= 4 * usual ? usual : tidy(span / 8));
};

function settleStations(draft: Draft): Wrong | null {
  const placed = placeStations(draft.asked, inches(draft) ? 'in' : 'mm');
  if (typeof placed === 'string') return placed;
  draft.stations = placed;
  return null;
}

const NOT_A_NUMBER = 'wanted: a number such as 2 or 0.5, with or without its unit';

interface Bound {
  readonly holds: (value: number) => boolean;
  readonly words: string;
}
const any: Bound = { holds: () => true, words: '' };
const positive: Bound = { holds: (value) => value > 0, words: 'wanted: more than nothing' };
const notNegative: Bound = { holds: (value) => value >= 0, words: 'wanted: nothing or more' };

function numberOf(text: string): { value: number; unit: string | null } | null {
  const read = readNumber(text, { decimal: '.', grouped: false });
  return read.ok && Number.isFinite(read.value) ? read : null;
}

/** A length in the plan's unit, from whatever unit stands behind it. */
function length(text: string, draft: Draft, bound: Bound, put: (value: number) => void): Wrong | null {
  const own: LengthUnit = draft.units ?? 'mm';
  return measured(text, bound, put, (value, from) => tidy(fromMm(toMm(value, from), own)));
}

function reading(text: string, draft: Draft, bound: Bound, put: (value: number) => void): Wrong | null {
  const own = readingUnit({ units: draft.units ?? 'mm' });
  return measured(text, bound, put, (value, from) => tidy(fromUm(toUm(value, from), own)));
}

function measured(
  text: string,
  { holds, words: wanted }: Bound,
  put: (value: number) => void,
  convert: (value: number, from: LengthUnit) => number,
): Wrong | null {
  const read = numberOf(text);
  if (read === null) return NOT_A_NUMBER;
  if (read.unit !== null && !isLengthUnit(read.unit))
    return 'wanted: one of m, mm, um, in, ft, thou behind it';
  if (!holds(read.value)) return wanted;
  put(read.unit === null ? read.value : convert(read.value, read.unit));
  return null;
}

function count(text: string, least: number, most: number, put: (n: number) => void): Wrong | null {
  const n = /^\d{1,6}$/.test(text) ? Number(text) : NaN;
  if (!(n >= least && n <= most))
    return least === most ? `wanted: ${least}` : `wanted: a whole number from ${least} to ${most}`;
  put(n);
  return null;
}

function oneOf<W extends string>(text: string, known: readonly W[], put: (word: W) => void): Wrong | null {
  const word = known.find((w) => w.toLowerCase() === text.toLowerCase());
  if (word === undefined) return `wanted: ${known.join(' or ')}`;
  put(word);
  return null;
}

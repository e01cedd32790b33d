/** What the words of a foreign header mean: synonyms and abbreviations of the trade. */
import type { Axis } from '../../job/job.js';
import { readHeaderCell } from '../columns.js';
import { trailingUnit, unitWord } from '../unit-words.js';

/** What a word can stand for; `reading` is any word for a value that was read. */
export type Concept =
  | Axis
  | 'reading'
  | 'station'
  | 'position'
  | 'rail'
  | 'setup'
  | 'monument'
  | 'target'
  | 'pass'
  | 'time'
  | 'date'
  | 'use'
  | 'note'
  | 'slope'
  | 'span'
  | 'axis'
  | 'from'
  | 'to'
  | 'other';

const VOCABULARY: Readonly<Record<Concept, string>> = {
  vertical: 'v vert vertical vertically height heights ht elev elevation level lvl z',
  horizontal: 'h hor horiz horz horizontal horizontally lateral lat side sideways y',
  along: 'along axial ahead',
  reading:
    'reading readings rdg rdgs read value values val measurement measurements measured meas dev deviation deviations offset offs off indication display data result results error delta dial',
  station:
    'station stations stn stns sta st point points pt pts no nr num number index idx step pos position',
  position: 'position pos distance dist location loc chainage ch x coordinate coord travel',
  rail: 'rail rails track way guideway side line bed',
  setup: 'setup setups tripod stand instrument inst placement',
  monument: 'monument monuments mon benchmark bm reference ref control mark',
  target: 'target targets tgt targ sensor detector receiver psd rod prism',
  pass: 'pass passes p run runs round trial rep repeat repetition lap',
  time: 'time timestamp datetime clock when hour stamp',
  date: 'date day',
  use: 'use used valid include included accept accepted keep ok',
  note: 'note notes remark remarks comment comments memo observation observations obs',
  slope: 'slope slopes tilt angle inclination incl gradient grade pitch autocollimator reading rdg value',
  span: 'span spans gauge gage width distance dist reading rdg value',
  axis: 'axis plane direction dir component',
  from: 'from start begin',
  to: 'to end finish',
  other: 'other opposite against second',
};

const CONCEPTS = ((): ReadonlyMap<string, ReadonlySet<Concept>> => {
  const map = new Map<string, Set<Concept>>();
  for (const [concept, words] of Object.entries(VOCABULARY) as [Concept, string][]) {
    for (const word of words.split(' ')) map.set(word, (map.get(word) ?? new Set()).add(concept));
  }
  return map;
})();

const NONE: ReadonlySet<Concept> = new Set();
export const conceptsOf = (word: string): ReadonlySet<Concept> => CONCEPTS.get(word) ?? NONE;

/** The axis that a word, such as a cell of an axis column, stands for. */
export function axisOf(word: string): Axis | null {
  const concepts = conceptsOf(word.trim().toLowerCase());
  return (['vertical', 'horizontal', 'along'] as const).find((axis) => concepts.has(axis)) ?? null;
}

export interface HeaderWords {
  /** In lower case, numbers apart from letters: `RailA_V1` is rail, a, v, 1. */
  readonly words: readonly string[];
  /** The unit as the header writes it, in brackets or at its end; null: none. */
  readonly unit: string | null;
}

export function headerWords(header: string): HeaderWords {
  const { bracket, text } = readHeaderCell(header);
  const inBrackets = bracket !== null && unitWord(bracket) !== undefined ? bracket : null;
  const trailing = inBrackets === null && bracket === null ? trailingUnit(text) : null;
  const unit = inBrackets ?? trailing;
  const bare =
    inBrackets !== null
      ? text.replace(/\s*[([][^()[\]]*[)\]]$/, '')
      : trailing !== null
        ? text.slice(0, -trailing.length)
        : text;
  return { words: splitWords(bare), unit };
}

function splitWords(text: string): string[] {
  const spaced = text
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .replace(/set[\s_-]?up/gi, ' setup ')
    .replace(/(\d)(?:st|nd|rd|th)\b/gi, 'pass $1')
    .replace(/([\p{Ll}])([\p{Lu}])/gu, '$1 $2')
    .replace(/(\p{L})(\d)/gu, '$1 $2')
    .replace(/(\d)(\p{L})/gu, '$1 $2')
    .replace(/#/g, ' no ');
  return spaced
    .toLowerCase()
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word !== '');
}

/** What the words of a foreign header mean: synonyms and abbreviations of the trade. */
import type { Axis } from '../../job/job.js';
import { columnNames, columns, readHeaderCell, type ColumnName } from '../../job/columns.js';
import { trailingUnit, unitWord } from '../../../base/units/unit-words.js';

/** Words that are no column of ours; without accents. */
const OTHER_WORDS = {
  date: ['date day', 'datum tag', 'jour', 'fecha dia', 'data giorno'],
  from: ['from start begin', 'von', 'depuis de', 'desde', 'da dal'],
  to: ['to end finish', 'bis nach', 'vers jusque', 'hasta', 'al'],
  /** From one station to the next, not from the plane. */
  increment: [
    'step steps increment increments difference differences diff diffs delta change changes rise fall',
    'schritt schritte stufe stufen differenz differenzen zuwachs anderung anderungen unterschied hohenunterschied',
    'pas increment increments difference differences variation denivelee',
    'paso pasos incremento incrementos diferencia diferencias cambio desnivel',
    'passo passi incremento incrementi differenza differenze variazione dislivello',
  ],
  /** A figure that is made from readings, or of another quantity: no reading. */
  aside: [
    'mean average avg median sum total max min maximum minimum range spread sd stdev sigma temperature temp humidity pressure battery voltage',
    'mittel mittelwert mittelwerte summe spanne temperatur feuchte luftdruck druck',
    'moyenne somme ecarttype temperature humidite pression',
    'media promedio suma temperatura humedad presion',
    'media somma temperatura umidita pressione',
  ],
} as const satisfies Readonly<Record<string, readonly string[]>>;

/** What a word can mean: one of our columns (`reading`: any value that was read), or one of the words above. */
export type Concept = ColumnName | keyof typeof OTHER_WORDS;

const VOCABULARY: readonly (readonly [Concept, readonly string[]])[] = [
  ...columnNames.map((name) => [name, columns[name].headers ?? []] as const),
  ...(Object.entries(OTHER_WORDS) as [Concept, readonly string[]][]),
];

const CONCEPTS = ((): ReadonlyMap<string, ReadonlySet<Concept>> => {
  const map = new Map<string, Set<Concept>>();
  for (const [concept, words] of VOCABULARY) {
    for (const word of words.flatMap((list) => list.split(' ')))
      map.set(word, (map.get(word) ?? new Set()).add(concept));
  }
  return map;
})();

const NONE: ReadonlySet<Concept> = new Set();
export const conceptsOf = (word: string): ReadonlySet<Concept> => CONCEPTS.get(word) ?? NONE;

/** The axis that a word, such as a cell of an axis column, means. */
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
    .replace(/ß/g, 'ss')
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

/** What the words of a foreign header mean: synonyms and abbreviations of the trade. */
import type { Axis } from '../../job/job.js';
import { readHeaderCell } from '../../job/columns.js';
import { trailingUnit, unitWord } from '../../../base/units/unit-words.js';

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
  | 'other'
  /** From one station to the next, not from the plane. */
  | 'increment'
  /** A figure that is made from readings, or of another quantity: no reading. */
  | 'aside';

/** English, then German, French, Spanish and Italian; without accents. */
const VOCABULARY: Readonly<Record<Concept, readonly string[]>> = {
  vertical: [
    'v vert vertical vertically height heights ht elev elevation level lvl z',
    'hohe hohen vertikal senkrecht lotrecht',
    'hauteur verticale',
    'altura',
    'altezza verticale quota',
  ],
  horizontal: [
    'h hor horiz horz horizontal horizontally lateral lat side sideways y',
    'waagerecht waagrecht seitlich seite seiten quer',
    'horizontale laterale cote lateral',
    'horizontales lado lateral',
    'orizzontale laterale lato',
  ],
  along: ['along axial ahead', 'langs', 'longitudinale axiale', 'longitudinal', 'assiale'],
  reading: [
    'reading readings rdg rdgs read value values val measurement measurements measured meas dev deviation deviations offset offs off indication display data result results error delta dial',
    'ablesung ablesungen messwert messwerte wert werte anzeige abweichung',
    'lecture lectures mesure mesures valeur valeurs ecart',
    'lectura lecturas medida medidas valor valores desviacion',
    'lettura letture misura misure valore valori scostamento deviazione',
  ],
  station: [
    'station stations stn stns sta st point points pt pts no nr num number index idx step pos position',
    'messpunkt messstelle punkt stelle nummer',
    'poste numero',
    'estacion punto',
    'stazione',
  ],
  position: [
    'position pos distance dist location loc chainage ch x coordinate coord travel',
    'abstand lage strecke',
    'abscisse',
    'posicion distancia',
    'posizione distanza progressiva',
  ],
  rail: [
    'rail rails track way guideway side line bed',
    'schiene schienen fuhrung bahn fuhrungsbahn',
    'glissiere guide voie',
    'carril riel guia',
    'rotaia guida binario',
  ],
  setup: [
    'setup setups tripod stand instrument inst placement',
    'aufstellung standpunkt gerat',
    'stationnement appareil',
    'estacionamiento emplazamiento',
    'postazione strumento',
  ],
  monument: [
    'monument monuments mon benchmark bm reference ref control mark',
    'festpunkt referenzpunkt',
    'repere borne',
    'hito referencia',
    'caposaldo riferimento',
  ],
  target: [
    'target targets tgt targ sensor detector receiver psd rod prism',
    'zieltafel empfanger tafel ziel zielmarke messmarke',
    'cible recepteur mire',
    'diana receptor mira',
    'bersaglio ricevitore mira',
  ],
  pass: [
    'pass passes p run runs round trial rep repeat repetition lap',
    'durchgang lauf messreihe wiederholung',
    'passe passage serie',
    'pasada vuelta',
    'passata ripetizione',
  ],
  time: ['time timestamp datetime clock when hour stamp', 'zeit uhrzeit', 'heure', 'hora', 'ora'],
  date: ['date day', 'datum tag', 'jour', 'fecha dia', 'data giorno'],
  use: [
    'use used valid include included accept accepted keep ok',
    'verwenden gultig',
    'valide',
    'valido',
    'usare',
  ],
  note: [
    'note notes remark remarks comment comments memo observation observations obs',
    'bemerkung bemerkungen anmerkung notiz kommentar hinweis',
    'remarque remarques commentaire',
    'nota notas observacion observaciones comentario',
    'osservazione osservazioni commento',
  ],
  slope: [
    'slope slopes tilt angle inclination incl gradient grade pitch autocollimator reading rdg value',
    'neigung steigung winkel',
    'pente inclinaison',
    'pendiente inclinacion',
    'pendenza inclinazione',
  ],
  span: [
    'span spans gauge gage width distance dist reading rdg value',
    'spannweite spurweite',
    'ecartement',
    'ancho luz',
    'scartamento',
  ],
  axis: ['axis plane direction dir component', 'achse ebene richtung', 'axe plan', 'eje plano', 'asse piano'],
  from: ['from start begin', 'von', 'depuis de', 'desde', 'da dal'],
  to: ['to end finish', 'bis nach', 'vers jusque', 'hasta', 'al'],
  other: ['other opposite against second', 'andere gegenuber', 'autre', 'otro', 'altra altro'],
  increment: [
    'step steps increment increments difference differences diff diffs delta change changes rise fall',
    'schritt schritte stufe stufen differenz differenzen zuwachs anderung anderungen unterschied hohenunterschied',
    'pas increment increments difference differences variation denivelee',
    'paso pasos incremento incrementos diferencia diferencias cambio desnivel',
    'passo passi incremento incrementi differenza differenze variazione dislivello',
  ],
  aside: [
    'mean average avg median sum total max min maximum minimum range spread sd stdev sigma temperature temp humidity pressure battery voltage',
    'mittel mittelwert mittelwerte summe spanne temperatur feuchte luftdruck druck',
    'moyenne somme ecarttype temperature humidite pression',
    'media promedio suma temperatura humedad presion',
    'media somma temperatura umidita pressione',
  ],
};

const CONCEPTS = ((): ReadonlyMap<string, ReadonlySet<Concept>> => {
  const map = new Map<string, Set<Concept>>();
  for (const [concept, words] of Object.entries(VOCABULARY) as [Concept, string[]][]) {
    for (const word of words.join(' ').split(' ')) map.set(word, (map.get(word) ?? new Set()).add(concept));
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

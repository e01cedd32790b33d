/** The columns that each kind of readings file may have, and how header cells name them. */
import { unitWord } from '../../base/units/unit-words.js';

/** Kinds of readings files. */
export type Kind = 'offset' | 'slope' | 'span';

/** The description of a column. Header, checks, mapping, JSON Schema, help, drafts and the files of `new` are made from it. */
export interface Column {
  /** Kinds of files that have it. */
  readonly kinds: readonly Kind[];
  readonly holds: 'text' | 'station' | 'position' | 'reading';
  /** What a cell says, in one sentence. */
  readonly meaning: string;
  /** true: the empty files of `new` have it. */
  readonly isPlanned?: boolean;
  /** Words for it in headers of other files: English, then German, French, Spanish and Italian; without accents. */
  readonly headers?: readonly string[];
}

/** All columns, in their usual order. To add one, add its entry here, and read it in src/survey/readings. */
const COLUMNS = {
  setup: {
    kinds: ['offset'],
    holds: 'text',
    meaning:
      'The set-up from which the row was read; an instrument that was moved or levelled again is a new set-up.',
    isPlanned: true,
    headers: [
      'setup setups tripod stand instrument inst placement',
      'aufstellung standpunkt gerat',
      'stationnement appareil',
      'estacionamiento emplazamiento',
      'postazione strumento',
    ],
  },
  from_rail: {
    kinds: ['slope'],
    holds: 'text',
    meaning: 'Rail of the first end of the chord.',
  },
  from_station: {
    kinds: ['slope'],
    holds: 'station',
    meaning: 'Station of the first end, from 1.',
    isPlanned: true,
  },
  from_position: {
    kinds: ['slope'],
    holds: 'position',
    meaning: 'Position of the first end, instead of its station.',
  },
  to_rail: {
    kinds: ['slope'],
    holds: 'text',
    meaning: 'Rail of the second end.',
  },
  to_station: {
    kinds: ['slope'],
    holds: 'station',
    meaning: 'Station of the second end, from 1.',
    isPlanned: true,
  },
  to_position: {
    kinds: ['slope'],
    holds: 'position',
    meaning: 'Position of the second end, instead of its station.',
  },
  rail: {
    kinds: ['offset', 'span'],
    holds: 'text',
    meaning: 'The rail on which the target was.',
    isPlanned: true,
    headers: [
      'rail rails track way guideway side line bed',
      'schiene schienen fuhrung bahn fuhrungsbahn',
      'glissiere guide voie',
      'carril riel guia',
      'rotaia guida binario',
    ],
  },
  other: {
    kinds: ['span'],
    holds: 'text',
    meaning: 'The other rail, to which the distance was measured.',
    isPlanned: true,
    headers: ['other opposite against second', 'andere gegenuber', 'autre', 'otro', 'altra altro'],
  },
  station: {
    kinds: ['offset', 'span'],
    holds: 'station',
    meaning: 'Number of the station on the rail, from 1.',
    isPlanned: true,
    headers: [
      'station stations stn stns sta st point points pt pts no nr num number index idx step pos position',
      'messpunkt messstelle punkt stelle nummer',
      'poste numero',
      'estacion punto',
      'stazione',
    ],
  },
  position: {
    kinds: ['offset', 'span'],
    holds: 'position',
    meaning: 'Position of the station, instead of its number; it may differ by 0.5 mm.',
    headers: [
      'position pos distance dist location loc chainage ch x coordinate coord travel',
      'abstand lage strecke',
      'abscisse',
      'posicion distancia',
      'posizione distanza progressiva',
    ],
  },
  monument: {
    kinds: ['offset'],
    holds: 'text',
    meaning: 'The monument on which the target was, instead of rail and station.',
    isPlanned: true,
    headers: [
      'monument monuments mon benchmark bm reference ref control mark',
      'festpunkt referenzpunkt',
      'repere borne',
      'hito referencia',
      'caposaldo riferimento',
    ],
  },
  target: {
    kinds: ['offset'],
    holds: 'text',
    meaning: 'A target assembly at one rod height; a rod that was set again is a new target.',
    isPlanned: true,
    headers: [
      'target targets tgt targ sensor detector receiver psd rod prism',
      'zieltafel empfanger tafel ziel zielmarke messmarke',
      'cible recepteur mire',
      'diana receptor mira',
      'bersaglio ricevitore mira',
    ],
  },
  span: {
    kinds: ['span'],
    holds: 'reading',
    meaning: 'Distance across that was measured.',
    isPlanned: true,
    headers: [
      'span spans gauge gage width distance dist reading rdg value',
      'spannweite spurweite',
      'ecartement',
      'ancho luz',
      'scartamento',
    ],
  },
  pass: {
    kinds: ['offset', 'slope', 'span'],
    holds: 'text',
    meaning: 'Which run over the rail.',
    isPlanned: true,
    headers: [
      'pass passes p run runs round trial rep repeat repetition lap',
      'durchgang lauf messreihe wiederholung',
      'passe passage serie',
      'pasada vuelta',
      'passata ripetizione',
    ],
  },
  placing: {
    kinds: ['offset'],
    holds: 'text',
    meaning: 'Number of the placing of the target; left out: each row is its own.',
  },
  time: {
    kinds: ['offset', 'slope', 'span'],
    holds: 'text',
    meaning: 'Time of the reading, such as 2026-03-14T08:12.',
    isPlanned: true,
    headers: ['time timestamp datetime clock when hour stamp', 'zeit uhrzeit', 'heure', 'hora', 'ora'],
  },
  vertical: {
    kinds: ['offset'],
    holds: 'reading',
    meaning: 'Offset from the level plane.',
    isPlanned: true,
    headers: [
      'v vert vertical vertically height heights ht elev elevation level lvl z',
      'hohe hohen vertikal senkrecht lotrecht',
      'hauteur verticale',
      'altura',
      'altezza verticale quota',
    ],
  },
  horizontal: {
    kinds: ['offset'],
    holds: 'reading',
    meaning: 'Offset from the vertical plane along the rails.',
    isPlanned: true,
    headers: [
      'h hor horiz horz horizontal horizontally lateral lat side sideways y',
      'waagerecht waagrecht seitlich seite seiten quer',
      'horizontale laterale cote lateral',
      'horizontales lado lateral',
      'orizzontale laterale lato',
    ],
  },
  along: {
    kinds: ['offset'],
    holds: 'reading',
    meaning: 'Offset from the plane square to the rails.',
    isPlanned: true,
    headers: ['along axial ahead', 'langs', 'longitudinale axiale', 'longitudinal', 'assiale'],
  },
  axis: {
    kinds: ['offset', 'slope'],
    holds: 'text',
    meaning: 'Axis of the reading: vertical, horizontal or along.',
    headers: [
      'axis plane direction dir component',
      'achse ebene richtung',
      'axe plan',
      'eje plano',
      'asse piano',
    ],
  },
  reading: {
    kinds: ['offset'],
    holds: 'reading',
    meaning: 'The reading, if the file has one axis per row.',
    headers: [
      'reading readings rdg rdgs read value values val measurement measurements measured meas dev deviation deviations offset offs off indication display data result results error delta dial',
      'ablesung ablesungen messwert messwerte wert werte anzeige abweichung',
      'lecture lectures mesure mesures valeur valeurs ecart',
      'lectura lecturas medida medidas valor valores desviacion',
      'lettura letture misura misure valore valori scostamento deviazione',
    ],
  },
  slope: {
    kinds: ['slope'],
    holds: 'reading',
    meaning: 'Slope from the first end to the second.',
    headers: [
      'slope slopes tilt angle inclination incl gradient grade pitch autocollimator reading rdg value',
      'neigung steigung winkel',
      'pente inclinaison',
      'pendiente inclinacion',
      'pendenza inclinazione',
    ],
  },
  check: {
    kinds: ['offset'],
    holds: 'text',
    meaning:
      'The target was moved on purpose, such as left 1 mm. The row checks sign and unit, and is not solved.',
    isPlanned: true,
  },
  use: {
    kinds: ['offset', 'slope', 'span'],
    holds: 'text',
    meaning: 'no leaves the row out; the report lists it with its note.',
    isPlanned: true,
    headers: [
      'use used valid include included accept accepted keep ok',
      'verwenden gultig',
      'valide',
      'valido',
      'usare',
    ],
  },
  note: {
    kinds: ['offset', 'slope', 'span'],
    holds: 'text',
    meaning: 'Anything to know about the row.',
    isPlanned: true,
    headers: [
      'note notes remark remarks comment comments memo observation observations obs',
      'bemerkung bemerkungen anmerkung notiz kommentar hinweis',
      'remarque remarques commentaire',
      'nota notas observacion observaciones comentario',
      'osservazione osservazioni commento',
    ],
  },
} as const satisfies Readonly<Record<string, Column>>;

/** The name of a column of some kind of readings file. */
export type ColumnName = keyof typeof COLUMNS;
export const columns: Readonly<Record<ColumnName, Column>> = COLUMNS;
export const columnNames = Object.keys(COLUMNS) as readonly ColumnName[];

const ofKind = (kind: Kind) => columnNames.filter((name) => columns[name].kinds.includes(kind));

/** Every column that a kind may have, in its usual order. */
export const columnsOf: Readonly<Record<Kind, readonly ColumnName[]>> = {
  offset: ofKind('offset'),
  slope: ofKind('slope'),
  span: ofKind('span'),
};

/** Groups of alternatives: a file of the kind needs at least one alternative of each group, with all its columns. */
export const neededColumns: Readonly<Record<Kind, readonly (readonly (readonly string[])[])[]>> = {
  offset: [
    [['setup']],
    [['rail', 'station'], ['rail', 'position'], ['monument']],
    [['vertical'], ['horizontal'], ['along'], ['axis', 'reading']],
  ],
  slope: [
    [['from_rail']],
    [['from_station'], ['from_position']],
    [['to_rail']],
    [['to_station'], ['to_position']],
    [['axis']],
    [['slope']],
  ],
  span: [[['rail']], [['other']], [['station'], ['position']], [['span']]],
};

const holds = (name: string): Column['holds'] =>
  (columns as Readonly<Record<string, Column>>)[name]?.holds ?? 'text';
/** true: a file of the kind may have the column. */
export const isColumnOf = (kind: Kind, name: string): boolean =>
  columnsOf[kind].some((known) => known === name);
export const isNumeric = (name: string): boolean => holds(name) !== 'text';
export const isReading = (name: string): boolean => holds(name) === 'reading';
export const isStation = (name: string): boolean => holds(name) === 'station';
export const isPosition = (name: string): boolean => holds(name) === 'position';

export interface HeaderCell {
  /** As it is in the file. */
  readonly text: string;
  /** Letters and digits of the name, lower case: `From Station` and `from_station` are one. */
  readonly key: string;
  /** The text in brackets after the name, as in `Reading (thou)`; null: none. */
  readonly bracket: string | null;
  /** `bracket` as a unit of job files; null: it is no unit. */
  readonly unit: string | null;
}

/**
 * A header in the form in which it is compared with job.json: spaces, line breaks, the two signs for µ and upper or
 * lower case make no difference.
 */
export const normalHeader = (text: string): string =>
  text.normalize('NFKC').replace(/\s+/gu, ' ').trim().toLowerCase();

const keyOf = (name: string): string => name.toLowerCase().replace(/[\s_-]+/g, '');

/** "vertical (thou)": a name, and a unit in brackets. */
export function readHeaderCell(cell: string): HeaderCell {
  const text = cell.trim();
  const match = /^(.*?)\s*[([]\s*([^()[\]]*?)\s*[)\]]$/.exec(text);
  const bracket = match?.[2] ?? null;
  return {
    text,
    key: keyOf(match?.[1] ?? text),
    bracket,
    unit: bracket === null ? null : (unitWord(bracket) ?? null),
  };
}

const byKey = (names: readonly ColumnName[]): ReadonlyMap<string, ColumnName> =>
  new Map(names.map((name) => [keyOf(name), name]));
const columnByKey: Readonly<Record<Kind, ReadonlyMap<string, ColumnName>>> = {
  offset: byKey(columnsOf.offset),
  slope: byKey(columnsOf.slope),
  span: byKey(columnsOf.span),
};

/** The kind's column that a header cell names; undefined: none. */
export const columnNamed = (kind: Kind, cell: HeaderCell): ColumnName | undefined =>
  columnByKey[kind].get(cell.key);

/**
 * Every diagnostic, one entry per code: the values it carries (never prose), and its wording: what happened and what is in the
 * cell, what was expected, what to do. One or two plain sentences. The place is printed before them and is not repeated.
 *
 * To add a diagnostic, add its entry here. Its name is then a code, and its values are checked where it is reported.
 */
import { agree, counted } from './counted.js';

/** The parts of a message: `what` and `expected` without a full stop, `fix` with it. */
export interface Said {
  readonly what: string;
  /** What would have been right. */
  readonly expected: string | null;
  /** What to do about it, or what may have been meant. */
  readonly fix: string | null;
  /** What may have caused it; absent: nothing that could be listed. */
  readonly causes?: Causes;
}

/** A list of causes, the likeliest first: clauses without a full stop, each with what to do about it. */
export interface Causes {
  /** "Each of 3 changes explains it, the likeliest first". */
  readonly intro: string;
  readonly list: readonly { readonly what: string; readonly fix: string | null }[];
}

type Texts<K extends string> = Readonly<Record<K, string>>;
type Numbers<K extends string> = Readonly<Record<K, number>>;

const say = (what: string, fix = ''): Said => ({
  what,
  expected: null,
  fix: fix.trim() === '' ? null : fix.trim(),
});
const want = (what: string, expected: string, fix = ''): Said => ({ ...say(what, fix), expected });

const q = (text: string): string => `"${text}"`;
const orNothing = (text: string): string => (text === '' ? 'nothing' : q(text));
const didYouMean = (nearest: string): string => (nearest === '' ? '' : `Did you mean ${q(nearest)}?`);
const known = (kind: string, list: string): string =>
  list === '' ? `The job declares no ${kind}.` : `The job declares: ${list}.`;
const sizeText = (bytes: number): string =>
  bytes < 2 ** 20 ? `${Math.ceil(bytes / 1024)} KiB` : `${(bytes / 2 ** 20).toFixed(0)} MiB`;
const thousands = (n: number): string => String(n).replace(/\B(?=(\d{3})+$)/g, ' ');
/** The job's phases as people write them. */
const phaseText = (phase: string): string => phase.replaceAll('-', ' ');

const unexplained = (
  d: Texts<'phase' | 'sigma0' | 'near'> & Numbers<'redundancy'> & { way: 'misfit' | 'too-good' },
) =>
  say(
    `${misfitWords(d.way, d.phase, d.sigma0, d.redundancy)}. ${d.redundancy < 5 ? 'Too few readings check each other to say why' : 'No single change explains it'}`,
    `${d.redundancy < 5 ? 'Read one more pass.' : 'Look for more than one mistake: signs, units, stations, rods that were re-set, readings of another survey.'}${d.near === '' ? '' : ` What would help most, without explaining all of it: ${d.near}.`}`,
  );

const misfitWords = (
  way: 'misfit' | 'small' | 'too-good',
  phase: string,
  sigma0: string,
  redundancy: number,
): string =>
  way === 'too-good'
    ? `The ${phase} readings agree with each other much better than the stated uncertainty of the instruments: they disagree only ${sigma0} times as much (${redundancy} checks)`
    : way === 'small'
      ? `The ${phase} readings disagree about as much as the stated uncertainty of the instruments explains (${sigma0} times), but not by chance alone`
      : `The ${phase} readings disagree ${sigma0} times as much as the stated uncertainty of the instruments explains (${redundancy} checks)`;

/** Why a key has no meaning at its place (`KEY_MISPLACED.because`), and what to do. */
const MISPLACED: Readonly<Record<string, readonly [why: string, fix: string]>> = {
  'cross-rail': [
    'this is a cross rail: it has a place along, and it is never the datum rail',
    'Delete the key.',
  ],
  'along-rail': [
    'this rail runs along, and its place is given by "across"',
    'Delete the key, or set "direction": "across".',
  ],
  'slope-instrument': [
    'this instrument reads slopes, and their uncertainty does not grow with distance',
    'Delete the key.',
  ],
  'not-local': [
    'only the -local characteristics, rates of change, twist, parallelism and level are evaluated over a length',
    'Delete the key, or add -local to "what".',
  ],
  'no-side': ['only the straightness of a whole rail is judged to one side', 'Delete the key.'],
  unsigned: ['this characteristic has no sign', 'Give it a "limit".'],
  'no-set': [
    'a grade chooses among the values of a tolerance set, and the job names no set',
    'Name the file of the set under "tolerances", or delete the grade.',
  ],
  'no-group': ['this characteristic is of one rail', 'Write one entry for each "rail".'],
  'no-pair': ['this characteristic is of one rail alone', 'Delete the key.'],
  group: ['"rails" names them all', 'Delete the key.'],
  'no-reference': ['this characteristic has no choice of reference line', 'Delete the key.'],
  'not-slope': [
    'only slope files are read against gravity or a sight line',
    'Delete the key, or set "kind": "slope".',
  ],
  'offset-file': ['offset readings take the instrument of the set-up in each row', 'Delete the key.'],
  'not-of-kind': ['readings of this kind have no such column', 'Delete the key, or check "kind".'],
  'fixed-reading': ['a reading is never the same for a whole file', 'Map its column under "columns".'],
  'mapped-and-fixed': ['it is also taken from a column', 'Keep one of the two.'],
  'no-unit': ['only readings and positions have a unit', 'Delete the key.'],
  'words-of-reading': ['readings are numbers, and words do not replace them', 'Delete the key.'],
};

const PACK_AGAIN = 'Make the zip again from the job folder.';

/** Why a rail cannot have a characteristic (`TOLERANCE_NOT_APPLICABLE.reason`). */
const NOT_APPLICABLE: Readonly<Record<string, string>> = {
  datum: 'it is the datum rail, and this is measured against the datum rail',
  'cross-rail': 'it is a cross rail, and this is of rails that run along',
  'along-rail': 'it runs along, and this is of cross rails',
  'no-joints': 'it has no "joints"',
  'no-distance': 'it is at no distance across from the datum rail',
};

/** Paths with backslashes are the commonest that cannot be used. */
const outsideJob = (path: string): Said =>
  path.includes('\\')
    ? say(`The path ${q(path)} is written with \\`, `Write it with /: ${q(path.replaceAll('\\', '/'))}.`)
    : say(
        `The path ${q(path)} leads out of the job folder`,
        'Put the file into the job folder and write its path from there, such as "readings/as-left.csv". Only tolerance files may also be in a folder "tolerances" next to the job folder.',
      );

export const wording = {
  FILE_MISSING: ({ path }: Texts<'path'>) =>
    path === 'job.json'
      ? say(
          'There is no file job.json in this folder',
          'Name a folder that has one. "waysheet new FOLDER" makes such a folder.',
        )
      : say(
          `The file ${q(path)} is not there`,
          'Check its name, also capitals and blanks, or put the file there.',
        ),
  FILE_UNREADABLE: ({ path, reason }: Texts<'path' | 'reason'>) =>
    say(`The file ${q(path)} cannot be read: ${reason}`),
  FILE_OUTSIDE_JOB: ({ path }: Texts<'path'>) => outsideJob(path),
  FILE_TOO_LARGE: ({ bytes, limit }: Numbers<'bytes' | 'limit'>) =>
    say(
      `The file has ${sizeText(bytes)}, and at most ${sizeText(limit)} are read`,
      'Divide it into several files.',
    ),
  /** `phase`: '' where it is named for two phases. */
  FILE_REPEATED: ({ path, phase }: Texts<'path' | 'phase'>) =>
    phase === ''
      ? say(
          `The file ${q(path)} is named for two phases; no two surveys give the same readings`,
          'Name the file of each phase.',
        )
      : say(
          `The file ${q(path)} is named twice for ${phaseText(phase)}, so its readings would count twice`,
          'Delete one of the two entries.',
        ),
  JSON_INVALID: ({ reason }: Texts<'reason'>) => say(`This is not valid JSON: ${reason}`),
  /** `known`: every key that is allowed there. */
  KEY_UNKNOWN: ({ key, nearest, known: list }: Texts<'key' | 'nearest' | 'known'>) =>
    say(
      `The key ${q(key)} is not known here`,
      nearest !== '' ? didYouMean(nearest) : list !== '' ? `Known here: ${list}.` : '',
    ),
  KEY_MISSING: ({ key, wanted }: Texts<'key' | 'wanted'>) => want(`The key ${q(key)} is missing`, wanted),
  KEY_DUPLICATE: ({ key }: Texts<'key'>) =>
    say(`The key ${q(key)} is here twice`, 'Keep the one that is meant.'),
  /** A known key that has no meaning at its place; `because` is one of the reasons below. */
  KEY_MISPLACED: ({ key, because }: Texts<'key' | 'because'>) => {
    const [why, fix] = MISPLACED[because] ?? [because, ''];
    return say(`The key ${q(key)} has no meaning here: ${why}`, fix);
  },
  VALUE_WRONG: ({ found, wanted }: Texts<'found' | 'wanted'>) => want(`Found ${found}`, wanted),
  LOGO_PARTS_LEFT_OUT: ({ logo, parts }: Texts<'logo' | 'parts'>) =>
    say(
      `Parts of ${q(logo)} are left out, because they do more than draw: ${parts}`,
      'Look at the logo in the report. Saved as a plain SVG without scripts, styles and links, it is whole.',
    ),
  ID_DUPLICATE: ({ kind, id }: Texts<'kind' | 'id'>) =>
    say(`There is already a ${kind} ${q(id)}`, `Give each ${kind} an id of its own.`),
  ID_UNKNOWN: ({ kind, id, known: list }: Texts<'kind' | 'id' | 'known'>) =>
    say(`There is no ${kind} ${q(id)}`, known(`${kind}s`, list)),
  DATUM_COUNT: ({ count }: Numbers<'count'>) =>
    count === 0
      ? say('No rail is the datum rail', 'Mark the rail that the others are measured from: "datum": true.')
      : say(`${count} rails are marked as the datum rail`, 'Keep "datum": true at one of them only.'),
  FORMAT_UNKNOWN: ({ found, wanted }: Texts<'found' | 'wanted'>) =>
    say(`The format ${found} is not known`, `This program reads ${wanted}.`),
  UNIT_UNKNOWN: ({ found, wanted }: Texts<'found' | 'wanted'>) =>
    want(`The unit ${found} cannot be used here`, wanted),
  /** A column of a file from which job.json takes readings in two ways. */
  MAPPED_TWICE: ({ header }: Texts<'header'>) =>
    say(
      `The column ${q(header)} is read as readings twice, so they would count twice`,
      'Delete one of the two. If two columns have the same name, tell them apart with "nth".',
    ),

  CSV_EMPTY: () => say('The file is empty', 'Put the readings in, or delete its entry in job.json.'),
  CSV_NO_ROWS: () =>
    say('The file has a header and no rows', 'Put the readings in, or delete its entry in job.json.'),
  CSV_COLUMN_MISSING: ({ column, found }: Texts<'column' | 'found'>) =>
    say(
      `${/, (?!or )/.test(column) ? 'Columns are' : 'A column is'} missing: ${column}`,
      `The header has: ${orNothing(found)}.`,
    ),
  CSV_COLUMN_UNKNOWN: ({ column, nearest, wanted }: Texts<'column' | 'nearest' | 'wanted'>) =>
    say(
      `The column ${q(column)} is not known`,
      `${didYouMean(nearest)} Known columns: ${wanted}. Say in job.json what the column is ("columns", "rows"), or list it under "ignore".`,
    ),
  CSV_COLUMN_DUPLICATE: ({ column }: Texts<'column'>) =>
    say(`There are two columns ${q(column)}`, 'Keep the one that is meant, or rename the other.'),
  CSV_COLUMNS_CLASH: ({ one, other }: Texts<'one' | 'other'>) =>
    say(
      `The columns ${q(one)} and ${q(other)} cannot be in the same file`,
      'Readings are either in the columns vertical, horizontal and along, or in the columns axis and reading.',
    ),
  /** A column of ours that job.json takes from elsewhere: a header, or a fixed value. */
  CSV_COLUMN_OVERRULED: ({ column, name, instead }: Texts<'column' | 'name' | 'instead'>) =>
    say(
      `The file has a column ${q(column)}, but job.json takes ${name} from elsewhere: ${q(instead)}`,
      'Delete that in job.json, or list the column under "ignore".',
    ),
  CSV_MAPPED_MISSING: ({ name, header, nearest, found }: Texts<'name' | 'header' | 'nearest' | 'found'>) =>
    say(
      `The file has no column ${q(header)}, which job.json names for ${name}`,
      `${didYouMean(nearest)} The header has: ${orNothing(found)}.`,
    ),
  CSV_MAPPED_UNCLEAR: ({ header, count }: Texts<'header'> & Numbers<'count'>) =>
    say(
      `There are ${count} columns ${q(header)}, and job.json does not say which one is meant`,
      `For the second from the left write { "column": ${q(header)}, "nth": 2 }.`,
    ),
  CSV_CELL_UNNAMED: ({ found, number }: Texts<'found'> & Numbers<'number'>) =>
    say(
      `${q(found)} is in column ${number}, which has no name in the header`,
      'Give the column a name, or clear the cell.',
    ),
  /** Sums and signatures among the readings; `key`: their labels as JSON. */
  CSV_ROWS_BELOW: ({ count, first, key }: Texts<'first' | 'key'> & Numbers<'count'>) =>
    say(
      `${count === 1 ? 'One row is not a reading' : `${count} rows are not readings`} but a sum or a signature (${q(first)})`,
      `Leave the file as it is and write "ignoreRows": ${key} into its entry in job.json.`,
    ),
  CSV_ROWS_IGNORED: ({ count, labels }: Texts<'labels'> & Numbers<'count'>) =>
    say(`By job.json, ${counted(count, 'row')} ${agree(count, 'is', 'are')} left out: ${labels}`),
  CSV_UNIT_CLASH: ({ column, header, entry }: Texts<'column' | 'header' | 'entry'>) =>
    say(
      `The header gives ${q(column)} in ${header}, but job.json says that the file is in ${entry}`,
      'Correct the one that is wrong.',
    ),
  CSV_ROW_LENGTH: ({ cells, columns }: Numbers<'cells' | 'columns'>) =>
    cells > columns
      ? say(
          `The row has ${counted(cells, 'cell')}, but the header has ${columns}`,
          'Often a decimal comma has cut a number in two. Save the file with semicolons between the cells, or put the number in quotes.',
        )
      : say(
          `The row has ${counted(cells, 'cell')}, but the header has ${columns}: a cell is lost, or the line is cut off`,
          'Add the missing separators.',
        ),
  CSV_LINE_TOO_LONG: ({ characters, limit }: Numbers<'characters' | 'limit'>) =>
    say(
      `The row has ${thousands(characters)} characters, and at most ${thousands(limit)} are read`,
      'Perhaps the line ends are missing: save the file again as CSV.',
    ),
  CSV_TOO_MANY_ROWS: ({ limit }: Numbers<'limit'>) =>
    say(
      `The readings files of the job together have more than ${thousands(limit)} rows`,
      'Divide the job into several.',
    ),
  CSV_TOO_MANY_PROBLEMS: ({ limit }: Numbers<'limit'>) =>
    say(
      `There are more than ${thousands(limit)} problems; the rest of the file was not checked`,
      'Check that this is the file that its entry in job.json describes.',
    ),
  CSV_QUOTE_OPEN: () =>
    say(
      'A double quote opens in this row and is never closed; the rest of the file was not read',
      'Delete the quote, or close it.',
    ),
  CSV_QUOTE_STRAY: ({ found }: Texts<'found'>) =>
    say(
      `There is a double quote inside the cell ${found}`,
      'Put quotes round the whole cell and write each quote inside it twice; for inches write in.',
    ),
  CSV_ENCODING: ({ found }: Texts<'found'>) =>
    say(`The file is not text that can be read, but ${found}`, 'Save it as CSV in UTF-8.'),
  CSV_NUL: ({ offset }: Numbers<'offset'>) =>
    say(
      `There is a zero byte at offset ${offset}: the file is damaged, or it is not text`,
      'Copy it again from its source, or save it again as CSV.',
    ),
  CSV_DELIMITER_UNCLEAR: ({ found }: Texts<'found'>) =>
    want(
      `The cells of ${q(found)} are not separated in a way that is read`,
      'comma, semicolon, tab or | between the cells',
    ),

  /** `meant`: the same with the file's own decimal mark; '' where that makes no number either. */
  CELL_NOT_A_NUMBER: ({ found, meant }: Texts<'found' | 'meant'>) =>
    say(
      `${q(found)} is not a number as this file writes them`,
      meant !== ''
        ? `The other numbers have the other decimal mark: write ${meant}.`
        : 'Write digits with a sign and at most one decimal mark. Leave the cell blank if nothing was read.',
    ),
  CELL_NUMBER_AMBIGUOUS: ({ found, one, other }: Texts<'found' | 'one' | 'other'>) =>
    say(
      `${q(found)} could be ${one} or ${other}, and nothing in the file shows which`,
      'Write "decimal": "point" or "decimal": "comma" into the entry of the file in job.json.',
    ),
  CELL_WRONG: ({ found, wanted }: Texts<'found' | 'wanted'>) => want(`Found ${orNothing(found)}`, wanted),
  CELL_MISSING: ({ wanted }: Texts<'wanted'>) => want('The cell is blank', wanted),
  CELL_TIME: ({ found }: Texts<'found'>) =>
    say(
      `${q(found)} is not a time that can be read in one way only`,
      'Write it as 2026-03-14T08:12, with year, month and day in this order. Or write "dates": "day-month" or "dates": "month-day" into the entry of the file in job.json.',
    ),

  /** `meant`: the rail and station that the id looks like; '' for none. */
  READING_RAIL_UNKNOWN: ({ found, known: list, meant }: Texts<'found' | 'known' | 'meant'>) =>
    say(
      `There is no rail ${q(found)}`,
      meant === ''
        ? known('rail', list)
        : `It looks like ${meant}: write them into two columns, rail and station.`,
    ),
  /** It differs from an id of the job only in upper or lower case and spaces. */
  ID_TAKEN_AS: ({ kind, found, taken }: Texts<'kind' | 'found' | 'taken'>) =>
    say(`The ${kind} ${q(found)} is read as ${q(taken)}: only capitals or blanks differ`),
  READING_SETUP_UNKNOWN: ({ found, known: list }: Texts<'found' | 'known'>) =>
    say(`There is no set-up ${q(found)}`, known('set-up', list)),
  READING_MONUMENT_UNKNOWN: ({ found, known: list }: Texts<'found' | 'known'>) =>
    say(`There is no monument ${q(found)}`, known('monument', list)),
  READING_STATION_UNKNOWN: (d: Texts<'rail' | 'found' | 'nearest'> & Numbers<'count'>) =>
    say(
      `There is no station ${q(d.found)}: rail ${d.rail} has stations 1 to ${d.count}`,
      d.found === '0'
        ? 'If the file counts from 0, add 1 to every station in it, not only here.'
        : `Did you mean ${d.nearest}?`,
    ),
  READING_POSITION_UNKNOWN: ({ rail, found, nearest }: Texts<'rail' | 'found' | 'nearest'>) =>
    say(
      `Rail ${rail} has no station at ${found}`,
      `The nearest is ${nearest}. A position may differ by 0.5 mm from its station.`,
    ),
  READING_POINT_UNCLEAR: ({ found }: Texts<'found'>) =>
    say(
      `The row names ${found}`,
      'Name one point in each row: a rail with a station or a position, or a monument.',
    ),
  READING_AXIS_REFUSED: ({ axis, point, wanted }: Texts<'axis' | 'point' | 'wanted'>) =>
    want(`The axis ${q(axis)} cannot be read at ${point}`, wanted),
  READING_ROW_EMPTY: () => say('The row names a point but has no reading', 'It is not used.'),
  /** No row of the file has a reading. */
  READINGS_BLANK: ({ rows }: Numbers<'rows'>) =>
    say(
      `The file is not filled in: ${rows === 1 ? 'its one row has no reading' : `none of its ${rows} rows has a reading`}`,
      'It is not used until it is filled in.',
    ),
  READING_OUT_OF_RANGE: ({ reading, limit, instrument }: Texts<'reading' | 'limit' | 'instrument'>) =>
    say(
      `The reading ${reading} is beyond the range of instrument ${instrument}, ${limit}`,
      'Check the decimal mark and the unit.',
    ),
  READING_NEAR_RANGE: (d: Texts<'reading' | 'limit' | 'instrument'> & Numbers<'percent'>) =>
    say(
      `The reading ${d.reading} is at ${d.percent} % of the range of instrument ${d.instrument}, ${d.limit}`,
      'Errors grow away from the centre of the range.',
    ),
  READING_SAME_POINT: ({ point }: Texts<'point'>) =>
    say(`Both ends of the slope are the same point, ${point}`, 'Correct one of the two stations.'),
  READING_ACROSS_REFUSED: ({ axis }: Texts<'axis'>) =>
    say(`From one rail to another only vertical slopes can be read, not ${axis} ones`),
  READING_SPAN_IMPLAUSIBLE: ({ found, nominal }: Texts<'found' | 'nominal'>) =>
    say(
      `The span ${found} differs by more than 5 % from the nominal span, ${nominal}`,
      'Check the unit and the rails of the row, and "across" of the rails in job.json.',
    ),
  SETUP_READS_NOTHING: ({ setup, phase }: Texts<'setup' | 'phase'>) =>
    say(
      `No reading is used from set-up ${setup}${phase === '' ? '' : ` (${phaseText(phase)})`}`,
      'Delete the set-up in job.json, or check whether its readings are under another set-up.',
    ),
  SETUP_UNREAD: ({ setup, rows }: Texts<'setup'> & Numbers<'rows'>) =>
    say(
      `Nothing was read from set-up ${setup}: none of its ${rows} planned rows holds a reading`,
      'Read them, or delete the set-up in job.json and its rows.',
    ),
  TARGET_UNKNOWN: ({ found, known: list }: Texts<'found' | 'known'>) =>
    say(`There is no target ${q(found)}`, known('target', list)),
  NO_READINGS_USED: ({ phase }: Texts<'phase'>) =>
    say(
      `No reading of ${phaseText(phase)} is used: its files have none, or every row has use = no`,
      `Fill the files in, or delete the entries of ${phaseText(phase)} under "readings" in job.json.`,
    ),

  CALIBRATION_OVERDUE: ({ instrument, due, on }: Texts<'instrument' | 'due' | 'on'>) =>
    say(`The calibration of instrument ${instrument} was due on ${due}, before the survey on ${on}`),
  GRADIENT_LARGE: ({ gradient }: Texts<'gradient'>) =>
    say(
      `A gradient of ${gradient} is more than the air of a hall has`,
      'Check the unit, and the distance between the thermometers.',
    ),
  SETUP_UNUSED: ({ setup }: Texts<'setup'>) => say(`Set-up ${setup} is not used`),
  COLUMN_IGNORED: ({ column }: Texts<'column'>) => say(`The column ${q(column)} is not used`),
  /** `by`: what the one reads more throughout, in words; '' where they read the same. */
  PASSES_IDENTICAL: (d: Texts<'rail' | 'axis' | 'one' | 'other' | 'by'> & Numbers<'count'>) =>
    say(
      d.by !== ''
        ? `Passes ${d.one} and ${d.other} on rail ${d.rail} differ by the same ${d.by} in all ${d.count} ${d.axis} readings`
        : d.rail === 'all' && d.axis === 'all'
          ? `Passes ${d.one} and ${d.other} have the same value in all ${d.count} readings`
          : `Passes ${d.one} and ${d.other} on rail ${d.rail} have the same value in all ${d.count} ${d.axis} readings`,
      'Real repeats differ a little. Check whether one pass was copied from the other.',
    ),
  ROWS_COPIED: (d: Texts<'one' | 'other'> & Numbers<'from' | 'to' | 'count'>) =>
    say(
      `${d.other} and ${d.one} have the same value, to the last digit, in ${d.count} readings in a row, stations ${d.from} to ${d.to}`,
      'Check whether rows were copied.',
    ),
  ROWS_REPEATED: ({ count, first }: Numbers<'count' | 'first'>) =>
    say(
      `${count} rows of readings are in the file twice, in the same order; the first of them is row ${first}. They would count twice`,
      'Delete the copies, or write use = no into them.',
    ),
  /** `others`: passes that read there and do not show it. */
  READINGS_STEP: (
    d: Texts<'rail' | 'axis' | 'pass' | 'step' | 'usual'> & Numbers<'from' | 'to' | 'others'>,
  ) =>
    say(
      `Between stations ${d.from} and ${d.to} of rail ${d.rail} the ${d.axis} readings of pass ${d.pass} jump by ${d.step}; from other stations to the next they change by about ${d.usual}${shownBy(d.others)}`,
      'Was the target knocked, a rod set again, or the instrument touched? If so, give the rows from there on a new target id, or a new set-up.',
    ),
  READING_STANDS_OUT: (
    d: Texts<'rail' | 'axis' | 'pass' | 'off' | 'usual'> & Numbers<'station' | 'others'>,
  ) =>
    say(
      `The ${d.axis} reading at station ${d.station} of rail ${d.rail}, pass ${d.pass}, is ${d.off} away from its neighbours; others are about ${d.usual} away${shownBy(d.others)}`,
      'Check whether the number was written wrongly, or dirt was under the target.',
    ),
  /** `other` is `ratio` times `one`; `factor` is that of two units. */
  UNIT_SUSPECT: (d: Texts<'one' | 'other' | 'units' | 'evidence'> & Numbers<'ratio' | 'factor'>) =>
    say(
      `The values of ${d.other} are ${d.ratio} times those of ${d.one} (${d.evidence}); between ${d.units} the factor is ${d.factor}`,
      'Check the unit of each pass.',
    ),
  UNIT_IMPLAUSIBLE: (
    d: Texts<'size' | 'against' | 'units'> &
      Numbers<'count'> & { way: 'small' | 'large' | 'rough' | 'coarse' },
  ) =>
    say(
      d.way === 'small'
        ? `The ${counted(d.count, 'reading')} of this file scatter by only ${d.size}, too little for an instrument with an uncertainty of ${d.against}`
        : d.way === 'rough'
          ? `The ${counted(d.count, 'reading')} of this file change by ${d.size} from station to station; for this instrument even ${d.against} would be much`
          : d.way === 'coarse'
            ? `The ${counted(d.count, 'reading')} of this file are in steps of ${d.size}, too coarse for an instrument with an uncertainty of ${d.against}`
            : `${counted(d.count, 'reading')} of this file ${agree(d.count, 'is', 'are')} beyond the range of the instrument, ${d.against}; the largest is ${d.size}`,
      `Check the unit and the decimal places${d.units === '' ? '' : `: the readings would fit ${d.units}`}.`,
    ),
  /** Two files of two phases, byte for byte. */
  SIGN_CHECK_TURNED: (d: Texts<'point' | 'axis' | 'setup' | 'moved' | 'change' | 'wanted' | 'plus'>) =>
    say(
      `The target on ${d.point} was moved ${d.moved}. The ${d.axis} reading from ${d.setup} changed by ${d.change}; it should have changed by ${d.wanted}. The sign is the opposite of what job.json says`,
      `Write "plus": { "${d.axis}": "${d.plus}" } at set-up ${d.setup}. Or correct the check, if the move was noted to the wrong side.`,
    ),
  SIGN_CHECK_SCALE: (d: Texts<'point' | 'axis' | 'setup' | 'moved' | 'change' | 'wanted'>) =>
    say(
      `The target on ${d.point} was moved ${d.moved}. The ${d.axis} reading from ${d.setup} changed by ${d.change}; it should have changed by ${d.wanted}`,
      'Check the unit, the scale of the target, and the amount that was noted.',
    ),
  SIGN_CHECK_ALONE: ({ point, axis, setup }: Texts<'point' | 'axis' | 'setup'>) =>
    say(
      `The sign check of ${point} from ${setup} has no ${axis} reading of the same point and target to compare with`,
      'Read the point once before the target is moved.',
    ),
  /** `plus`: as it would be written in job.json. */
  SIGN_ASSUMED: ({ setups, plus }: Texts<'setups' | 'plus'>) =>
    say(
      `For ${setups} it is not stated on which side of the plane a positive reading is`,
      `Move the target by a known amount and look which way the reading changes. Write the side as "plus" at the set-up; now ${plus} is assumed.`,
    ),
  SIGN_CHECK_UNREADABLE: ({ found }: Texts<'found'>) =>
    say(
      `The check ${q(found)} cannot be read`,
      'Write the side to which the target was moved, and how far: "left 1 mm", "up 0.05 in".',
    ),
  FILES_IDENTICAL: ({ one, other, phase, otherPhase }: Texts<'one' | 'other' | 'phase' | 'otherPhase'>) =>
    phase === otherPhase
      ? say(
          `The files ${q(one)} and ${q(other)} (${phase}) hold the same readings: they would count twice`,
          'Take one of the two out of "readings" in job.json.',
        )
      : say(
          `The file ${q(other)} (${otherPhase}) has the same content as ${q(one)} (${phase})`,
          'Two surveys never give exactly the same readings. Check whether one file was copied over the other.',
        ),
  /** One phase's profile of a rail is the other's turned over. */
  PHASES_MIRRORED: (d: Texts<'rail' | 'axis' | 'one' | 'other' | 'evidence'>) =>
    say(
      `The ${d.axis} readings of rail ${d.rail}, ${d.other}, are those of ${d.one} with the opposite sign (${d.evidence})`,
      'Adjusting a rail does not do this; a wrong sign does. Check "plus" of the set-ups of both phases.',
    ),
  /** The readings of a rail in one phase are a unit's factor smaller or larger than in the other. */
  PHASE_UNIT_SUSPECT: (d: Texts<'one' | 'other' | 'units' | 'evidence'> & Numbers<'ratio'>) =>
    say(
      `${d.other} are ${d.ratio} times as large as ${d.one} (${d.evidence}), which is about the factor between ${d.units}`,
      'Check the unit.',
    ),
  /** A station that one pass reads twice, with values that differ by more than noise does. */
  READING_REPEATED: (
    d: Texts<'rail' | 'axis' | 'pass' | 'one' | 'other' | 'rows' | 'usual'> & Numbers<'station'>,
  ) =>
    say(
      `Pass ${d.pass} reads station ${d.station} of rail ${d.rail} twice in ${d.axis}: ${d.one} and ${d.other} (rows ${d.rows}); two readings of one place differ by ${d.usual} as a rule, and both are used`,
      'Leave the wrong one out with use = no and a note, or correct its station.',
    ),
  /** Every reading of a pass is the same. */
  READINGS_CONSTANT: (d: Texts<'rail' | 'axis' | 'pass' | 'value'> & Numbers<'count'>) =>
    say(
      `All ${d.count} ${d.axis} readings of pass ${d.pass} on rail ${d.rail} are ${d.value}`,
      'A real rail does not give the same reading everywhere. Check whether the column was filled down, or its decimals were cut off.',
    ),
  /** A pass agrees with the others only when its stations are counted on by `by`. */
  SLOPE_IMPLAUSIBLE: ({ count, size, against }: Texts<'size' | 'against'> & Numbers<'count'>) =>
    say(
      `${counted(count, 'slope')} of this file ${agree(count, 'is', 'are')} steeper than ${against}; the steepest is ${size}. Machine rails are not that steep`,
      'Check the unit of the file.',
    ),
  /** Beyond anything that a mistaken claim explains. `near`: what would help most, and does not explain it. */
  NOISE_FAR_ABOVE_CLAIM: (d: Texts<'phase' | 'sigma0' | 'near'> & Numbers<'redundancy'>) =>
    unexplained({ ...d, way: 'misfit' }),
  /** Single changes that each explain the misfit of a phase, the likeliest first. `causes` and `mend` hold a line for each: what happened, and what to do about it ('' where nothing can be offered). `apart`: the reading that would tell them apart; ''. */
  MISFIT_EXPLAINED: (
    d: Texts<'phase' | 'sigma0' | 'causes' | 'mend' | 'apart'> &
      Numbers<'redundancy' | 'count'> & { way: 'misfit' | 'small' | 'too-good' },
  ) => {
    const fixes = d.mend.split('\n');
    const list = d.causes.split('\n').map((what, k) => ({ what, fix: fixes[k] || null }));
    const intro =
      d.count === 1
        ? 'One change explains it'
        : `Each of ${d.count} changes explains it, the likeliest first`;
    return {
      ...say(
        misfitWords(d.way, d.phase, d.sigma0, d.redundancy),
        d.apart === '' ? '' : `To tell them apart: ${d.apart}`,
      ),
      causes: { intro, list },
    };
  },
  /** No single change explains the misfit. */
  MISFIT_UNEXPLAINED: (
    d: Texts<'phase' | 'sigma0' | 'near'> & Numbers<'redundancy'> & { way: 'misfit' | 'too-good' },
  ) => unexplained(d),
  /** Two tables one after another, or titles that are rows. */
  CSV_SECOND_HEADER: ({ found, header }: Texts<'found'> & Numbers<'header'>) =>
    say(
      `This row is a second header (${found}); the header of the file is row ${header}`,
      'Put each table into a file of its own, and name both files in job.json.',
    ),
  CSV_ROWS_ABOVE_HEADER: ({ count, found, header }: Texts<'found'> & Numbers<'count' | 'header'>) =>
    say(
      `${count === 1 ? 'One row of readings is' : `${count} rows of readings are`} above the header in row ${header} and would be lost (${found})`,
      'Put them below the header, or into a file of their own.',
    ),
  /** A decimal comma in a comma-separated file has cut numbers in two. */
  CSV_DECIMALS_SPLIT: ({ found, column, count }: Texts<'found' | 'column'> & Numbers<'count'>) =>
    say(
      `A decimal comma has probably cut ${counted(count, 'number')} of this file in two: here ${found} is in ${q(column)} and the column after it`,
      'Save the file with semicolons between the cells, or with decimal points, or put the numbers in quotes.',
    ),
  /** A column that holds something in most rows and nothing in others: cells that were merged. */
  CSV_CELLS_BLANK: (d: Texts<'column' | 'first'> & Numbers<'blank' | 'rows'>) =>
    say(
      `The column ${q(d.column)} is blank in ${d.blank} of ${d.rows} rows; the last value above the first blank is ${q(d.first)}`,
      'If cells were merged, or filled in once for many rows, write the value into every row.',
    ),
  /** Two ids that differ in case or blanks only. */
  IDS_ALIKE: ({ kind, one, other }: Texts<'kind' | 'one' | 'other'>) =>
    say(
      `The ${kind} ids ${q(one)} and ${q(other)} differ only in capitals or blanks, and count as two`,
      'Write the same id everywhere.',
    ),
  ROW_DOUBLED: ({ first }: Numbers<'first'>) =>
    say(
      `This row is the same as row ${first}, with the same reading and time, so it would count twice`,
      'Delete it, or write use = no into it. A real repeat has its own pass or time.',
    ),
  CHARACTERISTIC_UNDETERMINED: ({ phase, what, why }: Texts<'phase' | 'what' | 'why'>) =>
    say(`The ${phase} readings do not determine ${what}: ${why}`),
  TOLERANCE_WITHOUT_VALUE: ({ what, rail, why }: Texts<'what' | 'rail' | 'why'>) =>
    say(`There will be no value for the tolerance of ${what}, rail ${rail}: ${why}`),
  STATIONS_MISSING: (d: Texts<'rail' | 'axis' | 'pass' | 'setup' | 'stations' | 'doubled'>) =>
    say(
      `Pass ${d.pass} on rail ${d.rail} from ${d.setup} has no ${d.axis} reading at ${d.stations}${d.doubled === '' ? '' : `, and two at ${d.doubled}`}`,
      d.doubled === '' ? 'Read it, or note why it was not read.' : 'Check whether a station number is wrong.',
    ),
  /** `missing`: which stations, in words; `which`: the first of them as A:7; `holds`, `whole`: the places that were read and that are declared, in words; `gap`: the longest stretch without a reading. `end`: '' where the first and the last declared station were read. */
  STATIONS_UNREAD: (
    d: Texts<'rail' | 'phase' | 'missing' | 'which' | 'holds' | 'whole' | 'gap' | 'end' | 'leftOut'> &
      Numbers<'read' | 'declared'>,
  ) =>
    say(
      `Read ${d.read} of ${d.declared} stations of rail ${d.rail}, ${d.phase}: not ${d.missing}${d.leftOut === '' ? '' : ` (left out by use = no: ${d.leftOut})`}`,
      `${
        d.end !== ''
          ? `What is said of the rail holds ${d.holds}, not ${d.whole}`
          : `What is said of the rail holds for the stations that were read`
      }: over ${d.gap} nothing tells how it lies. Read ${d.which}, or take these stations out of job.json.`,
    ),
  /** `what`: the characteristic whose U it widens most, by `times`; '' for none. */
  MONUMENT_UNREAD: (d: Texts<'monument' | 'setup' | 'phase' | 'what' | 'times'> & Numbers<'count'>) =>
    say(
      `${d.count === 1 ? 'Monument' : 'Monuments'} ${d.monument} ${d.count === 1 ? 'was' : 'were'} not read from set-up ${d.setup}, ${d.phase}${d.what === '' ? '' : `: read there too, the uncertainty of ${d.what} would be ${d.times} times smaller`}`,
      `Read ${d.count === 1 ? 'it' : 'them'} from ${d.setup}, or take ${d.count === 1 ? 'it' : 'them'} out of job.json.`,
    ),
  /** A limit below u, or far above what was read; `against`: u, or the value; `usual`: what the trade asks for at `length`. */
  LIMIT_IMPLAUSIBLE: (
    d: Texts<'what' | 'rail' | 'limit' | 'against' | 'length' | 'usual'> & { way: 'small' | 'large' },
  ) =>
    say(
      d.way === 'small'
        ? `The limit of ${d.what}, rail ${d.rail}, is ${d.limit}, less than the standard uncertainty of what it judges, ${d.against}`
        : `The limit of ${d.what}, rail ${d.rail}, is ${d.limit}; the value that was read is ${d.against}`,
      `Over ${d.length}, ${d.usual} is usual (common practice): look at the number and at the unit of the limit.`,
    ),
  /** `spacing`: rail `one`, `other` long, has stations `size` apart, where `against` is usual; `setup`: `one` is `size` away from rails that reach over `against`; `rails`: the stations of `one` are `size` apart, those of `other` `against`. */
  GEOMETRY_IMPLAUSIBLE: (
    d: Texts<'one' | 'other' | 'size' | 'against'> & {
      way: 'spacing' | 'setup' | 'rails' | 'near' | 'side' | 'span';
    },
  ) =>
    d.way === 'spacing'
      ? say(
          `The stations of rail ${d.one} are ${d.size} apart, ${d.other} in all; ${d.against} is usual on machine rails (common practice)`,
          'Look at the spacing and at the unit of lengths.',
        )
      : d.way === 'near'
        ? say(
            `Rail ${d.one} is only ${d.size} from rail ${d.other}; rails of a machine are at least ${d.against} apart (common practice)`,
            'Look at "across" of both, and at the unit of lengths.',
          )
        : d.way === 'setup'
          ? say(
              `Set-up ${d.one} is ${d.size} away from the rails, which reach over ${d.against}`,
              'Look at its "along" and "across": the distance goes into every uncertainty.',
            )
          : d.way === 'span'
            ? say(
                `The spans from rail ${d.one} to rail ${d.other} read about ${d.size}, and by their places in job.json they are ${d.against} apart`,
                'Look at "across" of both, and at the unit of the spans.',
              )
            : d.way === 'side'
              ? say(
                  `Rail ${d.one} is at ${d.size} across, and set-up ${d.other}, from which it was read, at ${d.against}: on the other side of the datum rail`,
                  'Look at the sign of "across" of both; + is left, looking along the rails.',
                )
              : say(
                  `The stations of rail ${d.one} are ${d.size} apart and those of rail ${d.other} ${d.against}, as many on either`,
                  'Look at the spacing of both: the rails are compared place by place.',
                ),
  DATE_IMPLAUSIBLE: ({ what, day, first, last }: Texts<'what' | 'day'> & Numbers<'first' | 'last'>) =>
    say(`The day of ${what} is ${day}; a day from ${first} to ${last} is expected`, 'Look at the year.'),
  /** The later phase `one` was read before `other`, which comes before it. */
  PHASES_REVERSED: ({ one, oneDay, other, otherDay }: Texts<'one' | 'oneDay' | 'other' | 'otherDay'>) =>
    say(
      `The readings ${one} end on ${oneDay}, before those ${other} begin on ${otherDay}`,
      'Are the files of the two phases exchanged? The verdict is about the last phase.',
    ),
  TARGET_ONCE: ({ target, likely }: Texts<'target' | 'likely'>) =>
    say(
      `The target ${q(target)} is in one row only, so its reading is not connected with any other`,
      likely === '' ? '' : `Did the crew mean ${q(likely)}?`,
    ),
  READINGS_UNCHECKED: ({ phase, count, of }: Texts<'phase'> & Numbers<'count' | 'of'>) =>
    say(
      count === of
        ? `None of the ${of} ${phase} readings is checked by another: a mistake in one of them would not be seen`
        : `${count} of ${of} ${phase} readings ${agree(count, 'is', 'are')} not checked by another: a mistake in ${count === 1 ? 'it' : 'one of them'} would not be seen`,
      'A second pass, or a closing reading, would check them.',
    ),
  /** `size`: time and memory in words. */
  JOB_LARGE: ({ size }: Texts<'size'> & Numbers<'seconds'>) =>
    say(`This job is large: its report takes ${size}`),
  JOB_TOO_LARGE: ({ size, limit, seconds }: Texts<'size'> & Numbers<'seconds' | 'limit'>) =>
    say(
      `The report would take ${size}, and a job may take ${limit} seconds`,
      `Divide the job, or allow more time: --limit ${Math.ceil((2 * seconds) / 100) * 100}.`,
    ),
  FILE_UNNAMED: ({ path }: Texts<'path'>) =>
    say(
      `The file ${q(path)} is in the job folder, but job.json does not name it, so it is not read`,
      'If it belongs to the survey, add an entry for it under "readings".',
    ),
  LEFT_OUT_WITHOUT_NOTE: ({ count }: Numbers<'count'>) =>
    say(
      `${count === 1 ? 'A row is' : `${count} rows are`} left out (use = no) without a note that says why`,
      'Write the reason into the column "note", which the report prints.',
    ),
  CONFIRMATION_IDLE: ({ what, file }: Texts<'what' | 'file'>) =>
    say(
      `${what}${file === '' ? '' : ` of ${q(file)}`} is confirmed, but is not found any more`,
      'Delete the entry under "confirmed".',
    ),
  DATES_REVERSED: ({ one, other }: Texts<'one' | 'other'>) =>
    say(`${one} is later than ${other}`, 'Check both dates.'),
  TEMPERATURE_WRONG: ({ found, wanted }: Texts<'found' | 'wanted'>) => want(`Found ${found}`, wanted),
  /** `count` readings of `other` within the stay at `one`. */
  SETUPS_INTERLEAVED: (d: Texts<'instrument' | 'one' | 'other' | 'from' | 'to'> & Numbers<'count'>) =>
    say(
      `${counted(d.count, 'reading')} from set-up ${d.other} (${d.from === d.to ? d.from : `${d.from} to ${d.to}`}) ${agree(d.count, 'was', 'were')} taken between readings from set-up ${d.one}, with the same instrument ${d.instrument}, which can be in one place only`,
      'Check the times and the set-up of these rows. An instrument that comes back to a place is a new set-up.',
    ),
  /** `drift`: '' where the set-up asks for none. */
  CLOSURE_EXCEEDED: (d: Texts<'setup' | 'point' | 'axis' | 'closure' | 'drift' | 'allowed'>) =>
    say(
      `From set-up ${d.setup}, the last ${d.axis} reading of ${d.point} differs from the first by ${d.closure}; ${
        d.drift === ''
          ? `up to ${d.allowed} is usual`
          : `a steady drift explains ${d.drift}, and up to ${d.allowed} more is usual`
      }`,
      d.drift === ''
        ? 'The instrument may have moved or drifted.'
        : 'The instrument may have moved, or may not have drifted steadily.',
    ),
  TIME_OUTSIDE_SURVEY: ({ time, on, count }: Texts<'time' | 'on'> & Numbers<'count'>) =>
    say(
      `The time ${time} is not on the day of the survey, ${on}${count > 1 ? `; ${count} times of this file are not` : ''}`,
      'Check the clock, and "surveyed" in job.json.',
    ),
  TOLERANCE_NOT_APPLICABLE: ({ what, rail, reason }: Texts<'what' | 'rail' | 'reason'>) =>
    reason === 'whole'
      ? say(
          `The tolerance ${what} names no rails, and the job has more than two`,
          'Write "rails" with the ids of all rails that are to be in one plane. Or write one entry for each "rail", which is then judged together with the datum rail.',
        )
      : reason === 'no-rail'
        ? say(`No rail of the job has the characteristic ${what}, so the tolerance is not used`)
        : say(
            `Rail ${rail} cannot have a tolerance of ${what}: ${NOT_APPLICABLE[reason] ?? reason}`,
            'Delete the tolerance, or name another rail.',
          ),
  /** For a set that is not the job's own. */
  TOLERANCE_PASSED_OVER: ({ what, rail, reason }: Texts<'what' | 'rail' | 'reason'>) =>
    say(
      reason === 'none'
        ? `The job has no rail ${q(rail)}, so the tolerance of its ${what} is not used`
        : `The tolerance of ${what} for rail ${rail} is not used: ${NOT_APPLICABLE[reason] ?? reason}`,
    ),
  NOISE_ABOVE_CLAIM: ({ phase, sigma0, redundancy }: Texts<'phase' | 'sigma0'> & Numbers<'redundancy'>) =>
    say(
      `The ${phase} readings disagree ${sigma0} times as much as the stated uncertainty of the instruments explains (redundancy ${redundancy})`,
      'All uncertainties are multiplied by it.',
    ),
  REPEATABILITY_ABOVE_CLAIM: (
    d: Texts<'phase' | 'instrument' | 'axis' | 's' | 'claimed'> & Numbers<'degrees'>,
  ) =>
    say(
      `The ${d.phase} readings of ${d.instrument} (${d.axis}) repeat each other only to ${d.s}; its stated uncertainty is ${d.claimed} (${d.degrees} degrees of freedom)`,
      'State in job.json the u that readings of this kind have ("reading": "u"), or "seat" of the target.',
    ),
  PRIOR_SUSPECT: ({ phase, prior, standardised }: Texts<'phase' | 'prior' | 'standardised'>) =>
    say(`The ${phase} readings contradict ${prior} (standardised residual ${standardised})`),
  /** `found`: what lies there, in words. */
  DROP_NOT_TAKEN: ({ found }: Texts<'found'>) =>
    want(`This is ${found}`, 'a job folder, or a zip of job folders'),
  DROP_NO_JOB: ({ drop }: Texts<'drop'>) =>
    want(
      `There is no job in this ${drop}`,
      'a folder with a file job.json, or several such folders',
      'Copy the whole job folder, not only the files in it.',
    ),
  DROP_TOO_LARGE: ({ limit }: Numbers<'limit'>) =>
    say(
      `There are more than ${thousands(limit)} files and folders in it`,
      'Divide it, or report it with the command batch.',
    ),
  ZIP_CUT_OFF: () =>
    say(
      'The zip has no end: the copy was cut off, or the file is not a zip',
      'Copy it again, or make it again from the job folder.',
    ),
  ZIP_DAMAGED: ({ reason }: Texts<'reason'>) =>
    say(`The zip is damaged: ${reason}`, 'Copy it again, or make it again from the job folder.'),
  ZIP_TOO_MANY: ({ count, limit }: Numbers<'count' | 'limit'>) =>
    say(
      `The zip has ${thousands(count)} files and folders, and at most ${thousands(limit)} are unpacked`,
      'Divide it.',
    ),
  ZIP_TOO_LARGE: ({ bytes, limit }: Numbers<'bytes' | 'limit'>) =>
    say(
      `Unpacked, the zip would have ${sizeText(bytes)}, and at most ${sizeText(limit)} are unpacked`,
      'Divide it, or leave out what does not belong to the jobs.',
    ),
  ZIP_BOMB: ({ bytes, packed, limit }: Numbers<'bytes' | 'packed' | 'limit'>) =>
    say(
      `Unpacked, the zip would grow from ${sizeText(packed)} to ${sizeText(bytes)}, more than ${limit} times`,
      'Copy the job folder itself.',
    ),
  ZIP_LEADS_OUT: ({ entry }: Texts<'entry'>) =>
    say(
      `The name ${q(entry)} in the zip leads out of the folder of the zip, or cannot be the name of a file`,
      PACK_AGAIN,
    ),
  ZIP_LINK: ({ entry }: Texts<'entry'>) =>
    say(`${q(entry)} in the zip is a link or a device, not a file`, 'Put the file itself there.'),
  ZIP_REPEATED: ({ entry }: Texts<'entry'>) =>
    say(
      `The name ${q(entry)} is in the zip more than once (capitals are not told apart), so it is not clear which file is meant`,
      PACK_AGAIN,
    ),
  ZIP_ENCRYPTED: ({ entry }: Texts<'entry'>) =>
    say(`${q(entry)} in the zip is encrypted`, 'Make the zip again without a password.'),
  ZIP_METHOD: ({ entry, method }: Texts<'entry'> & Numbers<'method'>) =>
    want(
      `${q(entry)} in the zip is compressed by method ${method}`,
      'method 8 (deflate) or 0 (none), which every zip program can write',
      'Make the zip again with standard compression.',
    ),
  /** For another reason than what the job's files hold. */
  JOB_NOT_REPORTED: ({ reason }: Texts<'reason'>) => say(reason.replace(/\.$/, '')),
  /** `count` more findings of the same code in the same file, which are not listed one by one. */
  MORE_LIKE_THIS: ({ like, count }: Texts<'like'> & Numbers<'count'>) =>
    say(`${count} more of the same kind (${like}) in this file ${agree(count, 'is', 'are')} not listed`),
};

const shownBy = (others: number): string =>
  others === 0
    ? ''
    : others === 1
      ? '. The other pass does not show it'
      : `. The ${others} other passes do not show it`;

/**
 * The wording of every diagnostic: what happened, what stood there, what is wanted, how to mend it; one or two
 * plain sentences. The place stands before it and is not repeated.
 */
import type { Diagnostic, DiagnosticCode, DiagnosticData } from './diagnostic.js';

/** The parts of a message, each a sentence without its full stop or, for `mend`, with it. */
export interface Said {
  readonly what: string;
  /** What would have been right. */
  readonly wanted: string | null;
  /** What to do about it, or what may have been meant. */
  readonly mend: string | null;
}

type Wording = { readonly [C in DiagnosticCode]: (data: DiagnosticData[C]) => Said };

const say = (what: string, mend = ''): Said => ({
  what,
  wanted: null,
  mend: mend.trim() === '' ? null : mend.trim(),
});
const want = (what: string, wanted: string, mend = ''): Said => ({ ...say(what, mend), wanted });

const q = (text: string): string => `"${text}"`;
const orNothing = (text: string): string => (text === '' ? 'nothing' : q(text));
const didYouMean = (nearest: string): string => (nearest === '' ? '' : `Did you mean ${q(nearest)}?`);
const known = (kind: string, list: string): string =>
  list === '' ? `The job declares no ${kind}.` : `The job declares: ${list}.`;
const sizeText = (bytes: number): string =>
  bytes < 2 ** 20 ? `${Math.ceil(bytes / 1024)} KiB` : `${(bytes / 2 ** 20).toFixed(0)} MiB`;
const thousands = (n: number): string => String(n).replace(/\B(?=(\d{3})+$)/g, ' ');

/** Why a key has no meaning where it stands (`KEY_MISPLACED.because`), and what to do. */
const MISPLACED: Readonly<Record<string, readonly [why: string, mend: string]>> = {
  'cross-rail': ['this is a cross rail, which has a place along and is never the datum', 'Take it out.'],
  'along-rail': [
    'this rail runs along; its place is given by "across"',
    'Take it out, or set "direction": "across".',
  ],
  'slope-instrument': [
    'this instrument reads slopes, whose uncertainty does not grow with distance',
    'Take it out.',
  ],
  'not-local': [
    'only the -local characteristics and rates of change are evaluated in windows',
    'Take it out, or add -local to "what".',
  ],
  'no-side': ['departures to one side only are judged of the straightness of a whole rail', 'Take it out.'],
  unsigned: ['this characteristic has no sign', 'Give it a "limit".'],
  'no-set': [
    'a grade chooses among the values of a tolerance set',
    'Name the set\u2019s file under "tolerances", or leave the grade out.',
  ],
  'no-group': ['this characteristic is of one rail', 'Write an entry for each "rail".'],
  'no-pair': ['this characteristic is of one rail alone', 'Take it out.'],
  group: ['"rails" names them all', 'Take it out.'],
  'no-reference': ['this characteristic has no choice of reference', 'Take it out.'],
  'not-slope': [
    'only slope files are read against gravity or a sight line',
    'Take it out, or set "kind": "slope".',
  ],
  'offset-file': ['offset readings take the instrument of the set-up in each row', 'Take it out.'],
  'not-of-kind': ['readings of this kind have no such column', 'Take it out, or look at "kind".'],
  'fixed-reading': ['a reading is never the same for a whole file', 'Map its column under "columns".'],
  'mapped-and-fixed': ['it is taken from a column as well', 'Keep one of the two.'],
  'no-unit': ['only readings and positions have a unit', 'Take it out.'],
  'words-of-reading': ['readings are numbers, which are taken as they stand', 'Take it out.'],
};

const PACK_AGAIN = 'Pack the zip again from the job folder.';

/** Why a rail cannot have a characteristic (`TOLERANCE_NOT_APPLICABLE.reason`). */
const NOT_APPLICABLE: Readonly<Record<string, string>> = {
  datum: 'it is the datum rail, and this is measured against the datum rail',
  'cross-rail': 'it is a cross rail, and this is of rails that run along',
  'along-rail': 'it runs along, and this is of cross rails',
  'no-joints': 'it has no "joints"',
  'no-distance': 'it lies at no distance across from the datum rail',
};

const wording: Wording = {
  FILE_MISSING: ({ path }) =>
    say(
      `The file ${q(path)} is not there`,
      path === 'job.json' ? 'Name a folder that holds one; waysheet new makes such a folder.' : '',
    ),
  FILE_UNREADABLE: ({ path, reason }) => say(`The file ${q(path)} cannot be read: ${reason}`),
  FILE_OUTSIDE_JOB: ({ path }) =>
    say(
      `The path ${q(path)} leads out of the job folder`,
      'Put the file inside it, and write the path with / and without a drive; only tolerance files may also stand in a folder "tolerances" above it.',
    ),
  FILE_TOO_LARGE: ({ bytes, limit }) =>
    say(`The file has ${sizeText(bytes)}; at most ${sizeText(limit)} are read`, 'Divide it.'),
  FILE_REPEATED: ({ path, phase }) =>
    say(
      `The file ${q(path)} is named twice for ${phase}: its readings would count twice`,
      'Take one entry out.',
    ),
  JSON_INVALID: ({ reason }) => say(`This is not valid JSON: ${reason}`),
  KEY_UNKNOWN: ({ key, nearest, known: list }) =>
    say(
      `The key ${q(key)} is not known here`,
      nearest !== '' ? didYouMean(nearest) : list !== '' ? `Known here: ${list}.` : '',
    ),
  KEY_MISSING: ({ key, wanted }) => want(`The key ${q(key)} is missing`, wanted),
  KEY_DUPLICATE: ({ key }) => say(`The key ${q(key)} stands here twice`, 'Keep the one that is meant.'),
  KEY_MISPLACED: ({ key, because }) => {
    const [why, mend] = MISPLACED[because] ?? [because, ''];
    return say(`The key ${q(key)} has no meaning here: ${why}`, mend);
  },
  VALUE_WRONG: ({ found, wanted }) => want(`Found ${found}`, wanted),
  ID_DUPLICATE: ({ kind, id }) => say(`There is already a ${kind} ${q(id)}`, `Give each ${kind} its own.`),
  ID_UNKNOWN: ({ kind, id, known: list }) => say(`There is no ${kind} ${q(id)}`, known(`${kind}s`, list)),
  DATUM_COUNT: ({ count }) =>
    count === 0
      ? say('No rail is the datum', 'Mark one rail, from which the others are measured, with "datum": true.')
      : say(`${count} rails are marked as the datum`, 'Leave "datum": true at one of them.'),
  FORMAT_UNKNOWN: ({ found, wanted }) =>
    say(`The format ${found} is not known; this program reads ${wanted}`),
  UNIT_UNKNOWN: ({ found, wanted }) => want(`The unit ${found} does not fit here`, wanted),
  MAPPED_TWICE: ({ header }) =>
    say(
      `The column ${q(header)} is read as readings twice: they would count twice`,
      'Take one of the two out, or tell columns of the same name apart by "nth".',
    ),

  CSV_EMPTY: () => say('The file is empty'),
  CSV_NO_ROWS: () =>
    say('The file has a header and no rows', 'Put the readings in, or take its entry out of job.json.'),
  CSV_COLUMN_MISSING: ({ column, found }) =>
    say(
      `${/, (?!or )/.test(column) ? 'Columns are' : 'A column is'} missing: ${column}`,
      `Found: ${orNothing(found)}.`,
    ),
  CSV_COLUMN_UNKNOWN: ({ column, nearest, wanted }) =>
    say(
      `The column ${q(column)} is not known`,
      `${didYouMean(nearest)} Known columns: ${wanted}. Others are mapped by "columns" and "rows" of the file's entry in job.json, or left out by "ignore".`,
    ),
  CSV_COLUMN_DUPLICATE: ({ column }) =>
    say(`There are two columns ${q(column)}`, 'Keep the one that is meant, or rename the other.'),
  CSV_COLUMNS_CLASH: ({ one, other }) =>
    say(
      `The columns ${q(one)} and ${q(other)} do not go together: readings stand either in vertical, horizontal and along, or in axis and reading`,
    ),
  CSV_COLUMN_OVERRULED: ({ column, name, instead }) =>
    say(
      `The file has a column ${q(column)}, and job.json takes ${name} from elsewhere: ${q(instead)}`,
      'Take that out of job.json, or list the column under "ignore".',
    ),
  CSV_MAPPED_MISSING: ({ name, header, nearest, found }) =>
    say(
      `There is no column ${q(header)}, from which job.json takes ${name}`,
      `${didYouMean(nearest)} Found: ${orNothing(found)}.`,
    ),
  CSV_MAPPED_UNCLEAR: ({ header, count }) =>
    say(
      `There are ${count} columns ${q(header)}, and job.json does not say which one is meant`,
      `Write { "column": ${q(header)}, "nth": 2 } for the second from the left.`,
    ),
  CSV_CELL_UNNAMED: ({ found, number }) =>
    say(
      `${q(found)} stands in column ${number}, which has no name in the header`,
      'Name the column, or clear the cell.',
    ),
  CSV_ROWS_BELOW: ({ count, first, key }) =>
    say(
      `${count === 1 ? 'A row holds' : `${count} rows hold`} no readings, but sums or signatures (${q(first)})`,
      `The file stays as it is: write "ignoreRows": ${key} into its entry in job.json.`,
    ),
  CSV_ROWS_IGNORED: ({ count, labels }) =>
    say(`${count === 1 ? 'A row is' : `${count} rows are`} left out by "ignoreRows": ${labels}`),
  CSV_UNIT_CLASH: ({ column, header, entry }) =>
    say(
      `The header gives ${q(column)} in ${header}, and job.json says that the file is in ${entry}`,
      'Make them agree.',
    ),
  CSV_ROW_LENGTH: ({ cells, columns }) =>
    cells > columns
      ? say(
          `The row has ${cells} cells, the header ${columns}`,
          'A decimal comma in a comma-separated file does this: quote such cells, or separate by semicolons.',
        )
      : say(
          `The row has ${cells} cells, the header ${columns}: a cell is lost, or the line breaks off`,
          'Fill it up with separators.',
        ),
  CSV_LINE_TOO_LONG: ({ characters, limit }) =>
    say(
      `The row has ${thousands(characters)} characters; at most ${thousands(limit)} are read`,
      'Line ends may be missing.',
    ),
  CSV_TOO_MANY_ROWS: ({ limit }) =>
    say(`The readings files of the job have more than ${thousands(limit)} rows together`, 'Divide the job.'),
  CSV_TOO_MANY_PROBLEMS: ({ limit }) =>
    say(
      `More than ${thousands(limit)} problems: from here on the file was not checked`,
      'Is it the file that its entry in job.json says?',
    ),
  CSV_QUOTE_OPEN: () =>
    say('A double quote opens in this row and is never closed; the rest of the file was not read'),
  CSV_QUOTE_STRAY: ({ found }) =>
    say(
      `A double quote stands inside the cell ${found}`,
      'Quote the whole cell and double the quotes inside it, or write inches as in.',
    ),
  CSV_ENCODING: ({ found }) => say(`The file is not readable text, but ${found}`, 'Save it as CSV in UTF-8.'),
  CSV_NUL: ({ offset }) => say(`The file holds a zero byte at offset ${offset}: it is damaged or not text`),
  CSV_DELIMITER_UNCLEAR: ({ found }) =>
    say(`The separator in ${q(found)} is none that is read: comma, semicolon, tab or bar`),

  CELL_NOT_A_NUMBER: ({ found, meant }) =>
    say(
      `${q(found)} is not a number as this file writes them`,
      meant !== ''
        ? `All others have the other decimal mark: write ${meant}.`
        : 'Write digits, a sign and one decimal mark at most, or leave the cell blank where nothing was read.',
    ),
  CELL_NUMBER_AMBIGUOUS: ({ found, one, other }) =>
    say(
      `${q(found)} could mean ${one} or ${other}, and nothing in the file tells which`,
      'Say "decimal": "point" or "comma" in the file\'s entry in job.json.',
    ),
  CELL_WRONG: ({ found, wanted }) => want(`Found ${orNothing(found)}`, wanted),
  CELL_MISSING: ({ wanted }) => want('The cell is blank', wanted),
  CELL_TIME: ({ found }) =>
    say(
      `${q(found)} is no time that can only be read one way`,
      'Write it as 2026-03-14T08:12, year, month and day in this order. Dates of another order are read where the file\'s entry in job.json says "dates": "day-month" or "month-day".',
    ),

  READING_RAIL_UNKNOWN: ({ found, known: list, meant }) =>
    say(
      `There is no rail ${q(found)}`,
      meant === ''
        ? known('rail', list)
        : `It looks like ${meant}: they stand in two columns, rail and station.`,
    ),
  ID_TAKEN_AS: ({ kind, found, taken }) =>
    say(`The ${kind} ${q(found)} is taken as ${q(taken)}: they differ in capitals or blanks only`),
  READING_SETUP_UNKNOWN: ({ found, known: list }) =>
    say(`There is no set-up ${q(found)}`, known('set-up', list)),
  READING_MONUMENT_UNKNOWN: ({ found, known: list }) =>
    say(`There is no monument ${q(found)}`, known('monument', list)),
  READING_STATION_UNKNOWN: ({ rail, found, count, nearest }) =>
    say(
      `There is no station ${q(found)}: rail ${rail} has stations 1 to ${count}`,
      `Did you mean ${nearest}?`,
    ),
  READING_POSITION_UNKNOWN: ({ rail, found, nearest }) =>
    say(`Rail ${rail} has no station at ${found}`, `The nearest is ${nearest}; 0.5 mm is allowed.`),
  READING_POINT_UNCLEAR: ({ found }) =>
    say(`The row names ${found}`, 'Name one point: a rail with a station or position, or a monument.'),
  READING_AXIS_REFUSED: ({ axis, point, wanted }) =>
    want(`The axis ${q(axis)} cannot be read at ${point}`, wanted),
  READING_ROW_EMPTY: () => say('The row names a point and holds no reading', 'It is passed over.'),
  READINGS_BLANK: ({ rows }) =>
    say(
      `The file is not filled in: no reading stands in ${rows === 1 ? 'its one row' : `any of its ${rows} rows`}`,
      'It is passed over until it is filled in.',
    ),
  READING_OUT_OF_RANGE: ({ reading, limit, instrument }) =>
    say(
      `The reading ${reading} lies beyond the range of instrument ${instrument}, ${limit}`,
      'Look for a slipped decimal mark or a wrong unit.',
    ),
  READING_NEAR_RANGE: ({ reading, limit, instrument, percent }) =>
    say(
      `The reading ${reading} is at ${percent} % of the range of instrument ${instrument}, ${limit}: errors grow away from the centre`,
    ),
  READING_SAME_POINT: ({ point }) => say(`There is no distance between ${point}`),
  READING_ACROSS_REFUSED: ({ axis }) =>
    say(`From one rail to another only vertical slopes can be read, not ${axis} ones`),
  READING_SPAN_IMPLAUSIBLE: ({ found, nominal }) =>
    say(
      `The span ${found} is more than 5 % off its nominal ${nominal}`,
      'Look for a wrong unit or another rail.',
    ),
  SETUP_READS_NOTHING: ({ setup, phase }) =>
    say(
      `No reading that is used was taken from set-up ${setup}${phase === '' ? '' : ` (${phase})`}`,
      'Take it out, or look for its readings under another set-up.',
    ),
  TARGET_UNKNOWN: ({ found, known: list }) => say(`There is no target ${q(found)}`, known('target', list)),
  NO_READINGS_USED: ({ phase }) =>
    say(
      `No reading of ${phase} is used: its files hold none, or every row says use = no`,
      `Fill them in, or take the entries of ${phase} out of "readings".`,
    ),

  CALIBRATION_OVERDUE: ({ instrument, due, on }) =>
    say(`The calibration of instrument ${instrument} was due on ${due}, before the survey on ${on}`),
  GRADIENT_LARGE: ({ gradient }) =>
    say(
      `A gradient of ${gradient} is more than the air of a hall has`,
      'Look at the unit, and at the distance between the thermometers.',
    ),
  SETUP_UNUSED: ({ setup }) => say(`Set-up ${setup} is not used`),
  COLUMN_IGNORED: ({ column }) => say(`The column ${q(column)} is not used`),
  PASSES_IDENTICAL: ({ rail, axis, one, other, count, by }) =>
    say(
      by !== ''
        ? `Passes ${one} and ${other} on rail ${rail} differ by the same ${by} in all ${count} ${axis} readings`
        : rail === 'all' && axis === 'all'
          ? `Passes ${one} and ${other} agree in all ${count} readings`
          : `Passes ${one} and ${other} on rail ${rail} agree in all ${count} ${axis} readings`,
      'Real repeats differ: was one copied?',
    ),
  PASSES_MIRRORED: ({ rail, axis, one, other, evidence }) =>
    say(
      `Pass ${other} on rail ${rail} mirrors pass ${one} in ${axis} (${evidence})`,
      'Was its sign turned round? Look at how the target faced, and at "plus" of the set-up.',
    ),
  ROWS_COPIED: ({ one, other, from, to, count }) =>
    say(
      `${other} agrees to the last digit with ${one} in ${count} neighbouring readings, stations ${from} to ${to}`,
      'Were rows copied?',
    ),
  ROWS_REPEATED: ({ count, first }) =>
    say(
      `${count} rows of readings stand in the file twice, in the same order, first those from row ${first} on: they would count twice`,
      'Take the copies out, or mark them with use = no.',
    ),
  READINGS_STEP: ({ rail, axis, pass, from, to, step, usual, others }) =>
    say(
      `Between stations ${from} and ${to} of rail ${rail}, pass ${pass} steps by ${step} in ${axis}; its other steps scatter by ${usual}${shownBy(others)}`,
      'Was the target knocked, a rod re-set, or the instrument touched? From then on it is another target, or another set-up.',
    ),
  READING_STANDS_OUT: ({ rail, axis, pass, station, off, usual, others }) =>
    say(
      `Station ${station} of rail ${rail}, pass ${pass}, stands ${off} off its neighbours in ${axis}; their steps scatter by ${usual}${shownBy(others)}`,
      'Look for a slip of the pen, or dirt under the target.',
    ),
  UNIT_SUSPECT: ({ one, other, ratio, factor, units, evidence }) =>
    say(
      `In size, ${other} is ${ratio} times ${one} (${evidence}); between ${units} the factor is ${factor}`,
      'Look at the unit.',
    ),
  UNIT_IMPLAUSIBLE: ({ count, size, against, factor, units, way }) =>
    say(
      way === 'small'
        ? `The file's ${count} readings scatter by ${size} only, less than the instrument's own ${against} allows`
        : way === 'rough'
          ? `The file's ${count} readings bend by ${size} from station to station; of rails that are read to so little as their instrument claims, ${against} would be much`
          : `${count} readings of the file lie beyond the range, ${against}, up to ${size}`,
      `They would fit if they were ${factor} times as ${way === 'small' ? 'large' : 'small'} (${units}): look at the unit.`,
    ),
  SIGN_CHECK_TURNED: ({ point, axis, setup, moved, change, wanted, plus }) =>
    say(
      `The target on ${point} was moved ${moved}, and the ${axis} reading from ${setup} changed by ${change} where ${wanted} should be: its sign is the other way round`,
      `Write "plus": { "${axis}": "${plus}" } at set-up ${setup}; or, where the check was noted to the wrong side, mend the check.`,
    ),
  SIGN_CHECK_SCALE: ({ point, axis, setup, moved, change, wanted }) =>
    say(
      `The target on ${point} was moved ${moved}, and the ${axis} reading from ${setup} changed by ${change}, not by ${wanted}`,
      'The unit, the scale of the target, or the amount that was noted is wrong.',
    ),
  SIGN_CHECK_ALONE: ({ point, axis, setup }) =>
    say(
      `The sign check of ${point} from ${setup} has no ${axis} reading of the same point and target to be compared with`,
      'Read the point once before the target is moved.',
    ),
  SIGN_CHECK_UNREADABLE: ({ found }) =>
    say(
      `The check ${q(found)} cannot be read`,
      'Write to which side the target was moved, and how far: "left 1 mm", "up 0.05 in".',
    ),
  FILES_IDENTICAL: ({ one, other, phase, otherPhase }) =>
    phase === otherPhase
      ? say(
          `The file ${q(other)} holds the same readings as ${q(one)}, both of ${phase}: they would count twice`,
          'Take one of the two out of "readings" in job.json.',
        )
      : say(
          `The file ${q(other)} (${otherPhase}) is the same to the last byte as ${q(one)} (${phase})`,
          'Two surveys never read alike: was one copied over the other?',
        ),
  PHASES_MIRRORED: ({ rail, axis, one, other, evidence }) =>
    say(
      `Rail ${rail} reads in ${axis} ${other} what it read ${one}, turned over (${evidence})`,
      'Adjusting makes a rail straighter; turning its signs round makes it look like this. Look at "plus" of the set-ups of both phases.',
    ),
  PHASE_UNIT_SUSPECT: ({ one, other, ratio, units, evidence }) =>
    say(
      `${other} are ${ratio} times as large as ${one} (${evidence}), near the factor of ${units}`,
      'Look at the unit.',
    ),
  READING_REPEATED: ({ rail, station, axis, pass, one, other, rows, usual }) =>
    say(
      `Pass ${pass} reads station ${station} of rail ${rail} twice in ${axis}: ${one} and ${other} (rows ${rows}); two readings of one place differ by ${usual} as a rule, and both are used`,
      'Leave the wrong one out with use = no and a note, or correct its station.',
    ),
  READINGS_CONSTANT: ({ rail, axis, pass, value, count }) =>
    say(
      `All ${count} ${axis} readings of pass ${pass} on rail ${rail} are ${value}`,
      'A target that moves along a rail does not read alike everywhere: was the column filled down, or its decimals cut off?',
    ),
  STATIONS_SHIFTED: ({ rail, axis, pass, by, evidence }) =>
    say(
      `Pass ${pass} on rail ${rail} agrees with the other passes in ${axis} only when each of its stations is counted ${Math.abs(by)} ${by > 0 ? 'higher' : 'lower'} (${evidence})`,
      `Was a row left out or typed twice? Write the stations of pass ${pass} ${Math.abs(by)} ${by > 0 ? 'higher' : 'lower'}, from where it went wrong.`,
    ),
  SLOPE_IMPLAUSIBLE: ({ count, size, against }) =>
    say(
      `${count} slopes of the file lie beyond ${against}, up to ${size}: no machine rail stands so`,
      'Look at the unit of the file.',
    ),
  NOISE_FAR_ABOVE_CLAIM: ({ phase, sigma0, redundancy }) =>
    say(
      `The ${phase} readings scatter ${sigma0} times as much as the instruments claim (redundancy ${redundancy}): something other than noise is in them`,
      'Look at the suspects and at the units, signs and stations of each pass; no single change was found that makes the readings agree.',
    ),
  MISFIT_EXPLAINED: ({ phase, cause, before, after, others, mend }) =>
    say(
      `The ${phase} readings scatter ${before} times as much as the instruments claim; ${after} times if ${cause}${others === '' ? '' : ` (next best: ${others})`}`,
      mend,
    ),
  CSV_SECOND_HEADER: ({ found, header }) =>
    say(
      `A second header stands here (${found}); the file's header is row ${header}`,
      'Make a file of its own of each table, and name both in job.json.',
    ),
  CSV_ROWS_ABOVE_HEADER: ({ count, found, header }) =>
    say(
      `${count === 1 ? 'A row of readings stands' : `${count} rows of readings stand`} above the header in row ${header} (${found})`,
      'They would be lost. Put them below the header, or into a file of their own.',
    ),
  CSV_DECIMALS_SPLIT: ({ found, column, count }) =>
    say(
      `${count === 1 ? 'A number of' : `${count} numbers of`} this file may have been cut in two at a decimal comma: ${found} stands in ${q(column)} and the column behind it`,
      'Save the file with semicolons between its cells, or with decimal points, or put numbers with a comma in quotes.',
    ),
  CSV_CELLS_BLANK: ({ column, blank, rows, first }) =>
    say(
      `The column ${q(column)} is blank in ${blank} of ${rows} rows; above the first of them stands ${q(first)}`,
      'Cells that were merged, or filled once for many rows, are blank in the file: write the value into each row, or leave the column blank throughout.',
    ),
  IDS_ALIKE: ({ kind, one, other }) =>
    say(
      `The ${kind} ${q(other)} differs from ${q(one)} in capitals or blanks only, and counts as another`,
      `Write one of the two throughout.`,
    ),
  ROW_DOUBLED: ({ first }) =>
    say(
      `This row is the same as row ${first}, reading and time included: it would count twice`,
      'Take it out, or mark it with use = no. A real repeat has its own pass or time.',
    ),
  CHARACTERISTIC_UNDETERMINED: ({ phase, what, why }) =>
    say(`The ${phase} readings do not determine ${what}: ${why}`),
  TOLERANCE_WITHOUT_VALUE: ({ what, rail, why }) =>
    say(`The tolerance of ${what}, rail ${rail}, will have no value: ${why}`),
  STATIONS_MISSING: ({ rail, axis, pass, setup, stations, doubled }) =>
    say(
      `Pass ${pass} on rail ${rail} from ${setup} has no ${axis} reading of ${stations}${doubled === '' ? '' : `, and ${doubled} twice`}`,
      doubled === '' ? 'Was it left out, or not read?' : 'Was a station number mistyped?',
    ),
  STATIONS_UNREAD: ({ rail, phase, read, declared, missing, which, holds, whole, gap, end, leftOut }) =>
    say(
      `Read ${read} of ${declared} stations of rail ${rail}, ${phase}: not ${missing}${leftOut === '' ? '' : ` (left out by use = no: ${leftOut})`}`,
      `${
        end !== ''
          ? `What is said of the rail holds ${holds}, not ${whole}`
          : `What is said of the rail holds for the stations that were read`
      }: over ${gap} nothing tells how it lies. Read ${which}, or take these stations out of job.json.`,
    ),
  MONUMENT_UNREAD: ({ monument, count, setup, phase, what, times }) =>
    say(
      `${count === 1 ? 'Monument' : 'Monuments'} ${monument} ${count === 1 ? 'was' : 'were'} not read from set-up ${setup}, ${phase}${what === '' ? '' : `: read there too, the uncertainty of ${what} would be ${times} times smaller`}`,
      `Read ${count === 1 ? 'it' : 'them'} from ${setup}, or take ${count === 1 ? 'it' : 'them'} out of job.json.`,
    ),
  LIMIT_IMPLAUSIBLE: ({ what, rail, way, limit, against, length, usual }) =>
    say(
      way === 'small'
        ? `The limit of ${what}, rail ${rail}, is ${limit}, less than the standard uncertainty of what it judges, ${against}`
        : `The limit of ${what}, rail ${rail}, is ${limit}; the value that was read is ${against}`,
      `Over ${length}, ${usual} is usual (common practice): look at the number and at the unit of the limit.`,
    ),
  GEOMETRY_IMPLAUSIBLE: ({ way, one, other, size, against }) =>
    way === 'spacing'
      ? say(
          `The stations of rail ${one} are ${size} apart, ${other} in all; ${against} is usual on machine rails (common practice)`,
          'Look at the spacing and at the unit of lengths.',
        )
      : way === 'setup'
        ? say(
            `Set-up ${one} is ${size} away from the rails, which reach over ${against}`,
            'Look at its "along" and "across": the distance goes into every uncertainty.',
          )
        : say(
            `The stations of rail ${one} are ${size} apart and those of rail ${other} ${against}, as many on either`,
            'Look at the spacing of both: the rails are compared place by place.',
          ),
  DATE_IMPLAUSIBLE: ({ what, day, first, last }) =>
    say(`The day of ${what} is ${day}; a day from ${first} to ${last} is expected`, 'Look at the year.'),
  PHASES_REVERSED: ({ one, oneDay, other, otherDay }) =>
    say(
      `The readings ${one} end on ${oneDay}, before those ${other} begin on ${otherDay}`,
      'Are the files of the two phases exchanged? The verdict is about the last phase.',
    ),
  TARGET_ONCE: ({ target, likely }) =>
    say(
      `The target ${q(target)} stands in one row only, and so ties nothing to anything`,
      likely === '' ? '' : `Did the crew mean ${q(likely)}?`,
    ),
  READINGS_UNCHECKED: ({ phase, count, of }) =>
    say(
      `${count} of ${of} ${phase} readings are checked by no other: a mistake in one of them would not show`,
      'A second pass, or a closing reading, would check them.',
    ),
  JOB_LARGE: ({ size }) => say(`The job is a large one: its report takes ${size}`),
  JOB_TOO_LARGE: ({ size, limit, seconds }) =>
    say(
      `The report would take ${size}; a job has ${limit} seconds`,
      `Divide the job, or allow it more: --limit ${Math.ceil((2 * seconds) / 100) * 100}.`,
    ),
  FILE_UNNAMED: ({ path }) =>
    say(
      `The file ${q(path)} lies in the job folder, and no entry of "readings" names it`,
      'Was it forgotten?',
    ),
  LEFT_OUT_WITHOUT_NOTE: ({ count }) =>
    say(
      `${count === 1 ? 'A row is' : `${count} rows are`} left out (use = no) without a note that says why`,
      'Write the reason into the column "note": the report prints it.',
    ),
  CONFIRMATION_IDLE: ({ what, file }) =>
    say(
      `Nothing of the kind ${what}${file === '' ? '' : ` in ${q(file)}`} is to be confirmed any more`,
      'Take the entry out of "confirmed".',
    ),
  DATES_REVERSED: ({ one, other }) => say(`${one} lies after ${other}`),
  TEMPERATURE_WRONG: ({ found, wanted }) => want(`Found ${found}`, wanted),
  SETUPS_INTERLEAVED: ({ instrument, one, other, from, to, count }) =>
    say(
      `${count} ${count === 1 ? 'reading' : 'readings'} from set-up ${other}, ${from === to ? from : `${from} to ${to}`}, ${count === 1 ? 'lies' : 'lie'} among those from set-up ${one} of the same instrument ${instrument}, which can stand in one place only`,
      'Look at the times and the set-up of these rows. An instrument that comes back to a place is a new set-up.',
    ),
  CLOSURE_EXCEEDED: ({ setup, point, axis, closure, drift, allowed }) =>
    say(
      `From set-up ${setup}, the last look at ${point} differs from the first by ${closure} in ${axis}; ${
        drift === ''
          ? `up to ${allowed} is to be expected`
          : `a steady drift makes ${drift}, and up to ${allowed} beside it is to be expected`
      }`,
      drift === ''
        ? 'The instrument may have moved or drifted.'
        : 'The instrument may have moved, or not drifted steadily.',
    ),
  TIME_OUTSIDE_SURVEY: ({ time, on, count }) =>
    say(
      `The time ${time} does not fit the day of the survey, ${on}${count > 1 ? `; in this file ${count} readings do not` : ''}`,
    ),
  TOLERANCE_NOT_APPLICABLE: ({ what, rail, reason }) =>
    reason === 'whole'
      ? say(
          `The ${what} names no rails, and more than two could be meant: all in one plane is not the same as pair by pair with the datum rail`,
          'Write "rails" with the ids of all that lie in one plane; or name a "rail", which is then judged with the datum rail, one entry for each.',
        )
      : reason === 'no-rail'
        ? say(`No rail of the job has the characteristic ${what}; the tolerance is passed over`)
        : say(`${what} cannot be asked of rail ${rail}: ${NOT_APPLICABLE[reason] ?? reason}`),
  TOLERANCE_PASSED_OVER: ({ what, rail, reason }) =>
    say(
      reason === 'none'
        ? `The job has no rail ${q(rail)}: the tolerance of its ${what} is passed over`
        : `${what} cannot be asked of rail ${rail} (${NOT_APPLICABLE[reason] ?? reason}): the tolerance is passed over`,
    ),
  NOISE_ABOVE_CLAIM: ({ phase, sigma0, redundancy }) =>
    say(
      `The ${phase} readings scatter ${sigma0} times as much as the instruments claim (redundancy ${redundancy})`,
      'Uncertainties are widened by it.',
    ),
  PRIOR_SUSPECT: ({ phase, prior, standardised }) =>
    say(`The ${phase} readings contradict ${prior} (standardised residual ${standardised})`),
  DROP_NOT_TAKEN: ({ found }) => want(`This is ${found}`, 'a job folder, or a zip of job folders'),
  DROP_NO_JOB: ({ drop }) =>
    want(
      `No job is in this ${drop}`,
      'a folder with a file job.json, or several such folders',
      'Take the whole job folder, not only the files in it.',
    ),
  DROP_TOO_LARGE: ({ limit }) =>
    say(
      `There are more than ${thousands(limit)} files and folders in it`,
      'Divide it, or report it with the command batch.',
    ),
  ZIP_CUT_OFF: () =>
    say(
      'The zip has no end: its copy was cut off, or it is no zip',
      'Copy it again, or pack it again from the job folder.',
    ),
  ZIP_DAMAGED: ({ reason }) =>
    say(`The zip is damaged: ${reason}`, 'Copy it again, or pack it again from the job folder.'),
  ZIP_TOO_MANY: ({ count, limit }) =>
    say(
      `The zip holds ${thousands(count)} files and folders; at most ${thousands(limit)} are unpacked`,
      'Divide it.',
    ),
  ZIP_TOO_LARGE: ({ bytes, limit }) =>
    say(
      `Unpacked the zip would have ${sizeText(bytes)}; at most ${sizeText(limit)} are unpacked`,
      'Divide it, or leave out what is no part of the jobs.',
    ),
  ZIP_BOMB: ({ bytes, packed, limit }) =>
    say(
      `Unpacked the zip would grow from ${sizeText(packed)} to ${sizeText(bytes)}; more than ${limit} times is not unpacked`,
      'Copy the job folder itself.',
    ),
  ZIP_LEADS_OUT: ({ entry }) =>
    say(
      `The name ${q(entry)} in the zip leads out of the zip's own folder, or can be no file's name`,
      PACK_AGAIN,
    ),
  ZIP_LINK: ({ entry }) =>
    say(`${q(entry)} in the zip is a link or a device, not a file`, 'Put the file itself in its place.'),
  ZIP_REPEATED: ({ entry }) =>
    say(
      `The name ${q(entry)} is in the zip more than once (capitals make no difference): which one is meant cannot be told`,
      PACK_AGAIN,
    ),
  ZIP_ENCRYPTED: ({ entry }) =>
    say(`${q(entry)} in the zip is encrypted`, 'Pack it again without a password.'),
  ZIP_METHOD: ({ entry, method }) =>
    want(
      `${q(entry)} in the zip is compressed by method ${method}`,
      'method 8 (deflate) or 0 (none), which every zip program offers',
      'Pack it again with standard compression.',
    ),
  JOB_NOT_REPORTED: ({ reason }) => say(reason.replace(/\.$/, '')),
  MORE_LIKE_THIS: ({ like, count }) =>
    say(`${count} more of the same kind (${like}) in this file are not listed`),
};

const shownBy = (others: number): string =>
  others === 0
    ? ''
    : others === 1
      ? ', and another pass does not show it'
      : `, and ${others} other passes do not show it`;

/** What a diagnostic says, part by part; for pages that set them apart. */
export function explain<C extends DiagnosticCode>(diagnostic: Diagnostic<C>): Said {
  const word = wording[diagnostic.code] as (data: DiagnosticData[C]) => Said;
  const { what, wanted, mend } = word(diagnostic.data);
  return {
    what: visible(what),
    wanted: wanted === null ? null : visible(wanted),
    mend: mend === null ? null : visible(mend),
  };
}

/** What a diagnostic says, in plain words; nothing in it can move a terminal's cursor or turn text round. */
export function describe<C extends DiagnosticCode>(diagnostic: Diagnostic<C>): string {
  const { what, wanted, mend } = explain(diagnostic);
  const { severity, confirmed } = diagnostic;
  const how = severity === 'confirm' ? ` ${howToConfirm(diagnostic)}` : '';
  const by =
    confirmed === undefined ? '' : ` Confirmed by ${visible(confirmed.by)}: ${visible(confirmed.because)}`;
  return `${what}${wanted === null ? '' : `; wanted: ${wanted}`}.${mend === null ? '' : ` ${mend}`}${how}${by}`;
}

/** What to write into job.json where it is as it should be. */
export function howToConfirm({ code, at }: Diagnostic): string {
  const entry = { what: code, ...(at !== undefined && { in: at.file }), by: '…', because: '…' };
  return `If it is as it should be, a person confirms it in job.json: "confirmed": [ ${visible(JSON.stringify(entry))} ].`;
}

/** Control characters, and those that turn the direction of text, by their number. */
export const visible = (text: string): string =>
  text.replace(
    /[\u0000-\u001f\u007f-\u009f\u200e\u200f\u2028-\u202e\u2066-\u2069]/g,
    (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );

/**
 * What goes wrong between the field book and the report, one line each: what was done, and what a person would want to happen. The survey is
 * made up, read in two passes of two rails; nothing else is wrong with it.
 */
import { csvOf, honestFolder, type Folder, type Row } from './silent-mistakes.js';

const FILE = 'readings/as-left.csv';
export type Files = Record<string, string | Uint8Array>;
type Change = (folder: Folder) => ((files: Files) => void) | void;

/** `fine`: it is read as it was meant, and nothing is said. `told`: a warning; `asked`: must be confirmed; `refused`: cannot be used. */
export type End = 'fine' | 'told' | 'asked' | 'refused';

const rows =
  (change: (row: Row, k: number, all: Row[]) => void): Change =>
  (folder) =>
    folder.rows.get(FILE)!.forEach(change);
const list =
  (change: (all: Row[]) => Row[]): Change =>
  (folder) =>
    void folder.rows.set(FILE, change(folder.rows.get(FILE)!));
const text =
  (change: (csv: string) => string | Uint8Array): Change =>
  () =>
  (files) => {
    files[FILE] = change(String(files[FILE]));
  };
const jobText =
  (change: (json: string) => string): Change =>
  () =>
  (files) => {
    files['job.json'] = change(String(files['job.json']));
  };
/* eslint-disable @typescript-eslint/no-explicit-any -- tests change job files at will */
const job =
  (change: (job: any) => void): Change =>
  (folder) =>
    change(folder.job);

export const times = (cell: number | '', by: number) =>
  cell === '' ? '' : Number((cell * by).toPrecision(9));
const plus = (cell: number | '', by: number) => (cell === '' ? '' : Number((cell + by).toFixed(1)));
const isOf = (r: Row, setup: string, pass: number) =>
  r.setup === setup && r.pass === pass && r.rail !== '' && r.use === '';
const german = (csv: string) => csv.replaceAll(',', ';').replaceAll(/(?<=;-?\d+)\.(?=\d)/g, ',');
/** The text of one cell, of the first reading of rail B. */
const cell = (change: (value: string) => string): Change =>
  text((csv) => {
    const lines = csv.split('\n');
    const k = lines.findIndex((line) => line.startsWith('S2,B,5,'));
    const cells = lines[k]!.split(',');
    const changed = change(cells[7]!);
    cells[7] = changed.includes(',') ? `"${changed}"` : changed;
    lines[k] = cells.join(',');
    return lines.join('\n');
  });

const NOTHING = /(?:)/;

export const officeMistakes: readonly (readonly [mistake: string, change: Change, end: End, said: RegExp])[] =
  [
    // Units
    [
      'the file typed in mm',
      rows((r) => {
        r.vertical = times(r.vertical, 1e-3);
        r.horizontal = times(r.horizontal, 1e-3);
        r.along = times(r.along, 1e-3);
      }),
      'asked',
      /1000 times too small, as if they were in mm and not in µm/,
    ],
    [
      'the job says mm, the file is in µm',
      job((j) => {
        j.units.reading = 'mm';
      }),
      'asked',
      /in µm \(1000 times as small\)|beyond the range/,
    ],
    [
      'a header says (mm), the column is in µm',
      text((t) => t.replace('vertical', 'vertical (mm)')),
      'refused',
      /READING_OUT_OF_RANGE/,
    ],
    [
      'pass 2 from S1 sideways in thou',
      rows((r) => {
        if (isOf(r, 'S1', 2)) r.horizontal = times(r.horizontal, 1 / 25.4);
      }),
      'asked',
      /25\.4 times too small, as if they were in thou/,
    ],
    [
      'u of the instrument in mm in place of µm',
      job((j) => {
        j.instruments[0].reading = { u: 2, unit: 'mm' };
      }),
      'asked',
      /agree with each other much better|too little for an instrument/,
    ],
    [
      'a limit in mm in place of µm',
      job((j) => {
        j.tolerances[0].unit = 'mm';
      }),
      'asked',
      /LIMIT_IMPLAUSIBLE/,
    ],
    [
      'a limit a thousand times too small',
      job((j) => {
        j.tolerances[0].limit = 0.04;
      }),
      'asked',
      /LIMIT_IMPLAUSIBLE/,
    ],
    [
      'spacing 5000 for 500',
      job((j) => {
        for (const r of j.rails) r.stations.spacing = 5000;
      }),
      'asked',
      /GEOMETRY_IMPLAUSIBLE/,
    ],
    [
      'lengths of the job in inches',
      job((j) => {
        j.units.length = 'in';
      }),
      'asked',
      /GEOMETRY_IMPLAUSIBLE/,
    ],
    // Numbers as spreadsheets and hands write them
    ['decimal commas and semicolons', text(german), 'fine', NOTHING],
    [
      '1.234,5 in a file with decimal commas',
      (f) => {
        rows((r) => {
          if (r.setup === 'S1') r.vertical = plus(r.vertical, 1200);
        })(f);
        return text((t) => german(t).replaceAll(/;(-?)(\d)(\d{3},\d)/g, ';$1$2.$3'))(f) as never;
      },
      'fine',
      NOTHING,
    ],
    [
      'decimal commas between commas',
      text((t) => t.replaceAll(/(?<=,-?\d+)\.(?=\d)/g, ',')),
      'refused',
      /decimal comma has/,
    ],
    ['3.5 that a spreadsheet made a date', cell(() => '03. May'), 'refused', /CELL_NOT_A_NUMBER|CELL_WRONG/],
    ['a date for a number', cell(() => '2026-05-03'), 'refused', /"2026-05-03"/],
    ['#REF!', cell(() => '#REF!'), 'refused', /#REF!/],
    ['#####', cell(() => '#####'), 'refused', /#####/],
    ['a number with an exponent', cell((v) => Number(v).toExponential().toUpperCase()), 'fine', NOTHING],
    ['a number in brackets for a negative one', cell(() => '(12.3)'), 'refused', /\(12\.3\)/],
    ['the sign after the number', cell(() => '12.3-'), 'refused', /12\.3-/],
    ['a Unicode minus', cell((v) => v.replace('-', '−')), 'fine', NOTHING],
    ['O for 0', cell(() => '1O.2'), 'refused', /1O\.2/],
    ['two numbers in one cell', cell(() => '12.3; 12.5'), 'refused', /12\.3; 12\.5/],
    ['n/a for a blank cell', cell(() => 'n/a'), 'refused', /n\/a/],
    ['an apostrophe before the number', cell((v) => `'${v}`), 'refused', /'/],
    [
      'the unit after each number',
      text((t) => t.replaceAll(/(?<=,)(-?\d+\.\d)(?=,)/g, '$1 um')),
      'fine',
      NOTHING,
    ],
    // The file
    ['a byte order mark', text((t) => `\uFEFF${t}`), 'fine', NOTHING],
    ['CRLF', text((t) => t.replaceAll('\n', '\r\n')), 'fine', NOTHING],
    ['UTF-16', text((t) => Uint8Array.from(Buffer.from(`\uFEFF${t}`, 'utf16le'))), 'fine', NOTHING],
    [
      'tabs',
      text((t) => t.replaceAll(',', '\t').replace(/knocked\t read/g, 'knocked, read')),
      'fine',
      NOTHING,
    ],
    ['blank lines between the passes', text((t) => t.replace(/\n(?=S2)/, '\n\n\n')), 'fine', NOTHING],
    ['blank columns at the end', text((t) => t.replaceAll('\n', ',,\n')), 'fine', NOTHING],
    ['a title above the header', text((t) => `Bed rails after regrout\n${t}`), 'fine', NOTHING],
    ['a sum below', text((t) => `${t}Mean,,,,,,,12.3,4.5,,,\n`), 'refused', /CSV_ROWS_BELOW/],
    [
      'two files one after the other, with both headers',
      text((t) => t.replace(/\n(?=S2)/, `\n${t.split('\n')[0]}\n`)),
      'refused',
      /CSV_SECOND_HEADER/,
    ],
    [
      'the set-up typed once, the cells below merged',
      text((t) => {
        let last = '';
        return t
          .split('\n')
          .map((l) => {
            const [s, ...rest] = l.split(',');
            const same = s === last;
            last = s!;
            return same ? ['', ...rest].join(',') : l;
          })
          .join('\n');
      }),
      'refused',
      /merged cells hold it in the first row only/,
    ],
    ['a misspelt header', text((t) => t.replace('vertical', 'vertcal')), 'refused', /vertcal/],
    ['the file broken off in a row', text((t) => t.trimEnd().slice(0, -9)), 'refused', /CSV_ROW_LENGTH/],
    ['a quote left open', text((t) => t.replace('S2,B,5', '"S2,B,5')), 'refused', /CSV_QUOTE/],
    // Stations, rails, set-ups, targets
    [
      'a station beyond the last',
      rows((r) => {
        if (isOf(r, 'S2', 1) && r.station === 13) r.station = 14;
      }),
      'refused',
      /READING_STATION_UNKNOWN/,
    ],
    [
      'stations counted from 0',
      rows((r) => {
        if (r.station !== '') r.station--;
      }),
      'refused',
      /READING_STATION_UNKNOWN/,
    ],
    [
      'pass 2 typed from the wrong end',
      rows((r) => {
        if (isOf(r, 'S1', 2) && r.rail === 'A') r.station = 14 - Number(r.station);
      }),
      'asked',
      /in the opposite order/,
    ],
    [
      'pass 2 counted one off',
      list((all) =>
        all.flatMap((r) =>
          isOf(r, 'S2', 2) && r.rail === 'B'
            ? r.station === 13
              ? []
              : [{ ...r, station: Number(r.station) + 1 }]
            : [r],
        ),
      ),
      'asked',
      /counted one too/,
    ],
    [
      'station 6 typed as 7',
      rows((r) => {
        if (isOf(r, 'S2', 1) && r.station === 6) r.station = 7;
      }),
      'told',
      /STATIONS_MISSING/,
    ],
    [
      'a rail that is not there',
      rows((r) => {
        if (isOf(r, 'S2', 1) && r.station === 6) r.rail = 'C';
      }),
      'refused',
      /READING_RAIL_UNKNOWN/,
    ],
    [
      'a set-up that is not declared',
      rows((r) => {
        if (isOf(r, 'S2', 2)) r.setup = 'S3';
      }),
      'refused',
      /READING_SETUP_UNKNOWN/,
    ],
    [
      'small letters and a blank in an id',
      rows((r) => {
        if (r.station === 3) r.setup = `${r.setup.toLowerCase()} `;
      }),
      'told',
      /ID_TAKEN_AS/,
    ],
    [
      'a target mistyped once',
      rows((r) => {
        if (isOf(r, 'S2', 1) && r.station === 4) r.target = 'T7';
      }),
      'refused',
      /T7/,
    ],
    [
      'the columns of a pass exchanged',
      rows((r) => {
        if (isOf(r, 'S1', 2)) [r.vertical, r.horizontal] = [r.horizontal, r.vertical];
      }),
      'asked',
      /vertical and horizontal|columns/,
    ],
    [
      'the sign of a pass',
      rows((r) => {
        if (isOf(r, 'S2', 2)) r.horizontal = times(r.horizontal, -1);
      }),
      'asked',
      /the other sign/,
    ],
    [
      'a rod re-set between the passes',
      rows((r) => {
        if (isOf(r, 'S1', 2)) r.vertical = plus(r.vertical, 90);
      }),
      'asked',
      /one amount|re-set/,
    ],
    [
      'a target knocked half way along a pass',
      rows((r) => {
        if (isOf(r, 'S2', 1) && r.rail === 'B' && Number(r.station) > 6)
          r.horizontal = plus(r.horizontal, 80);
      }),
      'asked',
      /re-set or slipped/,
    ],
    [
      'one reading ten times too large',
      rows((r) => {
        if (isOf(r, 'S1', 1) && r.station === 8) r.vertical = times(r.vertical, 10);
      }),
      'asked',
      /as if it were 10 times too large/,
    ],
    [
      'monuments exchanged in a pass',
      rows((r) => {
        if (r.setup === 'S2' && r.pass === 2 && r.monument !== '')
          r.monument = r.monument === 'M1' ? 'M2' : 'M1';
      }),
      'asked',
      /M1 and M2/,
    ],
    [
      'a monument not read from S2',
      list((all) => all.filter((r) => !(r.setup === 'S2' && r.monument === 'M2'))),
      'told',
      /MONUMENT_UNREAD/,
    ],
    [
      'a rail broken off after five stations',
      list((all) => all.filter((r) => !(r.rail === 'B' && Number(r.station) > 5))),
      'asked',
      /STATIONS_UNREAD/,
    ],
    // The same twice
    ['rows pasted twice', list((all) => [...all, ...all.slice(0, 20)]), 'asked', /ROWS_REPEATED|ROWS_COPIED/],
    [
      'a station typed twice with two values',
      list((all) =>
        all.flatMap((r) =>
          isOf(r, 'S1', 1) && r.station === 8 ? [r, { ...r, vertical: plus(r.vertical, 70) }] : [r],
        ),
      ),
      'asked',
      /READING_REPEATED/,
    ],
    [
      'pass 2 copied from pass 1',
      rows((r, _, all) => {
        if (!isOf(r, 'S1', 2)) return;
        const one = all.find((o) => isOf(o, 'S1', 1) && o.station === r.station && o.rail === r.rail)!;
        r.vertical = one.vertical;
        r.horizontal = one.horizontal;
      }),
      'asked',
      /PASSES_IDENTICAL|ROWS_COPIED/,
    ],
    [
      'a copy of the file under a second name',
      (f) => {
        f.job.readings.push({ file: 'readings/copy.csv', phase: 'as-left' });
        f.rows.set('readings/copy.csv', f.rows.get(FILE)!);
      },
      'asked',
      /FILES_IDENTICAL/,
    ],
    [
      'one file for both phases',
      job((j) => {
        j.readings[0].file = FILE;
      }),
      'refused',
      /FILE_REPEATED/,
    ],
    [
      'phases exchanged',
      job((j) => {
        [j.readings[0].phase, j.readings[1].phase] = [j.readings[1].phase, j.readings[0].phase];
      }),
      'asked',
      /PHASES_REVERSED/,
    ],
    [
      'a file that nobody named',
      (f) => {
        f.rows.set('readings/more.csv', f.rows.get(FILE)!.slice(0, 5));
      },
      'told',
      /FILE_UNNAMED/,
    ],
    [
      'a row left out without a reason',
      rows((r) => {
        if (isOf(r, 'S1', 1) && r.station === 4) r.use = 'no';
      }),
      'told',
      /LEFT_OUT_WITHOUT_NOTE/,
    ],
    // job.json
    [
      'the year 2062',
      job((j) => {
        j.surveyed.on = '2062-03-16';
      }),
      'asked',
      /DATE_IMPLAUSIBLE/,
    ],
    [
      'a calibration that had run out',
      job((j) => {
        j.instruments[0].calibrationDue = '2025-09-30';
      }),
      'told',
      /CALIBRATION_OVERDUE/,
    ],
    [
      'no level for a levelled set-up',
      job((j) => {
        delete j.instruments[0].level;
      }),
      'refused',
      /level/,
    ],
    [
      'two datum rails',
      job((j) => {
        j.rails[1].datum = true;
      }),
      'refused',
      /DATUM_COUNT/,
    ],
    [
      'a misspelt key',
      jobText((t) => t.replace('"levelled"', '"leveled"')),
      'refused',
      /Did you mean "levelled"/,
    ],
    [
      'a day as an office writes it',
      jobText((t) => t.replace('"2026-03-16"', '"16.03.2026"')),
      'refused',
      /16\.03\.2026/,
    ],
    ['a comma too many', jobText((t) => t.replace(/\}$/, ',}')), 'refused', /JSON_INVALID/],
    ['typographic quotes', jobText((t) => t.replace('"id"', '“id”')), 'refused', /JSON_INVALID/],
    [
      'a set-up 30 m away',
      job((j) => {
        j.setups[1].along = -30_000;
      }),
      'asked',
      /GEOMETRY_IMPLAUSIBLE/,
    ],
    // Traps of numbers, ids and files
    ['a plus before the number', cell(() => '+72.9'), 'fine', NOTHING],
    ['blanks round the number', cell((v) => `  ${v} `), 'fine', NOTHING],
    ['a minus alone for a blank cell', cell(() => '-'), 'refused', /"-"/],
    ['two decimal points', cell(() => '7.2.9'), 'refused', /7\.2\.9/],
    [
      'one decimal comma in quotes',
      cell((v) => v.replace('.', ',')),
      'refused',
      /CELL_NUMBER_AMBIGUOUS|decimal/,
    ],
    ['a question mark after the number', cell((v) => `${v}?`), 'refused', /\?/],
    ['TRUE in a cell', cell(() => 'TRUE'), 'refused', /TRUE/],
    ['digits of one reading swapped', cell(() => '27.9'), 'told', /READING|MISFIT|stands out/],
    ['the header in capitals', text((t) => t.replace(/^.*/, (l) => l.toUpperCase())), 'fine', NOTHING],
    ['stations with .0', text((t) => t.replaceAll(/(?<=,[AB],)(\d+)(?=,)/g, '$1.0')), 'fine', NOTHING],
    ['a column twice', text((t) => t.replace('along', 'vertical')), 'refused', /CSV_COLUMN_DUPLICATE|twice/],
    ['no rows but the header', text((t) => t.split('\n')[0]!), 'refused', /CSV_EMPTY|no row|NO_READINGS/],
    ['a file of 0 bytes', text(() => ''), 'refused', /empty/],
    [
      'a workbook named .csv',
      text(() => Uint8Array.from(Buffer.from('PK\u0003\u0004rest'))),
      'refused',
      /CSV/,
    ],
    [
      'a µ of Windows in a header',
      text((t) => Uint8Array.from(Buffer.from(t.replace('vertical', 'vertical (µm)'), 'latin1'))),
      'fine',
      NOTHING,
    ],
    [
      'a file in steps of mm under a job in µm, read as thou',
      (f) => {
        f.job.units.reading = 'thou';
        for (const list of f.rows.values())
          for (const r of list) {
            if (r.vertical !== '') r.vertical = Math.round(r.vertical);
            if (r.horizontal !== '') r.horizontal = Math.round(r.horizontal);
            if (r.along !== '') r.along = Math.round(r.along);
          }
      },
      'asked',
      /in steps of 1 thou|UNIT_IMPLAUSIBLE|µm/,
    ],
    [
      'every row left out',
      rows((r) => Object.assign(r, { use: 'no', note: 'bad day' })),
      'refused',
      /NO_READINGS_USED/,
    ],
    [
      'pass 2 typed as 22 in one row',
      rows((r) => {
        if (isOf(r, 'S2', 2) && r.station === 6) r.pass = 22;
      }),
      'told',
      /STATIONS_MISSING/,
    ],
    [
      'one year wrong in a row',
      rows((r) => {
        if (isOf(r, 'S2', 1) && r.station === 6) r.time = r.time.replace('2026', '2025');
      }),
      'told',
      /TIME|PHASE|DATE/,
    ],
    [
      'readings one row too low from station 7 on',
      rows((r, k, all) => {
        if (!isOf(r, 'S2', 1) || r.rail !== 'B' || Number(r.station) < 8) return;
        r.horizontal = all[k]!.horizontal;
        r.station = Number(r.station) - 1;
      }),
      'asked',
      /READING_REPEATED|counted one|MISFIT/,
    ],
    [
      'one minus forgotten',
      rows((r) => {
        if (isOf(r, 'S1', 2) && r.station === 4) r.vertical = times(r.vertical, -1);
      }),
      'asked',
      /one reading|row 22/,
    ],
    [
      'both files under one phase',
      job((j) => {
        j.readings[0].phase = 'as-left';
      }),
      'asked',
      /READING_REPEATED|MISFIT|NOISE/,
    ],
    [
      'a survey in two files of one phase',
      (f) => {
        const all = f.rows.get(FILE)!;
        f.rows.set(
          FILE,
          all.filter(({ setup }) => setup === 'S1'),
        );
        f.rows.set(
          'readings/as-left-2.csv',
          all.filter(({ setup }) => setup === 'S2'),
        );
        f.job.readings.push({ file: 'readings/as-left-2.csv', phase: 'as-left' });
      },
      'fine',
      NOTHING,
    ],
    // Traps of job.json
    [
      'one station too few declared',
      job((j) => {
        j.rails[1].stations.count = 12;
      }),
      'refused',
      /READING_STATION_UNKNOWN/,
    ],
    [
      'a tolerance of a rail that is not there',
      job((j) => {
        j.tolerances[2].rail = 'C';
      }),
      'refused',
      /"C"/,
    ],
    [
      'a misspelt characteristic',
      job((j) => {
        j.tolerances[0].what = 'straightnes-vertical';
      }),
      'refused',
      /straightness-vertical/,
    ],
    [
      'a limit in quotes',
      job((j) => {
        j.tolerances[0].limit = '40';
      }),
      'refused',
      /number/,
    ],
    [
      'a negative limit',
      job((j) => {
        j.tolerances[0].limit = -40;
      }),
      'refused',
      /expected: a number, more than 0/,
    ],
    [
      'a limit of 0',
      job((j) => {
        j.tolerances[0].limit = 0;
      }),
      'refused',
      /expected: a number, more than 0/,
    ],
    [
      'an uncertainty of 0',
      job((j) => {
        j.instruments[0].reading.u = 0;
      }),
      'refused',
      /expected: a number, more than 0/,
    ],
    [
      'u a thousand times too small',
      job((j) => {
        j.instruments[0].reading = { u: 0.002, unit: 'um' };
      }),
      'asked',
      /MISFIT|NOISE/,
    ],
    [
      'the level in minutes in place of seconds',
      job((j) => {
        j.instruments[0].level.unit = 'arcmin';
      }),
      'asked',
      /LIMIT_IMPLAUSIBLE/,
    ],
    [
      'the distance across in m in place of mm',
      job((j) => {
        j.rails[1].across = 2;
      }),
      'asked',
      /only 2 mm from rail A/,
    ],
    [
      'an instrument that is not declared',
      job((j) => {
        j.setups[1].instrument = 'L2';
      }),
      'refused',
      /"L2"/,
    ],
    [
      'two set-ups with one id',
      job((j) => {
        j.setups[1].id = 'S1';
      }),
      'refused',
      /S1/,
    ],
    [
      'the unit called micron',
      job((j) => {
        j.units.reading = 'micron';
      }),
      'fine',
      NOTHING,
    ],
    [
      'a stroke in the id',
      job((j) => {
        j.id = 'SIL/31002';
      }),
      'refused',
      /id/,
    ],
    [
      'a file in another folder',
      job((j) => {
        j.readings[1].file = '../as-left.csv';
      }),
      'refused',
      /FILE_OUTSIDE_JOB/,
    ],
    [
      'a \\ in a path',
      job((j) => {
        j.readings[1].file = 'readings\\as-left.csv';
      }),
      'refused',
      /Write it with \//,
    ],
    ['job.json of 0 bytes', jobText(() => ''), 'refused', /JSON_INVALID|empty/],
    ['job.json cut off', jobText((t) => t.slice(0, -40)), 'refused', /JSON_INVALID/],
    ['a remark in job.json', jobText((t) => t.replace('{', '{ // as printed\n')), 'refused', /comment/],
    ['a key twice', jobText((t) => t.replace('{', '{"id":"A-1",')), 'refused', /id/],
  ];

/** The survey with the change, as the files of its job folder. */
export function filesWith(change: Change): Files {
  const folder = honestFolder(31_002);
  const later = change(folder);
  const files: Files = {
    'job.json': JSON.stringify(folder.job),
    ...Object.fromEntries([...folder.rows].map(([file, own]) => [file, csvOf(own)])),
  };
  later?.(files);
  return files;
}

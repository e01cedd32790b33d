/**
 * Readings files rewritten as hands, sheets and programs do it: what must change nothing, and what must not pass in
 * silence. Of each rewriting: whether the readings are the same, and whether anything was said.
 */
import { findCauses, sayCauses } from '../../../src/solution/causes/find-causes.js';
import { type Frame } from '../../../src/survey/job/resolve-job.js';
import { frameOf } from '../../support/read-job.js';
import type { FileEntry } from '../../../src/survey/job/resolve-readings-files.js';
import { Findings, type Diagnostic } from '../../../src/base/diagnostics/diagnostic.js';
import { parseReadings } from '../../../src/survey/readings/parse-readings.js';
import type { Reading } from '../../../src/survey/readings/readings.js';
import type { Sink } from '../../../src/survey/readings/sink.js';
import { findSuspicions } from '../../../src/survey/readings/suspicions/find-suspicions.js';
import { buildNetwork } from '../../../src/solution/solve/network.js';
import type { RandomGenerator } from '../../../src/base/statistics/random.js';
import { honestSurvey, type Survey } from './gross-mistakes.js';

type Row = Record<string, string>;

const COLUMNS = 'setup,rail,station,monument,target,pass,vertical,horizontal,along,use,note'.split(',');

/** A row for each point, target and pass, as a crew writes it. */
function rowsOf(list: readonly Reading[]): Row[] {
  const rows: Row[] = [];
  for (const r of list) {
    if (r.kind !== 'offset') continue;
    const own: Row = {
      setup: r.setup,
      rail: r.point.kind === 'station' ? r.point.rail : '',
      station: r.point.kind === 'station' ? String(r.point.station) : '',
      monument: r.point.kind === 'monument' ? r.point.monument : '',
      target: r.target,
      pass: r.pass,
    };
    const last = rows.at(-1);
    const isSame = last !== undefined && Object.entries(own).every(([key, value]) => last[key] === value);
    const row = isSame && (last[r.axis] ?? '') === '' ? last : own;
    row[r.axis] = r.um.toFixed(3).replace(/\.?0+$/, '');
    if (row === own) rows.push(own);
  }
  return rows;
}

interface Written {
  readonly header: readonly string[];
  readonly rows: readonly Row[];
}

const lineOf = (header: readonly string[], row: Row, mark = ','): string =>
  header.map((column) => row[column] ?? '').join(mark);
const textOf = ({ header, rows }: Written, mark = ','): string =>
  [header.join(mark), ...rows.map((row) => lineOf(header, row, mark)), ''].join('\n');

/** A column as a sheet with merged cells saves it: only the first of equal cells is filled. */
const merged = (w: Written, column: string): Written => ({
  ...w,
  rows: w.rows.map((row, k) => ({
    ...row,
    [column]: row[column] === w.rows[k - 1]?.[column] ? '' : row[column]!,
  })),
});

export interface Rewriting {
  readonly name: string;
  /** null: this file cannot be rewritten so. */
  readonly rewrite: (written: Written, random: RandomGenerator, survey: Survey) => string | null;
  /** `same`: the readings must stay what they are. `told`: they must not, without a word. */
  readonly must: 'same' | 'told';
  /** Whether what the solution shows is asked too. */
  readonly solves?: boolean;
}

const upTo = (n: number, random: RandomGenerator): number => Math.floor(n * random.nextUniform());
const cells = ['vertical', 'horizontal', 'along'];
const mapCells = (
  { header, rows }: Written,
  change: (text: string, row: Row, axis: string) => string,
): Written => ({
  header,
  rows: rows.map((row) => ({
    ...row,
    ...Object.fromEntries(
      cells.filter((c) => (row[c] ?? '') !== '').map((c) => [c, change(row[c]!, row, c)]),
    ),
  })),
});
const shuffled = <T>(list: readonly T[], random: RandomGenerator): T[] => {
  const out = [...list];
  for (let i = out.length - 1; i > 0; i--) {
    const j = upTo(i + 1, random);
    [out[i], out[j]] = [out[j]!, out[i]!];
  }
  return out;
};

export const rewritings: readonly Rewriting[] = [
  { name: 'semicolons', must: 'same', rewrite: (w) => textOf(w, ';') },
  { name: 'tabs', must: 'same', rewrite: (w) => textOf(w, '\t') },
  {
    name: 'semicolons and decimal commas',
    must: 'same',
    rewrite: (w) =>
      textOf(
        mapCells(w, (t) => t.replace('.', ',')),
        ';',
      ),
  },
  {
    name: 'decimal commas in quotes',
    must: 'same',
    rewrite: (w) => textOf(mapCells(w, (t) => (t.includes('.') ? `"${t.replace('.', ',')}"` : t))),
  },
  {
    name: 'other line ends and a mark of the encoding',
    must: 'same',
    rewrite: (w) => `\ufeff${textOf(w).replaceAll('\n', '\r\n')}`,
  },
  {
    name: 'columns in another order',
    must: 'same',
    rewrite: (w, r) => textOf({ ...w, header: shuffled(w.header, r) }),
  },
  {
    name: 'rows in another order',
    must: 'same',
    rewrite: (w, r) => textOf({ ...w, rows: shuffled(w.rows, r) }),
  },
  {
    name: 'headers in capitals',
    must: 'same',
    rewrite: (w) => textOf(w).replace(/^[^\n]*/, (h) => h.toUpperCase()),
  },
  { name: 'blank lines', must: 'same', rewrite: (w) => textOf(w).replaceAll('\n', '\n\n') },
  { name: 'empty columns behind', must: 'same', rewrite: (w) => textOf(w).replaceAll('\n', ',,\n') },
  { name: 'blanks round the cells', must: 'same', rewrite: (w) => textOf(w).replaceAll(',', ' , ') },
  {
    name: 'plus signs',
    must: 'same',
    rewrite: (w) => textOf(mapCells(w, (t) => (t.startsWith('-') ? t : `+${t}`))),
  },
  {
    name: 'the sign of mathematics for minus',
    must: 'same',
    rewrite: (w) => textOf(mapCells(w, (t) => t.replace('-', '\u2212'))),
  },
  { name: 'a title above', must: 'same', rewrite: (w) => `Bed of the long mill\nThursday\n\n${textOf(w)}` },
  {
    name: 'the unit in the header',
    must: 'same',
    rewrite: (w) => textOf(w).replace('vertical', 'vertical (µm)'),
  },
  {
    name: 'in mm, as the header says',
    must: 'same',
    rewrite: (w) => {
      const mm = mapCells(w, (t) => String(Number((Number(t) / 1000).toFixed(9))));
      return textOf(mm).replace(/^[^\n]*/, (h) => h.replace(/(vertical|horizontal|along)/g, '$1 (mm)'));
    },
  },

  {
    name: 'two tables one after another',
    must: 'told',
    rewrite: (w, r) => {
      const changed = mapCells(w, (t) => String(Number(t) + 20 * r.nextNormal()));
      return textOf(w) + textOf(changed);
    },
  },
  {
    name: 'a table without its header above',
    must: 'told',
    rewrite: (w) => textOf(w).split('\n').slice(1).join('\n') + textOf(w),
  },
  {
    name: 'decimal commas without quotes',
    must: 'told',
    rewrite: (w) => {
      const changed = mapCells(w, (t) => t.replace('.', ','));
      return textOf(changed) === textOf(w) ? null : textOf(changed);
    },
  },
  {
    name: 'the whole file pasted twice',
    must: 'told',
    rewrite: (w) => textOf({ ...w, rows: [...w.rows, ...w.rows] }),
  },
  {
    name: 'a block pasted twice',
    must: 'told',
    rewrite: (w, r) => {
      const from = upTo(w.rows.length - 6, r);
      const block = w.rows.slice(from, from + 5 + upTo(20, r));
      return textOf({ ...w, rows: [...w.rows.slice(0, from), ...block, ...w.rows.slice(from)] });
    },
  },
  {
    name: 'one row pasted twice',
    must: 'told',
    rewrite: (w, r) => {
      const at = upTo(w.rows.length, r);
      return textOf({ ...w, rows: [...w.rows.slice(0, at), w.rows[at]!, ...w.rows.slice(at)] });
    },
  },
  {
    name: 'merged cells of the pass',
    must: 'told',
    rewrite: (w) => {
      if (!w.rows.some((row) => row['pass'] !== '1')) return null;
      return textOf(merged(w, 'pass'));
    },
  },
  {
    name: 'merged cells of the target',
    must: 'told',
    rewrite: (w) => textOf(merged(w, 'target')),
  },
  {
    name: 'merged cells of the rail',
    must: 'told',
    rewrite: (w) => textOf(merged(w, 'rail')),
  },
  {
    name: 'a target in small letters in some rows',
    must: 'told',
    rewrite: (w, r) => {
      const from = upTo(w.rows.length - 3, r);
      return textOf({
        ...w,
        rows: w.rows.map((row, k) =>
          k >= from && k < from + 3 ? { ...row, target: row['target']!.toLowerCase() } : row,
        ),
      });
    },
  },
  {
    name: 'all in mm, and nothing says so',
    must: 'told',
    rewrite: (w) => textOf(mapCells(w, (t) => (Number(t) / 1000).toFixed(6))),
  },
  {
    name: 'all in nm',
    must: 'told',
    rewrite: (w) => textOf(mapCells(w, (t) => (Number(t) * 1000).toFixed(0))),
  },
  {
    name: 'one pass turned',
    must: 'told',
    solves: true,
    rewrite: (w, r, survey) => {
      if (survey.passes < 2) return null;
      const axis = cells[upTo(2, r)]!;
      const setup = survey.job.setups.at(-1)!.id;
      return textOf(
        mapCells(w, (t, row, c) =>
          row['pass'] === '2' && row['rail'] === 'B' && row['setup'] === setup && c === axis
            ? String(-Number(t))
            : t,
        ),
      );
    },
  },
  { name: 'all noughts', must: 'told', rewrite: (w) => textOf(mapCells(w, () => '0')) },
  {
    name: 'cut off within a row',
    must: 'told',
    rewrite: (w, r) => {
      const lines = textOf(w).split('\n');
      const at = 2 + upTo(lines.length - 4, r);
      return lines.slice(0, at).join('\n') + '\n' + lines[at]!.split(',').slice(0, 4).join(',');
    },
  },
  { name: 'a header misspelt', must: 'told', rewrite: (w) => textOf(w).replace('vertical', 'vertcial') },
  {
    name: 'an unknown set-up',
    must: 'told',
    rewrite: (w, r) =>
      textOf({
        ...w,
        rows: w.rows.map((row, k) => (k === upTo(w.rows.length, r) ? row : { ...row, setup: 'S9' })),
      }),
  },
  {
    name: 'a station beyond the rail',
    must: 'told',
    rewrite: (w, r) => {
      const at = upTo(w.rows.length, r);
      if (w.rows[at]!['station'] === '') return null;
      return textOf({ ...w, rows: w.rows.map((row, k) => (k === at ? { ...row, station: '99' } : row)) });
    },
  },
  {
    name: 'a letter in a number',
    must: 'told',
    rewrite: (w, r) => {
      const at = upTo(w.rows.length, r);
      return textOf({
        ...w,
        rows: w.rows.map((row, k) =>
          k === at && row['vertical'] !== undefined ? { ...row, vertical: `${row['vertical']}O` } : row,
        ),
      }) === textOf(w)
        ? null
        : textOf({
            ...w,
            rows: w.rows.map((row, k) =>
              k === at && row['vertical'] !== undefined ? { ...row, vertical: `${row['vertical']}O` } : row,
            ),
          });
    },
  },
  { name: 'sums below', must: 'told', rewrite: (w) => textOf(w) + `Mean,,,,,,1.2,3.4,,,\nMax,,,,,,9,9,,,\n` },
  {
    name: 'another file of the same rails below, without its header',
    must: 'told',
    rewrite: (w) => textOf(w) + textOf(w).split('\n').slice(1).join('\n'),
  },
];

export interface Outcome {
  readonly isSame: boolean;
  readonly said: readonly string[];
}

interface Read {
  readonly readings: readonly Reading[];
  readonly diagnostics: readonly Diagnostic[];
  readonly frame: Frame;
}

function read(survey: Survey, text: string, solves: boolean): Read {
  const frame = frameOf(survey.job);
  const entry: FileEntry = { ...ENTRY };
  const findings = new Findings();
  const sink: Sink = { readings: [], excluded: [], checks: [], setupsSeen: new Set() };
  parseReadings(new TextEncoder().encode(text), entry, frame, sink, findings);
  const phases = new Map([['as-left' as const, sink.readings]]);
  const diagnostics = [
    ...findings.list,
    ...findSuspicions({ phases, excluded: [] }, { ...frame, files: [entry] }),
  ];
  if (solves && diagnostics.every(({ severity }) => severity === 'warning') && sink.readings.length > 0) {
    const network = buildNetwork(survey.job, sink.readings);
    const causes = findCauses(survey.job, 'as-left', sink.readings, network);
    if (causes !== null) diagnostics.push(sayCauses(causes));
  }
  return { readings: sink.readings, diagnostics, frame };
}

const ENTRY: FileEntry = {
  file: 'readings/as-left.csv',
  phase: 'as-left',
  kind: 'offset',
  instrument: null,
  unit: 'um',
  unitStated: false,
  against: null,
  decimal: null,
  mapping: null,
  at: { file: 'job.json', column: 'readings[0]' },
};

/** What a reading says, wherever its row stands. */
const sayings = (readings: readonly Reading[]): string[] =>
  readings
    .map((r) =>
      r.kind === 'offset'
        ? JSON.stringify([r.setup, r.point, r.target, r.pass, r.axis, r.um.toFixed(6)])
        : '',
    )
    .sort();

/** null: the survey cannot be rewritten so. */
export function tryOne(rewriting: Rewriting, seed: number, random: RandomGenerator): Outcome | null {
  const whole = honestSurvey(seed);
  const survey = { ...whole, phases: new Map([['as-left' as const, whole.phases.get('as-left')!]]) };
  const written = { header: COLUMNS, rows: rowsOf(survey.phases.get('as-left')!) };
  const plain = read(survey, textOf(written), false);
  const text = rewriting.rewrite(written, random, survey);
  if (text === null || text === textOf(written)) return null;
  const changed = read(survey, text, rewriting.solves === true);
  const before = new Set(plain.diagnostics.map(({ code }) => code));
  const isSame = JSON.stringify(sayings(plain.readings)) === JSON.stringify(sayings(changed.readings));
  return { isSame, said: changed.diagnostics.map(({ code }) => code).filter((code) => !before.has(code)) };
}

export interface Tally {
  tried: number;
  /** Must change nothing, and did; or was refused. */
  wrong: number;
  /** Changed the readings without a word. */
  silent: number;
}

/** @param count Of all kinds together. */
export function rewriteMany(count: number, random: RandomGenerator, began: number): Map<string, Tally> {
  const tallies = new Map(rewritings.map(({ name }) => [name, { tried: 0, wrong: 0, silent: 0 }]));
  for (let k = 0; k < count; k++) {
    const rewriting = rewritings[k % rewritings.length]!;
    const outcome = tryOne(rewriting, began + k, random);
    if (outcome === null) continue;
    const tally = tallies.get(rewriting.name)!;
    tally.tried++;
    if (rewriting.must === 'same' && (!outcome.isSame || outcome.said.length > 0)) tally.wrong++;
    if (rewriting.must === 'told' && !outcome.isSame && outcome.said.length === 0) tally.silent++;
  }
  return tallies;
}

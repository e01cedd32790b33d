/** Changes of job.json that follow from a finding alone. None was tried yet, and where several are possible all are given. */
import { parse } from 'jsonc-parser';
import { familyOf, isKnownUnit, unitLabel, unitNames } from '../../base/units/units.js';
import { phaseWords } from '../../survey/readings/phase-words.js';
import { stationWords } from '../../survey/readings/what-was-read.js';
import { nearest } from '../../base/diagnostics/nearest.js';
import type { Diagnostic, DiagnosticCode, DiagnosticData } from '../../base/diagnostics/diagnostic.js';
import { JOB_FILE, normalPath } from '../../survey/job/job-paths.js';
import { parseKeyPath, valueAt, type KeyPath } from '../../survey/job/key-path.js';
import { readNumber } from '../../survey/readings/number.js';
import type { JobEdit, JobFix } from '../causes/fix.js';

/** The parts of job.json that fixes use. */
export interface RawJob {
  readonly setups?: readonly { readonly id?: unknown }[];
  readonly readings?: readonly (object & { readonly file?: unknown; readonly phase?: unknown })[];
  readonly phases?: object;
}

/** job.json as it is, with something to look at where a list or an object of it is of another type. */
export function rawJob(text: string): RawJob {
  const isObject = (value: unknown): value is object => typeof value === 'object' && value !== null;
  const value = parse(text) as unknown;
  const job = isObject(value) ? (value as Record<string, unknown>) : {};
  const list = (key: string) =>
    (Array.isArray(job[key]) ? (job[key] as unknown[]) : []).map((v) => (isObject(v) ? v : {}));
  return { ...job, setups: list('setups'), readings: list('readings') };
}

/** What a fix is made from. `files`: readings files of the folder that job.json does not name. */
interface Found {
  readonly job: RawJob;
  /** Of the finding. */
  readonly file: string;
  readonly path: KeyPath;
  readonly files: readonly string[];
}

type Fixer<C extends DiagnosticCode> = (data: DiagnosticData[C], found: Found) => JobFix[];

const jobFix = (text: string, ...edits: JobEdit[]): JobFix => ({ kind: 'job', text, edits });

const fixers: { readonly [C in DiagnosticCode]?: Fixer<C> } = {
  SIGN_CHECK_TURNED: ({ setup, axis, plus }, { job }) => {
    const index = (job.setups ?? []).findIndex(({ id }) => id === setup);
    return index < 0
      ? []
      : [
          jobFix(`At set-up ${setup}, ${axis} readings are positive "${plus}".`, {
            path: ['setups', index, 'plus', axis],
            value: plus,
          }),
        ];
  },
  CSV_ROWS_BELOW: ({ key }, found) =>
    ofEntry(found, 'The rows with sums or signatures are left out.', 'ignoreRows', [
      JSON.parse(key) as string[],
    ]),
  UNIT_IMPLAUSIBLE: ({ units }, found) =>
    ofEntry(
      found,
      (unit) => `The readings of ${found.file} are in ${unitLabel(unit)}.`,
      'unit',
      [...units.matchAll(/in (\S+) \(/g)].map(([, label]) => label!.replace('µ', 'u')),
    ),
  CELL_NUMBER_AMBIGUOUS: (_, found) =>
    ofEntry(found, (mark) => `In ${found.file} the decimal mark is the ${mark}.`, 'decimal', [
      'point',
      'comma',
    ]),
  CELL_TIME: (_, found) =>
    ofEntry(found, (order) => `In ${found.file} dates are written ${order}.`, 'dates', [
      'day-month',
      'month-day',
    ]),
  KEY_UNKNOWN: ({ key, nearest: meant }, { path }) =>
    meant === '' ? [] : [jobFix(`The key "${key}" is called "${meant}".`, { path, key: meant })],
  VALUE_WRONG: ({ wanted }, found) => valueFixes(found, (text) => meantBy(text, wanted)),
  FILE_MISSING: ({ path: missing }, { job, files }) => {
    const index = entryOf(missing, job);
    const meant = nearest(missing, files) || (files.length === 1 ? files[0]! : '');
    return index < 0 || meant === ''
      ? []
      : [jobFix(`The file is called ${meant}.`, { path: ['readings', index, 'file'], value: meant })];
  },
  FILE_OUTSIDE_JOB: (_, found) =>
    valueFixes(found, (text) => (text.includes('\\') ? [text.replaceAll('\\', '/')] : [])),
  FILES_IDENTICAL: ({ one, other, phase, otherPhase }, { job }) =>
    (phase === otherPhase ? [other, one] : []).map((file) =>
      jobFix(`${file} is not read: it holds the same readings.`, {
        path: ['readings', entryOf(file, job)],
        value: undefined,
      }),
    ),
  PHASES_REVERSED: ({ one, other }, { job: { readings = [] } }) => {
    const nameOf = (words: string) =>
      readings.find(({ phase }) => phaseWords(String(phase)) === words)?.phase;
    const [a, b] = [nameOf(one), nameOf(other)];
    const edits = readings.flatMap(({ phase }, index): JobEdit[] =>
      phase === a || phase === b
        ? [{ path: ['readings', index, 'phase'], value: String(phase === a ? b : a) }]
        : [],
    );
    return a === undefined || b === undefined
      ? []
      : [jobFix(`The files of the phases ${one} and ${other} are exchanged.`, ...edits)];
  },
  STATIONS_UNREAD: ({ rail, read, declared, missing }, { job, path }) => {
    // Those before others number the others: they are taken out by hand.
    const last = Array.from({ length: declared - read }, (_, k) => read + 1 + k);
    const stations = valueAt(job, path) as { count?: unknown; at?: unknown } | undefined;
    if (read < 2 || missing !== stationWords(last)) return [];
    const text = `Rail ${rail} has ${read} stations: ${missing} are taken out of the job.`;
    if (Array.isArray(stations?.at))
      return [jobFix(text, { path: [...path, 'at'], value: stations.at.slice(0, read) as unknown[] })];
    return stations?.count === declared ? [jobFix(text, { path: [...path, 'count'], value: read })] : [];
  },
  LIMIT_IMPLAUSIBLE: (_, { job, path }) => {
    const { unit, limit } = (valueAt(job, path) ?? {}) as { unit?: unknown; limit?: unknown };
    if (typeof unit !== 'string' || !isKnownUnit(unit)) return [];
    return unitNames(familyOf(unit)).flatMap((name) =>
      name === unit
        ? []
        : [
            jobFix(`The limit is ${String(limit)} ${unitLabel(name)}.`, {
              path: [...path, 'unit'],
              value: name,
            }),
          ],
    );
  },
  FILE_UNNAMED: ({ path: file }, { job }) => {
    const { readings = [], phases = {} } = job;
    const names = [
      ...new Set([
        'as-found',
        'as-left',
        ...Object.keys(phases),
        ...readings.map(({ phase }) => String(phase)),
      ]),
    ];
    const plain = (text: string) => text.toLowerCase().replaceAll(/[^a-z0-9]/g, '');
    const named = names.filter((phase) => plain(file).includes(plain(phase)));
    // Like an entry that is there already: a kind has an instrument and a unit.
    const kinds = new Map(
      [{}, ...readings]
        .map((entry) => Object.entries(entry).filter(([key]) => key !== 'file' && key !== 'phase'))
        .map((rest) => [JSON.stringify(rest), Object.fromEntries(rest)]),
    );
    return (named.length > 0 ? named : names).flatMap((phase) =>
      [...kinds.values()].map((rest) =>
        jobFix(`${file} is read, as readings of the phase ${phase}.`, {
          path: ['readings', -1],
          value: { file, phase, ...rest },
          insert: true,
        }),
      ),
    );
  },
};

/** @param files Readings files of the folder that job.json does not name. */
export function fixesOf(d: Diagnostic, job: RawJob, files: readonly string[]): JobFix[] {
  const fixer = fixers[d.code] as Fixer<DiagnosticCode> | undefined;
  const { file = '', column = '' } = d.at ?? {};
  return fixer?.(d.data, { job, file, path: file === JOB_FILE ? parseKeyPath(column) : [], files }) ?? [];
}

/** Index of the entry of a readings file; −1: there is none. */
export const entryOf = (file: string, { readings = [] }: RawJob): number =>
  readings.findIndex(
    (entry) => typeof entry.file === 'string' && normalPath(entry.file) === normalPath(file),
  );

/** One key of the file's entry, with each of some values. */
function ofEntry<V extends string | object>(
  { file, job }: Found,
  text: string | ((value: V) => string),
  key: string,
  values: readonly V[],
): JobFix[] {
  const index = entryOf(file, job);
  return index < 0
    ? []
    : values.map((value) =>
        jobFix(typeof text === 'string' ? text : text(value), { path: ['readings', index, key], value }),
      );
}

/** Another value in place of a text in job.json. */
function valueFixes(
  { path, job, file }: Found,
  meant: (text: string) => readonly (string | number | boolean)[],
): JobFix[] {
  const value = file === JOB_FILE ? valueAt(job, path) : undefined;
  if (typeof value !== 'string') return [];
  return meant(value.trim()).map((other) =>
    jobFix(`${JSON.stringify(value)} means ${JSON.stringify(other)}.`, { path, value: other }),
  );
}

/** Every value of the wanted type that a text may mean. */
function meantBy(text: string, wanted: string): (string | number | boolean)[] {
  if (/^a (?:whole )?number/.test(wanted)) {
    const read = readNumber(text, { decimal: null, grouped: true });
    if (read.ok) return read.unit === null ? [read.value] : [];
    return read.why === 'ambiguous' ? [Number(read.one), Number(read.other)] : [];
  }
  if (wanted.startsWith('a date')) return daysMeant(text);
  if (wanted === 'true or false')
    return /^(?:true|yes|y)$/i.test(text) ? [true] : /^(?:false|no|n)$/i.test(text) ? [false] : [];
  const meant = nearest(text, wordsOf(wanted));
  return meant === '' ? [] : [meant];
}

/** "one of \"up\" \"down\"" */
function wordsOf(wanted: string): string[] {
  const words = [...wanted.matchAll(/"([^"]+)"/g)].map(([, word]) => word!);
  return words.length > 0 ? words : wanted.replace(/^one of /, '').split(' ');
}

/** Days, ISO, that numbers with dots, strokes or blanks between them may mean. */
function daysMeant(text: string): string[] {
  const parts = /^(\d{1,4})[-./ ]+(\d{1,2})[-./ ]+(\d{1,4})$/.exec(text)?.slice(1);
  if (parts === undefined) return [];
  const [a, b, c] = parts as [string, string, string];
  const orders =
    a.length === 4
      ? [[a, b, c]]
      : c.length === 4
        ? [
            [c, b, a],
            [c, a, b],
          ]
        : [];
  const days = orders.map(
    ([year, month, day]) => `${year}-${month!.padStart(2, '0')}-${day!.padStart(2, '0')}`,
  );
  return [...new Set(days)].filter((day) => {
    const time = Date.parse(`${day}T00:00Z`);
    return !Number.isNaN(time) && new Date(time).toISOString().startsWith(day);
  });
}

/** Readings in the wrong place: columns, rails or ids that were swapped, a pass that was typed from its end, stations counted one too high or low. */
import type { Axis, Job } from '../../../survey/job/job.js';
import type { OffsetReading, Reading, SlopeReading } from '../../../survey/readings/readings.js';
import { exchange } from '../columns.js';
import { lookUp } from '../fix.js';
import type { Hypothesis } from '../hypothesis.js';
import { by, lineOf, push, rowWords, type OffsetRow, type Row, type SurveyRows } from '../survey-rows.js';

/** Rows of a set-up and of each of its passes; if it has one pass, only those of the set-up. */
function parts(
  survey: SurveyRows,
): { key: string; words: string; rows: readonly OffsetRow[]; weight: number }[] {
  return survey.setups.flatMap((setup) => {
    const all = survey.offsets.get(setup.id)!;
    const passes = by(all, ({ reading }) => reading.pass);
    const whole = { key: setup.id, words: `from ${setup.id}`, rows: all, weight: 1 };
    if (passes.size < 2) return [whole];
    return [
      whole,
      ...[...passes].map(([pass, rows]) => ({
        key: `${setup.id}|${pass}`,
        words: `of pass ${pass} from ${setup.id}`,
        rows,
        weight: 1,
      })),
    ];
  });
}

const exchangeOf = (pairs: readonly (readonly [Row, Row])[]): Hypothesis['change'] => ({
  kind: 'values',
  column: exchange(pairs),
  turned: pairs.map(([a, b]) => [a.i, b.i] as const),
});

const look = (rows: readonly Row[]) => rowWords(rows.map(({ reading }) => reading));

/** Two columns with swapped headers, in a set-up, a pass, or one rail of a pass. */
export function columnSwaps(survey: SurveyRows): Hypothesis[] {
  return parts(survey).flatMap(({ key, words, rows }) => {
    const lines = by(rows, ({ reading }) => lineOf(reading));
    const wholes = [{ key, words, rows, weight: 1 }];
    const few = [...lines].map(([line, own]) => ({
      key: `${key}|${line}`,
      words: `of rail ${line} ${words}`,
      rows: own,
      weight: 0.5,
    }));
    return [...wholes, ...(lines.size > 1 ? few : [])].flatMap(
      ({ key: id, words: where, rows: own, weight }) =>
        columnPairs(own).flatMap(([one, other, pairs]): Hypothesis[] =>
          pairs.length < 2
            ? []
            : [
                {
                  kind: 'columns',
                  id: `columns|${id}|${one}|${other}`,
                  weight,
                  change: exchangeOf(pairs),
                  cause: () => `the columns ${one} and ${other} ${where} are swapped`,
                  fix: () =>
                    lookUp(
                      `Look up in the field notes which column is which in ${look(pairs.flat())}; if they are swapped, type them in the right columns.`,
                    ),
                },
              ],
        ),
    );
  });
}

function columnPairs(rows: readonly OffsetRow[]): [Axis, Axis, [OffsetRow, OffsetRow][]][] {
  const looks = new Map<string, OffsetRow[]>();
  const long = new Map<string, OffsetRow[]>();
  for (const row of rows) {
    const { source, point, target, pass } = row.reading;
    push(looks, `${source.file}|${source.row}`, row);
    push(long, JSON.stringify([point, target, pass]), row);
  }
  const isWide = [...looks.values()].some((own) => own.length > 1);
  const found = new Map<string, [OffsetRow, OffsetRow][]>();
  for (const own of (isWide ? looks : long).values()) {
    if (own.length !== 2 || own[0]!.reading.axis === own[1]!.reading.axis) continue;
    const [a, b] = [...own].sort((x, y) => (x.reading.axis < y.reading.axis ? 1 : -1)) as [
      OffsetRow,
      OffsetRow,
    ];
    push(found, `${a.reading.axis} ${b.reading.axis}`, [a, b]);
  }
  return [...found].map(([key, pairs]) => [...(key.split(' ') as [Axis, Axis]), pairs]);
}

/** Pairs of rows with the same key from two lists, in the order of reading. */
function pairUp<R extends Row>(one: readonly R[], other: readonly R[], key: (row: R) => string): [R, R][] {
  const waiting = new Map<string, R[]>();
  for (const row of other) push(waiting, key(row), row);
  return one.flatMap((row): [R, R][] => {
    const partner = waiting.get(key(row))?.shift();
    return partner === undefined ? [] : [[row, partner]];
  });
}

/** Two rails, or two monuments, were swapped, in a set-up or a pass. */
function pointSwaps(survey: SurveyRows, kind: 'rails' | 'monument-ids', fewest: number): Hypothesis[] {
  const idOf = ({ reading: { point } }: OffsetRow): string | null =>
    kind === 'rails'
      ? point.kind === 'station'
        ? point.rail
        : null
      : point.kind === 'monument'
        ? point.monument
        : null;
  const [one1, many] = kind === 'rails' ? ['rail', 'rails'] : ['monument', 'monuments'];
  return parts(survey).flatMap(({ key, words, rows, weight }) => {
    const ids = by(rows, idOf);
    return pairsOf([...ids.keys()].sort()).flatMap(([one, other]): Hypothesis[] => {
      const place = (row: OffsetRow) => `${stationOf(row)}|${row.reading.axis}|${row.reading.pass}`;
      const pairs = pairUp(ids.get(one)!, ids.get(other)!, place);
      if (pairs.length < fewest) return [];
      return [
        {
          kind,
          id: `${kind}|${key}|${one}|${other}`,
          weight,
          change: exchangeOf(pairs),
          cause: () => `the readings of ${many} ${one} and ${other} ${words} are swapped`,
          fix: () =>
            lookUp(
              `Look up in the field notes which ${one1} was read in ${look(pairs.flat())}; if they are swapped, write the other id.`,
            ),
        },
      ];
    });
  });
}

export const railSwaps = (survey: SurveyRows): Hypothesis[] => pointSwaps(survey, 'rails', 2);
export const monumentSwaps = (survey: SurveyRows): Hypothesis[] => pointSwaps(survey, 'monument-ids', 1);

const pairsOf = <T>(list: readonly T[]): [T, T][] =>
  list.flatMap((a, k) => list.slice(k + 1).map((b): [T, T] => [a, b]));

/** Two targets were swapped: their rods differ, so the equations change. */
export function targetSwaps(survey: SurveyRows): Hypothesis[] {
  const { job, readings } = survey;
  return parts(survey).flatMap(({ key, words, rows, weight }) => {
    const ids = [...new Set(rows.map(({ reading }) => reading.target))].sort();
    const axesOf = (id: string) =>
      new Set(rows.flatMap(({ reading }) => (reading.target === id ? [reading.axis] : [])));
    // Targets that are read in different planes cannot be swapped.
    const alike = pairsOf(ids).filter(([one, other]) =>
      [...axesOf(one)].some((axis) => axesOf(other).has(axis)),
    );
    return alike.map(([one, other]): Hypothesis => {
      const own = new Set<Reading>(rows.map(({ reading }) => reading));
      const other1 = (r: OffsetReading) => (r.target === one ? other : r.target === other ? one : r.target);
      return {
        kind: 'target-ids',
        id: `target-ids|${key}|${one}|${other}`,
        weight,
        change: {
          kind: 'labels',
          // One unknown replaces another.
          rank: 1,
          make: () => ({
            job,
            readings: readings.map((r) =>
              own.has(r) && r.kind === 'offset' ? { ...r, target: other1(r) } : r,
            ),
            lost: 0,
          }),
        },
        cause: () => `targets ${one} and ${other} ${words} are swapped`,
        fix: () =>
          lookUp(
            `Look up in the field notes which target stood where in ${look(rows)}; if they are swapped, write the other id.`,
          ),
      };
    });
  });
}

/** Least number of stations that can show a shift. */
const FEWEST_SHIFTED = 4;

interface Run {
  readonly key: string;
  readonly words: string;
  readonly rail: string;
  readonly rows: readonly OffsetRow[];
}

/** Rows of one rail in one pass from one set-up. */
function runs(survey: SurveyRows): Run[] {
  return survey.setups.flatMap((setup) => {
    const stations = survey.offsets.get(setup.id)!.filter(({ reading }) => reading.point.kind === 'station');
    return [...by(stations, ({ reading }) => JSON.stringify([lineOf(reading), reading.pass]))].map(
      ([, rows]) => {
        const { pass } = rows[0]!.reading;
        const rail = lineOf(rows[0]!.reading);
        return {
          key: `${setup.id}|${pass}|${rail}`,
          words: `of pass ${pass} of rail ${rail} from ${setup.id}`,
          rail,
          rows,
        };
      },
    );
  });
}

const stationOf = ({ reading: { point } }: OffsetRow): number =>
  point.kind === 'station' ? point.station : 0;

/** A pass was typed from its other end: each target by itself, or all readings of the rail. */
export function orders(survey: SurveyRows): Hypothesis[] {
  const { job, readings } = survey;
  const offsets = runs(survey).flatMap(({ key, words, rail, rows }): Hypothesis[] => {
    const targets = by(rows, ({ reading }) => `${reading.axis}|${reading.target}`);
    const pairs = [...targets.values()].flatMap((own) =>
      mirrored([...own].sort((a, b) => stationOf(a) - stationOf(b))),
    );
    if (pairs.length < 2) return [];
    const alone = orderOf(`order|${key}`, words, rows, exchangeOf(pairs));
    const numbers = [...new Set(rows.map(stationOf))].sort((a, b) => a - b);
    const isRegular = [...targets.values()].every((own) => {
      const read = new Set(own.map(stationOf));
      return numbers.every((n, k) => read.has(n) === read.has(numbers[numbers.length - 1 - k]!));
    });
    if (isRegular) return [alone];
    const own = new Set<Reading>(rows.map(({ reading }) => reading));
    const other = new Map(numbers.map((n, k) => [n, numbers[numbers.length - 1 - k]!]));
    const typed = (r: Reading): Reading =>
      own.has(r) && r.kind === 'offset' && r.point.kind === 'station'
        ? { ...r, point: { kind: 'station', rail, station: other.get(r.point.station)! } }
        : r;
    const make = () => ({ job, readings: readings.map(typed), lost: 0 });
    return [alone, orderOf(`order|${key}|all`, words, rows, { kind: 'labels', rank: rows.length, make })];
  });
  const slopes = survey.groups.flatMap(({ rows, pass, line, words, id, file }): Hypothesis[] => {
    if (file === null || pass === null || line === null) return [];
    const own = rows.filter((row): row is Row<SlopeReading> => row.reading.kind === 'slope');
    const pairs = mirrored([...own].sort((a, b) => a.reading.source.row - b.reading.source.row));
    if (pairs.length < 2) return [];
    return [orderOf(`order|${id}`, `of ${words}`, own, exchangeOf(pairs))];
  });
  return [...offsets, ...slopes];
}

const mirrored = <R extends Row>(list: readonly R[]): [R, R][] =>
  list.slice(0, Math.floor(list.length / 2)).map((row, k): [R, R] => [row, list[list.length - 1 - k]!]);

const orderOf = (
  id: string,
  words: string,
  rows: readonly Row[],
  change: Hypothesis['change'],
): Hypothesis => ({
  kind: 'order',
  id,
  weight: 1,
  change,
  cause: () => `the readings ${words} are in the opposite order`,
  fix: () =>
    lookUp(
      `Look up from which end this pass was read (${look(rows)}), and type its readings to the stations where they were taken.`,
    ),
});

/** Stations of a pass were counted one too high or too low. */
export function shifts(survey: SurveyRows): Hypothesis[] {
  const { job, readings } = survey;
  const offsets = runs(survey).filter(({ rows }) => new Set(rows.map(stationOf)).size >= FEWEST_SHIFTED);
  const slopes = survey.groups.flatMap(({ rows, pass, line, words, id, file }) =>
    file === null || pass === null || line === null || rows.length < FEWEST_SHIFTED
      ? []
      : [{ key: id, words: `of ${words}`, rows }],
  );
  return [...offsets, ...slopes].flatMap(
    ({ key, words, rows }: Omit<Run, 'rail' | 'rows'> & { rows: readonly Row[] }) => {
      const own = new Set<Reading>(rows.map(({ reading }) => reading));
      return [1, -1].map((step): Hypothesis => {
        const make = () => {
          const list = readings.flatMap((r) => (own.has(r) ? (shifted(job, r, step) ?? []) : [r]));
          return { job, readings: list, lost: readings.length - list.length };
        };
        return {
          kind: 'shift',
          id: `shift|${key}|${step}`,
          weight: 1,
          change: { kind: 'labels', rank: rows.length, make },
          cause: () => `the stations ${words} are counted one too ${step > 0 ? 'low' : 'high'}`,
          fix: () =>
            lookUp(
              `Look for a row that was left out or typed twice (${look(rows)}), and write each reading to the station where it was taken.`,
            ),
        };
      });
    },
  );
}

/** The reading, at the station one step further along (+1 or −1); null: there is none. */
function shifted({ rails }: Job, r: Reading, step: number): Reading | null {
  const next = <P extends { readonly rail: string; readonly station: number }>(point: P): P | null => {
    const station = point.station + step;
    const { stations } = rails.find(({ id }) => id === point.rail)!;
    return station < 1 || station > stations.length ? null : { ...point, station };
  };
  if (r.kind === 'offset') {
    const point = r.point.kind === 'station' ? next(r.point) : null;
    return point && { ...r, point };
  }
  if (r.kind === 'span') return r;
  const [from, to] = [next(r.from), next(r.to)];
  return from && to && { ...r, from, to };
}

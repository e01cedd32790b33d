/** Wrong signs and wrong units: readings times −1, 10, 1000, 25.4 …, all of a plane, a pass or a file. */
import type { Axis, Job } from '../../../survey/job/job.js';
import { otherUnits, unitLabel, type LengthUnit, type SlopeUnit } from '../../../base/units/units.js';
import { valueOf, type OffsetReading, type Reading } from '../../../survey/readings/readings.js';
import { columnOf } from '../columns.js';
import type { Fix } from '../fix.js';
import type { Hypothesis } from '../hypothesis.js';
import { by, lineOf, ofLine, rowWords, type Group, type Row, type SurveyRows } from '../survey-rows.js';

/** A part of a rail is wrong less often than a whole plane or a pass. */
const PART = 0.5;
/** Prior weight of each factor. */
const UNIT = 1 / 8;

/** One or more decimal places. */
const DECIMALS = [10, 100, 1000].flatMap((f) => [f, 1 / f]);
/** Units whose ratio is nearer to 1 than this are not confused. */
const LEAST = 3;
const isNear = (a: number, b: number): boolean => Math.abs(a / b - 1) < 1e-6;

const SIDES: Readonly<Record<Axis, readonly [plus: string, minus: string]>> = {
  vertical: ['up', 'down'],
  horizontal: ['left', 'right'],
  along: ['ahead', 'back'],
};

/** Readings of a plane with the wrong positive side. Spans have no side. */
export function signs({ job, groups }: SurveyRows): Hypothesis[] {
  return groups.flatMap((group): Hypothesis[] => {
    const { axis, rows, words, id, line } = group;
    if (axis === null) return [];
    return [
      {
        kind: 'sign',
        id: `sign|${id}`,
        weight: line === null ? 1 : PART,
        change: {
          kind: 'values',
          column: columnOf(rows, ({ reading }) => -2 * valueOf(reading)),
          turned: rows.map(({ i }) => [i] as const),
        },
        cause: () => `${words} have the other sign`,
        fix: () => signFix(job, group),
      },
    ];
  });
}

function signFix(job: Job, { setup, axis, pass, line, rows }: Group): Fix {
  if (setup !== null && axis !== null && pass === null && line === null) {
    const [plus, minus] = SIDES[axis];
    const [now, other] = setup.sign[axis] === 1 ? [plus, minus] : [minus, plus];
    return {
      kind: 'job',
      text: `In job.json, set-up ${setup.id}: "plus": { "${axis}": "${other}" } in place of "${now}".`,
      edits: [{ path: ['setups', job.setups.indexOf(setup), 'plus', axis], value: other }],
    };
  }
  return {
    kind: 'readings',
    text: `Look up how the target faced in ${rowWords(rows.map(({ reading }) => reading))}. If the sign is the other one: type these readings with the right sign, or give them a set-up of their own in job.json with the other "plus".`,
  };
}

/** Readings that are a unit's factor, or a decimal place or more, too small or too large. */
export function units({ job, groups, readings, network, offsets: own }: SurveyRows): Hypothesis[] {
  const rows = network.observations.flatMap((o, i): Row[] => (o.kind === 'prior' ? [] : [{ i, reading: o }]));
  const offsets = rows.filter(({ reading }) => reading.kind === 'offset');
  const files = by(offsets, ({ reading }) => reading.source.file);
  const wholes = [
    ...(offsets.length > 0
      ? [{ id: 'offsets', words: 'all offset readings', rows: offsets, line: null }]
      : []),
    ...(files.size > 1
      ? [...files].map(([file, list]) => ({
          id: file,
          words: `the readings of ${file}`,
          rows: list,
          line: null,
        }))
      : []),
  ];
  const parts = [...groups, ...passesOfAllPlanes(own)].filter(
    ({ rows: list }) => list.length < offsets.length || list[0]!.reading.kind !== 'offset',
  );
  return [...wholes, ...parts].flatMap(({ id, words, rows: list, line }): Hypothesis[] => {
    const written = unitsOf(job, list);
    const factors = written.flatMap(factorsOf);
    if (list[0]!.reading.kind === 'span' || list.length < 2) return [];
    return [
      {
        kind: 'unit',
        id: `unit|${id}`,
        weight: UNIT * (line === null ? 1 : PART),
        change: {
          kind: 'factor',
          column: columnOf(list, ({ reading }) => valueOf(reading)),
          factors: [...factors, ...DECIMALS].filter((f, k, all) => all.findIndex((g) => isNear(f, g)) === k),
        },
        cause: ({ values: [f = 1] }) =>
          `${words} are ${f > 1 ? `${shown(f)} times too small` : `${shown(1 / f)} times too large`}${asIfIn(written, f)}`,
        fix: ({ values: [f = 1] }) =>
          unitFix(
            job,
            list.map(({ reading }) => reading),
            readings,
            f,
          ),
      },
    ];
  });
}

/** A pass, or one line of it, with all its columns, as it was typed. */
const passesOfAllPlanes = (offsets: SurveyRows['offsets']): Pick<Group, 'id' | 'words' | 'rows' | 'line'>[] =>
  [...offsets].flatMap(([setup, own]) =>
    [...by(own, ({ reading }) => reading.pass)].flatMap(([pass, rows]) => {
      const lines = by(rows, ({ reading }) => lineOf(reading));
      const make = (line: string | null, list: readonly Row<OffsetReading>[]) =>
        new Set(list.map(({ reading }) => reading.axis)).size < 2
          ? []
          : [
              {
                id: [setup, '', pass, line ?? ''].join('|'),
                words: `the readings of pass ${pass}${ofLine(line)} from ${setup}`,
                rows: list,
                line,
              },
            ];
      return [
        ...make(null, rows),
        ...(lines.size < 2 ? [] : [...lines].flatMap(([line, list]) => make(line, list))),
      ];
    }),
  );

const shown = (f: number): string => String(Number(f.toPrecision(4)));

/** The units of these readings in the entries of the files. */
const unitsOf = (job: Job, list: readonly Row[]): (LengthUnit | SlopeUnit)[] => {
  const files = new Set(list.map(({ reading }) => reading.source.file));
  const units = job.readingsFiles.filter(({ file }) => files.has(file)).map(({ unit }) => unit);
  const known = units.length > 0 ? units : [list[0]!.reading.kind === 'slope' ? 'um/m' : job.readingUnit];
  return [...new Set(known)] as (LengthUnit | SlopeUnit)[];
};

/** Units that instruments show. */
const SHOWN: ReadonlySet<string> = new Set(['um', 'mm', 'in', 'thou']);

/** Factors of a wrong unit: another unit, a conversion in the wrong direction, or a conversion between two other units of displays. */
function factorsOf(unit: LengthUnit | SlopeUnit): number[] {
  const others = otherUnits(unit);
  const own = others.map(({ factor }) => factor);
  const shownOnes = others.flatMap((other) => (SHOWN.has(other.unit) ? [other.factor] : []));
  const between = shownOnes.flatMap((a) => shownOnes.map((b) => b / a));
  return [...own, ...own.map((f) => 1 / f), ...between].filter(
    (f) => Math.abs(Math.log(f)) > Math.log(LEAST),
  );
}

/** ", as if they were in thou and not in µm", if these two units have the factor; else ''. */
function asIfIn([unit, more]: readonly (LengthUnit | SlopeUnit)[], factor: number): string {
  const other = unit === undefined || more !== undefined ? null : otherUnit(unit, factor);
  return other === null ? '' : `, as if they were in ${unitLabel(other)} and not in ${unitLabel(unit!)}`;
}

/** A change of a unit in job.json if two units have the factor and the whole file is wrong; else what to look up. */
function unitFix(job: Job, list: readonly Reading[], all: readonly Reading[], factor: number): Fix {
  const look: Fix = {
    kind: 'readings',
    text: `Look up in which unit, and with how many decimals, ${rowWords(list)} were read; type them so, or write the unit into the header of their column.`,
  };
  const files = [...new Set(list.map(({ source }) => source.file))];
  const isWhole = files.every(
    (file) =>
      all.filter((r) => r.source.file === file).length === list.filter((r) => r.source.file === file).length,
  );
  if (!isWhole) return look;
  const entries = files.map((file) => job.readingsFiles.findIndex((entry) => entry.file === file));
  const edits = entries.flatMap((k) => {
    const unit = k < 0 ? null : otherUnit(job.readingsFiles[k]!.unit as LengthUnit | SlopeUnit, factor);
    return unit === null
      ? []
      : [{ path: ['readings', k, 'unit'], value: unit, from: job.readingsFiles[k]!.unit }];
  });
  if (edits.length < entries.length) return look;
  return {
    kind: 'job',
    text: `In job.json, the entry of ${files.join(' and ')} under "readings": "unit": "${edits[0]!.value}" in place of "${edits[0]!.from}".`,
    edits: edits.map(({ path, value }) => ({ path, value })),
  };
}

/** The unit that is `factor` times the given one. */
const otherUnit = (unit: LengthUnit | SlopeUnit, factor: number): LengthUnit | SlopeUnit | null =>
  otherUnits(unit).find((other) => isNear(other.factor, factor))?.unit ?? null;

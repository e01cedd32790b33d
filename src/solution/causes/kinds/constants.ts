/** Amounts by which several readings are wrong together: a pass, a target from a reading on (its rod was set anew), a monument that moved. */
import type { Axis } from '../../../survey/job/job.js';
import { lengthWords, slopeWords } from '../amounts.js';
import { columnOf, starts } from '../columns.js';
import { lookUp, type Fix } from '../fix.js';
import type { Hypothesis, Parameter } from '../hypothesis.js';
import { by, rowWords, type OffsetRow, type SurveyRows } from '../survey-rows.js';

/** µm; µm/m for slopes. Common practice, no source: a rod that is set anew is rarely off by less than a hair or more than a hand. */
const AMOUNT = { usual: 100, cap: 100_000, unit: 'um' } as const;
const SLOPE_AMOUNT = { usual: 50, cap: 10_000, unit: 'um/m' } as const;
const MONUMENT = { usual: 50, cap: 10_000, unit: 'um' } as const;

const one = () => 1;

/** All readings of a pass, or of one line in a pass, are wrong by the same amount. */
export function constants({ job, groups }: SurveyRows): Hypothesis[] {
  return groups.flatMap((group): Hypothesis[] => {
    const { rows, words, id, axis, pass, line, file } = group;
    if (rows.length < 2) return [];
    const isSlope = axis !== null && file !== null;
    // For offsets without a pass this is the height of the plane; for a level it is its zero.
    if (pass === null && !isSlope) return [];
    const size = isSlope ? SLOPE_AMOUNT : AMOUNT;
    return [
      {
        kind: 'constant',
        id: `constant|${id}`,
        weight: line === null ? 1 : 0.5,
        change: { kind: 'linear', parameters: [{ column: columnOf(rows, one), ...size }] },
        cause: ({ values: [c = 0] }) =>
          `${words} are all off by one amount (${isSlope ? slopeWords(job, c) : lengthWords(job, c)}${axis === 'vertical' && !isSlope ? '; a re-set rod does that' : ''})`,
        fix: (): Fix =>
          lookUp(
            `Look up what was changed for ${rowWords(rows.map(({ reading }) => reading))}. A re-set rod is a new target: give these rows a target id of their own. Else read the pass again.`,
          ),
      },
    ];
  });
}

const OF_AXIS: Readonly<Record<Axis, string>> = {
  vertical: 'the rod of target',
  horizontal: 'the bracket of target',
  along: 'the bracket (along) of target',
};

/** From a reading on, a target assembly has another length: up to the end of its pass, of its set-up, or of the survey. */
export function rods(survey: SurveyRows): Hypothesis[] {
  const { job, offsets, setups } = survey;
  return setups.flatMap((setup, place) =>
    [...by(offsets.get(setup.id)!, ({ reading }) => `${reading.axis}|${reading.target}`)].flatMap(
      ([key, rows]) => {
        const { axis, target } = rows[0]!.reading;
        const later = setups.slice(place + 1).flatMap(({ id }) => alike(offsets.get(id)!, axis, target));
        const make = (
          part: readonly OffsetRow[],
          from: number,
          weight: number,
          isPass: boolean,
          reach: string,
        ): Hypothesis => {
          const first = part[0]!.reading;
          return {
            kind: 'rod',
            id: `rod|${setup.id}|${key}|${from}|${reach}`,
            family: `rod|${setup.id}|${key}|${isPass || from === 0 || reach === 'pass' ? first.pass : ''}${reach === 'pass' ? '|pass' : ''}`,
            weight,
            change: { kind: 'linear', parameters: [{ column: columnOf(part, one), ...AMOUNT }] },
            cause: ({ values: [c = 0] }) =>
              `${OF_AXIS[axis]} ${target} was re-set or slipped before ${rowWords([first])} (${from === 0 ? `before ${setup.id}` : isPass ? `pass ${first.pass} from ${setup.id}` : setup.id})${reach === 'pass' ? `, until the end of pass ${first.pass}` : ''}, by ${lengthWords(job, c)}`,
            fix: () =>
              lookUp(
                `Look up whether target ${target} was re-set, dropped or put together anew. If so, it is a new target from there on: write a new id, such as ${target}b, into ${rowWords(part.map(({ reading }) => reading))}.`,
              ),
          };
        };
        const inside = starts(rows).flatMap(({ from, weight, isPass }) => {
          const part = rows.slice(from);
          const share = later.length > 0 ? 0.5 : 1;
          const next = part.findIndex(({ reading: { pass } }) => pass !== part[0]!.reading.pass);
          return [
            make(part, from, weight * share, isPass, 'here'),
            // For a whole pass this is the constant of the pass.
            ...(next > 1 && !isPass ? [make(part.slice(0, next), from, weight * share, false, 'pass')] : []),
            ...(later.length > 0 ? [make([...part, ...later], from, weight * share, isPass, 'on')] : []),
          ];
        });
        const isUsedBefore = setups
          .slice(0, place)
          .some(({ id }) => alike(offsets.get(id)!, axis, target).length > 0);
        return isUsedBefore ? [...inside, make([...rows, ...later], 0, 1, false, 'on')] : inside;
      },
    ),
  );
}

const alike = (rows: readonly OffsetRow[], axis: Axis, target: string): OffsetRow[] =>
  rows.filter(({ reading }) => reading.axis === axis && reading.target === target);

/** A monument moved before a set-up, or before one of its passes. */
export function monuments({ job, offsets, setups }: SurveyRows): Hypothesis[] {
  return job.monuments.flatMap(({ id }) => {
    const read = setups.map((setup) => ({
      setup,
      rows: offsets
        .get(setup.id)!
        .filter(({ reading: { point } }) => point.kind === 'monument' && point.monument === id),
    }));
    return read.flatMap(({ setup, rows }, place) => {
      if (rows.length === 0) return [];
      const later = read.slice(place + 1).flatMap((next) => next.rows);
      const isReadBefore = read.slice(0, place).some((earlier) => earlier.rows.length > 0);
      const make = (part: readonly OffsetRow[], when: string, key: string): Hypothesis => ({
        kind: 'monument',
        id: `monument|${id}|${setup.id}|${key}`,
        weight: 1,
        change: {
          kind: 'linear',
          parameters: (['along', 'vertical'] as const).flatMap((axis): Parameter[] => {
            const column = columnOf(part, ({ reading }) =>
              reading.axis === axis ? setupSign(reading.setup, axis) : 0,
            );
            return column.rows.length === 0 ? [] : [{ column, ...MONUMENT }];
          }),
        },
        cause: ({ values }) =>
          `monument ${id} moved before ${when}, by ${lengthWords(job, Math.hypot(...values))}`,
        fix: () =>
          lookUp(
            `Look whether monument ${id} is loose, or whether another mark was read. From there on it is a new monument: declare it in job.json, for example as ${id}b, and write that id into ${rowWords(part.map(({ reading }) => reading))}.`,
          ),
      });
      const passes = starts(rows).filter(({ isPass }) => isPass);
      return [
        ...(isReadBefore ? [make([...rows, ...later], `set-up ${setup.id}`, '')] : []),
        ...passes.map(({ from }) =>
          make(
            [...rows.slice(from), ...later],
            `pass ${rows[from]!.reading.pass} from ${setup.id}`,
            rows[from]!.reading.pass,
          ),
        ),
      ];
    });
  });

  function setupSign(setup: string, axis: Axis): number {
    return setups.find((s) => s.id === setup)!.sign[axis];
  }
}

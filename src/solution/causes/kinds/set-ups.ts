/** Faults of a whole set-up: it tilted or turned between readings, it was not level, or its instrument has an error. */
import type { Setup } from '../../../survey/job/job.js';
import { slopeWords, tiltWords } from '../amounts.js';
import { columnOf, starts } from '../columns.js';
import { lookUp } from '../fix.js';
import type { Hypothesis, Parameter } from '../hypothesis.js';
import { placeOf, rowWords, type OffsetRow, type SurveyRows } from '../survey-rows.js';
import type { Prior } from '../../solve/network.js';

/** µm/m. A tripod that is knocked; a plane that was not levelled; the zero error of a level: common practice, no source. */
const TILT = { usual: 30, cap: 3000, unit: 'um/m' } as const;
const LEVEL = { usual: 50, cap: 3000, unit: 'um/m' } as const;
const ZERO = { usual: 15, cap: 300, unit: 'um/m' } as const;
const SQUARE = { usual: 50, cap: 3000, unit: 'um/m' } as const;

/** From a reading on, a set-up has another position: what this adds to each reading, and its words. */
function standing(
  survey: SurveyRows,
  kind: 'tilt' | 'turn',
  effects: readonly ((row: OffsetRow, dx: number, dy: number, sign: Setup['sign']) => number)[],
  words: (values: readonly number[]) => string,
): Hypothesis[] {
  const { job, offsets, setups } = survey;
  return setups.flatMap((setup) => {
    const rows = offsets
      .get(setup.id)!
      .filter(({ reading }) => (reading.axis === 'vertical') === (kind === 'tilt'));
    const columns = effects.map((effect) => {
      const values = new Map(
        rows.map((row) => {
          const { alongMm, acrossMm } = placeOf(job, row.reading.point);
          const [dx, dy] = [(alongMm - setup.alongMm) / 1000, (acrossMm - setup.acrossMm) / 1000];
          return [row, effect(row, dx, dy, setup.sign)];
        }),
      );
      return (part: readonly OffsetRow[]) => columnOf(part, (row) => values.get(row)!);
    });
    return starts(rows, 3).map(({ from, weight, isPass }): Hypothesis => {
      const part = rows.slice(from);
      const first = part[0]!.reading;
      const parameters = columns.map((column): Parameter => ({ column: column(part), ...TILT }));
      return {
        kind,
        id: `${kind}|${setup.id}|${from}`,
        family: isPass ? `${kind}|${setup.id}|${first.pass}` : `${kind}|${setup.id}`,
        weight,
        change: { kind: 'linear', parameters: parameters.filter(({ column }) => column.rows.length > 0) },
        cause: ({ values }) =>
          `set-up ${setup.id} ${kind === 'tilt' ? 'tilted' : 'turned sideways'} before ${rowWords([first])}${isPass ? ` (pass ${first.pass})` : ''}, by ${words(values)}`,
        fix: () =>
          lookUp(
            `Look up whether ${setup.id} was knocked or moved. If so, it is a new set-up from there on: declare it in job.json, for example as ${setup.id}b, and write that id into ${rowWords(part.map(({ reading }) => reading))}.`,
          ),
      };
    });
  });
}

/** From a reading on, the level plane has another tilt. */
export const tilts = (survey: SurveyRows): Hypothesis[] =>
  standing(
    survey,
    'tilt',
    [(_, dx, _dy, sign) => -sign.vertical * dx, (_, _dx, dy, sign) => -sign.vertical * dy],
    (values) => tiltWords(survey.job, values),
  );

/** From a reading on, the running plane and the square plane are turned to one side. */
export const turns = (survey: SurveyRows): Hypothesis[] =>
  standing(
    survey,
    'turn',
    [
      ({ reading: { axis } }, dx, dy, sign) =>
        axis === 'horizontal' ? -sign.horizontal * dx : sign.along * dy,
    ],
    ([t = 0]) => slopeWords(survey.job, t),
  );

/** A levelled plane that was not level: errors of the stated pitch and roll. */
export function levels({ job, network }: SurveyRows): Hypothesis[] {
  return job.setups.flatMap((setup, index): Hypothesis[] => {
    const rows = priorsOf(network.observations, (p) => p.prior === 'level' && p.setup === setup.id);
    if (rows.length === 0) return [];
    return [
      {
        kind: 'level',
        id: `level|${setup.id}`,
        weight: 1,
        change: {
          kind: 'linear',
          parameters: rows.map(({ i }) => ({ column: { rows: [i], values: [1] }, ...LEVEL })),
        },
        cause: ({ values }) => `set-up ${setup.id} was not level, by ${tiltWords(job, values)}`,
        fix: () => ({
          kind: 'job',
          text: `Level the instrument and read ${setup.id} again. Else in job.json, set-up ${setup.id}: "levelled": false; what depends on its level then has no value.`,
          edits: [{ path: ['setups', index, 'levelled'], value: false }],
        }),
      },
    ];
  });
}

/** The level of an instrument has a zero error: the same in all its set-ups, turned with the instrument. */
export function levelZeros({ job, network }: SurveyRows): Hypothesis[] {
  return job.instruments.flatMap((instrument, index): Hypothesis[] => {
    const stated = priorsOf(
      network.observations,
      (p) => p.prior === 'level-zero' && p.instrument === instrument.id,
    );
    const settings = priorsOf(
      network.observations,
      (p) => p.prior === 'level' && p.instrument === instrument.id,
    );
    if (settings.length < 2) return [];
    const parameters =
      stated.length > 0
        ? stated.map(({ i }) => ({ column: { rows: [i], values: [1] }, ...ZERO }))
        : turned(settings);
    return [
      {
        kind: 'level-zero',
        id: `level-zero|${instrument.id}`,
        weight: 1,
        change: { kind: 'linear', parameters },
        cause: ({ values }) =>
          `the level of ${instrument.id} has a zero error${stated.length > 0 ? ' larger than stated' : ' that job.json does not state'} (${slopeWords(job, Math.hypot(...values))})`,
        fix: ({ values }) =>
          stated.length > 0
            ? {
                kind: 'readings',
                text: `Have the level of ${instrument.id} checked: read one pair of points, turn the instrument by half a turn, and read them again.`,
              }
            : {
                kind: 'job',
                text: `Check the level of ${instrument.id} by turning it half round. In job.json, instrument ${instrument.id}: "level": { "zero": { "u": ${zeroU(values)}, "unit": "um/m" } }.`,
                edits: [
                  {
                    path: ['instruments', index, 'level', 'zero'],
                    value: { u: zeroU(values), unit: 'um/m' },
                  },
                ],
              },
      },
    ];
  });

  function turned(settings: readonly { i: number; prior: Prior }[]): Parameter[] {
    const share = (of: 'pitch' | 'roll') =>
      settings.map(({ prior }) => {
        const { headingDeg } = job.setups.find(({ id }) => id === prior.setup)!;
        const turn = (headingDeg * Math.PI) / 180;
        if (prior.of === 'pitch') return of === 'pitch' ? Math.cos(turn) : -Math.sin(turn);
        return of === 'pitch' ? Math.sin(turn) : Math.cos(turn);
      });
    const rows = settings.map(({ i }) => i);
    return (['pitch', 'roll'] as const).map((of) => ({ column: { rows, values: share(of) }, ...ZERO }));
  }
}

/** The size that was found, as a round number. */
const zeroU = (values: readonly number[]): number =>
  Math.max(1, Number(Math.hypot(...values).toPrecision(1)));

/** The instrument was turned by 180°: shows only if the zero of its level is stated. */
export function headings({ job, readings, network, setups }: SurveyRows): Hypothesis[] {
  return setups.flatMap((setup): Hypothesis[] => {
    const instrument = job.instruments.find(({ id }) => id === setup.instrument)!;
    const others = setups.filter((s) => s.instrument === setup.instrument && s.levelled);
    const isStated =
      priorsOf(network.observations, (p) => p.prior === 'level-zero' && p.instrument === instrument.id)
        .length > 0;
    if (!isStated || !setup.levelled || others.length < 2) return [];
    return [90, 180, 270].map((by): Hypothesis => {
      const headingDeg = (setup.headingDeg + by) % 360;
      return {
        kind: 'heading',
        id: `heading|${setup.id}|${by}`,
        weight: 1 / 3,
        change: {
          kind: 'labels',
          // The two rows with the tilt of its level plane.
          rank: 2,
          make: () => ({
            job: { ...job, setups: job.setups.map((s) => (s.id === setup.id ? { ...s, headingDeg } : s)) },
            readings,
            lost: 0,
          }),
        },
        cause: () => `the instrument stood at ${headingDeg}° in ${setup.id}, not at ${setup.headingDeg}°`,
        fix: () => ({
          kind: 'job',
          text: `Look up how the instrument stood. In job.json, set-up ${setup.id}: "heading": ${headingDeg}.`,
          edits: [
            {
              path: ['setups', job.setups.findIndex(({ id }) => id === setup.id), 'heading'],
              value: headingDeg,
            },
          ],
        }),
      };
    });
  });
}

/** The two vertical planes of an instrument are not square to each other as stated. */
export function squares({ job, network }: SurveyRows): Hypothesis[] {
  return priorsOf(network.observations, (p) => p.prior === 'square').map(
    ({ i, prior: { instrument } }): Hypothesis => ({
      kind: 'square',
      id: `square|${instrument}`,
      weight: 1,
      change: { kind: 'linear', parameters: [{ column: { rows: [i], values: [1] }, ...SQUARE }] },
      cause: ({ values: [e = 0] }) =>
        `the planes of ${instrument} are not square as stated, by ${slopeWords(job, e)}`,
      fix: () =>
        lookUp(
          `Have the squareness of ${instrument} checked, and state in job.json what was found ("square").`,
        ),
    }),
  );
}

export function priorsOf(
  observations: SurveyRows['network']['observations'],
  is: (prior: Prior) => boolean,
): { i: number; prior: Prior }[] {
  return observations.flatMap((o, i) => (o.kind === 'prior' && is(o) ? [{ i, prior: o }] : []));
}

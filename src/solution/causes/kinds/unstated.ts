/** Causes that are no mistakes: noise that is greater or smaller than stated, and effects that the job does not state. */
import { axes } from '../../../survey/job/job.js';
import { bendPerGradient } from '../../solve/refraction.js';
import { columnOf } from '../columns.js';
import { lookUp } from '../fix.js';
import type { Hypothesis, Parameter } from '../hypothesis.js';
import { by, distanceOf, type Row, type SurveyRows } from '../survey-rows.js';

/** K/m and µm/m, common practice, no source. */
const AIR = { usual: 0.5, cap: 3, unit: 'K/m' } as const;
const CONE = { usual: 1.5, cap: 10, unit: 'um/m' } as const;

/** All readings, or those of one axis or instrument, scatter more or less than stated. */
export function scatters({ network, job }: SurveyRows): Hypothesis[] {
  const rows = network.observations.flatMap((o, i): Row[] => (o.kind === 'prior' ? [] : [{ i, reading: o }]));
  const axisOf = ({ reading }: Row) =>
    reading.kind === 'span' ? 'span' : `${reading.axis} ${reading.kind === 'slope' ? 'slope' : ''}`;
  const instrumentOf = ({ reading }: Row) =>
    reading.kind === 'offset'
      ? job.setups.find(({ id }) => id === reading.setup)!.instrument
      : reading.instrument;
  const [byAxis, byInstrument] = [by(rows, axisOf), by(rows, instrumentOf)];
  const make = (key: string, words: string, own: readonly Row[]): Hypothesis => ({
    kind: 'scatter',
    id: `scatter|${key}`,
    weight: 1,
    change: { kind: 'scatter', rows: own.map(({ i }) => i) },
    cause: ({ values: [k = 1] }) => `${words} scatter ${Number(k.toPrecision(2))} times as much as stated`,
    fix: ({ values: [k = 1] }) =>
      lookUp(
        k > 1
          ? 'Look for what made them scatter: seating of the target, air, vibration, haste. State in job.json the u that readings of this kind have ("reading": "u"), or "seat" for a target.'
          : 'Readings that agree so much better than stated were perhaps averaged, copied or typed in another unit; or the u in job.json is far too large. Look it up.',
      ),
  });
  return [
    make('all', 'all readings', rows),
    ...(byAxis.size > 1
      ? [...byAxis].map(([axis, own]) => make(`axis ${axis}`, `${axis.trim()} readings`, own))
      : []),
    ...(byInstrument.size > 1
      ? [...byInstrument].map(([id, own]) => make(`instrument ${id}`, `readings of ${id}`, own))
      : []),
  ];
}

/** Refraction, if the job says nothing about the air at the set-up. */
export function airs({ job, offsets, setups }: SurveyRows): Hypothesis[] {
  const bend = bendPerGradient(job);
  return setups.flatMap((setup) =>
    (['vertical', 'horizontal'] as const).flatMap((axis): Hypothesis[] => {
      const rows = offsets.get(setup.id)!.filter(({ reading }) => reading.axis === axis);
      if (rows.length < 3 || setup.air.length > 0) return [];
      const column = columnOf(rows, (row) => setup.sign[axis] * bend * distanceOf(job, row) ** 2);
      const way = axis === 'vertical' ? 'up or down' : 'sideways';
      const words = `the air bends the light from ${setup.id} ${way}`;
      return [effect('air', `air|${setup.id}|${axis}`, words, { column, ...AIR })];
    }),
  );
}

/** A swept plane that is a cone, if the instrument does not state it. */
export function cones({ job, offsets, setups }: SurveyRows): Hypothesis[] {
  return job.instruments.flatMap(({ id, coneU }) => {
    const own = setups.filter(({ instrument }) => instrument === id);
    return axes.flatMap((axis): Hypothesis[] => {
      const rows = own.flatMap((setup) =>
        offsets.get(setup.id)!.flatMap((row) => (row.reading.axis === axis ? [{ row, setup }] : [])),
      );
      if (rows.length < 3 || coneU !== null) return [];
      const sign = new Map(rows.map(({ row, setup }) => [row, setup.sign[axis]]));
      const column = columnOf([...sign.keys()], (row) => sign.get(row)! * distanceOf(job, row));
      return [
        effect('cone', `cone|${id}|${axis}`, `the ${axis} plane of ${id} is a cone`, { column, ...CONE }),
      ];
    });
  });
}

const effect = (kind: 'air' | 'cone', id: string, words: string, parameter: Parameter): Hypothesis => ({
  kind,
  id,
  weight: 1,
  change: { kind: 'linear', parameters: [parameter] },
  cause: ({ values: [size = 0] }) =>
    `${words} (${Number(Math.abs(size).toPrecision(2))} ${parameter.unit === 'K/m' ? 'K/m' : 'µm/m'}; job.json does not state it)`,
  fix: () =>
    lookUp(`State in job.json what is known about it ("${kind}"), or read from both ends of the rails.`),
});

/** Changes with time, if the files have times: planes that drift, rails that move while the machine warms up. */
import { lengthWords } from '../amounts.js';
import { columnOf } from '../columns.js';
import { lookUp } from '../fix.js';
import type { Hypothesis, Parameter } from '../hypothesis.js';
import { rowWords, type Row, type SurveyRows } from '../survey-rows.js';

/** µm/h, common practice, no source. */
const DRIFT = { usual: 10, cap: 1000, unit: 'um/h' } as const;
const WARMING = { usual: 5, cap: 500, unit: 'um/h' } as const;
/** h. In a shorter time a drift cannot be distinguished from a step. */
const SHORTEST = 0.05;

const spread = (rows: readonly Row[], hours: Float64Array): number => {
  let [least, most] = [Infinity, -Infinity];
  for (const { i } of rows) {
    if (Number.isNaN(hours[i]!)) return 0;
    least = Math.min(least, hours[i]!);
    most = Math.max(most, hours[i]!);
  }
  return most - least;
};

/** A plane of a set-up moves at a constant rate. */
export function drifts({ job, groups, hours }: SurveyRows): Hypothesis[] {
  return groups.flatMap(({ setup, axis, pass, line, rows, words }): Hypothesis[] => {
    if (setup === null || axis === null || pass !== null || line !== null) return [];
    if (spread(rows, hours) < SHORTEST) return [];
    const first = rows.reduce((least, { i }) => Math.min(least, hours[i]!), Infinity);
    return [
      {
        kind: 'drift',
        id: `drift|${setup.id}|${axis}`,
        weight: 1,
        change: {
          kind: 'linear',
          parameters: [{ column: columnOf(rows, ({ i }) => hours[i]! - first), ...DRIFT }],
        },
        cause: ({ values: [rate = 0] }) => `${words} drift with time, by ${lengthWords(job, rate)} per hour`,
        fix: ({ values: [rate = 0] }) => ({
          kind: 'job',
          text: `Let the instrument settle and read again. Where that is too late: in job.json let ${setup.id} drift ("drift": "linear") and state for ${setup.instrument} how much: "drift": { "u": ${rateU(rate)}, "unit": "um/h" }.`,
          edits: [
            { path: ['setups', job.setups.indexOf(setup), 'drift'], value: 'linear' },
            {
              path: ['instruments', job.instruments.findIndex(({ id }) => id === setup.instrument), 'drift'],
              value: { u: rateU(rate), unit: 'um/h' },
            },
          ],
        }),
      },
    ];
  });
}

const rateU = (rate: number): number => Math.max(1, Number(Math.abs(rate).toPrecision(1)));

/** One rail, or all of them, rise, tilt and bend with time. */
export function warmings({ job, network, hours }: SurveyRows): Hypothesis[] {
  const rows = network.observations.flatMap(
    (o, i): { i: number; rail: string; x: number; sign: number }[] => {
      if (o.kind !== 'offset' || o.axis !== 'vertical' || o.point.kind !== 'station') return [];
      const { rail, station } = o.point;
      const x = job.rails.find(({ id }) => id === rail)!.stations[station - 1]!.alongMm / 1000;
      return [{ i, rail, x, sign: job.setups.find(({ id }) => id === o.setup)!.sign.vertical }];
    },
  );
  if (rows.length < 6 || rows.some(({ i }) => Number.isNaN(hours[i]!))) return [];
  const xs = rows.map(({ x }) => x);
  const [from, to] = [xs.reduce((a, b) => Math.min(a, b)), xs.reduce((a, b) => Math.max(a, b))];
  const half = Math.max(1e-9, (to - from) / 2);
  const first = rows.reduce((least, { i }) => Math.min(least, hours[i]!), Infinity);
  const last = rows.reduce((most, { i }) => Math.max(most, hours[i]!), -Infinity);
  if (last - first < SHORTEST) return [];
  const make = (rail: string | null): Hypothesis => {
    const own = rows.filter((row) => rail === null || row.rail === rail);
    const column = (shape: (place: number) => number) => ({
      rows: own.map(({ i }) => i),
      values: own.map(({ i, x, sign }) => sign * (hours[i]! - first) * shape((x - from) / half - 1)),
    });
    return {
      kind: 'warming',
      id: `warming|${rail ?? ''}`,
      weight: 1,
      change: {
        kind: 'linear',
        parameters: [() => 1, (place: number) => place, (place: number) => place * place].map(
          (shape): Parameter => ({ column: column(shape), ...WARMING }),
        ),
      },
      cause: ({ values }) =>
        `${rail === null ? 'the rails rise, tilt or bend' : `rail ${rail} rises, tilts or bends`} with time, by up to ${lengthWords(
          job,
          values.reduce((sum, v) => sum + Math.abs(v), 0),
        )} per hour (the machine warms up or cools)`,
      fix: () =>
        lookUp(
          `Compare the temperatures of the machine at the first and the last of these readings (${rowWords(own.map(({ i }) => network.observations[i] as Row['reading']))}). Read again when the machine has settled.`,
        ),
    };
  };
  const rails = [...new Set(rows.map(({ rail }) => rail))];
  return [make(null), ...(rails.length > 1 ? rails.map(make) : [])];
}

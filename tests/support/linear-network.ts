/** Any small linear problem as a network, so that published worked examples run through the real adjustment. */
import type { Network } from '../../src/solution/solve/network.js';

export interface LinearRow {
  readonly coefficients: readonly number[];
  readonly observed: number;
  readonly sigma: number;
}

/** Unknown j stands as a border unknown "x<j>"; with `asPoints`, as a point, which is eliminated first. */
export function linearNetwork(rows: readonly LinearRow[], asPoints = false): Network {
  const count = rows[0]!.coefficients.length;
  const start = [0];
  const column: number[] = [];
  const coefficient: number[] = [];
  for (const row of rows) {
    row.coefficients.forEach((c, j) => {
      if (c === 0) return;
      column.push(j);
      coefficient.push(c);
    });
    start.push(column.length);
  }
  const keys = Array.from({ length: count }, (_, j) => `x${j}`);
  return {
    unknowns: keys.map((target, j) =>
      asPoints
        ? { kind: 'height', rail: 'A', station: j + 1, alongM: j, acrossM: 0 }
        : { kind: 'rod-height', target },
    ),
    keys,
    find: (key) => keys.indexOf(key),
    observations: rows.map((row, i) => ({
      kind: 'slope',
      source: { file: 'example', row: i + 1 },
      pass: '1',
      time: null,
      note: '',
      from: { rail: 'A', station: 1 },
      to: { rail: 'A', station: 2 },
      axis: 'vertical',
      umPerM: row.observed,
      instrument: 'I',
      sight: null,
    })),
    start: Int32Array.from(start),
    column: Int32Array.from(column),
    coefficient: Float64Array.from(coefficient),
    observed: Float64Array.from(rows, (r) => r.observed),
    sigma: Float64Array.from(rows, (r) => r.sigma),
    sigmaDistance: new Float64Array(rows.length),
  };
}

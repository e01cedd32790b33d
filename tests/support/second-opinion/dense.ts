/** Weighted least squares by the singular value decomposition of a dense matrix (ml-matrix). */
import { Matrix, SVD } from 'ml-matrix';
import type { Equation } from './equations.js';

/** Weights of named unknowns. */
export type Weights = Readonly<Record<string, number>>;

export interface Dense {
  readonly unknowns: readonly string[];
  readonly rank: number;
  readonly redundancy: number;
  readonly sigma0: number | null;
  readonly residual: readonly number[];
  /** 1 − variance of the computed over variance of the observed. */
  readonly redundancyNumber: readonly number[];
  readonly has: (name: string) => boolean;
  readonly isDetermined: (w: Weights) => boolean;
  readonly value: (w: Weights) => number;
  /** At unit scale. */
  readonly u: (w: Weights) => number;
}

export function solveDensely(equations: readonly Equation[]): Dense {
  const unknowns = [...new Set(equations.flatMap((e) => Object.keys(e.terms)))];
  const column = new Map(unknowns.map((name, j) => [name, j]));
  const [m, n] = [equations.length, unknowns.length];
  const a = Matrix.zeros(Math.max(m, n), n);
  const b = Matrix.zeros(Math.max(m, n), 1);
  equations.forEach((e, i) => {
    for (const [name, c] of Object.entries(e.terms)) a.set(i, column.get(name)!, c / e.sigma);
    b.set(i, 0, e.value / e.sigma);
  });
  const length = unknowns.map((_, j) => a.getColumnVector(j).norm('frobenius') || 1);
  const scaled = a.clone();
  length.forEach((l, j) => scaled.mulColumn(j, 1 / l));
  const svd = new SVD(scaled, { autoTranspose: false });
  const s = svd.diagonal;
  const cut = 1e-9 * Math.max(...s);
  const v = svd.rightSingularVectors;
  const kept = s.flatMap((value, k) => (value > cut ? [k] : []));
  const free = s.flatMap((value, k) => (value > cut ? [] : [k]));
  const projected = svd.leftSingularVectors.transpose().mmul(b);
  const x = unknowns.map((_, j) =>
    kept.reduce((sum, k) => sum + (v.get(j, k) * projected.get(k, 0)) / s[k]!, 0),
  );
  const coordinates = (w: Weights): number[] => {
    const c = new Array<number>(n).fill(0);
    for (const [name, weight] of Object.entries(w)) {
      const j = column.get(name);
      if (j === undefined) throw new Error(`nothing speaks of ${name}`);
      c[j]! += weight / length[j]!;
    }
    return c;
  };
  const along = (c: readonly number[], k: number) => c.reduce((sum, w, j) => sum + w * v.get(j, k), 0);
  const value = (w: Weights) => coordinates(w).reduce((sum, c, j) => sum + c * x[j]!, 0);
  const u = (w: Weights) => {
    const c = coordinates(w);
    return Math.sqrt(kept.reduce((sum, k) => sum + (along(c, k) / s[k]!) ** 2, 0));
  };
  const residual = equations.map((e) => e.value - value(e.terms));
  const redundancy = m - kept.length;
  const squares = equations.reduce((sum, e, i) => sum + (residual[i]! / e.sigma) ** 2, 0);
  return {
    unknowns,
    rank: kept.length,
    redundancy,
    sigma0: redundancy > 0 ? Math.sqrt(squares / redundancy) : null,
    residual,
    redundancyNumber: equations.map((e) => 1 - (u(e.terms) / e.sigma) ** 2),
    has: (name) => column.has(name),
    isDetermined: (w) => {
      const c = coordinates(w);
      // The last term: where all weights cancel, nothing but rounding is left.
      return free.every((k) => Math.abs(along(c, k)) <= 1e-7 * Math.hypot(...c) + 1e-12);
    },
    value,
    u,
  };
}

/** Of the upper tail; from memory: Wilson & Hilferty's cube root, good to a few parts in a thousand. */
export function chiSquareUpperTail(statistic: number, degrees: number): number {
  const c = 2 / (9 * degrees);
  const z = (Math.cbrt(statistic / degrees) - (1 - c)) / Math.sqrt(c);
  return normalUpperTail(z);
}

function normalUpperTail(z: number): number {
  // Simpson's rule on the density out to 12 standard deviations.
  const steps = 2000;
  const h = (12 - Math.abs(z)) / steps;
  const density = (t: number) => Math.exp((-t * t) / 2) / Math.sqrt(2 * Math.PI);
  let sum = density(Math.abs(z)) + density(12);
  for (let k = 1; k < steps; k++) sum += density(Math.abs(z) + k * h) * (k % 2 === 1 ? 4 : 2);
  const tail = (sum * h) / 3;
  return z >= 0 ? tail : 1 - tail;
}

export interface Snooped {
  readonly equation: Equation;
  readonly standardised: number;
}

/** Scales multiply the adjusted reading: the reading (a hundredth of it is the coefficient) less its residual. */
function atAdjusted(equations: readonly Equation[], { residual }: Dense): Equation[] {
  return equations.map((e, i) => {
    const own = ([name, by]: [string, number]) => [
      name,
      e.source !== null && name.startsWith('scale ') ? by - residual[i]! / 100 : by,
    ];
    return { ...e, terms: Object.fromEntries(Object.entries(e.terms).map(own)) as Record<string, number> };
  });
}

/** Baarda's test at 1 % for all observations that others check, together; solved anew without each reading set aside; ties together. @param all With every reading. */
export function snoop(equations: readonly Equation[], all: Dense): Snooped[] {
  const found: Snooped[] = [];
  let rest = atAdjusted(equations, all);
  const hasScales = all.unknowns.some((name) => name.startsWith('scale '));
  const first = hasScales ? solveDensely(rest) : all;
  const tests = first.redundancyNumber.filter((r) => r > 1e-6).length;
  for (let dense = first; ; dense = solveDensely(rest)) {
    const w = rest.map((e, i) => {
      const r = dense.redundancyNumber[i]!;
      return r > 1e-6 ? dense.residual[i]! / (e.sigma * Math.sqrt(r)) : 0;
    });
    const worst = w.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
    if (2 * normalUpperTail(worst) >= 0.01 / tests) return found;
    const tied = rest.filter((_, i) => worst - Math.abs(w[i]!) <= 1e-6);
    for (const equation of tied)
      if (!found.some((f) => f.equation === equation))
        found.push({ equation, standardised: w[rest.indexOf(equation)]! });
    rest = rest.filter((e) => e !== tied[0]);
  }
}

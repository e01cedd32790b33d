/** Symmetric systems of a few unknowns, scaled by their usual sizes. */

export interface SmallFit {
  /** Drop of the misfit by least squares, and the number of parameters that the readings can show. */
  readonly drop: number;
  readonly rank: number;
  /** Least-squares estimate; 0 in directions that the readings do not show. */
  readonly theta: number[];
}

/**
 * Least squares for q ≤ 4: maximises 2bᵀθ − θᵀGθ.
 *
 * @param G Row-major, q×q. @param b q. @param least A pivot below this share of its diagonal element is rounding.
 */
export function solveSmall(G: readonly number[], b: readonly number[], least = 1e-7): SmallFit {
  const q = b.length;
  const g = [...G];
  const r = [...b];
  const pivots: number[] = [];
  const done = new Set<number>();
  for (;;) {
    // Largest remaining share first, so that a dependent column is left over and is not used.
    let best = -1;
    let share = least;
    for (let k = 0; k < q; k++) {
      const s = g[k * q + k]! / G[k * q + k]!;
      if (!done.has(k) && G[k * q + k]! > 0 && s > share) [best, share] = [k, s];
    }
    if (best < 0) break;
    done.add(best);
    pivots.push(best);
    const d = g[best * q + best]!;
    for (let i = 0; i < q; i++) {
      if (done.has(i)) continue;
      const f = g[i * q + best]! / d;
      r[i]! -= f * r[best]!;
      for (let j = 0; j < q; j++) g[i * q + j]! -= f * g[best * q + j]!;
    }
  }
  let drop = 0;
  for (const k of pivots) drop += r[k]! ** 2 / g[k * q + k]!;
  const theta = new Array<number>(q).fill(0);
  for (const k of [...pivots].reverse()) {
    let sum = r[k]!;
    for (let j = 0; j < q; j++) if (j !== k) sum -= g[k * q + j]! * theta[j]!;
    theta[k] = sum / g[k * q + k]!;
  }
  return { drop, rank: pivots.length, theta };
}

/**
 * −2 ln of the marginal likelihood ratio of θ ~ N(0, s²) against θ = 0 (negative: the hypothesis is the better one), and the most
 * probable θ: ln det(I + s²G) − bᵀ(G + I/s²)⁻¹b.
 */
export function marginal(
  G: readonly number[],
  b: readonly number[],
  s: number,
): { score: number; theta: number[] } {
  const q = b.length;
  const H = G.map((g, k) => g + (k % (q + 1) === 0 ? 1 / (s * s) : 0));
  const { drop, theta } = solveSmall(H, b, 1e-14);
  return { score: logDet(H, q) + 2 * q * Math.log(s) - drop, theta };
}

function logDet(H: readonly number[], q: number): number {
  const g = [...H];
  let sum = 0;
  for (let k = 0; k < q; k++) {
    const d = g[k * q + k]!;
    sum += Math.log(d);
    for (let i = k + 1; i < q; i++) {
      const f = g[i * q + k]! / d;
      for (let j = k; j < q; j++) g[i * q + j]! -= f * g[k * q + j]!;
    }
  }
  return sum;
}

/** Usual size times 2, 4 … up to the size that was found: the best of several scales of the prior. */
const WIDER = [1, 2, 4, 8, 16, 32, 64, 128, 256, 512, 1024];

/** `marginal` with the usual size increased to the size that was found, at most to `most` times the usual size. */
export function widened(
  G: readonly number[],
  b: readonly number[],
  most: number,
): { score: number; theta: number[] } {
  let best = marginal(G, b, 1);
  for (const s of WIDER.slice(1)) {
    if (s > most) break;
    const next = marginal(G, b, s);
    if (next.score >= best.score) break;
    best = next;
  }
  return best;
}

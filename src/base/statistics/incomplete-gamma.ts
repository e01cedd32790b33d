/**
 * Regularised upper incomplete gamma function, Q(a, x) = Γ(a, x) / Γ(a).
 * Below x = a + 1 the power series of P = 1 − Q, above it the continued fraction of Q by the modified
 * Lentz method; each is summed until it no longer changes. Relative error about 1e-14 · max(1, √a).
 *
 * @param a Shape, > 0.
 * @param x Argument, ≥ 0; Infinity gives 0.
 * @throws {RangeError} outside these ranges.
 * @see NIST Handbook of Mathematical Functions (DLMF), 8.11.4 (series) and 8.9.2 (continued fraction).
 * @see W. J. Lentz, Applied Optics 15 (1976) 668; I. J. Thompson, A. R. Barnett, J. Comput. Phys. 64 (1986) 490.
 */
export function upperGamma(a: number, x: number): number {
  if (!(a > 0 && x >= 0)) throw new RangeError(`upperGamma needs a > 0 and x >= 0, not ${a} and ${x}`);
  if (x === 0) return 1;
  if (x === Infinity) return 0;
  const scale = Math.exp(a * Math.log(x) - x - logGamma(a)); // x^a e^-x / Γ(a)
  return x < a + 1 ? 1 - scale * series(a, x) : scale * continuedFraction(a, x);
}

function series(a: number, x: number): number {
  let term = 1 / a;
  let sum = term;
  for (let k = 1; term > sum * Number.EPSILON * 0.25; k++) {
    term *= x / (a + k);
    sum += term;
  }
  return sum;
}

function continuedFraction(a: number, x: number): number {
  const tiny = 1e-300;
  let b = x + 1 - a;
  let c = 1 / tiny;
  let d = 1 / b;
  let fraction = d;
  for (let k = 1; k < 100_000; k++) {
    const an = -k * (k - a);
    b += 2;
    d = 1 / nonZero(an * d + b, tiny);
    c = nonZero(b + an / c, tiny);
    fraction *= c * d;
    if (Math.abs(c * d - 1) < Number.EPSILON) break;
  }
  return fraction;
}

const nonZero = (value: number, tiny: number): number => (Math.abs(value) < tiny ? tiny : value);

/**
 * Natural logarithm of Γ(a), a > 0: exact products up to a = 15, then Stirling's series to eight terms
 * (truncation below 1e-17 there).
 *
 * @see NIST Handbook of Mathematical Functions (DLMF), 5.11.1 and 5.5.1.
 */
export function logGamma(a: number): number {
  let shift = 1;
  let x = a;
  while (x < 15) {
    shift *= x;
    x += 1;
  }
  const r = 1 / (x * x);
  let sum = 0;
  for (const c of STIRLING) sum = sum * r + c;
  return (x - 0.5) * Math.log(x) - x + 0.5 * Math.log(2 * Math.PI) + sum / x - Math.log(shift);
}

/** B₂ₖ / (2k(2k−1)), k = 8 … 1. */
const STIRLING = [-3617 / 122400, 1 / 156, -691 / 360360, 1 / 1188, -1 / 1680, 1 / 1260, -1 / 360, 1 / 12];

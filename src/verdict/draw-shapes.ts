import { factorBand, solveBand } from './banded-cholesky.js';
import type { RandomGenerator } from './random.js';
import { drawOf, type Draws, type ProfileSample } from './profile-sample.js';

/** Plausible true profiles given the readings (prototype). */
export function drawShapes(sample: ProfileSample, generator: RandomGenerator): Draws {
  const { observed, positions, noise } = sample;
  const n = observed.length;
  const segments = [...(sample.segments ?? [0]), n];
  const variance = detrendedVariance(sample, segments);
  let meanVariance = 0;
  for (let i = 0; i < n; i++) meanVariance += variance[i]! / n;
  const sigma = Math.sqrt(meanVariance);
  const y = detrend(observed, positions, segments);
  let sumSq = 0;
  for (let i = 0; i < n; i++) sumSq += y[i]! * y[i]!;
  const sd = Math.sqrt(sumSq / Math.max(1, n));
  const span = Math.max(...segments.slice(0, -1).map((s, k) => positions[segments[k + 1]! - 1]! - positions[s]!));
  const penalty = curvaturePenalty(positions, segments);

  const bends: number[] = [];
  const bendTop = 10 * Math.max(sd, sigma) * Math.max(1, n / 6) ** 1.5;
  for (let a = 0.5 * sigma; a < bendTop; a *= 3) bends.push((a * a) / span ** 3);
  const roughs: number[] = [0];
  for (let t = 0.3 * sigma; t < Math.max(2 * sd, sigma); t *= 2) roughs.push(t * t);

  // marginal likelihood over the grid
  const band = new Float64Array(3 * n);
  const work = new Float64Array(n);
  const cells: { q: number; tau2: number; logL: number }[] = [];
  for (const tau2 of roughs) {
    let base = 0;
    for (let i = 0; i < n; i++) {
      const v = variance[i]! + tau2;
      base += Math.log(v) + (y[i]! * y[i]!) / v;
    }
    for (const q of bends) {
      let logDet = fill(band, penalty, variance, tau2, q, n);
      for (let i = 0; i < n; i++) work[i] = y[i]! / (variance[i]! + tau2);
      const r = Float64Array.from(work);
      solveBand(band, n, 2, work);
      let dot = 0;
      for (let i = 0; i < n; i++) dot += r[i]! * work[i]!;
      logDet += penalty.rows * Math.log(q);
      cells.push({ q, tau2, logL: -0.5 * (base + logDet - dot) });
    }
  }
  const best = Math.max(...cells.map((c) => c.logL));
  const weights = cells.map((c) => Math.exp(c.logL - best));
  const total = weights.reduce((a, b) => a + b, 0);

  const count = noise.count;
  const values = new Float64Array(count * n);
  const target = new Float64Array(n);
  let cumulative = 0;
  let b = 0;
  const offset = generator.nextUniform();
  for (let k = 0; k < cells.length; k++) {
    cumulative += weights[k]! / total;
    let prepared = false;
    const { q, tau2 } = cells[k]!;
    while (b < count && (b + offset) / count < cumulative) {
      if (!prepared) fill(band, penalty, variance, tau2, q, n);
      prepared = true;
      const s = values.subarray(b * n, (b + 1) * n);
      const e = drawOf(noise, (b + 1) % count);
      drawPrior(s, positions, segments, q, tau2, generator);
      for (let i = 0; i < n; i++) {
        target[i] = observed[i]! - e[i]! - s[i]!;
        work[i] = target[i]! / (variance[i]! + tau2);
      }
      solveBand(band, n, 2, work);
      for (let i = 0; i < n; i++) {
        const rough = (tau2 / (variance[i]! + tau2)) * (target[i]! - work[i]!);
        s[i] = s[i]! + work[i]! + rough;
      }
      b++;
    }
  }
  // rounding may leave the last few
  for (; b < count; b++) values.copyWithin(b * n, 0, n);
  return { count, values };
}

function drawPrior(
  s: Float64Array,
  x: Float64Array,
  segments: readonly number[],
  q: number,
  tau2: number,
  g: RandomGenerator,
): void {
  const tau = Math.sqrt(tau2);
  for (let k = 0; k + 1 < segments.length; k++) {
    const first = segments[k]!;
    const end = segments[k + 1]!;
    let slope = 0;
    let f = 0;
    s[first] = 0;
    for (let i = first + 1; i < end; i++) {
      if (i > first + 1) slope += Math.sqrt((q * (x[i]! - x[i - 2]!)) / 2) * g.nextNormal();
      f += slope * (x[i]! - x[i - 1]!);
      s[i] = f;
    }
  }
  if (tau > 0) for (let i = 0; i < s.length; i++) s[i] = s[i]! + tau * g.nextNormal();
}

interface Penalty {
  readonly band: Float64Array; // n x 3
  readonly rows: number;
}

function curvaturePenalty(x: Float64Array, segments: readonly number[]): Penalty {
  const n = x.length;
  const band = new Float64Array(3 * n);
  let rows = 0;
  for (let k = 0; k + 1 < segments.length; k++) {
    for (let i = segments[k]! + 1; i + 1 < segments[k + 1]!; i++) {
      const h0 = x[i]! - x[i - 1]!;
      const h1 = x[i + 1]! - x[i]!;
      const scale = 1 / Math.sqrt((h0 + h1) / 2);
      const a = scale / h0;
      const c = scale / h1;
      const m = -a - c;
      band[3 * (i - 1)]! += a * a;
      band[3 * i]! += m * m;
      band[3 * i + 1]! += a * m;
      band[3 * (i + 1)]! += c * c;
      band[3 * (i + 1) + 1]! += m * c;
      band[3 * (i + 1) + 2]! += a * c;
      rows++;
    }
  }
  return { band, rows };
}

function fill(band: Float64Array, p: Penalty, variance: Float64Array, tau2: number, q: number, n: number): number {
  for (let i = 0; i < 3 * n; i++) band[i] = p.band[i]! / q;
  for (let i = 0; i < n; i++) band[3 * i]! += 1 / (variance[i]! + tau2);
  return factorBand(band, n, 2);
}

function detrendedVariance(sample: ProfileSample, segments: readonly number[]): Float64Array {
  const { positions, noise } = sample;
  const n = positions.length;
  const variance = new Float64Array(n);
  for (let b = 0; b < noise.count; b++) {
    const r = detrend(drawOf(noise, b), positions, segments);
    for (let i = 0; i < n; i++) variance[i]! += (r[i]! * r[i]!) / noise.count;
  }
  for (let k = 0; k + 1 < segments.length; k++) {
    const m = segments[k + 1]! - segments[k]!;
    // average the loss of two degrees of freedom
    for (let i = segments[k]!; i < segments[k + 1]!; i++) variance[i]! *= m > 2 ? m / (m - 2) : 1;
  }
  let mean = 0;
  for (let i = 0; i < n; i++) mean += variance[i]! / n;
  for (let i = 0; i < n; i++) variance[i] = Math.max(variance[i]!, 0.05 * mean, 1e-30);
  return variance;
}

export function detrend(d: Float64Array, x: Float64Array, segments: readonly number[]): Float64Array {
  const r = new Float64Array(d.length);
  for (let k = 0; k + 1 < segments.length; k++) {
    const a = segments[k]!;
    const z = segments[k + 1]!;
    const m = z - a;
    let xm = 0;
    let dm = 0;
    for (let i = a; i < z; i++) {
      xm += x[i]! / m;
      dm += d[i]! / m;
    }
    let sxx = 0;
    let sxd = 0;
    for (let i = a; i < z; i++) {
      sxx += (x[i]! - xm) ** 2;
      sxd += (x[i]! - xm) * (d[i]! - dm);
    }
    const slope = sxx > 0 ? sxd / sxx : 0;
    for (let i = a; i < z; i++) r[i] = d[i]! - dm - slope * (x[i]! - xm);
  }
  return r;
}

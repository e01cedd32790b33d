import type { CoverageResult } from './coverage-interval.js';
import { drawOf, type Draws, type ProfileSample } from './profile-sample.js';

const S_TIE_T = 1.5;
const S_TIE_K = 1.5;
const S_UPPER_T = 0.7;
const S_RATIO = 0.5;
const S_SLIDE = 0.5;

/**
 * Coverage interval of a signed extreme: the deviation of greatest magnitude, with its sign.
 */
export function signedExtremeInterval(sample: ProfileSample, shapes: Draws, coverage: number): CoverageResult {
  const { observed, noise } = sample;
  const alpha = 1 - coverage;
  const [low, high] = ends(observed);
  const size = Math.max(high, -low);
  const isPositive = high >= -low;
  const ofNoise = Float64Array.from({ length: noise.count }, (_, b) => greatest(drawOf(noise, b))).sort();
  const settled = ofNoise[Math.min(noise.count - 1, Math.floor(coverage * noise.count))]!;
  const beyond = size + 2 * ofNoise[noise.count - 1]!;
  const order = orderBySignedExtreme(shapes);
  const shapeEnds = Array.from({ length: shapes.count }, (_, b) => ends(drawOf(shapes, b)));

  /** The least and greatest t ≥ 0 for which θ = sign·t is kept; null where none is. */
  const keptOn = (sign: 1 | -1): [number, number] | null => {
    const turned = shapeEnds.map((e) => turnShape(e, sign));
    const top = sign > 0 ? high : -low;
    const isSame = sign > 0 === isPositive;
    const isKept = (t: number): boolean => {
      const p = compare(sample, shapes, turned, nearest(order, sign * t), sign, t, size, top, S_TIE_K * settled);
      const upperShare = (alpha / 2) * Math.min(1, t / settled / S_SLIDE);
      return (isSame ? p.exceeds : p.contrary) > alpha / 2 && p.notAbove >= upperShare;
    };
    return scan(isKept, beyond);
  };
  const plus = keptOn(1);
  const minus = keptOn(-1);
  const found = [...(plus ?? []), ...(minus ?? []).map((t) => -t)];
  if (found.length === 0) found.push(isPositive ? size : -size);
  return {
    interval: [Math.min(...found), Math.max(...found)],
    probabilityAtMost: (limit) => {
      if (limit < 0) return 0;
      const turned = shapeEnds.map((e): Turn => {
        const largest = Math.max(e[1], -e[0]);
        const scale = largest > 0 ? 1 / largest : 0;
        return [scale, scale];
      });
      const p = compare(sample, shapes, turned, order.index, 1, limit, size, 0, Infinity);
      return Math.min(1, Math.max(0, p.reaches - 2 * p.reversed));
    },
  };
}

interface Ordered {
  readonly index: Int32Array;
  readonly value: Float64Array;
}
function orderBySignedExtreme(shapes: Draws): Ordered {
  const value = Float64Array.from({ length: shapes.count }, (_, b) => {
    const [low, high] = ends(drawOf(shapes, b));
    return high >= -low ? high : low;
  });
  const index = Int32Array.from({ length: shapes.count }, (_, b) => b).sort((a, b) => value[a]! - value[b]!);
  return { index, value: Float64Array.from(index, (b) => value[b]!) };
}
const S_WINDOW = 5;
/** The shapes whose signed extreme lies nearest to theta. */
function nearest({ index, value }: Ordered, theta: number): Int32Array {
  const count = index.length;
  const width = Math.max(1, Math.ceil(count / S_WINDOW));
  let at = 0;
  while (at < count && value[at]! < theta) at++;
  const first = Math.min(Math.max(0, at - (width >> 1)), count - width);
  return index.subarray(first, first + width);
}

/** [least, greatest] of a profile. */
function ends(profile: Float64Array): [number, number] {
  let low = Infinity;
  let high = -Infinity;
  for (const d of profile) {
    if (d < low) low = d;
    if (d > high) high = d;
  }
  return [low, high];
}

function greatest(profile: Float64Array): number {
  const [low, high] = ends(profile);
  return Math.max(high, -low);
}

/** What the positive and the negative part of a shape are multiplied by. */
type Turn = readonly [number, number];

/**
 * Gives a shape an extreme of 1 with the sign wanted: as it is, where that is its sign already; with
 * the wanted side stretched level with the other, where it reaches half as far at least; else turned over.
 */
function turnShape([low, high]: readonly [number, number], sign: 1 | -1): Turn {
  const up = Math.max(0, high);
  const down = Math.max(0, -low);
  const largest = Math.max(up, down);
  if (largest === 0) return [0, 0];
  const wanted = sign > 0 ? up : down;
  if (wanted < largest * S_RATIO) return [-1 / largest, -1 / largest];
  return sign > 0 ? [1 / wanted, 1 / largest] : [1 / largest, 1 / wanted];
}

interface Comparison {
  reaches: number;
  reversed: number;
  exceeds: number;
  contrary: number;
  notAbove: number;
}

function compare(
  sample: ProfileSample,
  shapes: Draws,
  turned: readonly Turn[],
  chosen: Int32Array,
  sign: 1 | -1,
  t: number,
  size: number,
  top: number,
  saturation: number,
): Comparison {
  const { noise } = sample;
  const n = sample.observed.length;
  const s = shapes.values;
  const e = noise.values;
  const A = t / (S_TIE_T + t / saturation);
  const V = t / S_UPPER_T;
  let reaches = 0;
  let reversed = 0;
  let robust = 0;
  let contrary = 0;
  let notAbove = 0;
  for (let b = 0; b < noise.count; b++) {
    const k = chosen[b % chosen.length]!;
    const [forUp, forDown] = turned[k]!;
    let most = 0;
    let at = 0;
    let up = -Infinity;
    let mostDamped = 0;
    for (let i = 0; i < n; i++) {
      const noiseHere = e[b * n + i]!;
      const raw = s[k * n + i]!;
      const shapeHere = raw > 0 ? raw * forUp : raw * forDown;
      const d = t * shapeHere + noiseHere;
      if (Math.abs(d) > Math.abs(most)) {
        most = d;
        at = i;
      }
      const v = (V * shapeHere + noiseHere) * sign;
      if (v > up) up = v;
      const m = Math.abs(A * shapeHere + noiseHere);
      if (m > mostDamped) mostDamped = m;
    }
    const isReached = Math.abs(most) >= size;
    const raw = s[k * n + at]!;
    if (isReached) reaches++;
    if (isReached && most * raw * (raw > 0 ? forUp : forDown) < 0) reversed++;
    if (mostDamped + t - A >= size) robust++;
    if (isReached && most * sign < 0) contrary++;
    if (up + t - V <= top) notAbove++;
  }
  const count = noise.count;
  return {
    reaches: reaches / count,
    reversed: reversed / count,
    exceeds: (robust - reversed) / count,
    contrary: contrary / count,
    notAbove: notAbove / count,
  };
}

/** Least and greatest t in [0, beyond] that are kept: a grid, then its outer steps halved. */
function scan(isKept: (t: number) => boolean, beyond: number): [number, number] | null {
  const steps = 24;
  let first = -1;
  let last = -1;
  for (let k = 0; k <= steps; k++) {
    if (!isKept((beyond * k) / steps)) continue;
    if (first < 0) first = k;
    last = k;
  }
  if (first < 0) return null;
  const refine = (kept: number, rejected: number): number => {
    let a = (beyond * kept) / steps;
    let c = (beyond * rejected) / steps;
    for (let k = 0; k < 8; k++) {
      const middle = (a + c) / 2;
      if (isKept(middle)) a = middle;
      else c = middle;
    }
    return a;
  };
  return [first === 0 ? 0 : refine(first, first - 1), last === steps ? beyond : refine(last, last + 1)];
}

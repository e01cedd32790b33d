/**
 * The characteristics, stations and set-ups again, read off a dense solution by the plainest means:
 * every window, every pair of points, every triple.
 */
import { tracksOf, type Folder, type Track } from './equations.js';
import type { Dense, Weights } from './dense.js';

export interface Known {
  readonly value: number;
  /** At unit scale; null where this file has no formula of its own for it. */
  readonly u: number | null;
}

/** null: not determined. */
export type Answers = ReadonlyMap<string, Known | null>;

interface Profile {
  readonly track: Track;
  readonly station: readonly number[];
  readonly name: readonly string[];
  /** Along the rail's own direction, m. */
  readonly s: readonly number[];
}

type Lin = Record<string, number>;
const plus = (...parts: readonly [Weights, number][]): Lin => {
  const sum: Lin = {};
  for (const [w, f] of parts) for (const [n, c] of Object.entries(w)) sum[n] = (sum[n] ?? 0) + f * c;
  return sum;
};
const one = (name: string): Lin => ({ [name]: 1 });
const mean = (v: readonly number[]): number => v.reduce((a, b) => a + b, 0) / v.length;

const meanOf = (p: Profile): Lin => plus(...p.name.map((n): [Lin, number] => [one(n), 1 / p.name.length]));
const slopeOf = (p: Profile): Lin => {
  const m = mean(p.s);
  const sxx = p.s.reduce((sum, x) => sum + (x - m) ** 2, 0);
  return plus(...p.name.map((n, i): [Lin, number] => [one(n), (p.s[i]! - m) / sxx]));
};
/** Departure of station i from the line with these two. */
const about = (p: Profile, i: number, centre: Lin, slope: Lin, lever: number): Lin =>
  plus([one(p.name[i]!), 1], [centre, -1], [slope, -lever]);

export function answersOf(folder: Folder, dense: Dense): Answers {
  const found = new Map<string, Known | null>();
  const tracks = tracksOf(folder.job);
  const datum = tracks.find((t) => t.datum)!;
  const profile = (track: Track, letter: string): Profile | null => {
    const read = track.places.flatMap((place, k) =>
      dense.has(`${letter} ${track.id} ${k + 1}`) ? [{ place, station: k + 1 }] : [],
    );
    if (read.length === 0) return null;
    return {
      track,
      station: read.map((r) => r.station),
      name: read.map((r) => `${letter} ${track.id} ${r.station}`),
      s: read.map((r) => (track.cross ? r.place.y : r.place.x)),
    };
  };
  const linear = (w: Lin): Known | null =>
    dense.isDetermined(w) ? { value: dense.value(w), u: dense.u(w) } : null;
  const z0 = profile(datum, 'z');
  const y0 = profile(datum, 'y');

  for (const track of tracks) {
    const id = track.id;
    const z = profile(track, 'z');
    const y = profile(track, track.cross ? 'x' : 'y');
    for (const [plane, p] of [
      ['vertical', z],
      ['horizontal', y],
    ] as const) {
      if (p === null) continue;
      if (p.s.length < 3) {
        p.station.forEach((k) => found.set(`station ${id} ${k} deviation ${plane}`, null));
        continue;
      }
      const deviations = p.s.map((s, i) => about(p, i, meanOf(p), slopeOf(p), s - mean(p.s)));
      deviations.forEach((w, i) => found.set(`station ${id} ${p.station[i]} deviation ${plane}`, linear(w)));
      const sure = deviations.every((w) => dense.isDetermined(w));
      const d = sure ? deviations.map((w) => dense.value(w)) : [];
      for (const reference of ['least-squares', 'minimum-zone', 'end-points'])
        found.set(`straightness-${plane} ${id} ${reference}`, sure ? straight(reference, p, d, dense) : null);
      for (const t of folder.job.tolerances ?? []) {
        if (t.what !== `straightness-${plane}-local` || (t.rail !== undefined && t.rail !== id)) continue;
        const reference: string = t.reference ?? 'least-squares';
        const over =
          t.over.length /
          { mm: 1000, m: 1, in: 39.37007874015748, ft: 3.280839895013123 }[t.over.unit as 'mm']!;
        const worst = localWorst(reference, p, d, over);
        if (worst !== undefined)
          found.set(
            `straightness-${plane}-local ${id} ${reference}`,
            sure ? { value: worst, u: null } : null,
          );
      }
    }
    if (z !== null && z0 !== null)
      z.name.forEach((n, i) =>
        found.set(`station ${id} ${z.station[i]} height`, linear(plus([one(n), 1], [meanOf(z0), -1]))),
      );
    if (track.cross) {
      const both = y !== null && y.s.length > 1 && y0 !== null && y0.s.length > 1;
      if (both) found.set(`squareness ${id}`, linear(plus([slopeOf(y), -1], [slopeOf(y0), -1])));
      continue;
    }
    if (z !== null && z.s.length > 1) found.set(`level-along ${id}`, linear(slopeOf(z)));
    offsets(track, y, y0);
    if (track.datum) continue;
    const apart = Math.abs(track.places[0]!.y - datum.places[0]!.y);
    const left = Math.sign(track.places[0]!.y - datum.places[0]!.y);
    if (z !== null && z0 !== null) {
      const d = differences(z, z0);
      spread(`parallelism-vertical ${id}`, d, 1);
      spread(`twist ${id}`, d, 1 / apart);
      extreme(`height-difference ${id}`, d, 1);
      extreme(`cross-level ${id}`, d, 1 / apart);
      coplanar(id, z0, z, datum.places[0]!.y, track.places[0]!.y);
    }
    if (y !== null && y0 !== null) {
      const d = differences(y, y0);
      spread(`parallelism-horizontal ${id}`, d, 1);
      extreme(`span ${id}`, d, left);
    }
  }

  for (const s of folder.job.setups ?? []) {
    for (const [key, letter] of [
      ['pitch', 'p'],
      ['roll', 'q'],
    ] as const)
      if (dense.has(`${letter} ${s.id}`)) found.set(`setup ${s.id} ${key}`, linear(one(`${letter} ${s.id}`)));
    if (dense.has(`w ${s.id}`) && y0 !== null && y0.s.length > 1)
      found.set(`setup ${s.id} yaw`, linear(plus([one(`w ${s.id}`), 1], [slopeOf(y0), -1])));
  }
  return found;

  function offsets(track: Track, y: Profile | null, y0: Profile | null): void {
    if (y === null) return;
    if (y0 === null || y0.s.length < 2) {
      y.station.forEach((k) => found.set(`station ${track.id} ${k} offset`, null));
      return;
    }
    const from = (centre: Lin, at: number) =>
      y.s.map((s, i) => linear(about(y, i, centre, slopeOf(y0), s - at)));
    const tied = from(meanOf(y0), mean(y0.s));
    const isTied = track.datum || tied.some((v) => v !== null);
    const values = isTied ? tied : from(meanOf(y), mean(y.s));
    values.forEach((v, i) => found.set(`station ${track.id} ${y.station[i]} offset`, v));
  }

  function differences(p: Profile, p0: Profile): Lin[] {
    return p.name.flatMap((n, i): Lin[] => {
      const s = p.s[i]!;
      const same = p0.s.findIndex((v) => Math.abs(v - s) <= 0.0005);
      if (same >= 0) return [plus([one(n), 1], [one(p0.name[same]!), -1])];
      const after = p0.s.findIndex((v) => v > s);
      if (after <= 0) return [];
      const share = (s - p0.s[after - 1]!) / (p0.s[after]! - p0.s[after - 1]!);
      return [plus([one(n), 1], [one(p0.name[after - 1]!), share - 1], [one(p0.name[after]!), -share])];
    });
  }

  function spread(key: string, d: readonly Lin[], factor: number): void {
    if (d.length < 2) return;
    const common = plus(...d.map((w): [Lin, number] => [w, 1 / d.length]));
    const rest = d.map((w) => plus([w, 1], [common, -1]));
    if (!rest.every((w) => dense.isDetermined(w))) return void found.set(key, null);
    const v = rest.map((w) => dense.value(w));
    const w = plus([d[v.indexOf(Math.max(...v))]!, factor], [d[v.indexOf(Math.min(...v))]!, -factor]);
    found.set(key, linear(w));
  }

  function extreme(key: string, d: readonly Lin[], factor: number): void {
    if (d.length === 0) return;
    if (!d.every((w) => dense.isDetermined(w))) return void found.set(key, null);
    const v = d.map((w) => Math.abs(dense.value(w)));
    found.set(key, linear(plus([d[v.indexOf(Math.max(...v))]!, factor])));
    const signed = d.map((w) => dense.value(w) * factor);
    for (const [end, at] of [
      ['least', Math.min(...signed)],
      ['greatest', Math.max(...signed)],
    ] as const)
      found.set(`${key} ${end}`, linear(plus([d[signed.indexOf(at)]!, factor])));
  }

  function coplanar(id: string, p0: Profile, p: Profile, across0: number, across: number): void {
    const points = [...p0.s.map((x) => [x, across0] as const), ...p.s.map((x) => [x, across] as const)];
    if (points.length < 4 || p0.s.length + p.s.length < 4) return;
    const names = [...p0.name, ...p.name];
    const mx = mean(points.map((q) => q[0]));
    const my = mean(points.map((q) => q[1]));
    const [sxx, sxy, syy] = points.reduce(
      ([a, b, c], [x, y]) => [a + (x - mx) ** 2, b + (x - mx) * (y - my), c + (y - my) ** 2],
      [0, 0, 0],
    );
    const det = sxx * syy - sxy ** 2;
    if (det <= 1e-12 * sxx * syy) return;
    const centre = plus(...names.map((n): [Lin, number] => [one(n), 1 / names.length]));
    const along = plus(
      ...names.map((n, i): [Lin, number] => [
        one(n),
        ((points[i]![0] - mx) * syy - (points[i]![1] - my) * sxy) / det,
      ]),
    );
    const athwart = plus(
      ...names.map((n, i): [Lin, number] => [
        one(n),
        ((points[i]![1] - my) * sxx - (points[i]![0] - mx) * sxy) / det,
      ]),
    );
    const rest = names.map((n, i) =>
      plus([one(n), 1], [centre, -1], [along, -(points[i]![0] - mx)], [athwart, -(points[i]![1] - my)]),
    );
    if (!rest.every((w) => dense.isDetermined(w))) {
      found.set(`coplanarity ${id} least-squares`, null);
      found.set(`coplanarity ${id} minimum-zone`, null);
      return;
    }
    const v = rest.map((w) => dense.value(w));
    const w = plus([rest[v.indexOf(Math.max(...v))]!, 1], [rest[v.indexOf(Math.min(...v))]!, -1]);
    found.set(`coplanarity ${id} least-squares`, linear(w));
    found.set(`coplanarity ${id} minimum-zone`, { value: narrowestSlab(points, v), u: null });
  }
}

const rangeOf = (v: readonly number[]): number => Math.max(...v) - Math.min(...v);

function straight(reference: string, p: Profile, d: readonly number[], dense: Dense): Known {
  const value = straightness(reference, p.s, d);
  if (reference === 'minimum-zone') return { value, u: null };
  const n = p.s.length;
  const [centre, slope, at] =
    reference === 'least-squares'
      ? [meanOf(p), slopeOf(p), mean(p.s)]
      : [
          one(p.name[0]!),
          plus(
            [one(p.name[n - 1]!), 1 / (p.s[n - 1]! - p.s[0]!)],
            [one(p.name[0]!), -1 / (p.s[n - 1]! - p.s[0]!)],
          ),
          p.s[0]!,
        ];
  const rest = p.s.map((s, i) => about(p, i, centre, slope, s - at));
  const v = rest.map((w) => dense.value(w));
  const w = plus([rest[v.indexOf(Math.max(...v))]!, 1], [rest[v.indexOf(Math.min(...v))]!, -1]);
  return { value, u: dense.u(w) };
}

function straightness(reference: string, x: readonly number[], d: readonly number[]): number {
  const withSlope = (b: number) => rangeOf(d.map((v, i) => v - b * x[i]!));
  if (reference === 'end-points') return withSlope((d.at(-1)! - d[0]!) / (x.at(-1)! - x[0]!));
  if (reference === 'least-squares') {
    const m = mean(x);
    return withSlope(x.reduce((s, v, i) => s + (v - m) * d[i]!, 0) / x.reduce((s, v) => s + (v - m) ** 2, 0));
  }
  // The narrowest strip lies along a line through two of the points.
  let least = Infinity;
  for (let i = 0; i < x.length; i++)
    for (let j = i + 1; j < x.length; j++)
      least = Math.min(least, withSlope((d[j]! - d[i]!) / (x[j]! - x[i]!)));
  return least;
}

/** Worst of all windows; undefined where none has three stations. */
function localWorst(reference: string, p: Profile, d: readonly number[], over: number): number | undefined {
  let worst: number | undefined;
  for (let from = 0; from < p.s.length; from++) {
    for (let to = from + 2; to < p.s.length; to++) {
      if (p.s[to]! - p.s[from]! > over + 1e-7) continue;
      const value =
        d.length === 0 ? 0 : straightness(reference, p.s.slice(from, to + 1), d.slice(from, to + 1));
      worst = Math.max(worst ?? 0, value);
    }
  }
  return worst;
}

/** The narrowest slab is held by three points and one, or by two and two. */
function narrowestSlab(points: readonly (readonly [number, number])[], z: readonly number[]): number {
  let least = Infinity;
  const n = points.length;
  const edge = (i: number, j: number) =>
    [points[j]![0] - points[i]![0], points[j]![1] - points[i]![1], z[j]! - z[i]!] as const;
  const pairs: (readonly [number, number, number])[] = [];
  for (let i = 0; i < n; i++) for (let j = i + 1; j < n; j++) pairs.push(edge(i, j));
  for (let k = 0; k < pairs.length; k++) {
    for (let l = k + 1; l < pairs.length; l++) {
      const [ax, ay, az] = pairs[k]!;
      const [bx, by, bz] = pairs[l]!;
      const det = ax * by - bx * ay;
      if (Math.abs(det) < 1e-9) continue;
      const a = (az * by - bz * ay) / det;
      const b = (ax * bz - bx * az) / det;
      least = Math.min(least, rangeOf(points.map(([x, y], i) => z[i]! - a * x - b * y)));
    }
  }
  return least;
}

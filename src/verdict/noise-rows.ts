import { copyRow, type Draws, type ProfileFunctional, type ProfileSample } from './profile-sample.js';
import { RowReader, valuesOf } from './row-reader.js';
import { segmentTrend } from './segment-trend.js';
import type { Memory } from './working-memory.js';

/** Rows of one characteristic, prepared by its reader, with the value T of each. */
export interface Rows {
  readonly count: number;
  readonly values: Float64Array;
  readonly sizes: Float64Array;
}

/** Rows with what the reader makes of them. */
export function rowsOf(reader: RowReader, rows: Float64Array, count: number, memory: Memory): Rows {
  const values = reader.prepare(rows, memory);
  return { count, values, sizes: valuesOf(reader, values, count, memory) };
}

/** The noise of one sample as one characteristic reads it. */
export interface NoiseRows {
  readonly reader: RowReader;
  readonly whole: Rows;
  /** `whole.sizes`, ascending. */
  readonly sorted: Float64Array;
  /** e = l + r: the lines of its segments (null: none to speak of) and the rest. */
  readonly parts: () => { readonly lines: Rows | null; readonly rough: Rows };
}

/** Numbers of a sample up to which what is worked out of it is kept for the next characteristic: 2 MB. */
export const MOST_HELD = 2.5e5;

const known = new WeakMap<Draws, Map<ProfileFunctional, NoiseRows>>();
const knownParts = new WeakMap<Draws, NoiseParts | null>();

/** Works it out, or remembers it as long as the draws are held. */
export function noiseRows(T: ProfileFunctional, sample: ProfileSample, memory: Memory): NoiseRows {
  const { noise } = sample;
  const held = known.get(noise)?.get(T);
  if (held !== undefined) return held;
  const reader = new RowReader(T, sample.positions.length);
  const whole = rowsOf(reader, noise.values, noise.count, memory);
  let split: ReturnType<NoiseRows['parts']> | null = null;
  const made: NoiseRows = {
    reader,
    whole,
    sorted: memory.copyOf(whole.sizes).sort(),
    parts: () => {
      if (split !== null) return split;
      const parts = noiseParts(sample, memory);
      split =
        parts === null
          ? { lines: null, rough: whole }
          : {
              lines: rowsOf(reader, parts.lines, noise.count, memory),
              rough: rowsOf(reader, parts.rough, noise.count, memory),
            };
      return split;
    },
  };
  if (noise.values.length <= MOST_HELD) known.set(noise, (known.get(noise) ?? new Map()).set(T, made));
  return made;
}

/** e = l + r, draw by draw: the lines of its segments, and the rest. */
export interface NoiseParts {
  readonly lines: Float64Array;
  readonly rough: Float64Array;
}

/** null: no lines to speak of, as of deviations from a rail's own line. */
export function noiseParts(
  { noise, positions, segments = [0] }: ProfileSample,
  memory: Memory,
): NoiseParts | null {
  const held = knownParts.get(noise);
  if (held !== undefined) return held;
  const { values } = noise;
  const n = positions.length;
  const lines = memory.floats(values.length);
  const rough = memory.floats(values.length);
  const e = new Float64Array(n);
  const line = new Float64Array(n);
  let mostLine = 0;
  let most = 0;
  for (let at = 0; at < values.length; at += n) {
    copyRow(values, at, e);
    segmentTrend(e, positions, segments, true, line);
    for (let i = 0; i < n; i++) {
      lines[at + i] = line[i]!;
      rough[at + i] = e[i]! - line[i]!;
      mostLine = Math.max(mostLine, Math.abs(line[i]!));
      most = Math.max(most, Math.abs(e[i]!));
    }
  }
  const made = mostLine <= 1e-9 * most ? null : { lines, rough };
  if (values.length <= MOST_HELD) knownParts.set(noise, made);
  return made;
}

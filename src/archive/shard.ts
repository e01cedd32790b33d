/** A stable part of an archive: the part of a job depends on its id alone, not on the other jobs. */
import { createHash } from 'node:crypto';

export interface Shard {
  /** From 1 to `of`. */
  readonly index: number;
  readonly of: number;
}

/** 'i/n' with 1 ≤ i ≤ n; null for anything else. */
export function parseShard(text: string): Shard | null {
  const match = /^([1-9]\d{0,5})\/([1-9]\d{0,5})$/.exec(text);
  if (match === null) return null;
  const [index, of] = [Number(match[1]), Number(match[2])];
  return index <= of ? { index, of } : null;
}

/** @param name The job's id, or its folder if it has none. @returns from 1 to `of`. */
export function shardOf(name: string, of: number): number {
  const digits = createHash('sha256').update(name.normalize('NFC')).digest('hex').slice(0, 12);
  return (Number.parseInt(digits, 16) % of) + 1;
}

export const shardText = ({ index, of }: Shard): string => `${index}/${of}`;

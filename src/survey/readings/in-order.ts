import { hoursOf } from './clock.js';
import type { Reading } from './readings.js';

/** In order of time if every reading has a time of day, else by file and row: the order in which they were written. */
export function inOrder<T>(items: readonly T[], readingOf: (item: T) => Reading): readonly T[] {
  const timed = items.map((item) => ({
    item,
    reading: readingOf(item),
    hours: hoursOf(readingOf(item).time ?? ''),
  }));
  const byClock = timed.every(({ hours }) => hours !== null);
  return timed
    .sort((a, b) => (byClock ? a.hours! - b.hours! : 0) || bySource(a.reading, b.reading))
    .map(({ item }) => item);
}

function bySource({ source: p }: Reading, { source: q }: Reading): number {
  if (p.file !== q.file) return p.file < q.file ? -1 : 1;
  return p.row - q.row;
}

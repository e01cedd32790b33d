import type { PointRef, Reading } from './readings.js';

/** 'A:7', or the name of a monument. */
export const pointLabel = (p: PointRef): string =>
  p.kind === 'station' ? `${p.rail}:${p.station}` : p.monument;

/** What a reading is of; of a slope or a span both ends. */
export function readingLabel(o: Reading): string {
  if (o.kind === 'offset') return pointLabel(o.point);
  return o.kind === 'slope'
    ? `${o.from.rail}:${o.from.station} – ${o.to.rail}:${o.to.station}`
    : `${o.rail}:${o.station} – ${o.other}:${o.otherStation}`;
}

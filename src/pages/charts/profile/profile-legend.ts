/** Legend of a profile: only what it shows. */
import { circlePath, lineSample, seriesItem, zoneSample, type LegendItem } from '../legend.js';
import { palette, seriesLooks } from '../palette.js';
import type { ProfileInput } from './profile.js';
import { furtherEdgeDash, zoneLineDash, type Zone } from './zones.js';

export function legendOf(
  input: ProfileInput,
  zones: readonly Zone[],
  asBars: boolean,
  isDense: boolean,
  hasRings: boolean,
): LegendItem[] {
  const items: LegendItem[] = input.series.map(({ phase }) =>
    seriesItem(phase.words, seriesLooks[phase.role], isDense),
  );
  const looks = input.series.map(({ phase }) => seriesLooks[phase.role]);
  items.push({
    label: input.barLabel,
    samplePx: asBars ? 6 * looks.length : 26,
    sample: looks.map((look, i) =>
      asBars
        ? { path: `M${(i - (looks.length - 1) / 2) * 6},-6v12`, colour: look.colour, width: 0.9 }
        : {
            path: `M${-13 + (26 / looks.length) * i},-4h${26 / looks.length}v8h${-26 / looks.length}Z`,
            colour: null,
            fill: look.band,
          },
    ),
  });
  items.push({
    label: input.zeroLabel,
    samplePx: 26,
    sample: [lineSample({ colour: palette.ink, width: 0.9 })],
  });
  for (const [i, zone] of zones.entries()) {
    const isFilled = i === 0;
    items.push({
      label: zone.label,
      samplePx: 26,
      sample: isFilled
        ? [zoneSample(palette.zone)]
        : [lineSample({ colour: palette.zoneEdge, width: 0.9, dash: furtherEdgeDash })],
    });
    if (isFilled && zone.acceptance !== undefined) {
      items.push({
        label: 'zone under guarded acceptance',
        samplePx: 26,
        sample: [{ path: 'M-13,-4.5h26v9h-26Z', fill: palette.acceptance, colour: null, width: 0 }],
      });
    }
    if (zone.lineLabel !== undefined) {
      items.push({
        label: zone.lineLabel,
        samplePx: 26,
        sample: [lineSample({ colour: palette.zoneEdge, width: 0.9, dash: zoneLineDash })],
      });
    }
  }
  if (hasRings) {
    items.push({
      label: 'makes the value',
      samplePx: 13,
      sample: [{ path: circlePath(5.5), colour: palette.ink, width: 1.1 }],
    });
  }
  return items;
}

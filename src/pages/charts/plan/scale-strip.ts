/** Below the plan: which way along and across go, and bars of a known length. */
import { positionText, withUnit } from '../../../results/words/format-quantity.js';
import { niceBelow } from '../axis-ticks.js';
import type { ChartContext } from '../chart-context.js';
import { textPx } from '../chart-spec.js';
import { palette } from '../palette.js';
import { round, strokeRow, textRow, type StrokeRow } from '../rows.js';
import { textWidth } from '../../fonts/widths.js';
import type { PlanFrame } from './frame.js';

export function scaleStrip(context: ChartContext, frame: PlanFrame) {
  const base = frame.height + 48;
  const strokes: StrokeRow[] = [
    strokeRow(4, base, 'M0,0H24M0,0V-15', { colour: palette.ink, width: 1.1 }),
    strokeRow(4, base, 'M30,0L23,-3V3ZM0,-21L-3,-14H3Z', { colour: null, width: 0, fill: palette.ink }),
  ];
  const texts = [textRow(40, base, '+ along'), textRow(10, base - 15, '+ across')];
  const { length } = context;
  const bar = (roomPx: number, pxPerMm: number) => {
    const shown = niceBelow(length.fromBase(roomPx / pxPerMm));
    const mm = shown / length.fromBase(1);
    return { px: mm * pxPerMm, text: withUnit(positionText(mm, length), length) };
  };
  const alongBar = bar(frame.width / 4, frame.perMm);
  const label = frame.factor === 1 ? `${alongBar.text}, both ways` : `${alongBar.text} along`;
  const alongLeft = frame.width - Math.max(alongBar.px, textWidth(label, textPx)) - 4;
  const end = round(alongBar.px);
  strokes.push(strokeRow(alongLeft, base, `M0,-4V0H${end}V-4`, { colour: palette.ink, width: 1.3 }));
  texts.push(textRow(alongLeft, base - 11, label));
  if (frame.factor !== 1) {
    const acrossBar = bar(24, frame.perMm * frame.factor);
    const acrossLabel = `${acrossBar.text} across`;
    const acrossLeft = alongLeft - textWidth(acrossLabel, textPx) - 40;
    const tall = round(acrossBar.px);
    strokes.push(strokeRow(acrossLeft, base, `M4,0H0V${-tall}H4`, { colour: palette.ink, width: 1.3 }));
    texts.push(textRow(acrossLeft + 9, base - 11, acrossLabel));
  }
  return { strokes, texts };
}

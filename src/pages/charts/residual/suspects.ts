/** Readings that the test for blunders suspects: a ring and a name. */
import type { ResidualResult, Suspect } from '../../../results/results-schema.js';
import type { PhaseContext } from '../chart-context.js';
import { textPx } from '../chart-spec.js';
import { circlePath } from '../legend.js';
import { palette } from '../palette.js';
import { placeLabel, type Candidate } from '../place-label.js';
import {
  boxOf,
  strokeRow,
  textRow,
  xPx,
  yPx,
  type Box,
  type PointRow,
  type StrokeRow,
  type TextRow,
  type Frame,
} from '../rows.js';
import { fitText, plainText } from '../text-fit.js';
import type { Tested } from './groups.js';

const mostLabels = 8;

export interface Marked {
  readonly residual: Tested;
  readonly x: number;
  readonly label: string;
}

export function suspectsOf(phase: PhaseContext, at: ReadonlyMap<ResidualResult, number>): Marked[] {
  const { suspects } = phase.phase.adjustment;
  if (suspects.length === 0) return [];
  const files = new Set(suspects.flatMap((s) => s.file ?? []));
  const find = (s: Suspect) =>
    [...at].find(
      ([r]) =>
        r.file === s.file && r.row === s.row && r.axis === s.axis && (s.file !== null || r.kind === s.prior),
    );
  return suspects.flatMap((s): Marked[] => {
    const found = find(s);
    if (found === undefined || found[0].standardised === null) return [];
    const file = plainText((s.file ?? '').replace(/^.*\//, ''));
    const label =
      s.file === null ? plainText(s.what) : files.size > 1 ? `${file} row ${s.row}` : `row ${s.row}`;
    return [{ residual: found[0] as Tested, x: found[1], label: fitText(label, 150, textPx) }];
  });
}

/** A name stands where it covers no point, or is left to the table. */
export function labelSuspects(
  frame: Frame,
  suspects: readonly Marked[],
  points: readonly PointRow[],
): { rings: StrokeRow[]; labels: TextRow[] } {
  const rings: StrokeRow[] = [];
  const labels: TextRow[] = [];
  const drawn = points.map(({ x, y }) => ({ px: xPx(frame, x), py: yPx(frame, y), weight: 1 }));
  const room: Box = { left: 0, right: frame.width + 12, top: 0, bottom: frame.height };
  for (const { residual, x, label } of suspects) {
    const [px, py] = [xPx(frame, x), yPx(frame, residual.standardised)];
    rings.push(strokeRow(px, py, circlePath(6.2), { colour: palette.ink, width: 1.1 }));
    if (labels.length >= mostLabels) continue;
    const candidates: Candidate[] = [
      { label: textRow(px + 10, py, label), cost: 0 },
      { label: textRow(px - 10, py, label, { align: 'right' }), cost: 0.1 },
      { label: textRow(px, py - 15, label, { align: 'center' }), cost: 0.2 },
      { label: textRow(px, py + 15, label, { align: 'center' }), cost: 0.3 },
      { label: textRow(px + 9, py - 12, label), cost: 0.4 },
      { label: textRow(px - 9, py - 12, label, { align: 'right' }), cost: 0.5 },
      { label: textRow(px + 9, py + 12, label), cost: 0.6 },
      { label: textRow(px - 9, py + 12, label, { align: 'right' }), cost: 0.7 },
    ];
    const place = placeLabel(
      candidates,
      labels.map((row) => boxOf(row)),
      drawn,
      room,
      1,
    );
    if (place !== null) labels.push(place);
  }
  return { rings, labels };
}

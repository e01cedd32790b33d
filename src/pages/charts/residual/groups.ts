/** Residuals in a row: grouped by set-up, each with its place along the picture. */
import type { ResidualResult } from '../../../results/results-schema.js';
import type { ChartContext } from '../chart-context.js';
import { textPx } from '../chart-spec.js';
import { palette } from '../palette.js';
import { boxOf, overlaps, textRow, xPx, type Frame, type RuleRow, type TextRow } from '../rows.js';
import { fitText, plainText } from '../text-fit.js';
import { textWidth } from '../../fonts/widths.js';

export interface Group {
  readonly name: string;
  readonly residuals: Tested[];
}
export type Tested = ResidualResult & { readonly standardised: number };

/** Set-ups in the order of the job, then readings without one by their kind, then priors. */
export function groupsOf(context: ChartContext, residuals: readonly Tested[]): Group[] {
  const names = new Map<string, Group>();
  for (const setup of context.results.survey.setups)
    names.set(`1${setup.id}`, { name: plainText(setup.id), residuals: [] });
  for (const residual of residuals) {
    const isPrior = residual.file === null;
    const key = isPrior ? '3' : residual.setup === null ? `2${residual.kind}` : `1${residual.setup}`;
    let group = names.get(key);
    if (group === undefined) {
      names.set(
        key,
        (group = { name: isPrior ? 'stated' : plainText(residual.setup ?? residual.kind), residuals: [] }),
      );
    }
    group.residuals.push(residual);
  }
  const rank = (key: string) => key.charAt(0);
  return [...names]
    .filter(([, group]) => group.residuals.length > 0)
    .sort(([a], [b]) => (rank(a) < rank(b) ? -1 : rank(a) > rank(b) ? 1 : 0))
    .map(([, group]) => group);
}

export function placeGroups(groups: readonly Group[]) {
  const total = groups.reduce((sum, group) => sum + group.residuals.length, 0);
  const gap = Math.max(1, total * 0.012);
  const at = new Map<ResidualResult, number>();
  const placed: { name: string; from: number; to: number }[] = [];
  let x = 0;
  for (const group of groups) {
    const from = x;
    for (const residual of group.residuals) at.set(residual, (x += 1));
    x += 1;
    placed.push({ name: group.name, from, to: x });
    x += gap;
  }
  return { at, groups: placed, end: Math.max(2, x - gap) };
}

/** Names of the groups above, and a line between one and the next. */
export function groupStrip(frame: Frame, groups: readonly { name: string; from: number; to: number }[]) {
  const rules: RuleRow[] = [];
  for (const [i, group] of groups.entries()) {
    const next = groups[i + 1];
    if (next === undefined) continue;
    const x = (group.to + next.from) / 2;
    rules.push({
      what: 'between',
      x,
      x2: x,
      y: frame.y.domain[0],
      y2: frame.y.domain[1],
      colour: palette.faint,
      width: 0.7,
      dash: [2, 2],
    });
  }
  return { rules, texts: groupNames(frame, groups) };
}

/** A name narrower than its group stands over it; others where the names beside them leave room. */
function groupNames(frame: Frame, groups: readonly { name: string; from: number; to: number }[]): TextRow[] {
  const texts: TextRow[] = [];
  const widest = [...groups].sort((a, b) => b.to - b.from - (a.to - a.from));
  for (const { name, from, to } of widest) {
    const [left, right] = [xPx(frame, from), xPx(frame, to)];
    const text = fitText(name, Math.max(right - left, 64), textPx);
    const half = textWidth(text, textPx) / 2;
    const middle = Math.min((left + right) / 2, frame.width + 10 - half);
    const label = textRow(middle, -10, text, { align: 'center', colour: palette.soft });
    if (texts.some((other) => overlaps(boxOf(label, 4), boxOf(other)))) continue;
    texts.push(label);
  }
  return texts;
}

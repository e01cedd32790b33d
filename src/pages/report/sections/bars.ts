/**
 * One row of Figure 1: the share of its limit that a characteristic uses. Pure: shares of the limit to inline SVG. Every place is in
 * per cent of the cell, so a row can have any size. Marks of a fixed size are nested at such a place.
 */

/** Shares of the limit: 1 is at the limit. */
export interface Span {
  readonly from: number;
  readonly value: number;
  readonly to: number;
}

export interface Bar {
  /** The deciding end first; a range has only one. */
  readonly lanes: readonly (Span & { readonly sign: '' | '+' | '−' })[];
  /** The earlier phase; null: none. */
  readonly before: Span | null;
  /** The judged phase, which gives the colour of bars and ticks. */
  readonly colour: 'left' | 'found';
}

/** Right end of the scale: 1.5, or 2 if an interval of the judged phase is beyond 1.5. */
export const scaleOf = (bars: readonly Bar[]): number =>
  bars.some(({ lanes }) => lanes.some(({ to }) => to > 1.5)) ? 2 : 1.5;

/** Whether the earlier phase lies beyond the right end of the scale: it is drawn as a number. */
export const isBeyond = ({ before }: Bar, most: number): boolean => before !== null && before.value > most;

const tenth = (x: number): string => String(Math.round(10 * x) / 10);

/** @param most Right end of the scale, as a share of the limit. */
export function barSvg(bar: Bar, most: number): string {
  const { lanes, before, colour } = bar;
  const x = (share: number): string => `${tenth((100 * Math.min(Math.max(share, 0), most)) / most)}%`;
  const wide = (from: number, to: number): string =>
    `${tenth((100 * (Math.min(to, most) - Math.min(Math.max(from, 0), most))) / most)}%`;
  const parts = [
    `<rect class="outside" x="${x(1)}" y="0" width="${wide(1, most)}" height="100%"/>`,
    ...[0, 0.5, 1.5].map((at) => (at < most ? line('grid', x(at)) : '')),
    line('limit', x(1)),
  ];
  const height = lanes.length > 1 ? [34, 20] : [before === null ? 46 : 36];
  let top = lanes.length > 1 ? 10 : before === null ? 27 : 16;
  lanes.forEach(({ from, value, to, sign }, k) => {
    const of = `${colour}${k > 0 ? ' second' : ''}`;
    const tall = height[k]!;
    if (to > 0 && from < most)
      parts.push(
        `<rect class="bar ${of}" x="${x(from)}" y="${top}%" width="${wide(from, to)}" height="${tall}%"/>`,
      );
    if (value >= 0 && value <= most)
      parts.push(
        `<line class="tick ${of}" x1="${x(value)}" x2="${x(value)}" y1="${top}%" y2="${top + tall}%"/>`,
      );
    if (to > most)
      parts.push(at(most, top + tall / 2, `<path class="arrow ${of}" d="M-6 -4L0 0L-6 4Z"/>`, x));
    if (sign !== '') {
      const end = Math.min(Math.max(to, 0), most);
      parts.push(
        at(end, top + tall / 2, `<text class="sign" x="${to > most ? -14 : 3}" y="3">${sign}</text>`, x),
      );
    }
    top += tall + 6;
  });
  if (before !== null) {
    const y = lanes.length > 1 ? 88 : 76;
    if (isBeyond(bar, most))
      parts.push(
        at(most, y, `<path class="arrow open" d="M-6 -3.5L-1 0L-6 3.5"/>`, x),
        at(most, y, `<text class="beyond" x="-9" y="3">${Math.round(100 * before.value)} %</text>`, x),
      );
    else
      parts.push(
        `<line class="before" x1="${x(before.from)}" x2="${x(before.to)}" y1="${y}%" y2="${y}%"/>`,
        at(before.value, y, `<path class="diamond" d="M-3 0L0 -3L3 0L0 3Z"/>`, x),
      );
  }
  return `<svg class="bars" aria-hidden="true" width="100%" height="100%">${parts.join('')}</svg>`;
}

const line = (css: string, x: string): string =>
  `<line class="${css}" x1="${x}" x2="${x}" y1="0" y2="100%"/>`;

/** A mark of a fixed size at a place in per cent. */
const at = (share: number, y: number, mark: string, x: (share: number) => string): string =>
  `<svg x="${x(share)}" y="${y}%" overflow="visible">${mark}</svg>`;

/** Labels of the scale, as shares and texts. */
export function scaleSvg(most: number): string {
  const labels = [0, 0.5, 1, ...(most > 1.5 ? [2] : [1.5])];
  const texts = labels.map((share) => {
    const x = tenth((100 * share) / most);
    const anchor = share === 0 ? 'start' : share === most ? 'end' : 'middle';
    const unit = share === most ? ' %' : '';
    return `<text class="${share === 1 ? 'own' : ''}" x="${x}%" y="80%" text-anchor="${anchor}">${100 * share}${unit}</text>`;
  });
  return `<svg class="bars scale" aria-hidden="true" width="100%" height="100%">${texts.join('')}</svg>`;
}

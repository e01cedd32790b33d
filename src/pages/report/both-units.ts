/**
 * Both units next to each other: the same view in one unit and in the other, merged text by text. Each figure was rounded by
 * its own uncertainty in its own unit; within a sentence the second follows in brackets, in a cell of figures it is below.
 */
import { inFirst, inSecond, isPair, pairOf } from '../words/pair.js';
import { NO_BREAK_SPACE } from '../../results/words/format-quantity.js';
import type { Results } from '../../results/results-schema.js';
import type { Cell } from './table.js';

/** Figure 1 has no room for a second unit; the symbols of a picture are no text. */
const ONE_UNIT: ReadonlySet<string> = new Set(['bars', 'source', 'logo']);

/** @param other The same view in another unit: where it has another shape, the first is kept. */
export function inBothUnits<View>(view: View, other: View): View {
  if (typeof view === 'string') return textInBoth(view, other as string) as View;
  if (Array.isArray(view)) {
    const list = other as unknown[];
    return (view.length === list.length ? view.map((part, k) => inBothUnits(part, list[k])) : view) as View;
  }
  if (view === null || typeof view !== 'object' || other === null || typeof other !== 'object') return view;
  if (isFigure(view) && isFigure(other))
    return {
      ...view,
      also:
        view.text === other.text
          ? ''
          : [other.text, ...(other.detail === view.detail ? [] : [other.detail])].filter(Boolean).join(' · '),
    };
  return Object.fromEntries(
    Object.entries(view).map(([name, part]) => [
      name,
      ONE_UNIT.has(name) ? part : inBothUnits(part, (other as Record<string, unknown>)[name]),
    ]),
  ) as View;
}

const isFigure = (part: object): part is Cell => 'also' in part && (part as Cell).css.includes('number');

/** What `make` makes of results, in the units that the job asks for. */
export function inUnitsOf<T>(results: Results, make: (results: Results) => T): T {
  const { style } = results;
  const made = make(results);
  return style.also === undefined
    ? made
    : inBothUnits(made, make({ ...results, style: { ...style, ...style.also } }));
}

/** Of "raise 0.39 thou" next to "raise 10 µm": "0.39 thou". The parts are kept on one line by spaces of their own. */
function withoutHead(text: string, own: string): string {
  const [parts, others] = [text.split(NO_BREAK_SPACE), own.split(NO_BREAK_SPACE)];
  return parts.slice(parts.findIndex((part, k) => part !== others[k])).join(NO_BREAK_SPACE);
}

/** "limit 40 µm; row 3" → "limit 40 µm (1.575 thou); row 3" */
export function textInBoth(text: string, other: string): string {
  if (text === other) return text;
  if (isPair(text))
    return pairOf(textInBoth(inFirst(text), inFirst(other)), textInBoth(inSecond(text), inSecond(other)));
  const [words, others] = [text.split(' '), other.split(' ')];
  // Where the two say something else than one figure in two units, the first is kept.
  if (
    words.length !== others.length ||
    words.some((word, k) => word !== others[k] && !/\d|^\W*(?:m|[µu]m|mm|in|thou)/.test(word))
  )
    return text;
  return words
    .map((word, k) => {
      if (word === others[k]) return word;
      const [, own, end] = /^(.*?)([.,;:)]*)$/s.exec(word)!;
      return `${own} (${withoutHead(others[k]!.replace(/[.,;:)]+$/, ''), own!)})${end}`;
    })
    .join(' ');
}

/**
 * Both units next to each other: the same view in one unit and in the other, merged text by text. Each figure was rounded by
 * its own uncertainty in its own unit; within a sentence the second follows in brackets, in a cell of figures it is below.
 */
import { inFirst, inSecond, isPair, pairOf } from '../words/pair.js';
import { NO_BREAK_SPACE } from '../../results/words/format-quantity.js';
import type { Results } from '../../results/results-schema.js';
import { usualUnits } from '../../survey/job/resolve-job.js';
import type { Cell } from './table.js';

/** The symbols of a picture are no text. */
export const NO_TEXT: ReadonlySet<string> = new Set(['bar', 'scale', 'source', 'logo']);
/** Figure 1 has no room for a second unit. */
const ONE_UNIT: ReadonlySet<string> = new Set(['bars', 'source', 'logo']);

/** How a text, or a cell of figures, is joined with the same in another unit. */
interface Join {
  readonly keep: ReadonlySet<string>;
  readonly text: (own: string, other: string) => string;
  readonly cell?: (own: Cell, other: Cell) => Cell;
}

/** @param other The same view in another unit: where it has another shape, the first is kept. */
function joined<View>(view: View, other: View, join: Join): View {
  if (typeof view === 'string') return (view === other ? view : join.text(view, other as string)) as View;
  if (Array.isArray(view)) {
    const list = other as unknown[];
    return (view.length === list.length ? view.map((part, k) => joined(part, list[k], join)) : view) as View;
  }
  if (view === null || typeof view !== 'object' || other === null || typeof other !== 'object') return view;
  if (join.cell !== undefined && isFigure(view) && isFigure(other)) return join.cell(view, other) as View;
  return Object.fromEntries(
    Object.entries(view).map(([name, part]) => [
      name,
      join.keep.has(name) ? part : joined(part, (other as Record<string, unknown>)[name], join),
    ]),
  ) as View;
}

/** Both units in the text. */
const inBothUnits = <View>(view: View, other: View): View =>
  joined(view, other, {
    keep: ONE_UNIT,
    text: textInBoth,
    cell: (own, its) => ({
      ...own,
      also:
        own.text === its.text
          ? ''
          : [its.text, ...(its.detail === own.detail ? [] : [its.detail])].filter(Boolean).join(' · '),
    }),
  });

/** The same in the unit in which the report is not: inches for millimetres, and the other way round. */
export const inOtherUnits = (results: Results): Results => ({
  ...results,
  style: { ...results.style, ...usualUnits(/^(?:in|ft)$/.test(results.style.length) ? 'mm' : 'in') },
});

// As in pair.ts, characters that Unicode keeps free for use within a program.
const [OPEN, BETWEEN, CLOSE] = ['\ufdd3', '\ufdd4', '\ufdd5'];
const EITHER = /\ufdd3([^\ufdd4]*)\ufdd4([^\ufdd5]*)\ufdd5/g;

/** The unit of a page can be switched: where it changes a text, the other text is with it. */
export const inEitherUnit = <View>(view: View, other: View): View =>
  joined(view, other, { keep: NO_TEXT, text: (own, its) => OPEN + own + BETWEEN + its + CLOSE });

/** The page in its own unit. */
export const inOwnUnit = (html: string): string => html.replace(EITHER, '$1');

/** The page in its own unit, each text that the other unit changes as `<data value="the other text">`. */
export const switchable = (html: string): string =>
  html
    .replace(/<[^<>]*\ufdd3[^<>]*>/g, inOwnUnit)
    .replace(/<title>[^]*?<\/title>/g, inOwnUnit)
    .replace(EITHER, '<data value="$2">$1</data>');

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

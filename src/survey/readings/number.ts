/**
 * Numbers as people and spreadsheets write them, by a strict grammar. A text that could be two numbers is refused.
 *
 *   number   = [sign] (decimal | fraction) [space] [unit]
 *   decimal  = (digits | grouped) [mark digits] [e [sign] digits]  |  mark digits
 *   grouped  = 1 to 3 digits, not 0 first, then groups of exactly three, all set off by the same one of
 *              the other mark, apostrophe, space, no-break space, narrow no-break space, thin space
 *   fraction = [digits space] digits / digits
 *   sign     = + | - | Unicode minus or dash right before a digit or mark
 */
import { unitWord } from '../../base/units/unit-words.js';

export type Mark = '.' | ',';

/** How the numbers of one file are written. */
export interface NumberStyle {
  /** The decimal mark; null: no cell of the file shows which. */
  readonly decimal: Mark | null;
  /** true: a cell proves that the other mark separates thousands (`1,234.5`). */
  readonly grouped: boolean;
}

export type NumberRead =
  | {
      readonly ok: true;
      readonly value: number;
      /** Unit as in job files; null: there is none after the number. */
      readonly unit: string | null;
      /** true: the unit is `in` because of the mark ". Seconds of arc have the same mark, and it may be a stray quote. */
      readonly isMark: boolean;
    }
  | { readonly ok: false; readonly why: 'not-a-number' }
  | { readonly ok: false; readonly why: 'ambiguous'; readonly one: string; readonly other: string };

/** Longer texts are not readings. */
const LONGEST = 60;
const NOT_A_NUMBER: NumberRead = { ok: false, why: 'not-a-number' };

/**
 * The number in a cell.
 *
 * @param text The cell, trimmed.
 * @returns Its value and the unit written after it, if any.
 *   Fails: not-a-number; ambiguous with both meanings, when `1,234` or `1.234` could be either in this file.
 */
export function readNumber(text: string, style: NumberStyle): NumberRead {
  if (text.length > LONGEST) return NOT_A_NUMBER;
  const plain = readPlain(text, style);
  if (plain !== null) return { ok: true, value: plain, unit: null, isMark: false };
  const parts = takeApart(text);
  if (parts === null) return NOT_A_NUMBER;
  const { sign, body, unit, isMark } = parts;
  const fraction = readFraction(body);
  if (fraction !== null) return { ok: true, value: plus(sign * fraction), unit, isMark };
  const point = readDecimal(body, '.');
  const comma = readDecimal(body, ',');
  const taken = choose(point, comma, body, style);
  if (taken === 'ambiguous') {
    return { ok: false, why: 'ambiguous', one: String(sign * point!), other: String(sign * comma!) };
  }
  return taken === null ? NOT_A_NUMBER : { ok: true, value: plus(sign * taken), unit, isMark };
}

/** The form of nearly all cells, without parsing: the same value, but faster. */
function readPlain(text: string, style: NumberStyle): number | null {
  if (/^[+-]?\d+$/.test(text)) return plus(Number(text));
  if (style.decimal === '.' && /^[+-]?\d*\.\d+$/.test(text)) return plus(Number(text));
  return style.decimal === ',' && /^[+-]?\d*,\d+$/.test(text) ? plus(Number(text.replace(',', '.'))) : null;
}

/** What a cell shows about the decimal mark of its file: nothing, one mark, or that it could be either. */
export type MarkEvidence = { readonly decimal: Mark; readonly grouped: boolean } | 'either' | null;

/** @param text The cell, trimmed. */
export function markEvidence(text: string): MarkEvidence {
  if (!/[.,]/.test(text) || text.length > LONGEST) return null;
  const parts = takeApart(text);
  if (parts === null) return null;
  const point = readDecimal(parts.body, '.');
  const comma = readDecimal(parts.body, ',');
  if (point !== null && comma !== null) return 'either';
  if (point !== null) return { decimal: '.', grouped: parts.body.includes(',') };
  if (comma !== null) return { decimal: ',', grouped: parts.body.includes('.') };
  return null;
}

/** −0 becomes 0. */
const plus = (value: number): number => (value === 0 ? 0 : value);

function choose(
  point: number | null,
  comma: number | null,
  body: string,
  style: NumberStyle,
): number | null | 'ambiguous' {
  if (point !== null && comma !== null && point !== comma) {
    const mark: Mark = body.includes('.') ? '.' : ',';
    const asDecimal = mark === '.' ? point : comma;
    const asThousands = mark === '.' ? comma : point;
    if (style.decimal === mark) return asDecimal;
    return style.decimal !== null && style.grouped ? asThousands : 'ambiguous';
  }
  if (style.decimal === null) return point ?? comma;
  return style.decimal === '.' ? point : comma;
}

interface Parts {
  readonly sign: 1 | -1;
  /** Digits and separators, without sign and unit. */
  readonly body: string;
  readonly unit: string | null;
  readonly isMark: boolean;
}

/** Unicode minus, hyphens, figure and en dash, small and full-width hyphen-minus. */
const DASHES = '\u2212\u2010\u2011\u2012\u2013\ufe63\uff0d';
const NUMBER_AND_UNIT = new RegExp(
  `^([+\\-${DASHES}]?)(?=[\\d.,])(.*\\d)[ \\u00a0\\u202f\\u2009]?(\\D*)$`,
  'u',
);

function takeApart(text: string): Parts | null {
  const match = NUMBER_AND_UNIT.exec(text);
  if (match === null) return null;
  const after = match[3]!;
  const unit = after === '' ? null : (unitWord(after) ?? undefined);
  if (unit === undefined) return null;
  const sign = match[1] === '' || match[1] === '+' ? 1 : -1;
  return { sign, body: match[2]!, unit, isMark: after === '"' || after === '″' };
}

/** `1/2`, `1 1/2`; null: the text is not a fraction. */
function readFraction(body: string): number | null {
  const match = /^(?:(\d{1,6})[ \u00a0\u202f\u2009])?(\d{1,6})\/(\d{1,6})$/.exec(body);
  if (match === null) return null;
  const [over, under] = [Number(match[2]), Number(match[3])];
  if (under === 0 || (match[1] !== undefined && over >= under)) return null;
  return Number(match[1] ?? 0) + over / under;
}

const SPACES = '[ \\u00a0\\u202f\\u2009]';
const decimalPattern = (mark: string, other: string): RegExp =>
  new RegExp(
    `^(?:(\\d*)|([1-9]\\d{0,2}(?:(${other}|['’]|${SPACES})\\d{3})(?:\\3\\d{3})*))(?:${mark}(\\d+))?(?:[eE]([+-]?\\d{1,2}))?$`,
    'u',
  );
const PATTERNS: Readonly<Record<Mark, RegExp>> = {
  '.': decimalPattern('\\.', ','),
  ',': decimalPattern(',', '\\.'),
};

/** The value with `mark` as the decimal mark; null: the text is not such a number. */
function readDecimal(body: string, mark: Mark): number | null {
  const match = PATTERNS[mark].exec(body);
  if (match === null) return null;
  const [, plain, grouped, , decimals, exponent] = match;
  const digits = plain ?? grouped!.replace(/\D/g, '');
  if (digits === '' && decimals === undefined) return null;
  return Number(`${digits === '' ? '0' : digits}.${decimals ?? '0'}e${exponent ?? '0'}`);
}

/**
 * Times of readings: ISO 8601, because 03/04 is a different day in different offices; and other forms if the job states
 * the order of day and month.
 */

const ISO =
  /^(\d{4})-(\d{2})-(\d{2})(?:[T ](\d{2}):(\d{2})(?::(\d{2})(?:[.,]\d{1,9})?)?(?:Z|[+-]\d{2}(?::?\d{2})?)?)?$/i;

/** true: an ISO 8601 day that exists, with or without a time of day. */
export function isReadingTime(text: string): boolean {
  const match = ISO.exec(text);
  if (match === null) return false;
  const part = (i: number) => Number(match[i] ?? 0);
  const [month, day] = [part(2), part(3)];
  if (month < 1 || month > 12 || day < 1 || day > daysIn(part(1), month)) return false;
  return part(4) <= 23 && part(5) <= 59 && part(6) <= 60;
}

export type DateOrder = 'day-month' | 'month-day';

const OTHER =
  /^(\d{1,2})([./-])(\d{1,2})\2(\d{4})(?:[T ,]\s*(\d{1,2})[:.](\d{2})(?:[:.](\d{2}(?:[.,]\d{1,9})?))?\s*([AaPp]\.?[Mm]\.?)?)?$/;
/** Like ISO, but with other separators, single digits, or AM and PM, as loggers write it. */
const LOOSE =
  /^(\d{4})([./-])(\d{1,2})\2(\d{1,2})(?:[T ]\s*(\d{1,2}):(\d{2})(?::(\d{2}(?:[.,]\d{1,9})?))?\s*([AaPp]\.?[Mm]\.?)?)?$/;

/**
 * @param order The order of day and month in dates such as 03/04/2026; null: such dates are not read.
 * @returns ISO 8601 (unchanged if the text is ISO 8601 already); null: not a time, or ambiguous.
 */
export function readTime(text: string, order: DateOrder | null): string | null {
  if (isReadingTime(text)) return text;
  if (order === null) return null;
  const other = OTHER.exec(text);
  const loose = other === null ? LOOSE.exec(text) : null;
  const [year, month, day, clock] =
    other !== null
      ? order === 'day-month'
        ? [other[4], other[3], other[1], other.slice(5)]
        : [other[4], other[1], other[3], other.slice(5)]
      : [loose?.[1], loose?.[3], loose?.[4], loose?.slice(5) ?? []];
  if (year === undefined) return null;
  const iso = `${year}-${pad(month!)}-${pad(day!)}${clockOf(clock)}`;
  return isReadingTime(iso) ? iso : null;
}

/** Determines the order of day and month from the dates of a file: a number above 12 is not a month. */
export class DateCensus {
  private readonly shown = new Set<DateOrder>();

  add(text: string): void {
    const match = OTHER.exec(text);
    if (match === null) return;
    if (Number(match[1]) > 12) this.shown.add('day-month');
    if (Number(match[3]) > 12) this.shown.add('month-day');
  }

  /** null: no date shows it, or the dates contradict each other. */
  get order(): DateOrder | null {
    return this.shown.size === 1 ? [...this.shown][0]! : null;
  }
}

const pad = (digits: string): string => digits.padStart(2, '0');

/** `T08:12`, from hour, minute, second and half of the day; '' without a time of day. */
function clockOf([hour, minute, second, half]: readonly (string | undefined)[]): string {
  if (hour === undefined || minute === undefined) return '';
  const isLate = half?.toLowerCase().startsWith('p');
  const h = half === undefined ? Number(hour) : (Number(hour) % 12) + (isLate === true ? 12 : 0);
  const impossible = half !== undefined && (Number(hour) < 1 || Number(hour) > 12);
  return `T${impossible ? '99' : pad(String(h))}:${minute}${second === undefined ? '' : `:${second}`}`;
}

const DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

function daysIn(year: number, month: number): number {
  const leap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  return month === 2 && leap ? 29 : DAYS[month - 1]!;
}

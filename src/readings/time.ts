/** Times of readings: ISO 8601, because 03/04 is a different day in different offices. */

const ISO =
  /^(\d{4})-(\d{2})-(\d{2})(?:[T ](\d{2}):(\d{2})(?::(\d{2})(?:[.,]\d{1,9})?)?(?:Z|[+-]\d{2}(?::?\d{2})?)?)?$/i;

/** A day of the calendar, with or without a time of that day. */
export function isReadingTime(text: string): boolean {
  const match = ISO.exec(text);
  if (match === null) return false;
  const part = (i: number) => Number(match[i] ?? 0);
  const [month, day] = [part(2), part(3)];
  if (month < 1 || month > 12 || day < 1 || day > daysIn(part(1), month)) return false;
  return part(4) <= 23 && part(5) <= 59 && part(6) <= 60;
}

const DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

function daysIn(year: number, month: number): number {
  const leap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  return month === 2 && leap ? 29 : DAYS[month - 1]!;
}

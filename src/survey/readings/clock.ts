/** Times of readings in hours, for effects that change with time. */

const CLOCK =
  /^(\d{4})-(\d{2})-(\d{2})[T ](\d{2}):(\d{2})(?::(\d{2}(?:[.,]\d{1,9})?))?(?:(Z)|([+-])(\d{2}):?(\d{2})?)?$/i;

/**
 * Hours since the start of 1970. A time without a zone is used as it is: within one set-up all times come
 * from one clock.
 *
 * @param time ISO 8601 with a time of day, as the reader accepted it.
 * @returns null for a date without a time of day.
 */
export function hoursOf(time: string): number | null {
  const match = CLOCK.exec(time);
  if (match === null) return null;
  const part = (i: number) => Number((match[i] ?? '0').replace(',', '.'));
  const ahead = (match[8] === '-' ? -1 : 1) * (part(9) * 60 + part(10));
  const minute = Date.UTC(part(1), part(2) - 1, part(3), part(4), part(5) - ahead);
  return (minute + part(6) * 1000) / 3_600_000;
}

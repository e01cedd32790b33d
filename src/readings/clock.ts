/** Times of readings as hours, for what changes with time. */

/**
 * Hours since the start of 1970. A time without a zone is taken as it stands: within one set-up all times come
 * from one clock.
 *
 * @param time ISO 8601 with a time of day, as the reader accepted it.
 * @returns null for a date without a time of day.
 */
export function hoursOf(time: string): number | null {
  if (!/[T ]\d{2}:\d{2}/.test(time)) return null;
  const hasZone = /(?:Z|[+-]\d{2}:?\d{2})$/.test(time);
  const ms = Date.parse(time.replace(' ', 'T') + (hasZone ? '' : 'Z'));
  return Number.isNaN(ms) ? null : ms / 3_600_000;
}

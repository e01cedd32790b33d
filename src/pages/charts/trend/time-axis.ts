/** An axis of days: round dates along it, as many as have room. */
import { textPx } from '../chart-spec.js';
import { textWidth } from '../../fonts/widths.js';

/** Days since 1970-01-01, from a date as 2026-03-14. */
export const dayNumber = (date: string): number => Math.round(Date.parse(`${date}T00:00:00Z`) / 86_400_000);

const dateOf = (day: number): string => new Date(day * 86_400_000).toISOString().slice(0, 10);

export interface DayTick {
  readonly day: number;
  /** 2026-03-14, 2026-03 or 2026 */
  readonly label: string;
}

interface Step {
  /** The shortest that one is. */
  readonly days: number;
  /** As wide as its labels are. */
  readonly label: string;
  readonly ticks: (from: number, to: number) => DayTick[];
}

const days = (step: number): Step => ({
  days: step,
  label: '2026-03-14',
  ticks(from, to) {
    // Weeks begin on Mondays; day 0 was a Thursday.
    const first = Math.ceil((from + 3) / step) * step - 3;
    const found: DayTick[] = [];
    for (let day = first; day <= to; day += step) found.push({ day, label: dateOf(day) });
    return found;
  },
});

const months = (step: number): Step => ({
  days: 28 * step,
  label: step % 12 === 0 ? '2026' : '2026-03',
  ticks(from, to) {
    const [year, month] = dateOf(from).split('-').map(Number) as [number, number];
    const found: DayTick[] = [];
    for (let m = Math.floor((year * 12 + month - 1) / step) * step; ; m += step) {
      const date = `${String(Math.floor(m / 12)).padStart(4, '0')}-${String((m % 12) + 1).padStart(2, '0')}`;
      const day = dayNumber(`${date}-01`);
      if (!(day <= to)) return found; // nor beyond the last year that a date can be written of
      if (day >= from) found.push({ day, label: step % 12 === 0 ? date.slice(0, 4) : date });
    }
  },
});

const steps: readonly Step[] = [
  ...[1, 2, 7, 14].map(days),
  ...[1, 2, 3, 6, 12, 24, 60, 120, 240, 600, 1200].map(months),
];

/** The finest round dates whose labels stand apart; maybe none. @param from, to Days; from < to. */
export function dayTicks(from: number, to: number, widthPx: number): DayTick[] {
  const fits = ({ days: length, label }: Step) =>
    (length / (to - from)) * widthPx >= textWidth(label, textPx) + 12;
  return steps.find(fits)?.ticks(Math.ceil(from), Math.floor(to)) ?? [];
}

/** Machines that were surveyed more than once, each with its surveys in order of time. */
import { groupBy } from '../../base/lists.js';
import type { ReportedRow } from './register.js';

export interface Survey {
  /** 2026-03-14; null: neither job.json nor the readings have a day. */
  readonly day: string | null;
  readonly row: ReportedRow;
}

export interface Machine {
  readonly name: string | null;
  readonly serial: string | null;
  readonly customer: string | null;
  /** Other names and customers that surveys of the same serial number have. */
  readonly alsoAs: readonly string[];
  /** Two or more. Those without a day come last. */
  readonly surveys: readonly Survey[];
}

/** A machine is identified by its serial number; without one, by its name and customer. Sorted by name and number. */
export function machinesOf(rows: readonly ReportedRow[]): Machine[] {
  const surveys = rows.map((row): Survey => ({ day: surveyDay(row), row }));
  const groups = groupBy(surveys, ({ row }) => machineKey(row));
  return [...groups.values()]
    .filter((group) => group.length > 1)
    .map((group) => machineOf(group.sort(byDay)))
    .sort((a, b) => compare(sortText(a), sortText(b)));
}

/** null: the job names no machine. Capitals and spaces make no difference. */
function machineKey({ machine: { name, serial }, customer }: ReportedRow): string | null {
  const [number, called] = [plain(serial), plain(name)];
  if (number !== '') return JSON.stringify([number]);
  return called === '' ? null : JSON.stringify([called, plain(customer)]);
}

const plain = (text: string | null): string =>
  (text ?? '').normalize('NFC').trim().replace(/\s+/g, ' ').toLowerCase();

export const surveyDay = ({ surveyed, readingsTaken }: ReportedRow): string | null =>
  surveyed ?? readingsTaken.to ?? readingsTaken.from;

function machineOf(surveys: readonly Survey[]): Machine {
  const last = surveys.findLast(({ day }) => day !== null) ?? surveys.at(-1)!;
  const { machine, customer } = last.row;
  const called = (row: ReportedRow) => [row.machine.name, row.customer].filter(Boolean).join(', ');
  const isOther = ({ row }: Survey) =>
    plain(row.machine.name) !== plain(machine.name) || plain(row.customer) !== plain(customer);
  const others = surveys.filter(isOther).map(({ row }) => called(row) || 'no name');
  return { ...machine, customer, alsoAs: [...new Set(others)], surveys };
}

const sortText = ({ name, serial, customer }: Machine): string =>
  [name, customer, serial].map(plain).join('\n');

const byDay = (a: Survey, b: Survey): number => {
  if (a.day !== b.day) return a.day === null ? 1 : b.day === null ? -1 : compare(a.day, b.day);
  return compare(a.row.job, b.row.job);
};

/** By code units: the same on every machine. */
const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** register.csv: a row for every job, unrounded, for spreadsheets. */
import { stringify } from 'csv-stringify/sync';
import { cellText } from '../../pages/report/csv-cell.js';
import { problemWords } from './problem-words.js';
import type { Register, RegisterRow, ReportedRow, WorstCharacteristic } from './register.js';

type Cell = string | number | null | undefined;
type Reported = (row: ReportedRow) => Cell;

/** A figure of the worst characteristic. */
const worst =
  (key: keyof WorstCharacteristic): Reported =>
  ({ worst: of }) =>
    of?.[key] as Cell;

/** The columns in their order, each with its cell for a reported job. To add a column, add it here. */
const REPORTED: Readonly<Record<string, Reported>> = {
  job: ({ job }) => job,
  status: ({ status }) => status,
  issue: ({ issue }) => (issue === undefined ? 'draft' : `${issue.standing} ${issue.number}`),
  verdict: ({ verdict }) => verdict,
  title: ({ title }) => title,
  customer: ({ customer }) => customer,
  site: ({ site }) => site,
  machine: ({ machine }) => machine.name,
  serial: ({ machine }) => machine.serial,
  surveyed: ({ surveyed }) => surveyed,
  prepared: ({ prepared }) => prepared,
  phase: worst('phase'),
  worst: worst('what'),
  rail: worst('rail'),
  reference: worst('reference'),
  value: worst('value'),
  u: worst('u'),
  limit: worst('limit'),
  unit: worst('unit'),
  margin: worst('margin'),
  probability: worst('probability'),
  suspects: ({ suspects }) => suspects,
  warnings: ({ warnings }) => warnings,
  confirmed: ({ confirmed }) => confirmed ?? 0,
  read: ({ read }) => (read ?? []).join('; '),
  report: ({ links }) => links.html,
  folder: ({ folder }) => folder,
  problems: () => null,
};
const header = Object.keys(REPORTED);

/** Comma, decimal point, LF, UTF-8. `margin` is (limit − |value|) / limit. */
export const registerCsv = ({ jobs }: Register): string =>
  stringify([header, ...jobs.map((row) => header.map((name) => cellText(cellOf(row, name) ?? null)))]);

function cellOf(row: RegisterRow, name: string): Cell {
  if (row.status === 'reported') return REPORTED[name]!(row);
  if (name === 'problems') return problemsOf(row);
  return name === 'job' || name === 'status' || name === 'folder' ? row[name] : null;
}

function problemsOf(row: Exclude<RegisterRow, ReportedRow>): Cell {
  if (row.status !== 'refused') return row.status === 'failed' ? row.message : null;
  const more = row.problemCount - row.problems.length;
  return [...row.problems.map(problemWords), ...(more > 0 ? [`and ${more} more`] : [])].join('; ');
}

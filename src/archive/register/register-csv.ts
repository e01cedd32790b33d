/** register.csv: a line for every job, unrounded, for spreadsheets. */
import { stringify } from 'csv-stringify/sync';
import { cellText } from '../../pages/report/csv-cell.js';
import { problemWords } from './problem-words.js';
import type { Register, RegisterRow } from './register.js';

const header = [
  'job',
  'status',
  'issue',
  'verdict',
  'title',
  'customer',
  'site',
  'machine',
  'serial',
  'surveyed',
  'prepared',
  'phase',
  'worst',
  'rail',
  'reference',
  'value',
  'u',
  'limit',
  'unit',
  'margin',
  'probability',
  'suspects',
  'warnings',
  'confirmed',
  'read',
  'report',
  'folder',
  'problems',
];

type Cells = Partial<Record<(typeof header)[number], string | number | null>>;

/** Comma, decimal point, LF, UTF-8. `margin` is (limit − |value|) / limit. */
export function registerCsv({ jobs }: Register): string {
  const rows = jobs.map((row) => {
    const cells: Cells = { job: row.job, status: row.status, folder: row.folder, ...cellsOf(row) };
    return header.map((name) => cellText(cells[name]));
  });
  return stringify([header, ...rows]);
}

function cellsOf(row: RegisterRow): Cells {
  if (row.status === 'not-done') return {};
  if (row.status === 'failed') return { problems: row.message };
  if (row.status === 'refused') {
    const more = row.problemCount - row.problems.length;
    const listed = row.problems.map(problemWords);
    return { problems: [...listed, ...(more > 0 ? [`and ${more} more`] : [])].join('; ') };
  }
  const {
    verdict,
    title,
    customer,
    site,
    machine,
    surveyed,
    prepared,
    worst,
    suspects,
    warnings,
    confirmed,
    read,
    links,
    issue,
  } = row;
  return {
    issue: issue === undefined ? 'draft' : `${issue.standing} ${issue.number}`,
    verdict,
    title,
    customer,
    site,
    machine: machine.name,
    serial: machine.serial,
    surveyed,
    prepared,
    ...(worst !== null && {
      phase: worst.phase,
      worst: worst.what,
      rail: worst.rail,
      reference: worst.reference,
      value: worst.value,
      u: worst.u,
      limit: worst.limit,
      unit: worst.unit,
      margin: worst.margin,
      probability: worst.probability,
    }),
    suspects,
    warnings,
    confirmed: confirmed ?? 0,
    read: (read ?? []).join('; '),
    report: links.html,
  };
}

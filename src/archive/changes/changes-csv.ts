/** changes.csv: a row for every change, unrounded, for spreadsheets. Units as in results.json. */
import { stringify } from 'csv-stringify/sync';
import { cellText } from '../../pages/report/csv-cell.js';
import type { JudgedFigures } from '../../results/results-schema.js';
import type { Changes, JobChange } from './changes-schema.js';

const header = [
  'job',
  /** job, characteristic, station, setup, other. */
  'of',
  'phase',
  'name',
  'quantity',
  'reference',
  'over_mm',
  'against',
  'rails',
  'from_mm',
  'to_mm',
  'side',
  'unit',
  'status',
  'moved',
  'causes',
  'verdict_before',
  'verdict_after',
  'value_before',
  'value_after',
  'u_before',
  'u_after',
  'low_before',
  'low_after',
  'high_before',
  'high_after',
  'limit_before',
  'limit_after',
  'probability_before',
  'probability_after',
  'note',
] as const;

type Cells = Partial<Record<(typeof header)[number], string | number | null>>;

/** Comma, decimal point, LF, UTF-8. */
export function changesCsv({ jobs }: Changes): string {
  const lines = jobs.flatMap(linesOf);
  return stringify([header, ...lines.map((cells) => header.map((name) => cellText(cells[name])))]);
}

function linesOf(job: JobChange): Cells[] {
  const own: Cells = {
    of: 'job',
    status: job.status,
    causes: job.causes.join(' '),
    verdict_before: job.verdict.before,
    verdict_after: job.verdict.after,
    note: [job.note ?? '', ...job.damage.map((line) => `damaged: ${line}`), leftOut(job)]
      .filter((text) => text !== '')
      .join('; '),
  };
  const characteristics = job.characteristics.map((c): Cells => ({
    of: 'characteristic',
    phase: c.phase,
    name: c.rail,
    quantity: c.what,
    reference: c.reference,
    over_mm: c.over,
    against: c.against ?? null,
    rails: c.rails?.join(' ') ?? null,
    from_mm: c.between?.[0] ?? null,
    to_mm: c.between?.[1] ?? null,
    side: c.side ?? null,
    unit: c.unit,
    status: c.before === null ? 'appeared' : c.after === null ? 'vanished' : 'changed',
    moved: c.moved.join(' '),
    causes: c.causes.join(' '),
    ...judgedCells('before', c.before),
    ...judgedCells('after', c.after),
  }));
  const figures = job.figures.listed.map((f): Cells => ({
    of: f.of,
    phase: f.phase,
    name: f.name,
    quantity: f.quantity,
    unit: f.unit,
    status: 'changed',
    causes: job.figures.causes.join(' '),
    value_before: f.before?.value ?? null,
    value_after: f.after?.value ?? null,
    u_before: f.before?.u ?? null,
    u_after: f.after?.u ?? null,
  }));
  const others = job.others.map((o): Cells => ({
    of: 'other',
    name: o.part,
    status: 'changed',
    note: `${o.count} places; the first: ${o.first.place}: ${o.first.before}, now ${o.first.after}`,
  }));
  return [own, ...characteristics, ...figures, ...others].map((cells) => ({ job: job.job, ...cells }));
}

function leftOut({ figures }: JobChange): string {
  const more = figures.count - figures.listed.length;
  return more === 0 ? '' : `${more} more figures of stations and set-ups, which moved less, are not listed`;
}

function judgedCells(side: 'before' | 'after', figures: JudgedFigures | null): Cells {
  if (figures === null) return {};
  const { verdict, value, u, interval, limit, probability } = figures;
  return {
    [`verdict_${side}`]: verdict,
    [`value_${side}`]: value,
    [`u_${side}`]: u,
    [`low_${side}`]: interval?.[0] ?? null,
    [`high_${side}`]: interval?.[1] ?? null,
    [`limit_${side}`]: limit,
    [`probability_${side}`]: probability,
  };
}

/** How well the readings of one phase agree with each other. */
import { pick } from '../base/pick.js';
import { criticalOf, findSuspects } from '../solution/solve/suspects.js';
import type { Adjustment } from '../solution/solve/adjustment.js';
import { noticedNoise, UNCHECKED } from '../solution/solve/adjustment.js';
import { priorName } from '../solution/solve/priors.js';
import type { Observation } from '../solution/solve/network.js';
import type { Job } from '../survey/job/job.js';
import { repeatability } from '../solution/solve/repeatability.js';
import type { AdjustmentResult, ResidualResult, Suspect } from './results-schema.js';

/** Greatest number of residuals that are listed; a larger survey lists the largest ones. */
const MOST_RESIDUALS = 2000;

/** The fit, its outliers, and the repeatability of the readings. */
export function adjustmentSection(job: Job, adjustment: Adjustment): AdjustmentResult {
  const { network } = adjustment;
  const suspects = findSuspects(adjustment);
  return {
    readings: network.observations.length,
    priors: network.observations.filter((o) => o.kind === 'prior').length,
    unknowns: network.unknowns.length,
    ...pick(adjustment, 'rank', 'redundancy', 'sigma0', 'scale', 'chiSquare'),
    ...(adjustment.redundancy > 0 && { noticedNoise: noticedNoise(adjustment.redundancy) }),
    suspects: suspects.map(({ observation, residual, standardised }): Suspect => {
      const o = network.observations[observation]!;
      return {
        ...whereFrom(o),
        prior: o.kind === 'prior' ? priorName(o) : null,
        what: describe(o),
        residual,
        standardised,
      };
    }),
    ...(adjustment.redundancy > 0 && { critical: criticalOf(adjustment) }),
    repeatability: repeatability(job, adjustment),
  };
}

/** Every residual, or the largest ones of a very large survey; in the order of file and row. */
export function residualSection(adjustment: Adjustment): {
  residuals: ResidualResult[];
  residualsLeftOut: number;
} {
  const { network, redundancyNumber, standardised, residual } = adjustment;
  let chosen = Array.from(network.observations.keys());
  if (chosen.length > MOST_RESIDUALS) {
    chosen.sort((a, b) => Math.abs(standardised[b]!) - Math.abs(standardised[a]!));
    chosen = chosen.slice(0, MOST_RESIDUALS);
  }
  const residuals = chosen.map((i): ResidualResult => {
    const o = network.observations[i]!;
    return {
      ...whereFrom(o),
      kind: o.kind === 'prior' ? o.prior : o.kind,
      setup: o.kind === 'offset' || o.kind === 'prior' ? o.setup : null,
      ...stationOf(o),
      pass: o.kind === 'prior' ? null : o.pass,
      residual: residual[i]!,
      standardised: redundancyNumber[i]! > UNCHECKED ? standardised[i]! : null,
      redundancy: redundancyNumber[i]!,
    };
  });
  residuals.sort(
    (a, b) =>
      compare(a.file ?? '\uffff', b.file ?? '\uffff') ||
      (a.row ?? 0) - (b.row ?? 0) ||
      compare(a.axis, b.axis),
  );
  return { residuals, residualsLeftOut: network.observations.length - residuals.length };
}

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

function whereFrom(o: Observation): { file: string | null; row: number | null; axis: string } {
  if (o.kind === 'prior') return { file: null, row: null, axis: o.of };
  return { file: o.source.file, row: o.source.row, axis: o.kind === 'span' ? 'horizontal' : o.axis };
}

/** The observation as a crew would name it. */
export function describe(o: Observation): string {
  switch (o.kind) {
    case 'prior':
      return priorName(o);
    case 'offset':
      return `${o.point.kind === 'station' ? `${o.point.rail}:${o.point.station}` : o.point.monument} from ${o.setup}, target ${o.target}, pass ${o.pass}`;
    case 'slope':
      return `step ${o.from.rail}:${o.from.station} to ${o.to.rail}:${o.to.station}, pass ${o.pass}`;
    case 'span':
      return `span ${o.rail}:${o.station} to ${o.other}:${o.otherStation}, pass ${o.pass}`;
  }
}

/** The station of a reading, for a step its end; none for a monument or a prior. */
function stationOf(o: Observation): { rail: string | null; station: number | null } {
  const at = o.kind === 'offset' ? o.point : o.kind === 'slope' ? o.to : o;
  return 'rail' in at ? { rail: at.rail, station: at.station } : { rail: null, station: null };
}

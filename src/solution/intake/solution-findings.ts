/** Warnings from the solution of a phase. */
import { closuresOf } from '../solve/closures.js';
import { phaseWords } from '../../survey/readings/phase-words.js';
import { tooRough } from '../solve/repeatability.js';
import { priorName } from '../solve/priors.js';
import type { Diagnostic } from '../../base/diagnostics/diagnostic.js';
import type { Job } from '../../survey/job/job.js';
import type { PhaseName } from '../../survey/job/job-schema.js';
import { fromUm, toUm, unitLabel, type LengthUnit } from '../../base/units/units.js';
import type { Adjustment } from '../solve/adjustment.js';
import { findSuspects } from '../solve/suspects.js';

/** Warns: CLOSURE_EXCEEDED, NOISE_ABOVE_CLAIM, REPEATABILITY_ABOVE_CLAIM, PRIOR_SUSPECT. */
export function solutionFindings(job: Job, phase: PhaseName, adjustment: Adjustment): Diagnostic[] {
  const unit = job.style.deviation;
  const found: Diagnostic[] = [];
  const warn = <C extends Diagnostic['code']>(
    code: C,
    data: Diagnostic<C>['data'],
    at?: { file: string | null; row: number | null },
  ) => {
    const file = at?.file ?? null;
    const row = at?.row ?? null;
    const place = file === null ? {} : { at: { file, ...(row !== null && { row }) } };
    found.push({ code, severity: 'warning', data, ...place } as Diagnostic);
  };
  for (const c of closuresOf(adjustment)) {
    if (!c.exceeded) continue;
    const { setup, point, axis } = c;
    warn(
      'CLOSURE_EXCEEDED',
      {
        setup,
        point,
        axis,
        closure: lengthText(c.closure, unit),
        drift: c.drift === undefined ? '' : lengthText(c.drift, unit),
        allowed: lengthText(c.allowed, unit),
      },
      c.last.row,
    );
  }
  if (adjustment.scale > 1) {
    warn('NOISE_ABOVE_CLAIM', {
      phase,
      sigma0: adjustment.scale.toFixed(2),
      redundancy: adjustment.redundancy,
    });
  }
  for (const { instrument, axis, unit: of, s, claimed, degreesOfFreedom } of tooRough(job, adjustment)) {
    const text = (value: number) => (of === 'um' ? lengthText(value, unit, 1) : `${value.toFixed(1)} µm/m`);
    warn('REPEATABILITY_ABOVE_CLAIM', {
      phase: phaseWords(phase),
      instrument,
      axis,
      s: text(s),
      claimed: text(claimed),
      degrees: degreesOfFreedom,
    });
  }
  const { observations } = adjustment.network;
  for (const { observation, standardised } of findSuspects(adjustment)) {
    const o = observations[observation]!;
    if (o.kind !== 'prior') continue;
    warn('PRIOR_SUSPECT', { phase, prior: priorName(o), standardised: standardised.toFixed(1) });
  }
  return found;
}

/** To a tenth of a micrometre, or the corresponding digit. @param more Further digits. */
function lengthText(um: number, unit: LengthUnit, more = 0): string {
  const decimals = more + Math.max(0, Math.floor(1 + Math.log10(toUm(1, unit))));
  return `${fromUm(um, unit).toFixed(decimals).replace('-', '−')} ${unitLabel(unit)}`;
}

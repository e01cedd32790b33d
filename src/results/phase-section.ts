/** The results of one phase. */
import type { Job } from '../survey/job/job.js';
import { explainer } from '../solution/solve/explain.js';
import { sourcesOf } from '../solution/solve/roles.js';
import type { AdjustedPhase } from './adjusted-phase.js';
import { adjustmentSection, residualSection } from './adjustment-section.js';
import { characteristicsSection } from './characteristics-section.js';
import { worstVerdict } from './urgency.js';
import { closuresOf } from '../solution/solve/closures.js';
import { withHelps } from './helps-section.js';

import type { CharacteristicResult, PhaseResults, Undetermined } from './results-schema.js';
import { loopsSection } from './loops-section.js';
import { reliabilitySection } from './reliability-section.js';
import { setupsSection } from './setups-section.js';
import { stationsSection } from './stations-section.js';
import { tiesSection } from './ties-section.js';
import { effectsSection } from './effects-section.js';
import { unstatedSection } from './unstated-section.js';

/** Everything about a phase in results.json. */
export function phaseSection(job: Job, phase: AdjustedPhase): PhaseResults {
  const { adjustment, questions, answers } = phase;
  const { network } = adjustment;
  const explain = explainer(job, adjustment);
  const judged = characteristicsSection(job, adjustment, questions, answers, sourcesOf(network), explain);
  const { unstated, characteristics: withUnstated } = unstatedSection(job, adjustment, questions, judged);
  const characteristics = withHelps(job, phase, withUnstated);
  const loops = loopsSection(adjustment);
  return {
    verdict: worstVerdict(characteristics),
    adjustment: {
      ...adjustmentSection(job, adjustment),
      ...reliabilitySection(job, phase, characteristics),
    },
    setups: setupsSection(job, adjustment, explain),
    ties: tiesSection(job, adjustment, explain),
    closures: closuresOf(adjustment),
    ...(loops.length > 0 && { loops }),
    ...stationsSection(job, adjustment, explain),
    characteristics,
    ...residualSection(adjustment),
    ...effectsSection(adjustment),
    ...(unstated.length > 0 && { unstated }),
    undetermined: undeterminedOf(characteristics),
  };
}

/** Quantities that are not determined, once per reason. */
function undeterminedOf(characteristics: readonly CharacteristicResult[]): PhaseResults['undetermined'] {
  const byReason = new Map<string, { names: string[]; reasons: Undetermined['reasons'] }>();
  for (const c of characteristics) {
    if (c.value !== null) continue;
    const names = byReason.get(c.why)?.names ?? [];
    const name = `${c.what} of rail ${c.rail}`;
    if (!names.includes(name)) names.push(name);
    byReason.set(c.why, { names, reasons: c.reasons });
  }
  return [...byReason].map(([why, { names, reasons }]) => ({ what: names.join(', '), why, reasons }));
}

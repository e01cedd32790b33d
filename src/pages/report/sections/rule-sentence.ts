/** The decision rule with its risk, as page 1 and the section on the method say it. @see JCGM 106:2012 */
import type { Results } from '../../../results/results-schema.js';
import type { Figures } from '../figures.js';
import { riskText } from './judged-rows.js';

/** Whether the job states a risk of its own, apart from the interval. */
export const ownRisk = ({ settings: { risk, coverage } }: Results): boolean =>
  risk !== undefined && Math.abs(risk - (1 - coverage) / 2) > 1e-9;

export function ruleSentence(results: Results, figures: Figures): string {
  const { rule, risk, coverage } = results.settings;
  if (rule === 'simple') return figures.say('rule.simple');
  return figures.say(ownRisk(results) ? 'rule.risk' : 'rule.guarded', {
    coverage: figures.coverage,
    risk: riskText(risk ?? (1 - coverage) / 2, figures),
  });
}

/** The decision rule with its risk, as page 1 and the section on the method say it. @see JCGM 106:2012 */
import type { Results } from '../../../results/results-schema.js';
import { rulesOf } from '../../../results/rules.js';
import type { DecisionRuleName } from '../../../survey/job/job-schema.js';
import type { Figures } from '../figures.js';
import { capitalised } from '../sentence.js';
import { riskText } from './judged-rows.js';

/** Whether the job states a risk of its own, apart from the interval. */
export const ownRisk = ({ settings: { risk, coverage } }: Results): boolean =>
  risk !== undefined && Math.abs(risk - (1 - coverage) / 2) > 1e-9;

/** The rule of the job, and where limits have another, that too. It begins in small letters. */
export function ruleSentence(results: Results, figures: Figures): string {
  const { rule } = results.settings;
  const others = [...rulesOf(results)].filter((one) => one !== rule);
  if (others.length === 0) return sentenceOf(rule, results, figures);
  return [
    sentenceOf(rule, results, figures),
    ...others.map((one) => capitalised(sentenceOf(one, results, figures))),
    figures.say('rule.own'),
  ].join(' ');
}

function sentenceOf(rule: DecisionRuleName, results: Results, figures: Figures): string {
  const { risk, coverage } = results.settings;
  if (rule === 'simple') return figures.say('rule.simple');
  return figures.say(ownRisk(results) ? 'rule.risk' : 'rule.guarded', {
    coverage: figures.coverage,
    risk: riskText(risk ?? (1 - coverage) / 2, figures),
  });
}

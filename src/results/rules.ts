/** Which decision rule holds for which limit. */
import type { DecisionRuleName } from '../survey/job/job-schema.js';
import type { CharacteristicResult, Results } from './results-schema.js';

type Settings = Pick<Results['settings'], 'rule'>;

export const ruleOf = ({ rule }: Pick<CharacteristicResult, 'rule'>, settings: Settings): DecisionRuleName =>
  rule ?? settings.rule;

/** The rules in force in a report: that of the job, or those of its limits where they differ. */
export function rulesOf({ phases, settings }: Pick<Results, 'phases' | 'settings'>): Set<DecisionRuleName> {
  const limited = Object.values(phases)
    .flatMap(({ characteristics }) => characteristics)
    .filter(({ limit }) => limit !== null);
  return new Set(limited.length === 0 ? [settings.rule] : limited.map((c) => ruleOf(c, settings)));
}

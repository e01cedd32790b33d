/** `check --leave` as JSON. */
import { pick } from '../base/pick.js';
import { diagnosticsToJson } from '../base/diagnostics/format.js';
import { identityOf } from './identity.js';
import type { Leave } from './leave.js';

/** Units as in results.json: µm and µm/m. `by`: the reading that would decide an open tolerance; null: no reading at the machine would. */
export const leaveJson = ({ read, blank, problems, closures, tolerances, ...rest }: Leave): object => ({
  ...pick(rest, 'phase', 'mayGo', 'because'),
  read: read === null ? null : { rails: read.rails, setups: read.setups },
  blank: blank.map(({ source, what }) => ({ ...source, what })),
  problems: diagnosticsToJson(problems),
  closures,
  repeat: rest.repeat,
  lookedAgain: rest.setups,
  tolerances: tolerances.map(({ made, isDecided, by }) => ({
    ...identityOf(made),
    ...pick(made, 'unit', 'value', 'u', 'limit', 'verdict'),
    decided: isDecided,
    by,
  })),
});

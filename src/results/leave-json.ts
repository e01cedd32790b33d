/** May the crew go, for programs. */
import { diagnosticsToJson } from '../base/diagnostics/format.js';
import { identityOf } from './identity.js';
import type { Leave } from './leave.js';

/** Units as in results.json: µm and µm/m. `by` says what would decide an open tolerance; null: nothing at the machine. */
export const leaveJson = ({ read, blank, problems, closures, tolerances, ...rest }: Leave): object => ({
  phase: rest.phase,
  mayGo: rest.mayGo,
  because: rest.because,
  read: read === null ? null : { rails: read.rails, setups: read.setups },
  blank: blank.map(({ source, what }) => ({ ...source, what })),
  problems: diagnosticsToJson(problems),
  closures,
  repeat: rest.repeat,
  lookedAgain: rest.setups,
  tolerances: tolerances.map(({ made, isDecided, by }) => ({
    ...identityOf(made),
    unit: made.unit,
    value: made.value,
    u: made.u,
    limit: made.limit,
    verdict: made.verdict,
    decided: isDecided,
    by,
  })),
});

/** A set-up with drift needs the time of each of its readings. */
import type { Findings } from '../../base/diagnostics/diagnostic.js';
import type { Setup } from '../job/job.js';
import { hoursOf } from './clock.js';
import type { Readings } from './readings.js';

/** Reports: CELL_MISSING for each row of such a set-up without a time of day. */
export function checkDriftTimes(setups: readonly Setup[], readings: Readings, findings: Findings): void {
  const drifting = new Set(setups.filter((s) => s.drift).map((s) => s.id));
  if (drifting.size === 0) return;
  const reported = new Set<string>();
  for (const list of readings.phases.values()) {
    for (const r of list) {
      if (r.kind !== 'offset' || !drifting.has(r.setup)) continue;
      if (r.time !== null && hoursOf(r.time) !== null) continue;
      const key = `${r.source.file}\u0000${r.source.row}`;
      if (reported.has(key)) continue;
      reported.add(key);
      const wanted = `date and time of day, such as 2026-03-14T08:12, because set-up ${r.setup} asks for drift`;
      findings.error('CELL_MISSING', { wanted }, { ...r.source, column: 'time' });
    }
  }
}

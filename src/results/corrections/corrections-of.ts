/** The moves in the results: the plan of the last phase, and the outcome of the plan before. */
import type { Adjuster, Job } from '../../survey/job/job.js';
import type { PhaseName } from '../../survey/job/job-schema.js';
import type { AdjustedPhase } from '../adjusted-phase.js';
import type { PhaseResults, Results } from '../results-schema.js';
import { askedAndDone } from './asked-and-done.js';
import { planCorrections } from './plan-corrections.js';
import type { OnSearch } from './programme.js';
import { ASSUMED, learntResponse, type Response } from './response.js';

/** With more rails than this, the fewest stations to move are not searched. */
const MOST_POINTS = 250;

/** The moves to make, and the outcome of earlier ones. @param onSearch Is called with the progress of the search. */
export async function correctionsOf(
  job: Job,
  adjusted: ReadonlyMap<PhaseName, AdjustedPhase>,
  results: Results,
  onSearch?: OnSearch,
): Promise<Results['corrections']> {
  const { phases, survey, corrections: base } = results;
  const names = Object.keys(phases);
  const [before, name] = [names.at(-2), names.at(-1)];
  if (name === undefined) return base;
  const last = phases[name]!;
  const plan = (phase: PhaseName, adjusters: readonly Adjuster[], response: Response) =>
    planCorrections({
      job,
      phase: adjusted.get(phase)!,
      now: phases[phase]!.characteristics,
      adjusters,
      of: job.adjusters.length > 0 ? 'adjusters' : 'stations',
      response,
      onSearch,
    });
  const { responseU } = job.aim;
  const stated = responseU === null ? null : { u: responseU, learntFrom: null };
  if (job.adjusters.length === 0) {
    const asStations = stationsAsAdjusters(job);
    return asksForMoves(last) && asStations.length <= MOST_POINTS
      ? { ...base, ...(await plan(name, asStations, stated ?? ASSUMED)) }
      : base;
  }
  if (before === undefined) return { ...base, ...(await plan(name, job.adjusters, stated ?? ASSUMED)) };
  const asked = await plan(before, job.adjusters, stated ?? ASSUMED);
  const done = askedAndDone(job.adjusters, asked, phases[before]!, last, survey.rails);
  const learnt = learntResponse(done);
  // A stated scatter is kept. The response is known only from the moves.
  const known = learnt === null ? (stated ?? ASSUMED) : { ...learnt, ...stated };
  return { ...base, ...(await plan(name, job.adjusters, known)), done };
}

/** true: a tolerance is not met, or not proven to be met. */
const asksForMoves = ({ characteristics }: PhaseResults): boolean =>
  characteristics.some(({ limit, verdict }) => limit !== null && verdict !== 'conforms');

/** For a job without adjusters: each station can be moved, by any amount. */
const stationsAsAdjusters = (job: Job): Adjuster[] =>
  job.rails.flatMap((rail) =>
    rail.stations.map((station): Adjuster => {
      const anywhere = { plus: Infinity, minus: Infinity, pitchUm: null };
      return {
        id: `${rail.id}:${station.number}`,
        rail: rail.id,
        atMm: rail.direction === 'along' ? station.alongMm : station.acrossMm,
        asideMm: 0,
        movesWith: null,
        holdsDown: true,
        carries: null,
        vertical: anywhere,
        horizontal: anywhere,
        shims: null,
        fixed: false,
        unit: job.lengthUnit,
      };
    }),
  );

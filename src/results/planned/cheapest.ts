/**
 * The cheapest survey that decides every limit. "Decides" means: in at least 95 of 100 simulated surveys a rail at 80 % of the
 * limit conforms, and one at 120 % does not. Candidates are more passes, other set-ups and additional set-ups. The time of the
 * crew is counted in readings.
 */
import { normalQuantile } from '../../base/statistics/normal.js';
import { identityOf, type Identity } from '../identity.js';
import { ways, type Survey } from '../remedies.js';
import type { Remedy } from '../results-schema.js';
import type { Network } from '../../solution/solve/network.js';
import type { Chances } from './chances.js';
import type { Foreseen } from './foreseen.js';

/** Placing of the instruments. */
export type Arrangement = 'as-planned' | Extract<Remedy, 'middle' | 'new-setups' | 'other-end'>;

export interface CheapestSet {
  readonly arrangement: Arrangement;
  /** Passes, as a multiple of those of the plan. */
  readonly passes: number;
  /** Total numbers of rows to read and set-ups to make. */
  readonly rows: number;
  readonly setups: number;
  /** Limits that it decides, with the frequencies. */
  readonly decides: readonly (Identity & { readonly chances: readonly Chances[] })[];
  /** Limits that no candidate decides. */
  readonly cannot: readonly Identity[];
}

/** Shares of the limit at which the verdict must be right, and the least frequency. */
export const RIGHT_AT = [0.8, 1.2] as const;
export const OFTEN_ENOUGH = 0.95;
/** Time to place and level an instrument, in readings (common practice, no source). */
const SETUP_IN_ROWS = 20;
const PASSES = [1, 2, 3, 4, 6, 8] as const;
/** Greatest number of simulated candidates. */
const MOST_TRIED = 2;

export interface Planner {
  /** Uncertainties of a survey with a multiple of the passes, in the order of the plan's characteristics. */
  readonly foresee: (survey: Survey, passes: number) => readonly Foreseen[];
  /** The same, with the probabilities at RIGHT_AT. */
  readonly tried: (survey: Survey, passes: number) => readonly Foreseen[];
}

/** @returns null: no candidate decides any limit, or there is no limit. */
export function cheapestSet(
  now: Survey,
  network: Network,
  planned: readonly Foreseen[],
  { foresee, tried }: Planner,
): CheapestSet | null {
  const limited = planned.flatMap((c, index) => (c.chances === undefined ? [] : [{ c, index }]));
  if (limited.length === 0) return null;
  const arrangements = (['as-planned', 'middle', 'new-setups', 'other-end'] as const).flatMap(
    (arrangement) => {
      const survey = arrangement === 'as-planned' ? now : ways[arrangement].survey(now, network);
      return survey === null ? [] : [{ arrangement, survey }];
    },
  );
  const candidates = arrangements
    .flatMap(({ arrangement, survey }) => {
      const rows = new Set(
        survey.readings.map((r) => `${r.source.file}|${r.source.row}|${r.kind === 'offset' ? r.setup : ''}`),
      ).size;
      const setups = new Set(survey.readings.flatMap((r) => (r.kind === 'offset' ? [r.setup] : []))).size;
      return PASSES.map((passes) => ({ arrangement, survey, passes, rows: rows * passes, setups }));
    })
    .sort((a, b) => costOf(a) - costOf(b) || a.passes - b.passes)
    .map((candidate) => {
      let found: ReadonlySet<number> | null = null;
      const decided = () =>
        (found ??= new Set(
          limited.flatMap(({ c, index }) =>
            isLikely(c, foresee(candidate.survey, candidate.passes)[index]?.u ?? Infinity) ? [index] : [],
          ),
        ));
      return { ...candidate, decided };
    });
  const possible = new Set(candidates.flatMap(({ decided }) => [...decided()]));
  if (possible.size === 0) return null;
  const sufficient = candidates.filter(({ decided }) => [...possible].every((index) => decided().has(index)));
  const of = (
    { arrangement, passes, rows, setups }: (typeof candidates)[number],
    list: readonly Foreseen[],
  ): CheapestSet => ({
    arrangement,
    passes,
    rows,
    setups,
    decides: limited.flatMap(({ index }) =>
      isRight(list[index]) ? [{ ...identityOf(list[index]!), chances: list[index]!.chances! }] : [],
    ),
    cannot: limited.flatMap(({ c, index }) => (isRight(list[index]) ? [] : [identityOf(c)])),
  });
  let best: CheapestSet | null = null;
  for (const candidate of sufficient.slice(0, MOST_TRIED)) {
    const set = of(candidate, tried(candidate.survey, candidate.passes));
    if (best === null || set.decides.length > best.decides.length) best = set;
    if (set.decides.length >= possible.size) break;
  }
  return best;
}

const costOf = ({ rows, setups }: { readonly rows: number; readonly setups: number }): number =>
  rows + SETUP_IN_ROWS * setups;

const isRight = (c: Foreseen | undefined): boolean =>
  c?.chances?.every(({ at, conforms, doesNotConform, of }) =>
    at < 1 ? conforms >= OFTEN_ENOUGH * of : doesNotConform >= OFTEN_ENOUGH * of,
  ) ?? false;

/**
 * Estimates whether another uncertainty would decide the limit: the distance to the limit must be a number of uncertainties.
 * The number is taken from the simulation of the plan itself.
 */
function isLikely({ u, limit, chances }: Foreseen, other: number): boolean {
  const needed = normalQuantile(OFTEN_ENOUGH);
  return RIGHT_AT.every((share) => {
    const near = chances!.find(({ at }) => at === share)!;
    const right = share < 1 ? near.conforms : near.doesNotConform;
    const often = Math.min(near.of - 0.5, Math.max(0.5, right)) / near.of;
    const margin = Math.abs(1 - share) * limit!;
    const asked = margin / u! - normalQuantile(often);
    return margin / other - asked >= needed || (other <= u! * 1.0001 && often >= OFTEN_ENOUGH);
  });
}

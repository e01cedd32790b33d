/**
 * In which order, and in how many rounds, the moves of one rail are made. Within a round every adjuster goes the same
 * share of its way. No state on the way may bend the rail more than it is bent now or will be in the end, and none may
 * leave a support hanging that carries now. With ever more rounds the way comes ever nearer to one on which all
 * adjusters move together, of which both are true; so the least number of rounds is sought that keeps to it.
 */
import { curvatures } from './beam.js';
import { forceBy, type Moved, type SupportForce } from './levers.js';

export interface Ordered {
  /** In this order, in every round. */
  readonly moves: readonly Moved[];
  readonly rounds: number;
}

const ROUNDS = [1, 2, 3, 4];
/** Bending that is this little more is not more. */
const SLACK = 1.05;

/**
 * @param moves Of one rail and one plane. @param places Of all its supports, m, ascending.
 * @param now How the rail lies at them, µm. @param forces On them, of the same rail and plane; empty where not known.
 */
export function orderOf(
  moves: readonly Moved[],
  places: readonly number[],
  now: readonly number[],
  forces: readonly SupportForce[],
): Ordered {
  // The whole way of sheets is one step: they cannot be put in by shares.
  const shareIn = (move: Moved, round: number, rounds: number): number =>
    move.lever.adjuster.shims !== null ? (round === 0 ? 1 : 0) : 1 / rounds;
  const indexOf = ({ lever }: Moved) =>
    places.findIndex((x) => Math.abs(x - lever.adjuster.atMm / 1000) < 1e-3);
  const bent = (y: readonly number[]): number =>
    curvatures(places, y).reduce((most, v) => Math.max(most, Math.abs(v)), 0);
  const hanging = (done: ReadonlyMap<Moved, number>): number =>
    forces.reduce((worst, force) => {
      if (!force.mayHang) return worst;
      const carried =
        force.spare +
        forceBy(
          force,
          [...done].map(([{ lever, um }, share]) => ({ lever, um: share * um })),
        );
      return Math.min(worst, carried);
    }, 0);
  const end = now.slice();
  for (const move of moves) end[indexOf(move)]! += move.lever.share * move.um;
  const limit = SLACK * Math.max(bent(now), bent(end)) + 1e-9;
  const mostHanging = Math.min(0, hanging(new Map(moves.map((m) => [m, 1])))) - 1e-6;

  let best: Ordered & { readonly excess: number } = { moves, rounds: 1, excess: Infinity };
  for (const rounds of ROUNDS) {
    const order = greedy(rounds);
    if (order.excess < best.excess * 0.99) best = { ...order, rounds };
    if (order.excess <= 1) break;
  }
  return { moves: best.moves, rounds: best.rounds };

  /** Next is always the move after which the rail is bent least; the order of the first round is kept. */
  function greedy(rounds: number): { moves: readonly Moved[]; excess: number } {
    const y = now.slice();
    const done = new Map<Moved, number>();
    const order: Moved[] = [];
    let excess = 0;
    const step = (move: Moved, round: number) => {
      const share = shareIn(move, round, rounds);
      y[indexOf(move)]! += share * move.lever.share * move.um;
      done.set(move, (done.get(move) ?? 0) + share);
    };
    const look = () => Math.max(bent(y) / limit, hanging(done) < mostHanging ? 2 : 0);
    for (let round = 0; round < rounds; round++) {
      const left = round === 0 ? [...moves] : [];
      while (left.length > 0) {
        let [next, least] = [left[0]!, Infinity];
        for (const move of left) {
          const i = indexOf(move);
          const [was, before] = [y[i]!, done.get(move)];
          step(move, round);
          const seen = look();
          y[i] = was;
          if (before === undefined) done.delete(move);
          else done.set(move, before);
          if (seen < least - 1e-12) [next, least] = [move, seen];
        }
        left.splice(left.indexOf(next), 1);
        order.push(next);
        step(next, round);
        excess = Math.max(excess, look());
      }
      if (round === 0) continue;
      for (const move of order) {
        step(move, round);
        excess = Math.max(excess, look());
      }
    }
    return { moves: order, excess };
  }
}

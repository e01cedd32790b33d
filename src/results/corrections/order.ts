/**
 * Order and number of rounds of the moves of one rail. In a round every adjuster moves by the same share of its move. No
 * intermediate state may bend the rail more than it is bent now or at the end, and none may unload a support that carries
 * now. With more rounds the moves come nearer to a simultaneous movement of all adjusters, which meets both conditions. So
 * the least number of rounds that meets them is searched; from one end of the rail to the other where that meets them, so that
 * nobody walks to and fro without need.
 */
import { curvatures } from './beam.js';
import { forceBy, type Moved, type SupportForce } from './levers.js';

export interface Ordered {
  /** The order of the moves, the same in every round. */
  readonly moves: readonly Moved[];
  readonly rounds: number;
}

const ROUNDS = [1, 2, 3, 4];
/** An increase of bending below this is rounding. */
const SLACK = 1.05;

/**
 * @param moves Of one rail and one plane. @param places Of all its supports, m, ascending.
 * @param now Present deviations of the rail at them, µm. @param forces On them, of the same rail and plane; empty: not known.
 */
export function orderOf(
  moves: readonly Moved[],
  places: readonly number[],
  now: readonly number[],
  forces: readonly SupportForce[],
): Ordered {
  // A move by sheets is one step: a share of a sheet cannot be put in.
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
  const along = [...moves].sort((a, b) => indexOf(a) - indexOf(b));
  for (const rounds of ROUNDS) {
    const straight = carriedOut(rounds, (left) => left[0]!);
    const order = straight.excess <= 1 ? straight : carriedOut(rounds, leastBending);
    if (order.excess < best.excess * 0.99) best = { ...order, rounds };
    if (order.excess <= 1) break;
  }
  return { moves: best.moves, rounds: best.rounds };

  /** @param choose The next of the moves that are left. The order of the first round is kept. */
  function carriedOut(rounds: number, choose: Choice): { moves: readonly Moved[]; excess: number } {
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
    const after = (move: Moved): number => {
      const i = indexOf(move);
      const [was, before] = [y[i]!, done.get(move)];
      step(move, 0);
      const seen = look();
      y[i] = was;
      if (before === undefined) done.delete(move);
      else done.set(move, before);
      return seen;
    };
    const left = [...along];
    while (left.length > 0) {
      const next = choose(left, after);
      left.splice(left.indexOf(next), 1);
      order.push(next);
      step(next, 0);
      excess = Math.max(excess, look());
    }
    for (let round = 1; round < rounds; round++)
      for (const move of order) {
        step(move, round);
        excess = Math.max(excess, look());
      }
    return { moves: order, excess };
  }
}

type Choice = (left: readonly Moved[], after: (move: Moved) => number) => Moved;

const leastBending: Choice = (left, after) => {
  let [next, least] = [left[0]!, Infinity];
  for (const move of left) {
    const seen = after(move);
    if (seen < least - 1e-12) [next, least] = [move, seen];
  }
  return next;
};

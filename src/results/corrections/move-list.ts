/**
 * The list of moves: first the rails that move as a whole, then single places, within a rail in the order of the work. Each
 * place is listed once, with its step ("1a" to "1f" for a whole rail, "2", "3").
 */
import type { Rail } from '../../survey/job/job.js';
import { orderOf } from './order.js';
import { piecesOf, planes, type Lever, type Moved, type Plane, type SupportForce } from './levers.js';
import { halfStep, railKey, sharesAlong } from './search.js';
import type { Sheets } from './sheets.js';

/** The move of one adjuster in one plane. */
export interface Move extends Moved {
  /** For an adjuster on shims: whole sheets, µm each. */
  readonly shims: Sheets | null;
}

export interface ListedMove extends Move {
  readonly step: string;
  /** Number of rounds: 1, or several, in each of which all adjusters of a rail move by a share of their moves. */
  readonly rounds: number;
}

export interface WholeMove {
  readonly step: string;
  readonly rail: Rail;
  readonly plane: Plane;
  readonly moves: readonly ListedMove[];
  /** Moves at the first and the last adjuster, µm; linear in between. */
  readonly ends: readonly [number, number];
}

export interface MoveList {
  readonly wholes: readonly WholeMove[];
  /** Moves of whole rails, then of single places, in order. */
  readonly moves: readonly ListedMove[];
}

/** Moves that differ from the line by less than this are on it, µm: a dial is read to a micrometre. */
const SAME_UM = 0.5;
/** A whole rail is moved half the way everywhere first, then the rest: this bends it least. */
const ROUNDS_OF_WHOLE = 2;

export interface ListInput {
  readonly rails: readonly Rail[];
  readonly adjusters: Parameters<typeof piecesOf>[1];
  readonly forces: readonly SupportForce[];
  /** Rails and planes that can move as a whole, with their numbers of levers. */
  readonly wholes: ReadonlyMap<string, number>;
  /** Deviation of a rail from its own line at places along (m), µm. */
  readonly liesAt: (rail: Rail, plane: Plane, placesM: readonly number[]) => number[];
}

export function listOf(moves: readonly Move[], input: ListInput): MoveList {
  const groups = input.rails.flatMap((rail) =>
    planes.flatMap((plane) => {
      const own = moves.filter(({ lever }) => lever.rail === rail && lever.plane === plane);
      return own.length === 0 ? [] : [{ rail, plane, own, line: lineOf(own, input.wholes) }];
    }),
  );
  let number = 0;
  const wholes = groups.flatMap(({ rail, plane, line }): WholeMove[] => {
    if (line === null) return [];
    const step = String(++number);
    const { moves: ordered } = inOrder(rail, plane, line.on, input);
    const listed = ordered.map((move, k): ListedMove => ({
      ...move,
      step: `${step}${letter(k)}`,
      rounds: move.shims === null ? ROUNDS_OF_WHOLE : 1,
    }));
    return [{ step, rail, plane, moves: listed, ends: line.ends }];
  });
  const places = groups.flatMap(({ rail, plane, own, line }) => {
    if (line !== null) return [];
    const { moves: ordered, rounds } = inOrder(rail, plane, own, input);
    return ordered.map((move): ListedMove => ({
      ...move,
      step: String(++number),
      rounds: move.shims === null ? rounds : 1,
    }));
  });
  return { wholes, moves: [...wholes.flatMap((whole) => whole.moves), ...places] };
}

/** a to z, then aa: some rails have more than 26 adjusters. */
const letter = (k: number): string =>
  (k < 26 ? '' : letter(Math.floor(k / 26) - 1)) + String.fromCharCode(97 + (k % 26));

interface Line {
  /** The moves that are on it. */
  readonly on: readonly Move[];
  readonly ends: readonly [number, number];
}

/** The line on which all moves of a rail are, if every place of the rail moves; null: the rail does not move as a whole. */
function lineOf(own: readonly Move[], wholes: ReadonlyMap<string, number>): Line | null {
  if (own.length < 3 || wholes.get(railKey(own[0]!.lever)) !== own.length) return null;
  const shares = sharesAlong(own.map(({ lever }) => lever));
  const slack = (move: Move) => SAME_UM + (move.shims === null ? 0 : halfStep(move.lever.adjuster.shims));
  let best: Line = { on: [], ends: [0, 0] };
  for (const [i, a] of own.entries())
    for (const [j, b] of own.entries()) {
      if (shares[j]! - shares[i]! < 1e-9) continue;
      const slope = (b.um - a.um) / (shares[j]! - shares[i]!);
      const at = (share: number) => a.um + slope * (share - shares[i]!);
      const on = own.filter((move, k) => Math.abs(move.um - at(shares[k]!)) <= slack(move));
      if (on.length > best.on.length) best = { on, ends: [at(0), at(1)] };
    }
  return best.on.length === own.length ? best : null;
}

/** The order of moves of one rail and plane, joint by joint. */
function inOrder(
  rail: Rail,
  plane: Plane,
  moves: readonly Move[],
  { adjusters, forces, liesAt }: ListInput,
): { moves: readonly Move[]; rounds: number } {
  const ordered: Move[] = [];
  let most = 1;
  for (const { supports } of piecesOf(rail, adjusters)) {
    const isHere = ({ lever }: { lever: Lever }) =>
      supports.some((support) => support.adjusters.includes(lever.adjuster));
    const own = moves.filter(isHere);
    if (own.length === 0) continue;
    const places = supports.map(({ atMm }) => atMm / 1000);
    const lies = liesAt(rail, plane, places);
    const here = forces.filter(
      (force) => force.plane === plane && supports.some((s) => s.adjusters[0] === force.support.adjusters[0]),
    );
    const { moves: inPiece, rounds } = orderOf(own, places, lies, here);
    ordered.push(...(inPiece as readonly Move[]));
    most = Math.max(most, rounds);
  }
  return { moves: ordered, rounds: most };
}

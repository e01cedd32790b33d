/**
 * Square-root factor of the weighted equations, point by point. Each point is eliminated by an orthogonal
 * reduction of the few rows that name it; the remaining rows about later unknowns are passed on. Nothing is squared (no
 * normal equations), so the rank of the remainder can be distinguished from rounding.
 *
 * With p points, b border unknowns and m rows the cost is O(m·b² + p·b² + b³): linear in points and readings.
 *
 * @see Golub & Van Loan, Matrix Computations, 5.2 (Householder QR), from memory; the ordering is that of block-bordered
 *   normal equations.
 */
import { addTo } from '../../base/lists.js';
import type { Network } from './network.js';
import { reflect, triangularize } from '../../base/statistics/householder.js';
import { eliminationOrder, isPoint, SAME_POSITION_M } from './unknowns.js';

/** A column is dependent if the remainder of its length is below this share of it, which is only rounding. */
const DEPENDENT_SHARE = 1e-8;

/**
 * R of the whole system in elimination order. Unknown numbers below are positions in that order.
 * Point i < points: r_ii x_i + Σ_j r_ij x_j = d_i, with j in `column`[start[i] … start[i+1]).
 */
export interface Factor {
  readonly order: Int32Array;
  /** position[unknown index of the network] = place in the order. */
  readonly position: Int32Array;
  readonly size: number;
  readonly points: number;
  readonly start: Int32Array;
  readonly column: Int32Array;
  readonly entry: Float64Array;
  /** r_ii; 0: the point could not be eliminated and was moved to the border. */
  readonly diagonal: Float64Array;
  readonly rhs: Float64Array;
  readonly border: Border;
  readonly rank: number;
}

/** Dense triangle of the border unknowns. */
export interface Border {
  /** Positions of the border's unknowns, ascending. */
  readonly members: Int32Array;
  /** basic[k] = column (in `members`) that row k of `r` is solved for. */
  readonly basic: Int32Array;
  /** Columns (in `members`) that no reading determines. */
  readonly free: Int32Array;
  /** Row-major, basic.length × (members.length + 1); the last column is the right-hand side. */
  readonly r: Float64Array;
}

/** Rows over a set of columns that are not reduced yet. */
interface Block {
  readonly columns: readonly number[];
  readonly rows: Float64Array;
  readonly count: number;
}

/** Eliminates points first, in their order along the rails, then what they share: the cost is about linear in the points. */
export function factorize(network: Network): Factor {
  const { order, points } = eliminationOrder(network.unknowns, network.keys);
  const size = order.length;
  const position = new Int32Array(size);
  order.forEach((unknown, place) => (position[unknown] = place));

  const rows = whitenedRows(network, position);
  const lengths = columnLengths(rows, size);
  const owned = rowsByFirstColumn(rows, points);
  const carried: (Block[] | undefined)[] = new Array<Block[] | undefined>(points);
  const pool = new BorderPool();

  const start = new Int32Array(points + 1);
  const column: number[] = [];
  const entry: number[] = [];
  const diagonal = new Float64Array(points);
  const rhs = new Float64Array(points);
  const deferred: number[] = [];
  const slot = new Int32Array(size).fill(-1);
  let work = new Float64Array(1024);

  const handOn = (block: Block, after: number) => {
    const next = block.columns.find((c) => c > after && c < points);
    if (next === undefined) pool.add(block);
    else (carried[next] ??= []).push(block);
  };

  for (const columns of abreast(network, order, points)) handOn({ columns, rows: NO_ROWS, count: 0 }, -1);
  for (let i = 0; i < points; i++) {
    const blocks = carried[i] ?? [];
    carried[i] = undefined;
    const columns = unionOfColumns(i, rows, owned, blocks, slot);
    const width = columns.length + 1;
    const count = owned.start[i + 1]! - owned.start[i]! + blocks.reduce((n, b) => n + b.count, 0);
    if (work.length < count * width) work = new Float64Array(2 * count * width);
    fillBlock(work, width, i, rows, owned, blocks, slot);
    for (const c of columns) slot[c] = -1;

    let length = 0;
    for (let k = 0; k < count; k++) length += work[k * width]! ** 2;
    if (Math.sqrt(length) <= DEPENDENT_SHARE * lengths[i]!) {
      deferred.push(i);
      start[i + 1] = column.length;
      handOn({ columns, rows: work.slice(0, count * width), count }, i);
      continue;
    }
    const kept = triangularize(work, count, columns.length, width);
    diagonal[i] = work[0]!;
    rhs[i] = work[width - 1]!;
    for (let j = 1; j < columns.length; j++) {
      column.push(columns[j]!);
      entry.push(work[j]!);
    }
    start[i + 1] = column.length;
    // Also without rows: the inverse needs the covariance of any two unknowns in the row of a point.
    if (kept > 1 || columns.length > 2) handOn(lowerRight(work, kept, width, columns), i);
  }
  for (let row = owned.start[points]!; row < owned.row.length; row++)
    pool.add(singleRow(rows, owned.row[row]!));

  const members = Int32Array.from([...deferred, ...range(points, size)]);
  const border = reduceBorder(members, pool, lengths);
  return {
    order,
    position,
    size,
    points,
    start,
    column: Int32Array.from(column),
    entry: Float64Array.from(entry),
    diagonal,
    rhs,
    border,
    rank: points - deferred.length + border.basic.length,
  };
}

const NO_ROWS = new Float64Array(0);

/**
 * Groups of points at one position along, as places in the order, if slope readings chain points along the rails. Each of
 * their differences is needed later. Joined by a block without rows, their covariances are among those that the inverse
 * calculates; else each would cost a pass along the rest of the chain.
 */
function abreast(network: Network, order: Int32Array, points: number): number[][] {
  if (!network.observations.some((o) => o.kind === 'slope')) return [];
  const groups = new Map<string, number[]>();
  let first = -Infinity;
  for (let i = 0; i < points; i++) {
    const u = network.unknowns[order[i]!]!;
    if (!isPoint(u) || !('rail' in u)) continue;
    if (u.alongM > first + SAME_POSITION_M) first = u.alongM;
    addTo(groups, `${u.kind} ${first}`, i);
  }
  return [...groups.values()].filter((group) => group.length > 1);
}

const range = (from: number, to: number): number[] => Array.from({ length: to - from }, (_, k) => from + k);

interface Rows {
  readonly start: Int32Array;
  readonly column: Int32Array;
  readonly value: Float64Array;
  readonly rhs: Float64Array;
}

/** Rows divided by their standard uncertainty, columns as positions in the order of elimination. */
function whitenedRows(network: Network, position: Int32Array): Rows {
  const value = new Float64Array(network.coefficient.length);
  const column = new Int32Array(network.column.length);
  const rhs = new Float64Array(network.observed.length);
  for (let row = 0; row < rhs.length; row++) {
    const weight = 1 / network.sigma[row]!;
    rhs[row] = network.observed[row]! * weight;
    for (let k = network.start[row]!; k < network.start[row + 1]!; k++) {
      value[k] = network.coefficient[k]! * weight;
      column[k] = position[network.column[k]!]!;
    }
  }
  return { start: network.start, column, value, rhs };
}

function columnLengths(rows: Rows, size: number): Float64Array {
  const lengths = new Float64Array(size);
  for (let k = 0; k < rows.column.length; k++) lengths[rows.column[k]!]! += rows.value[k]! ** 2;
  return lengths.map(Math.sqrt);
}

/** Rows grouped by the first unknown they name; group `points` holds those that name border unknowns only. */
function rowsByFirstColumn(rows: Rows, points: number): { start: Int32Array; row: Int32Array } {
  const count = rows.rhs.length;
  const first = new Int32Array(count);
  const start = new Int32Array(points + 2);
  for (let row = 0; row < count; row++) {
    let least = points;
    for (let k = rows.start[row]!; k < rows.start[row + 1]!; k++) least = Math.min(least, rows.column[k]!);
    first[row] = least;
    start[least + 1]!++;
  }
  for (let i = 0; i <= points; i++) start[i + 1]! += start[i]!;
  const next = start.slice();
  const row = new Int32Array(count);
  for (let r = 0; r < count; r++) row[next[first[r]!]!++] = r;
  return { start, row };
}

/** All columns that the rows of point i name, i first, then ascending; `slot` maps each to its place. */
function unionOfColumns(
  i: number,
  rows: Rows,
  owned: { start: Int32Array; row: Int32Array },
  blocks: readonly Block[],
  slot: Int32Array,
): number[] {
  const columns: number[] = [];
  const note = (c: number) => {
    if (slot[c] !== -1) return;
    slot[c] = 0;
    columns.push(c);
  };
  note(i);
  for (let r = owned.start[i]!; r < owned.start[i + 1]!; r++) {
    const row = owned.row[r]!;
    for (let k = rows.start[row]!; k < rows.start[row + 1]!; k++) note(rows.column[k]!);
  }
  for (const block of blocks) block.columns.forEach(note);
  // Points that were deferred have smaller numbers than i, but i must be first.
  columns.sort((a, b) => (a === i ? -1 : b === i ? 1 : a - b));
  columns.forEach((c, place) => (slot[c] = place));
  return columns;
}

function fillBlock(
  work: Float64Array,
  width: number,
  i: number,
  rows: Rows,
  owned: { start: Int32Array; row: Int32Array },
  blocks: readonly Block[],
  slot: Int32Array,
): void {
  let at = 0;
  for (let r = owned.start[i]!; r < owned.start[i + 1]!; r++, at += width) {
    const row = owned.row[r]!;
    work.fill(0, at, at + width);
    for (let k = rows.start[row]!; k < rows.start[row + 1]!; k++)
      work[at + slot[rows.column[k]!]!]! += rows.value[k]!;
    work[at + width - 1] = rows.rhs[row]!;
  }
  for (const block of blocks) {
    const from = block.columns.length + 1;
    for (let r = 0; r < block.count; r++, at += width) {
      work.fill(0, at, at + width);
      block.columns.forEach((c, k) => (work[at + slot[c]!] = block.rows[r * from + k]!));
      work[at + width - 1] = block.rows[r * from + from - 1]!;
    }
  }
}

/** The rest of a triangular block after its first unknown is eliminated; of a single row only its columns remain. */
function lowerRight(work: Float64Array, kept: number, width: number, columns: readonly number[]): Block {
  const rows = new Float64Array((kept - 1) * (width - 1));
  for (let r = 1; r < kept; r++)
    rows.set(work.subarray(r * width + 1, (r + 1) * width), (r - 1) * (width - 1));
  return { columns: columns.slice(1), rows, count: kept - 1 };
}

function singleRow(rows: Rows, row: number): Block {
  const columns = Array.from(rows.column.subarray(rows.start[row]!, rows.start[row + 1]!));
  const values = rows.value.subarray(rows.start[row]!, rows.start[row + 1]!);
  return { columns, rows: Float64Array.from([...values, rows.rhs[row]!]), count: 1 };
}

/** Border rows, reduced as they are added: one small triangle for each set of columns. */
class BorderPool {
  private readonly byPattern = new Map<
    string,
    { columns: readonly number[]; rows: Float64Array; count: number }
  >();

  add(block: Block): void {
    if (block.count === 0) return; // every covariance of border unknowns is calculated anyway
    const width = block.columns.length + 1;
    const key = block.columns.join(' ');
    let held = this.byPattern.get(key);
    if (held === undefined) {
      held = { columns: block.columns, rows: new Float64Array((4 * width + 16) * width), count: 0 };
      this.byPattern.set(key, held);
    }
    for (let r = 0; r < block.count; r++) {
      if ((held.count + 1) * width > held.rows.length)
        held.count = triangularize(held.rows, held.count, width - 1, width);
      held.rows.set(block.rows.subarray(r * width, (r + 1) * width), held.count * width);
      held.count++;
    }
  }

  /** All rows over the border's columns, row-major, the right-hand side last. */
  gather(members: Int32Array): { rows: Float64Array; count: number } {
    const column = new Map<number, number>();
    members.forEach((m, k) => column.set(m, k));
    const width = members.length + 1;
    const patterns = [...this.byPattern.entries()]
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([, held]) => held);
    let count = 0;
    for (const held of patterns) {
      const from = held.columns.length + 1;
      held.count = triangularize(held.rows, held.count, from - 1, from);
      count += held.count;
    }
    const rows = new Float64Array(count * width);
    let at = 0;
    for (const held of patterns) {
      const from = held.columns.length + 1;
      for (let r = 0; r < held.count; r++, at += width) {
        held.columns.forEach((c, k) => (rows[at + column.get(c)!] = held.rows[r * from + k]!));
        rows[at + width - 1] = held.rows[r * from + from - 1]!;
      }
    }
    return { rows, count };
  }
}

/**
 * Reduces column by column in a fixed order, without pivoting by size: which unknowns are free must not depend on rounding.
 * A column is free if its remainder is rounding, compared with its own length in the whole network.
 */
function reduceBorder(members: Int32Array, pool: BorderPool, lengths: Float64Array): Border {
  const width = members.length + 1;
  const { rows, count } = pool.gather(members);
  const basic: number[] = [];
  const free: number[] = [];
  for (let c = 0; c < members.length; c++) {
    const row = basic.length;
    const left =
      row < count ? reflectIfAny(rows, row, c, count, width, DEPENDENT_SHARE * lengths[members[c]!]!) : false;
    if (left) basic.push(c);
    else free.push(c);
  }
  const r = rows.slice(0, basic.length * width);
  basic.forEach((c, row) => {
    if (r[row * width + c]! < 0) for (let j = 0; j < width; j++) r[row * width + j] = -r[row * width + j]!;
  });
  return { members, basic: Int32Array.from(basic), free: Int32Array.from(free), r };
}

/**
 * Reduces a column, or clears it if only rounding (at most `negligible`) is left of it. Only the rows that name the unknown
 * take part: with many set-ups along a rail, few rows name each of them.
 */
function reflectIfAny(
  rows: Float64Array,
  row: number,
  column: number,
  count: number,
  width: number,
  negligible: number,
): boolean {
  let length = 0;
  let named = row;
  for (let i = row; i < count; i++) {
    const value = rows[i * width + column]!;
    if (value === 0) continue;
    length += value * value;
    swapRows(rows, width, i, named++);
  }
  if (Math.sqrt(length) <= negligible) {
    for (let i = row; i < named; i++) rows[i * width + column] = 0;
    return false;
  }
  reflect(rows, row, column, named, width);
  return true;
}

function swapRows(rows: Float64Array, width: number, a: number, b: number): void {
  if (a === b) return;
  for (let j = 0; j < width; j++) {
    const held = rows[a * width + j]!;
    rows[a * width + j] = rows[b * width + j]!;
    rows[b * width + j] = held;
  }
}

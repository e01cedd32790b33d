/**
 * A mixed-integer linear programme, solved by `highs`: a well-kept open-source solver that runs as WebAssembly, so a plan needs
 * no other program than Node.
 */
import type { Highs, ModelData } from 'highs';

export type Terms = ReadonlyMap<string, number>;

export interface Solved {
  /** none: it is proven that there is no plan; ended: the search ended before it found one. */
  readonly status: 'best' | 'found' | 'none' | 'ended';
  /** Greatest share by which another plan can be cheaper; null: not known. */
  readonly gap: number | null;
  readonly cost: number;
  /** Lower bound of the cost of all plans. */
  readonly bound: number;
  readonly value: (name: string) => number;
  /** Number of iterations of the simplex method. */
  readonly work: number;
}

/**
 * Is called during a search with the greatest share by which another plan can be cheaper (Infinity: there is no plan yet). It
 * cannot change the plan. An error that it throws ends the job.
 */
export type OnSearch = (gap: number) => void;

export interface SearchLimits {
  /** Limit of simplex iterations. It is tested between two steps of the search, so the search can exceed it a little. */
  readonly mostWork: number;
  /** Absolute gap at which a plan is optimal: just below 1 if the cost is a count. */
  readonly absoluteGap?: number;
  readonly onSearch?: OnSearch | undefined;
}

/** Limit of nodes, in addition to the limit of iterations: small nodes need few iterations. */
const MOST_NODES = 20_000;

/** Relative gap at which the search ends: a crew needs no better plan. */
export const GOOD_ENOUGH = 1e-4;

/** Coefficients below this are rounding. */
const TINY = 1e-12;

interface Variable {
  readonly least: number;
  readonly most: number;
  readonly isWhole: boolean;
}

/** A linear programme with whole variables, row by row. @see HiGHS, which solves it. */
export class Programme {
  private readonly index = new Map<string, number>();
  private readonly variables: Variable[] = [];
  private readonly rowLower: number[] = [];
  private readonly rowUpper: number[] = [];
  private readonly starts: number[] = [0];
  private readonly indices: number[] = [];
  private readonly values: number[] = [];

  get rows(): number {
    return this.rowLower.length;
  }

  /** least ≤ Σ terms ≤ most. */
  row(terms: Terms, { least = -Infinity, most = Infinity }: { least?: number; most?: number }): void {
    const before = this.indices.length;
    for (const [name, weight] of terms) {
      if (Math.abs(weight) < TINY) continue;
      this.indices.push(this.index.get(name)!);
      this.values.push(weight);
    }
    if (this.indices.length === before && least <= 0 && most >= 0) return;
    this.starts.push(this.indices.length);
    this.rowLower.push(least);
    this.rowUpper.push(most);
  }

  variable(name: string, least: number, most: number, isWhole = false): string {
    this.index.set(name, this.variables.length);
    this.variables.push({ least, most, isWhole });
    return name;
  }

  /**
   * The cheapest solution. A search with whole variables ends by counted work and never by a clock, so it ends at the same
   * point on every machine: after `mostWork` iterations of the simplex method in all its linear programmes, after
   * `MOST_NODES` nodes, or when no plan is cheaper by more than the gap. One thread, a fixed seed.
   *
   * @throws what `onSearch` throws.
   * @see HiGHS, options `mip_max_nodes`, `random_seed`; callback `mipInterrupt`.
   */
  async solve(cost: Terms, { mostWork, absoluteGap = 0, onSearch }: SearchLimits): Promise<Solved> {
    const highs = await solver();
    const { index } = this;
    const isMixed = this.variables.some(({ isWhole }) => isWhole);
    return highs.withModel(this.model(highs, cost, isMixed), (model): Solved => {
      // The solver itself is given no time limit, and the wrapper sets one thread.
      model.options.set({
        output_flag: false,
        mip_max_nodes: MOST_NODES,
        mip_rel_gap: GOOD_ENOUGH,
        mip_abs_gap: absoluteGap,
        random_seed: 1,
      });
      const { mipInterrupt, simplexInterrupt } = highs.constants.callbackType;
      const { modelStatus } = model.run({
        [simplexInterrupt]: () => {
          onSearch?.(Infinity);
          return undefined;
        },
        [mipInterrupt]: ({ data, interrupt }) => {
          onSearch?.(data.mip_gap ?? Infinity);
          if (Number(data.mip_total_lp_iterations ?? 0) >= mostWork) interrupt();
          return undefined;
        },
      });
      const work = Math.max(0, Number(model.info.get('simplex_iteration_count')));
      const { optimal, infeasible, unboundedOrInfeasible } = highs.constants.modelStatus;
      const isFeasible =
        Number(model.info.get('primal_solution_status')) === highs.constants.solutionStatus.feasible;
      if (modelStatus !== optimal && (!isFeasible || !isMixed)) {
        const isProven = modelStatus === infeasible || modelStatus === unboundedOrInfeasible;
        const status = isProven ? 'none' : 'ended';
        return { status, gap: null, cost: Infinity, bound: -Infinity, value: () => 0, work };
      }
      const found = Number(model.info.get('objective_function_value'));
      const { colValue } = model.getSolution();
      const value = (name: string): number => colValue[index.get(name) ?? -1] ?? 0;
      const bound = isMixed ? Number(model.info.get('mip_dual_bound')) : found;
      if (modelStatus === optimal)
        return { status: 'best', gap: isMixed ? GOOD_ENOUGH : 0, cost: found, bound, value, work };
      // Stopped by a limit, after a plan was found.
      return { status: 'found', gap: Number(model.info.get('mip_gap')), cost: found, bound, value, work };
    });
  }

  /**
   * Least and greatest value of each variable that the rows permit, with whole variables taken as continuous.
   *
   * @returns null: the rows have no solution.
   */
  async ranges(names: readonly string[], onSearch?: OnSearch): Promise<[number, number][] | null> {
    const highs = await solver();
    const { index, variables } = this;
    return highs.withModel(this.model(highs, new Map(), false), (model) => {
      model.options.set({ output_flag: false, random_seed: 1 });
      const { optimal, infeasible, unboundedOrInfeasible } = highs.constants.modelStatus;
      const { simplexInterrupt } = highs.constants.callbackType;
      const run = () =>
        model.run({
          [simplexInterrupt]: () => {
            onSearch?.(Infinity);
            return undefined;
          },
        }).modelStatus;
      const first = run();
      if (first === infeasible || first === unboundedOrInfeasible) return null;
      // The basis of one programme is the start of the next.
      const end = (name: string, side: 1 | -1): number => {
        const k = index.get(name)!;
        model.changeColCost(k, -side);
        const isFound = run() === optimal;
        const { least, most } = variables[k]!;
        const at = isFound ? model.getSolution().colValue[k]! : side === 1 ? most : least;
        model.changeColCost(k, 0);
        return at;
      };
      return names.map((name): [number, number] => [end(name, -1), end(name, 1)]);
    });
  }

  private model(highs: Highs, cost: Terms, isMixed: boolean): ModelData {
    const { variables, index } = this;
    const colCost = new Float64Array(variables.length);
    for (const [name, weight] of cost) colCost[index.get(name)!] = weight;
    const { continuous, integer } = highs.constants.variableType;
    return {
      numCols: variables.length,
      numRows: this.rowLower.length,
      colCost,
      colLower: variables.map(({ least }) => least),
      colUpper: variables.map(({ most }) => most),
      rowLower: this.rowLower,
      rowUpper: this.rowUpper,
      matrix: {
        format: 'csr',
        numRows: this.rowLower.length,
        numCols: variables.length,
        starts: this.starts,
        indices: this.indices,
        values: this.values,
      },
      ...(isMixed && { integrality: variables.map(({ isWhole }) => (isWhole ? integer : continuous)) }),
    };
  }
}

let loaded: Promise<Highs> | null = null;
// Its types describe the CommonJS build, where the loader is the default of the default.
const solver = (): Promise<Highs> =>
  (loaded ??= import('highs').then((module) => (module.default as unknown as () => Promise<Highs>)()));

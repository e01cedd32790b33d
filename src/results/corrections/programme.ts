/**
 * A mixed-integer linear programme, solved by `highs`: a well-kept open-source solver that runs as WebAssembly, so that
 * a plan needs no program beside Node.
 */
import type { Highs } from 'highs';

export type Terms = ReadonlyMap<string, number>;

export interface Solved {
  readonly status: 'best' | 'found' | 'impossible';
  /** Share by which a better plan could be cheaper at most; null: not known. */
  readonly gap: number | null;
  readonly value: (name: string) => number;
}

/** How far a search is: what the best plan so far costs, and by what share a better one could be cheaper at most. */
export type OnSearch = (seconds: number, gap: number) => void;

/** The search ends here at the latest, wherever it runs: counted in nodes, so that the same job gives the same plan. */
const MOST_NODES = 20_000;

/** A plan this near to the best is the best for a crew. */
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

  /** The cheapest choice, and `impossible` where there is none or none was found in time. */
  async solve(cost: Terms, timeLimitS: number, onSearch?: OnSearch): Promise<Solved> {
    const highs = await solver();
    const { variables, index } = this;
    const colCost = new Float64Array(variables.length);
    for (const [name, weight] of cost) colCost[index.get(name)!] = weight;
    const isMixed = variables.some(({ isWhole }) => isWhole);
    const { continuous, integer } = highs.constants.variableType;
    return highs.withModel(
      {
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
        ...(isMixed && {
          integrality: variables.map(({ isWhole }) => (isWhole ? integer : continuous)),
        }),
      },
      (model): Solved => {
        model.options.set({
          output_flag: false,
          time_limit: timeLimitS,
          mip_max_nodes: MOST_NODES,
          mip_rel_gap: GOOD_ENOUGH,
          random_seed: 1,
        });
        const { mipInterrupt } = highs.constants.callbackType;
        const { modelStatus } = model.run({
          [mipInterrupt]: ({ data }) => {
            onSearch?.(data.running_time ?? 0, data.mip_gap ?? Infinity);
            return undefined;
          },
        });
        const { colValue } = model.getSolution();
        const value = (name: string): number => colValue[index.get(name) ?? -1] ?? 0;
        if (modelStatus === highs.constants.modelStatus.optimal)
          return { status: 'best', gap: isMixed ? GOOD_ENOUGH : 0, value };
        // What a limit stopped may have found a plan before.
        const isFeasible =
          Number(model.info.get('primal_solution_status')) === highs.constants.solutionStatus.feasible;
        if (!isFeasible || !isMixed) return { status: 'impossible', gap: null, value: () => 0 };
        return { status: 'found', gap: Number(model.info.get('mip_gap')), value };
      },
    );
  }
}

let loaded: Promise<Highs> | null = null;
// Its types describe the CommonJS build, where the loader is the default of the default.
const solver = (): Promise<Highs> =>
  (loaded ??= import('highs').then((module) => (module.default as unknown as () => Promise<Highs>)()));

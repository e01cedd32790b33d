/**
 * A mixed-integer linear programme, written in the text format that the solver reads (CPLEX LP), and solved by `highs`:
 * a well-kept open-source solver that runs as WebAssembly, so that a plan needs no program beside Node.
 */
import * as highsModule from 'highs';
import type { LegacyHighs } from 'highs/legacy-types';

export type Terms = ReadonlyMap<string, number>;

export interface Solved {
  readonly status: 'best' | 'found' | 'impossible';
  /** Share by which a better plan could be cheaper at most; null: not known. */
  readonly gap: number | null;
  readonly value: (name: string) => number;
}

/** The search ends here at the latest, wherever it runs: counted in nodes, so that the same job gives the same plan. */
const MOST_NODES = 20_000;

/** A plan this near to the best is the best for a crew. */
const GOOD_ENOUGH = 1e-4;

export class Programme {
  private readonly rows: string[] = [];
  private readonly bounds: string[] = [];
  private readonly integers: string[] = [];

  /** low ≤ Σ terms ≤ high. */
  row(terms: Terms, { least = -Infinity, most = Infinity }: { least?: number; most?: number }): void {
    const sum = sumOf(terms);
    if (sum === '') return;
    if (least > -Infinity) this.rows.push(` r${this.rows.length}: ${sum} >= ${number(least)}`);
    if (most < Infinity) this.rows.push(` r${this.rows.length}: ${sum} <= ${number(most)}`);
  }

  variable(name: string, least: number, most: number, isWhole = false): string {
    const [low, high] = [least, most].map((v) =>
      v === Infinity ? '+inf' : v === -Infinity ? '-inf' : number(v),
    );
    this.bounds.push(` ${low} <= ${name} <= ${high}`);
    if (isWhole) this.integers.push(` ${name}`);
    return name;
  }

  async solve(cost: Terms, timeLimitS: number): Promise<Solved> {
    const text = [
      'Minimize',
      ` cost: ${sumOf(cost) || '0 nothing'}`,
      'Subject To',
      ...this.rows,
      'Bounds',
      ...this.bounds,
      ...(this.integers.length > 0 ? ['General', ...this.integers] : []),
      'End',
    ].join('\n');
    const highs = await solver();
    const found = highs.solve(text, {
      time_limit: timeLimitS,
      mip_max_nodes: MOST_NODES,
      mip_rel_gap: GOOD_ENOUGH,
      threads: 1,
      random_seed: 1,
    } as never);
    const columns = found.Columns as Readonly<Record<string, { Primal?: number }>>;
    const value = (name: string): number => columns[name]?.Primal ?? 0;
    if (found.Status === 'Optimal')
      return { status: 'best', gap: this.integers.length > 0 ? GOOD_ENOUGH : 0, value };
    const isFound = /limit/i.test(found.Status) && Object.values(columns).some((c) => (c.Primal ?? 0) !== 0);
    return { status: isFound ? 'found' : 'impossible', gap: null, value };
  }
}

let loaded: Promise<LegacyHighs> | null = null;
const solver = (): Promise<LegacyHighs> =>
  // Its types describe the CommonJS build, where the loader is the module itself.
  (loaded ??= (highsModule as unknown as { default: () => Promise<LegacyHighs> }).default());

const number = (v: number): string => (Math.abs(v) < 1e-12 ? '0' : v.toPrecision(12));

function sumOf(terms: Terms): string {
  const parts: string[] = [];
  for (const [name, weight] of terms) {
    if (Math.abs(weight) < 1e-12) continue;
    parts.push(`${weight < 0 ? '-' : '+'} ${number(Math.abs(weight))} ${name}`);
  }
  return parts.join(' ');
}

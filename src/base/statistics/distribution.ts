import quickselect from 'quickselect';

/** Draws of one quantity. They are sorted only as far as a quantile needs it. */
export class Distribution {
  private readonly known = new Map<number, number>();

  /** @param draws At least one; their order is changed. */
  constructor(private readonly draws: Float64Array) {}

  /** The value that a share p of the draws does not exceed. */
  quantile(p: number): number {
    const { draws, known } = this;
    const at = Math.max(0, Math.min(draws.length - 1, Math.floor(p * draws.length)));
    let found = known.get(at);
    if (found === undefined) {
      // The types of quickselect allow only plain lists, but it uses only length and indices.
      quickselect(draws as unknown as number[], at);
      found = draws[at]!;
      known.set(at, found);
    }
    return found;
  }

  /** Level of a simulated test: (draws above x + 1)/(draws + 1). */
  levelBeyond(x: number): number {
    const { draws } = this;
    let above = 0;
    for (let b = 0; b < draws.length; b++) if (draws[b]! > x) above++;
    return (above + 1) / (draws.length + 1);
  }

  /** Share of the draws that are at most x. */
  shareAtMost(x: number): number {
    const { draws } = this;
    let count = 0;
    for (let b = 0; b < draws.length; b++) if (draws[b]! <= x) count++;
    return count / draws.length;
  }
}

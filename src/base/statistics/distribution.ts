import quickselect from 'quickselect';

/** Draws of one quantity. They are put in order only as far as a quantile needs it. */
export class Distribution {
  private readonly known = new Map<number, number>();

  /** @param draws Its own: their order changes. At least one. */
  constructor(private readonly draws: Float64Array) {}

  /** The number that a share p of the draws does not exceed. */
  quantile(p: number): number {
    const { draws, known } = this;
    const at = Math.max(0, Math.min(draws.length - 1, Math.floor(p * draws.length)));
    let found = known.get(at);
    if (found === undefined) {
      // Its types know plain lists only; it asks no more of them than a length and places.
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

  /** The share of the draws that is at most x. */
  shareAtMost(x: number): number {
    const { draws } = this;
    let count = 0;
    for (let b = 0; b < draws.length; b++) if (draws[b]! <= x) count++;
    return count / draws.length;
  }
}

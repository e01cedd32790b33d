/**
 * Of many linear functionals, each with what it reads and its standard uncertainty u, those that make the greatest of
 * (reading + z·u) for some z ≥ 0: none of them reads less than another that is no surer. A handful, however many there are.
 */
export class Frontier {
  /** Falling by what they read, rising by u. */
  private readonly kept: { readonly reading: number; readonly u: number }[] = [];

  /** Whether one that reads so much, with no greater u than this, would not be kept. */
  isIdle(reading: number, u: number): boolean {
    for (const one of this.kept) {
      if (one.reading < reading) return false;
      if (one.u >= u) return true;
    }
    return false;
  }

  add(reading: number, u: number): void {
    const { kept } = this;
    let at = 0;
    while (at < kept.length && kept[at]!.reading >= reading) {
      if (kept[at]!.u >= u) return;
      at++;
    }
    let end = at;
    while (end < kept.length && kept[end]!.u <= u) end++;
    kept.splice(at, end - at, { reading, u });
  }

  /** Of the one that reads most. */
  get u(): number {
    return this.kept[0]!.u;
  }

  /** max (reading + z·u), z ≥ 0. */
  upper(z: number): number {
    let most = -Infinity;
    for (const { reading, u } of this.kept) if (reading + z * u > most) most = reading + z * u;
    return most;
  }
}

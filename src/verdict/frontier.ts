/**
 * Of many linear functionals, each with what it reads and its standard uncertainty u, those that make the greatest of
 * (reading + z·u) for some z ≥ 0: none of them reads less than another that is no surer. A handful, however many there are.
 */
export class Frontier<T> {
  /** Falling by what they read, rising by u. */
  private readonly kept: { readonly reading: number; readonly u: number; readonly of: T }[] = [];

  /** Whether one that reads so much, with no greater u than this, would not be kept. */
  isIdle(reading: number, u: number): boolean {
    for (const one of this.kept) {
      if (one.reading < reading) return false;
      if (one.u >= u) return true;
    }
    return false;
  }

  /** @param of Made only where the functional is kept. */
  add(reading: number, u: number, of: () => T): void {
    const { kept } = this;
    let at = 0;
    while (at < kept.length && kept[at]!.reading >= reading) {
      if (kept[at]!.u >= u) return;
      at++;
    }
    let end = at;
    while (end < kept.length && kept[end]!.u <= u) end++;
    kept.splice(at, end - at, { reading, u, of: of() });
  }

  /** Which one makes the greatest reading + z·u, z ≥ 0. */
  highest(z: number): { readonly reading: number; readonly u: number; readonly of: T } {
    let best = this.kept[0]!;
    for (const one of this.kept) if (one.reading + z * one.u > best.reading + z * best.u) best = one;
    return best;
  }

  /** max (reading + z·u); below z = 0, where no interval ends, that of the one that reads most. */
  upper(z: number): number {
    const { reading, u } = z > 0 ? this.highest(z) : this.kept[0]!;
    return reading + z * u;
  }
}

/**
 * The linear functionals, each with its value (reading) and standard uncertainty u, that give the maximum of
 * (reading + z·u) for some z ≥ 0. A functional is dropped if another one has at least its reading and at least its u. Only
 * a few remain, however many there are.
 */
export class Frontier {
  /** Readings descend, u ascends. */
  private readonly kept: { readonly reading: number; readonly u: number }[] = [];

  /** true: a functional with this reading, and with at most this u, would not be kept. */
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

  /** Uncertainty of the functional with the greatest reading. */
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

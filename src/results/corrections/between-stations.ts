/** A place along a rail between two of its stations, or beyond the last of them. */

export interface Between {
  /** Index of the station before it; the one after it is the next. */
  readonly before: number;
  /** Share of the distance between the two; below 0 before the first station, above 1 beyond the last. */
  readonly share: number;
}

/** @param at Positions of the stations, ascending, two or more. @param place In the same unit. */
export function betweenStations(at: ArrayLike<number>, place: number): Between {
  let before = 0;
  while (before + 2 < at.length && at[before + 1]! < place) before++;
  return { before, share: (place - at[before]!) / (at[before + 1]! - at[before]!) };
}

/**
 * What the intervals are tuned by. Chosen by simulation (tests/study/interval-study.ts), not derived;
 * the coverage depends little on each.
 */
export const TUNING = {
  /**
   * Near-ties count as ties when L is sought: the noise is magnified by t = 1 + (T_obs − c₀) / (tieReach · c₁).
   * T exceeds c₀ of the noise, and c₁ of the noise about its lines, with probability 1 − coverage.
   */
  tieReach: 1.6,
  /** Near-ties count for less when U is sought: the shape is magnified by 1 / farTie. */
  farTie: 0.9,
  /** The tails are shared evenly from θ = slide · c₀ on, and in proportion below; below, the floor under U leaves its test little to reject. */
  slide: 0.5,
  /** From there on L gets this part of what U leaves of its share, and in proportion below. */
  passedOn: 0.6,
  /** The same three for a signed extreme, which one isolated bump can make. */
  signedTieReach: 1.2,
  signedFarTie: 0.8,
  signedSlide: 0.5,
  /** L is sought with this part of the shapes, those for which T is least … */
  leastPart: 1 / 3,
  /** … and where the noise tilts the segments, with this part: a shape with much of the tilt that was read would take the noise's for its own. */
  leastTilted: 1 / 20,
} as const;

/**
 * farTie for so many stations. Of four or fewer the shape is all but given: there are no near-ties to discount,
 * and to magnify it would only raise U (three stations at one σ: covered 0.974 of the time instead of 0.955).
 */
export const farTieOf = (stations: number): number => (stations < 5 ? 1 : TUNING.farTie);

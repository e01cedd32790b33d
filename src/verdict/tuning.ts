/**
 * What the intervals are tuned by. Chosen by simulation (tests/study/interval-study.ts), not derived;
 * the coverage depends little on each.
 */
export const TUNING = {
  /**
   * Near-ties count as ties when L is sought: the noise is magnified by t = 1 + (T_obs − c₀) / (tieReach · c₁).
   * T exceeds c₀ of the noise, and c₁ of the noise about its lines, with probability 1 − coverage.
   */
  tieReach: 1.2,
  /** Near-ties count for less when U is sought: the shape is magnified by 1 / farTie. */
  farTie: 0.8,
  /**
   * The upper test gets its half of 1 − coverage from θ = slideTo · c₀ on and nothing below slideFrom · c₀, where by the
   * floor under U it would reject next to nothing; what it does not get, the lower test has.
   */
  slideFrom: 0.5,
  slideTo: 1,
  /** Of a signed extreme the upper test has its half from θ = signedSlide · c₀ on, and its part in proportion below. */
  signedSlide: 0.5,
  /** L is sought with this part of the shapes, those for which T is least. */
  leastPart: 1 / 3,
} as const;

/**
 * farTie for so many stations. Of four or fewer the shape is all but given: there are no near-ties to discount,
 * and to magnify it would only raise U (three stations at one σ: covered 0.974 of the time instead of 0.955).
 */
export const farTieOf = (stations: number): number => (stations < 5 ? 1 : TUNING.farTie);

/** The upper test's part of 1 − coverage at θ, from 0 to ½. */
export const upperPart = (theta: number, settled: number): number => {
  const { slideFrom, slideTo } = TUNING;
  return 0.5 * Math.min(1, Math.max(0, (theta / settled - slideFrom) / (slideTo - slideFrom)));
};

import { factorOf, tailAbove, type CoverageResult, type Reach } from './greatest.js';
import { normalCdf } from '../../base/statistics/normal.js';
import { studentCoverageFactor, studentUpperTail } from '../../base/statistics/student-chi-square.js';

/**
 * Coverage interval of a characteristic that is linear in the readings (level-along, squareness), so
 * that its estimate is normal about the true value: value ± k·u, k = Φ⁻¹((1 + coverage)/2). If u was scaled by the scatter
 * of the residuals, Student's factor for its degrees of freedom is used instead of the normal one.
 *
 * @param value Estimate y.
 * @param u Standard uncertainty of y, same unit, ≥ 0 (0: the interval is the value itself).
 * @param coverage Coverage probability, in (0, 1).
 * @param degrees Degrees of freedom of the scale in u; Infinity: it is stated.
 * @returns interval, and P(|θ| ≤ limit) = Φ((limit − y)/u) − Φ((−limit − y)/u).
 * @throws {RangeError} u negative or not finite, coverage outside (0, 1).
 * @see JCGM 101:2008, 3.12 (coverage interval); JCGM 106:2012, 7.5 (two-sided conformance probability).
 */
export function linearInterval(
  value: number,
  u: number,
  coverage: number,
  degrees = Infinity,
): CoverageResult {
  if (!(u >= 0 && Number.isFinite(u)))
    throw new RangeError(`a standard uncertainty is finite and >= 0, not ${u}`);
  if (!(coverage > 0 && coverage < 1))
    throw new RangeError(`a coverage lies inside (0, 1), not at ${coverage}`);
  const k = studentCoverageFactor(coverage, degrees);
  const U = k * u;
  const below = (x: number): number => {
    if (degrees === Infinity) return normalCdf(x);
    return x < 0 ? studentUpperTail(-x, degrees) : 1 - studentUpperTail(x, degrees);
  };
  return {
    interval: [value - U, value + U],
    ends: [
      { reads: value, factor: -k, u },
      { reads: value, factor: k, u },
    ],
    reach: linearReach(Math.abs(value), u, U, degrees),
    probabilityAtMost: (limit) => {
      if (u === 0) return Math.abs(value) <= limit ? 1 : 0;
      if (limit < 0) return 0;
      // Both terms are in the tail on the far side, so that neither is a difference of numbers near one.
      const y = Math.abs(value);
      return below((limit - y) / u) - below((-limit - y) / u);
    },
  };
}

/** Of one linear functional both risks are those of a normal or Student variable, and nothing is simulated. */
function linearReach(size: number, u: number, U: number, degrees: number): Reach {
  const tail = (z: number): number => (u === 0 ? 0 : tailAbove(z / u, degrees));
  const by = (p: number): number => (u === 0 ? 0 : factorOf(p, degrees) * u);
  return {
    value: size,
    interval: [Math.max(0, size - U), size + U],
    upperAt: (p) => size + by(p),
    lowerAt: (p) => Math.max(0, size - by(p)),
    acceptanceRisk: (limit) => (size <= limit ? tail(limit - size) : 1),
    rejectionRisk: (limit) => (size > limit ? tail(size - limit) + tail(size + limit) : 1),
  };
}

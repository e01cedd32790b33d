/**
 * Departure of a level surface from a straight line. A levelled plane of light is straight; a spirit level follows the
 * earth. Over a long rail the difference is larger than the tolerance of a machine.
 *
 * @see Surveying handbooks: 8 inches per mile squared (d²/2R); R = 6371 km, the mean radius.
 */
export const EARTH_RADIUS_M = 6_371_000;

/** Distance of a level surface below its tangent after a distance (m), µm. */
export const dropUm = (distanceM: number): number => (distanceM ** 2 / (2 * EARTH_RADIUS_M)) * 1e6;

/** Greatest departure of a level arc from its chord over a length (mm), µm. */
export const sagittaUm = (lengthMm: number): number => dropUm(lengthMm / 2000);

/** Effects of a rail: its tilt across at a station, and its bow by temperature. */
import { positionMm } from '../../../survey/job/job.js';
import { effect } from './effect.js';

/** A target on a rod reads the tilt of the rail times the length of the rod. */
export const railTilt = effect({
  name: 'rail-tilt',
  source: 'rail-tilt',
  unit: 'um/m',
  isListed: false,
  inPhase: () => ({
    offset: ({ reading: { axis, point }, rail, target, sign, place }) =>
      axis !== 'horizontal' ||
      point.kind !== 'station' ||
      rail === null ||
      rail.tiltU === null ||
      target === null ||
      target.rodMm === null
        ? null
        : {
            key: `tilt\u0000${rail.id}\u0000${point.station}`,
            perUnit: (sign * target.rodMm) / 1000,
            of: `tilt of ${rail.id}:${point.station}`,
            u: rail.tiltU,
            place,
          },
  }),
});

/** A rail that is warmer on top is arched. The shape without this bow is the result. */
export const thermalBow = effect({
  name: 'thermal-bow',
  source: 'temperature',
  unit: 'K',
  inPhase: () => ({
    offset: ({ reading: { axis, point }, rail, sign }) => {
      const thermal = rail?.thermal ?? null;
      if (axis !== 'vertical' || point.kind !== 'station' || rail === null) return null;
      if (thermal === null || thermal.u === null) return null;
      const first = positionMm(rail, rail.stations[0]!);
      const last = positionMm(rail, rail.stations[rail.stations.length - 1]!);
      const x = positionMm(rail, rail.stations[point.station - 1]!);
      // A circle of curvature α·ΔT/h through both ends, µm per K.
      const perUnit = (sign * thermal.expansion * (x - first) * (last - x) * 1000) / (2 * thermal.heightMm);
      return {
        key: `bow\u0000${rail.id}`,
        perUnit,
        of: `bow of rail ${rail.id}`,
        u: thermal.u,
        correctedUm: perUnit * thermal.topWarmerByK,
      };
    },
  }),
});

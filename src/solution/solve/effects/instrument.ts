/** Effects of an instrument: the cone of a swept plane, and the zero error of its level. */
import { effect } from './effect.js';

export const cone = effect({
  name: 'cone',
  source: 'cone',
  unit: 'um/m',
  words: ({ instrument, of }) => `no cone of instrument ${instrument} (${of.slice('cone-'.length)})`,
  joins: false,
  inPhase: () => ({
    offset: ({ reading: { axis }, instrument: { id, coneU }, sign, distanceM }) =>
      coneU === null
        ? null
        : {
            key: `cone-${axis}\u0000${id}`,
            perUnit: sign * distanceM,
            of: `cone-${axis}`,
            instrument: id,
            u: coneU,
          },
  }),
});

/** It is turned with the instrument, so its part in pitch and roll depends on the heading of the set-up. */
export const levelZero = effect({
  name: 'level-zero',
  source: 'level',
  unit: 'um/m',
  joins: false,
  inPhase: () => ({
    level: (of, { headingDeg }, { id, levelZeroU }) => {
      if (levelZeroU === null) return [];
      const turn = (headingDeg * Math.PI) / 180;
      const [pitch, roll] =
        of === 'pitch' ? [Math.cos(turn), -Math.sin(turn)] : [Math.sin(turn), Math.cos(turn)];
      const part = (axis: 'pitch' | 'roll', share: number) => ({
        key: `zero-${axis}\u0000${id}`,
        perUnit: -share,
        of: `zero of ${id}, ${axis}`,
        instrument: id,
        u: levelZeroU,
      });
      return [part('pitch', pitch), part('roll', roll)];
    },
  }),
});

/** Air of uneven temperature bends the light towards the colder side: the level plane down, the running plane sideways. */
import { bendPerGradient, STILL_AIR } from '../refraction.js';
import { effect } from './effect.js';

export const air = effect({
  name: 'air',
  source: 'air',
  unit: 'K/m',
  words: ({ of, setup }) => `the ${of} of set-up ${setup} as stated`,
  inPhase: (job) => {
    /** µm per K/m and m². */
    const bend = bendPerGradient(job);
    return {
      offset: ({ reading: { axis }, setup, instrument, sign, distanceM, rail: own }) => {
        if (axis === 'along') return null;
        const entry =
          setup.air.find(({ rail }) => rail !== null && rail === own?.id) ??
          setup.air.find(({ rail }) => rail === null);
        const way = axis === 'vertical' ? 'vertical' : 'sideways';
        const gradient = entry?.[way] ?? null;
        if (entry === undefined || gradient === null) return null;
        const { rail } = entry;
        const perUnit = sign * bend * distanceM * distanceM;
        return {
          key: `air-${way}\u0000${setup.id}\u0000${rail ?? ''}`,
          perUnit,
          of: `${way} gradient${rail === null ? '' : ` over rail ${rail}`}`,
          setup: setup.id,
          instrument: instrument.id,
          u: gradient.u,
          correctedUm: perUnit * (gradient.value + (way === 'vertical' ? STILL_AIR : 0)),
        };
      },
    };
  },
});

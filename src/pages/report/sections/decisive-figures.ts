/** The machine, and the figures that show a decision. */
import { rulesOf } from '../../../results/rules.js';
import { chartPictures } from './pictures.js';
import { section } from './section.js';

export const figuresSection = section({
  id: 'figures',
  css: 'charts',
  make: ({ results, figures, charts, number }) => {
    const machine = number.pictures(chartPictures(charts, 'plan'));
    const decisive = number.pictures(chartPictures(charts, 'body'));
    if (machine.length + decisive.length === 0) return null;
    return {
      machine,
      charts: decisive,
      intro:
        decisive.length === 0
          ? null
          : figures.say('figures.intro', { guarded: rulesOf(results).has('guarded') ? 'yes' : 'no' }),
    };
  },
});

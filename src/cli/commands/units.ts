import { z } from 'zod';
import { lengthUnits, slopeUnits } from '../../base/units/units.js';
import { command } from '../command.js';

export const unitsCommand = command({
  name: 'units',
  summary: 'List the units that job files and readings may use',
  arguments: [],
  options: z.object({}),
  examples: ['units'],
  async run({ json, console }) {
    console.out(
      json
        ? `${JSON.stringify({ lengthUnits, slopeUnits })}\n`
        : `lengths: ${lengthUnits.join(' ')}\nslopes: ${slopeUnits.join(' ')}\n`,
    );
    return 0;
  },
});

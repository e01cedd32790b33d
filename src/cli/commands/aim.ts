import { z } from 'zod';
import { command, UsageError } from '../command.js';
import { text } from '../options.js';

export const aimCommand = command({
  name: 'aim',
  summary: 'Work out the set point that makes a beam run true to a rail',
  arguments: [],
  options: z.object({
    near: text('LENGTH', 'How far the near place is from the pivot of the instrument, such as 14in.'),
    travel: text('LENGTH', 'Travel from the near place to the far one, such as 96in.'),
    far: text(
      'LENGTH',
      'Reading of the far target with the near one at zero, with its sign, such as 0.012in.',
    ),
  }),
  examples: ['aim --near 14in --travel 96in --far 0.012in'],
  async run({ options: { near, travel, far }, json, console }) {
    if (near === undefined || travel === undefined || far === undefined)
      throw new UsageError('aim needs --near, --travel and --far');
    const { runAim } = await import('../aim.js');
    return runAim({ near, travel, far, json, console });
  },
});

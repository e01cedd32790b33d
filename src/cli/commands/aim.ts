import * as z from 'zod';
import { command, UsageError } from '../command.js';
import { flag, text } from '../options.js';

export const aimCommand = command({
  name: 'aim',
  summary: 'Work out the set point that makes a beam run true to a rail',
  arguments: [],
  options: z.object({
    near: text(
      'LENGTH',
      'How far the near place is from the pivot of the instrument, such as 14in. Negative: the pivot is between the places, or beyond the far one.',
    ),
    travel: text('LENGTH', 'Travel from the near place to the far one, such as 96in.'),
    far: text('LENGTH', 'Reading of the far target, with its sign, such as 0.012in.'),
    'near-reads': text(
      'LENGTH',
      'Reading of the near target at the same time. Default: it was brought to zero.',
    ),
    'far-sideways': text('LENGTH', 'The far reading in the other plane, to set both at once.'),
    'near-reads-sideways': text('LENGTH', 'The near reading in the other plane. Default: zero.'),
    'then-near': text('LENGTH', 'After a round: what the near target reads now.'),
    'then-far': text('LENGTH', 'After a round: what the far target reads now. Both show where the pivot is.'),
    'first-near': text(
      'LENGTH',
      'Direction carried over by two monuments: what the near one read from the first set-up.',
    ),
    'first-far': text('LENGTH', 'What the far monument read from the first set-up.'),
    level: text(
      'READING',
      'A level, or a target, that is turned end for end: what it reads, such as 0.06mm/m.',
    ),
    turned: text('READING', 'What it reads when it is turned. No place is asked for then.'),
    u: text('LENGTH', 'Standard uncertainty of one reading, for that of the set point.'),
    sure: flag('Work it out although a length is unusual.'),
  }),
  examples: [
    'aim --near 14in --travel 96in --far 0.012in',
    'aim --near 350mm --travel 2400mm --far 0.31mm --near-reads 0.05mm --u 0.005mm',
    'aim --near -1200mm --travel 5000mm --near-reads 0.4mm --far 1.1mm --first-near 0.2mm --first-far 0.5mm',
    'aim --level 0.06mm/m --turned -0.02mm/m',
  ],
  async run({ options: { near, travel, far, ...rest }, json, console }) {
    const places = { near, travel, far };
    const isTurned = rest.level !== undefined || rest.turned !== undefined;
    if (!isTurned && (near === undefined || travel === undefined || far === undefined))
      throw new UsageError('aim needs --near, --travel and --far, or --level and --turned');
    if (isTurned && Object.values(places).some((place) => place !== undefined))
      throw new UsageError('--level and --turned need no --near, --travel or --far');
    const { runAim } = await import('../aim.js');
    return runAim({ ...places, ...rest, json, console });
  },
});

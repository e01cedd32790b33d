import * as z from 'zod';
import { command, type Command } from '../command.js';

/** @param all Gives the list of commands, this one included. */
export const completionCommand = (all: () => readonly Command[]): Command =>
  command({
    name: 'completion',
    summary: 'Print a script that completes commands and options in bash or zsh',
    arguments: [{ name: 'SHELL', what: 'shell: bash or zsh' }],
    options: z.object({}),
    examples: ['completion bash >> ~/.bashrc'],
    async run({ arguments: [shell], console }) {
      const { completionScript } = await import('../completion.js');
      console.out(completionScript(shell!, all()));
      return 0;
    },
  });

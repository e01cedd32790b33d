/** All commands, in the order in which the help lists them. To add one: its file, and its line here. */
import type { Command } from './command.js';
import { aimCommand } from './commands/aim.js';
import { auditCommand } from './commands/audit.js';
import { batchCommand } from './commands/batch.js';
import { checkCommand } from './commands/check.js';
import { completionCommand } from './commands/completion.js';
import { followCommand } from './commands/follow.js';
import { formCommand } from './commands/form.js';
import { issueCommand } from './commands/issue.js';
import { mergeCommand } from './commands/merge.js';
import { newCommand } from './commands/new.js';
import { planCommand } from './commands/plan.js';
import { reportCommand } from './commands/report.js';
import { traceCommand } from './commands/trace.js';
import { watchCommand } from './commands/watch.js';

export const commands: readonly Command[] = [
  reportCommand,
  checkCommand,
  newCommand,
  formCommand,
  planCommand,
  followCommand,
  batchCommand,
  mergeCommand,
  watchCommand,
  issueCommand,
  auditCommand,
  traceCommand,
  aimCommand,
  completionCommand(() => commands),
];

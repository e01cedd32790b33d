/** How the program was called, so that what it says to type next can be typed. */
import { basename, relative } from 'node:path';

/**
 * @param argv As the process has it. @param env npm says there that it runs the program for someone.
 * @returns `waysheet`, `npx waysheet`, or `node dist/cli.js`.
 */
export function calledAs(
  argv: readonly string[] = process.argv,
  env: NodeJS.ProcessEnv = process.env,
  cwd = process.cwd(),
): string {
  const script = argv[1];
  if (script === undefined) return 'waysheet';
  if (env['npm_command'] === 'exec') return 'npx waysheet';
  if (!basename(script).endsWith('.js')) return 'waysheet';
  const near = relative(cwd, script);
  return `node ${near.startsWith('..') ? script : near}`;
}

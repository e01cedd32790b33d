/** The commands as they are described: each description is complete, and everything is made from it. */
import fc from 'fast-check';
import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { command, helpOf, optionsOf, UsageError, usageOf, type Call } from '../../src/cli/command.js';
import { commands } from '../../src/cli/commands.js';
import { completionScript } from '../../src/cli/completion.js';
import { jsonSchemas } from '../../src/pages/schemas/json-schemas.js';
import { columnNames, columns } from '../../src/survey/job/columns.js';
import { questions } from '../../src/cli/new/questions.js';
import { day, flag, neededText, textOr, whole } from '../../src/cli/options.js';
import { root, temporary } from '../support/folders.js';

const silent = { out: () => undefined, err: () => undefined } as unknown as Parameters<
  (typeof commands)[number]['call']
>[1];

describe('a described command', () => {
  const called: Call<{ out: string; limit: number; once: boolean; on?: string | undefined; by: string }>[] =
    [];
  const example = command({
    name: 'example',
    summary: 'Show how a command is read',
    arguments: [{ name: 'JOB', what: 'job folder', repeats: true }],
    options: z.object({
      by: neededText('NAME', 'Who calls.'),
      out: textOr('out', 'DIR', 'Where to.'),
      limit: whole('a number of seconds', 60, 'SECONDS', 'How long.').default(5),
      on: day('Which day.').optional(),
      once: flag('One time only.'),
    }),
    examples: ['example a --by b'],
    run: (call) => {
      called.push(call);
      return Promise.resolve(0);
    },
  });
  const refused = (...words: string[]) =>
    example.call(words, silent).then(
      () => 'accepted',
      (error: unknown) => {
        expect(error).toBeInstanceOf(UsageError);
        return (error as Error).message;
      },
    );

  test('options reach it with their types and defaults, and --json by itself', async () => {
    await example.call(['a', '--by', 'N. N.', 'b', '--limit', '7', '--json'], silent);
    expect(called.pop()).toMatchObject({
      arguments: ['a', 'b'],
      options: { by: 'N. N.', out: 'out', limit: 7, once: false },
      json: true,
    });
  });

  test.each([
    [['--by', 'b'], /^name at least one job folder$/],
    [['a'], /^--by is needed$/],
    [['a', '--by', ' '], /^--by must not be empty$/],
    [['a', '--by', 'b', '--limit', '61'], /^--limit takes a number of seconds from 1 to 60, not '61'$/],
    [['a', '--by', 'b', '--on', '2026-02-30'], /^--on takes a day such as 2026-03-16, not '2026-02-30'$/],
    [['a', '--by', 'b', '--nothing'], /nothing/],
  ])('%j is refused with what was expected', async (words, message) => {
    expect(await refused(...words)).toMatch(message);
  });

  test('all wrong options are named at once', async () => {
    expect((await refused('a', '--limit', 'x', '--on', 'y')).split('\n')).toHaveLength(3);
  });

  test('any words either reach the command or are refused as wrong usage', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(fc.string()), (words) => refused(...words).then(() => true)),
      { numRuns: 300 },
    );
  });
});

describe.each(commands.map((of) => [of.name, of] as const))('%s', (name, of) => {
  test('its help page has its usage, every option with its text, and an example that begins with it', () => {
    const page = helpOf(of);
    expect(page.split('\n')[0]).toBe(usageOf(of));
    for (const { name: option, text } of optionsOf(of)) {
      expect(text, `--${option}`).not.toBe('');
      expect(page).toContain(`--${option}`);
      expect(page.replace(/\s+/g, ' ')).toContain(text.replace(/\s+/g, ' '));
    }
    for (const example of of.examples) expect(example.split(' ')[0]).toBe(name);
  });

  test('the README has its usage line and its summary', () => {
    const readme = readFileSync(join(root, 'README.md'), 'utf8');
    expect(readme).toContain(`| \`${usageOf(of).replace('waysheet ', '')}\` | ${of.summary} |`);
  });
});

test('the help of check lists every column of readings files with its meaning, and the JSON Schema describes it', () => {
  const page = helpOf(commands.find(({ name }) => name === 'check')!).replace(/\s+/g, ' ');
  const schema = jsonSchemas().get('job.schema.json')!;
  for (const name of columnNames) {
    expect(page).toContain(` ${name} ${columns[name].meaning}`);
    expect(schema).toContain(JSON.stringify(columns[name].meaning));
  }
});

test('every question of new is an option of it', () => {
  const names = optionsOf(commands.find(({ name }) => name === 'new')!).map(({ name }) => name);
  expect(names).toEqual([...questions.map(({ flag: name }) => name), 'yes', 'no-pdf']);
});

test('bash completes commands and the options of each', async () => {
  const script = join(await temporary(), 'completion.sh');
  writeFileSync(script, completionScript('bash', commands));
  const complete = (...words: string[]) =>
    execFileSync(
      'bash',
      [
        '-c',
        `source "$0"; COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _waysheet; echo "\${COMPREPLY[*]}"`,
        script,
        ...words,
      ],
      { encoding: 'utf8' },
    ).trim();
  expect(complete('waysheet', 're')).toBe('report');
  expect(complete('waysheet', 'report', '--no')).toBe('--no-pdf');
});

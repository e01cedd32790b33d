/** The register's files, each written whole. A part of an archive leaves its own register, for `merge`. */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Shard } from '../batch/shard.js';
import { writeFileWhole } from '../write-whole.js';
import type { Printer } from '../../report/pdf.js';
import { registerCsv } from './register-csv.js';
import { registerHtml } from './register-html.js';
import type { Register } from './register.js';

export const shardRegisterName = ({ index, of }: Shard): string => `register-${index}-of-${of}.json`;

export const registerNames = (shard: Shard | null): string[] =>
  shard === null
    ? ['register.json', 'register.csv', 'register.html', 'register.pdf']
    : [shardRegisterName(shard)];

/** @param printer Opens what prints register.pdf; null: it is not printed. */
export async function writeRegister(
  out: string,
  register: Register,
  shard: Shard | null,
  printer: (() => Promise<Printer>) | null,
): Promise<void> {
  const write = (name: string, text: string) => writeFileWhole(out, name, Buffer.from(text));
  const json = `${JSON.stringify(register, null, 2)}\n`;
  if (shard !== null) return write(shardRegisterName(shard), json);
  const html = registerHtml(register);
  // A list that is the same needs no new print.
  const isPrinted = (await readFile(join(out, 'register.html'), 'utf8').catch(() => '')) === html;
  const hasPdf = await readFile(join(out, 'register.pdf'))
    .then(() => true)
    .catch(() => false);
  await write('register.json', json);
  await write('register.csv', registerCsv(register));
  if (printer !== null && !(isPrinted && hasPdf)) {
    const opened = await printer();
    const print = { html, title: 'Register of rail alignment reports', createdOn: latestDay(register) };
    await writeFileWhole(
      out,
      'register.pdf',
      await opened.print({ ...print, paper: 'A4', timeoutMs: 300_000 }),
    );
  }
  // Last: what stands beside it is then of the same run.
  await write('register.html', html);
}

/** The register's date is that of its latest job, so that the same archive gives the same bytes. */
function latestDay({ jobs }: Register): string {
  const days = jobs.flatMap((r) =>
    r.status === 'reported' ? [r.prepared ?? r.surveyed ?? r.readingsTaken.to ?? ''] : [],
  );
  const isDay = (day: string) => !Number.isNaN(Date.parse(day));
  return days.filter(isDay).sort().at(-1) ?? '2000-01-01';
}

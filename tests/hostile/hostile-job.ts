/** A good job whose every free text is an attack. */
import { join } from 'node:path';
import { readFile, writeFile } from 'node:fs/promises';
import { changeJob, changeRows, copyOf } from '../support/folders.js';

/** Key paths of job.json whose value is free text; ids and dates have a form of their own. */
/* eslint-disable @typescript-eslint/no-explicit-any -- job files are changed at will */
export function fillTexts(job: any, text: (where: string) => string): void {
  job.title = text('title');
  job.issuer = text('issuer');
  job.customer = text('customer');
  job.site = text('site');
  job.machine = { name: text('machine.name'), serial: text('machine.serial') };
  job.surveyed = { ...job.surveyed, by: text('surveyed.by') };
  job.prepared = { ...job.prepared, by: text('prepared.by') };
  job.conditions = { ...job.conditions, note: text('conditions.note') };
  for (const rail of job.rails) rail.name = text(`rail ${rail.id}`);
  for (const instrument of job.instruments) {
    instrument.description = text('description');
    instrument.serial = text('serial');
    instrument.certificate = text('certificate');
  }
  for (const setup of job.setups) setup.note = text(`set-up ${setup.id}`);
}

/** TH-2031 with the text of `text` everywhere, also in notes of rows, used and left out, and in its tolerance set. */
export async function hostileJob(text: (where: string) => string): Promise<string> {
  const folder = await copyOf('TH-2031');
  await changeJob(folder, (job) => fillTexts(job, text));
  const quoted = (where: string) => `"${text(where).replaceAll('"', '""')}"`;
  await changeRows(folder, 'readings/as-left.csv', (header, rows) =>
    rows.map((cells, i) => {
      const changed = [...cells];
      changed[header.indexOf('note')] = quoted(`note ${i}`);
      // Rows that are left out are listed with their notes.
      if (i % 23 === 5) changed[header.indexOf('use')] = 'no';
      return changed;
    }),
  );
  const path = join(folder, 'tolerances/bed-rails.json');
  const set = JSON.parse(await readFile(path, 'utf8')) as Record<string, unknown>;
  await writeFile(path, JSON.stringify({ ...set, name: text('set name'), source: text('set source') }));
  return folder;
}

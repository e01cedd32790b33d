/** Writes changes.json, .csv, .html and .pdf next to the register, each whole or not at all. */
import type { Printer } from '../../pages/report/pdf.js';
import { wordsOf } from '../../pages/words/languages.js';
import { writeFileWhole } from '../write-whole.js';
import { changesCsv } from './changes-csv.js';
import { changesHtml } from './changes-html.js';
import type { Changes } from './changes-schema.js';
import { changesView } from './changes-view.js';

/**
 * @param day Day of the latest report. It is the PDF's date, so that the same reports give the same bytes.
 * @param printer Opens the printer for changes.pdf; null: it is not printed.
 */
export async function writeChanges(
  out: string,
  changes: Changes,
  day: string,
  printer: (() => Promise<Printer>) | null,
): Promise<void> {
  const write = (name: string, text: string) => writeFileWhole(out, name, Buffer.from(text));
  const html = changesHtml(changes);
  await write('changes.json', `${JSON.stringify(changes, null, 2)}\n`);
  await write('changes.csv', changesCsv(changes));
  if (printer !== null) {
    const opened = await printer();
    const { paper } = changesView(changes);
    const job = {
      html,
      title: wordsOf(changes.language ?? 'en').say('changes.title'),
      createdOn: day,
      paper,
    };
    await writeFileWhole(out, 'changes.pdf', await opened.print({ ...job, timeoutMs: 300_000 }));
  }
  await write('changes.html', html);
}

/**
 * `waysheet check JOB --fix`: each change of job.json that would end a finding is shown and asked about, and so is whether
 * what must be confirmed is right as it is. Readings are never changed.
 */
import { constants } from 'node:fs';
import { copyFile, readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { structuredPatch } from 'diff';
import { writeFileWhole } from '../archive/write-whole.js';
import { type JobFix, applyFix } from '../solution/causes/fix.js';
import type { Diagnostic } from '../base/diagnostics/diagnostic.js';
import { countWords, formatScreen } from '../base/diagnostics/format.js';
import { visible } from '../base/diagnostics/messages.js';
import { decodeText } from '../base/input/decode.js';
import { inspectJob, type Inspection } from '../solution/intake/load-job.js';
import { confirmationOf, keyOfFinding, offersOf, tryFix, type Offer } from '../solution/intake/offers.js';
import { JOB_FILE } from '../survey/job/job-paths.js';
import { calledAs } from './called-as.js';
import { askOnTerminal, QuestionsEnded, type Asking, type Terminal } from './new/ask-on-terminal.js';

interface Out {
  write(text: string): unknown;
}

/** A change of job.json that was tried and works, and the text with it. */
interface Change {
  readonly fix: JobFix;
  readonly changed: string;
}

/** Lines of findings that are shown with a question. */
const MOST_LINES = 14;
/** Unchanged lines that are shown round a change. */
const CONTEXT = 2;

/**
 * Asks about one finding after the other until none is left that something can be done about. What was applied stays
 * when the questions are ended early.
 *
 * @returns How many changes were written.
 * @throws {Error} job.json cannot be written, or somebody else changed it meanwhile.
 */
export async function fixJob(folder: string, terminal: Terminal, out: Out): Promise<number> {
  const asking = askOnTerminal(
    terminal,
    'y and Enter is yes; Enter alone is no. Ctrl-C ends; what was applied stays.',
  );
  const session = new FixSession(folder, asking, out);
  try {
    await session.run();
  } catch (error) {
    if (!(error instanceof QuestionsEnded)) throw error;
    out.write('\nstopped\n');
  } finally {
    asking.close();
  }
  return session.written;
}

class FixSession {
  written = 0;
  /** Findings, and changes for them, that were answered. */
  private readonly answered = new Set<string>();
  /** Who confirmed last: offered as the answer for the next. */
  private name = '';

  constructor(
    private readonly folder: string,
    private readonly asking: Asking,
    private readonly out: Out,
  ) {}

  async run(): Promise<void> {
    for (;;) {
      const text = await readJobText(this.folder);
      if (text === null)
        return this.out.write('job.json cannot be read, so nothing in it can be changed.\n') as void;
      const inspection = await inspectJob(this.folder, null, { jobText: text });
      if (!(await this.settleFirst(inspection, text))) return this.end(inspection);
    }
  }

  /** Asks until one change is made. @returns false: nothing that was not answered is left. */
  private async settleFirst(inspection: Inspection, text: string): Promise<boolean> {
    for (const offer of await offersOf(this.folder, inspection, text)) {
      const changes: Change[] = [];
      for (const fix of offer.fixes) {
        const changed = await tryFix(
          { folder: this.folder, text, before: inspection },
          fix,
          keyOfFinding(offer.findings[0]!),
        );
        if (changed !== null) changes.push({ fix, changed });
      }
      // After one change another may be possible that was not before: it is asked about, too.
      const keys = [offer.key, ...changes.map(({ fix }) => `${offer.key} ${fix.text}`)];
      if (keys.every((key) => this.answered.has(key))) continue;
      for (const key of keys) this.answered.add(key);
      if (await this.settle(offer, changes, text)) return true;
    }
    return false;
  }

  private end({ diagnostics, loaded }: Inspection): void {
    const open = diagnostics.filter(({ severity }) => severity !== 'warning');
    const words =
      loaded !== null
        ? 'Nothing is left that keeps the job from being reported.'
        : `Left: ${countWords(open)}. Correct it in the files${open.some(({ severity }) => severity === 'confirm') ? ', or confirm here what is right as it is' : ''}.`;
    this.out.write(`\n${words}\n`);
  }

  /** @returns true: job.json was changed. */
  private async settle(
    { findings, open, canBeConfirmed }: Offer,
    changes: readonly Change[],
    text: string,
  ): Promise<boolean> {
    this.show(findings);
    if (changes.length > 1) {
      const list = changes.map(({ fix }, k) => `  ${k + 1}. ${visible(fix.text)}\n`).join('');
      this.out.write(
        `${changes.length} changes would end it, and the readings do not tell which is right. Apply one only if you know:\n${list}`,
      );
    }
    for (const { fix, changed } of changes) {
      this.out.write(`\n${visible(fix.text)}\n${diffOf(text, changed)}`);
      if (await this.isYes('Apply this? [y/N]')) return this.save(text, changed);
    }
    if (open.length > 0)
      this.out.write(`Nothing can be proposed before this is known: ${visible(open.join('; '))}.\n`);
    return canBeConfirmed && (await this.confirm(findings[0]!, text));
  }

  private async confirm(finding: Diagnostic, text: string): Promise<boolean> {
    if (!(await this.isYes('Is it right as it is? [y/N]'))) return false;
    const usual = this.name === '' ? '' : ` [${this.name}]`;
    const by = (await this.asking.line(`Who confirms it${usual}: `)).trim() || this.name;
    const because = (await this.asking.line('Why is it right: ')).trim();
    if (by === '' || because === '') {
      this.out.write('Not confirmed: a name and a reason are needed.\n');
      return false;
    }
    this.name = by;
    const changed = applyFix(text, confirmationOf(finding, by, because, text));
    this.out.write(`\n${diffOf(text, changed)}`);
    return (await this.isYes('Apply this? [y/N]')) && this.save(text, changed);
  }

  private show(findings: readonly Diagnostic[]): void {
    const lines = formatScreen(findings, {
      lines: MOST_LINES,
      width: Infinity,
      rest: `${calledAs()} check ${visible(this.folder)} --all shows them`,
    });
    this.out.write(`\n${lines.join('\n')}\n`);
  }

  private async isYes(question: string): Promise<boolean> {
    return /^y(?:es)?$/i.test((await this.asking.line(`${question} `)).trim());
  }

  private async save(before: string, after: string): Promise<true> {
    const kept = await replaceJob(this.folder, before, after);
    this.written++;
    this.out.write(`job.json is changed; the file as it was is ${kept}.\n`);
    return true;
  }
}

/** The text of a folder's job.json; null where it cannot be read. */
export const readJobText = async (folder: string): Promise<string | null> =>
  textOf(await readFile(join(folder, JOB_FILE)).catch(() => null));

function textOf(bytes: Uint8Array | null): string | null {
  const decoded = bytes === null ? null : decodeText(bytes, JOB_FILE);
  return decoded?.ok === true ? decoded.value.text : null;
}

/**
 * Writes job.json anew and keeps the earlier one next to it, under the first free name of job.json.1, job.json.2 and so on.
 *
 * @param before The text that the change was made from.
 * @returns The name that the earlier file has now.
 * @throws {Error} job.json is not `before` any more, or the disk refuses; job.json is then as it was.
 */
export async function replaceJob(folder: string, before: string, after: string): Promise<string> {
  const kept = await copyToFreeName(folder);
  if (textOf(await readFile(join(folder, kept))) !== before) {
    await rm(join(folder, kept));
    throw new Error('job.json was changed by someone else meanwhile; nothing was written');
  }
  await writeFileWhole(folder, JOB_FILE, new TextEncoder().encode(after));
  return kept;
}

async function copyToFreeName(folder: string): Promise<string> {
  for (let k = 1; ; k++) {
    const name = `${JOB_FILE}.${k}`;
    try {
      await copyFile(join(folder, JOB_FILE), join(folder, name), constants.COPYFILE_EXCL);
      return name;
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
    }
  }
}

/** What changes, line by line: `-` as it is, `+` as it will be. */
export function diffOf(before: string, after: string): string {
  const { hunks } = structuredPatch(JOB_FILE, JOB_FILE, before, after, '', '', { context: CONTEXT });
  const lines = hunks.flatMap(({ oldStart, lines }) => [
    `  job.json, line ${oldStart}:`,
    ...lines.map((l) => `  ${l}`),
  ]);
  return `${lines
    .filter((line) => !line.includes('\\ No newline'))
    .map(visible)
    .join('\n')}\n`;
}

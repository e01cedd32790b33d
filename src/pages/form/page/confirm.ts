/** What must be confirmed, with a tick for each: who says that it is right as it is, and why. */
import type { Asked } from '../asked.js';
import { h } from './dom.js';
import type { JobDocument, Json } from './document.js';

type Entry = { [key: string]: Json };

/** @returns null: there is nothing to confirm. */
export function confirmPanel(job: JobDocument, asked: readonly Asked[]): HTMLElement | null {
  if (asked.length === 0) return null;
  return h(
    'section',
    { class: 'part', id: 'to-be-confirmed' },
    h('h2', {}, 'To be confirmed'),
    h(
      'p',
      {},
      'These are probably mistakes: correct them in the readings or in job.json. Tick one only if it is right as it is, and say who confirms it and why. The report prints both.',
    ),
    ...asked.map((one, k) => question(job, one, k)),
  );
}

function question(job: JobDocument, { code, file, messages }: Asked, k: number): HTMLElement {
  const known = entriesOf(job).find((entry) => isOf(entry, code, file));
  const field = (name: string, label: string, key: 'by' | 'because') => {
    const input = h('input', {
      id: `confirm.${k}.${name}`,
      value: String(known?.[key] ?? ''),
      change: () => write(),
    });
    return { input, row: h('div', { class: 'field' }, h('label', { for: input.id }, label), input) };
  };
  const by = field('by', 'Who confirms it', 'by');
  const because = field('because', 'Why it is right', 'because');
  const more = h('div', { hidden: known === undefined }, by.row, because.row);
  const tick = h('input', {
    type: 'checkbox',
    id: `confirm.${k}`,
    checked: known !== undefined,
    change: () => {
      more.hidden = !tick.checked;
      write();
      if (tick.checked) by.input.focus();
    },
  });
  const write = (): void => {
    const others = entriesOf(job).filter((entry) => !isOf(entry, code, file));
    const entry: Entry = {
      what: code,
      ...(file !== null && { in: file }),
      by: by.input.value.trim(),
      because: because.input.value.trim(),
    };
    const all = tick.checked ? [...others, entry] : others;
    job.set(['confirmed'], all.length === 0 ? undefined : all);
  };
  return h(
    'fieldset',
    { class: 'confirm' },
    h('legend', {}, file ?? 'The job as a whole'),
    ...messages.map((text) => h('p', {}, text)),
    h('p', { class: 'tick' }, tick, ' ', h('label', { for: tick.id }, 'It is right as it is.')),
    more,
  );
}

const entriesOf = (job: JobDocument): Entry[] => {
  const list = job.at(['confirmed']);
  return Array.isArray(list)
    ? list.filter((e): e is Entry => typeof e === 'object' && e !== null && !Array.isArray(e))
    : [];
};

/** An entry without a file confirms the code in all files, and is not this one. */
const isOf = (entry: Entry, code: string, file: string | null): boolean =>
  entry['what'] === code && (entry['in'] ?? null) === file;

/** A readings file that was dropped into the page: its first rows, what each column is, and what it reads as. */
import { Findings } from '../../../base/diagnostics/diagnostic.js';
import { describe } from '../../../base/diagnostics/messages.js';
import type { FileEntry } from '../../../survey/job/resolve-readings-files.js';
import type { Frame } from '../../../survey/job/resolve-job.js';
import { columnsOf, isReading, normalHeader } from '../../../survey/job/columns.js';
import { decodeText } from '../../../base/input/decode.js';
import { findHeader } from '../../../survey/readings/find-header.js';
import { parseReadings } from '../../../survey/readings/parse-readings.js';
import { recordsOf, unifyLineEnds, type CsvRecord } from '../../../survey/readings/records.js';
import type { Sink } from '../../../survey/readings/sink.js';
import { suggestMapping, type MappingSuggestion } from '../../../survey/readings/suggest/suggest-mapping.js';
import { h } from './dom.js';
import type { JobDocument, Json } from './document.js';

/** Rows shown; enough to see what is what. */
const SHOWN = 8;
/** Problems shown. */
const MOST_SHOWN = 6;
/** What a reading column may belong to. */
const SAID = ['setup', 'rail', 'target', 'pass', 'axis'] as const;
type Said = (typeof SAID)[number];

/** What a person said of a column: one of ours, with what holds for it alone; or that it is left out. */
interface Meaning {
  readonly name: string;
  readonly values: Partial<Record<Said, string>>;
}
const LEFT_OUT = 'left out';
const OWN_NAME = '';

export interface SheetOptions {
  readonly document: JobDocument;
  /** Which entry of `readings`. */
  readonly index: number;
  readonly frame: () => Frame | null;
  /** The entry's fields are to show what was set. */
  readonly refresh: () => void;
}

export function sheetPanel(options: SheetOptions): HTMLElement {
  const { document, index } = options;
  const shown = h('div', { class: 'sheet' });
  const input = h('input', {
    type: 'file',
    accept: '.csv,.txt,.tsv,text/csv',
    id: `sheet.${index}`,
    change: () => {
      const [file] = input.files ?? [];
      if (file !== undefined) void take(file);
    },
  });
  const take = async (file: File): Promise<void> => {
    if (
      document.at(['readings', index, 'file']) === undefined ||
      document.at(['readings', index, 'file']) === ''
    )
      document.set(['readings', index, 'file'], `readings/${file.name}`);
    const bytes = new Uint8Array(await file.arrayBuffer());
    new Sheet(bytes, shown, options).show();
    options.refresh();
  };
  const box = h(
    'div',
    {
      class: 'drop',
      dragover: (event) => event.preventDefault(),
      drop: (event) => {
        event.preventDefault();
        const [file] = (event as DragEvent).dataTransfer?.files ?? [];
        if (file !== undefined) void take(file);
      },
    },
    h(
      'label',
      { for: input.id },
      'Drop the readings file here, or choose it, to see how it is read. It stays on this computer.',
    ),
    input,
    shown,
  );
  return box;
}

class Sheet {
  private readonly text: string;
  private readonly meanings = new Map<number, Meaning>();
  private chosen: number | null = null;

  constructor(
    private readonly bytes: Uint8Array,
    private readonly place: HTMLElement,
    private readonly options: SheetOptions,
  ) {
    const decoded = decodeText(bytes, 'the file');
    this.text = decoded.ok ? unifyLineEnds(decoded.value.text) : '';
  }

  private entry(frame: Frame): FileEntry | null {
    return frame.files.find(({ at }) => at.column?.startsWith(`readings[${this.options.index}]`)) ?? null;
  }

  show(): void {
    const frame = this.options.frame();
    const entry = frame === null ? null : this.entry(frame);
    if (frame === null || entry === null) {
      this.place.replaceChildren(
        h('p', {}, 'The units of the job, and the phase of this file, are needed before it can be read.'),
      );
      return;
    }
    const suggestion = suggestMapping(this.bytes, entry, frame);
    const found = findHeader(this.text, entry, new Findings());
    const line = found?.line ?? suggestion?.row ?? 1;
    const delimiter = found?.delimiter ?? likelyDelimiter(this.text);
    const records: CsvRecord[] = [];
    for (const record of recordsOf(
      this.text.slice(0, 200_000),
      delimiter,
      { offset: 0, line: 1 },
      () => undefined,
    )) {
      if (record.line >= line) records.push(record);
      if (records.length > SHOWN) break;
    }
    const header = records[0]?.cells.map((cell) => cell.trim()) ?? [];
    this.place.replaceChildren(
      this.table(header, records.slice(1), entry),
      ...this.panel(header, entry),
      ...this.verdict(entry, frame, suggestion),
    );
  }

  private table(header: readonly string[], rows: readonly CsvRecord[], entry: FileEntry): HTMLElement {
    const head = h('tr', {});
    header.forEach((text, i) => {
      const meaning = this.meaningOf(header, i, entry);
      head.append(
        h(
          'th',
          { scope: 'col' },
          h(
            'button',
            {
              type: 'button',
              id: `column.${this.options.index}.${i}`,
              'aria-pressed': String(this.chosen === i),
              click: () => {
                this.chosen = i;
                this.show();
                window.document.getElementById(`meaning.${this.options.index}`)?.focus();
              },
            },
            text === '' ? `column ${i + 1}` : text,
          ),
          h('small', {}, meaningWords(meaning)),
        ),
      );
    });
    return h(
      'div',
      { class: 'scroll', tabindex: 0, role: 'region', 'aria-label': 'First rows of the file' },
      h(
        'table',
        {},
        h('caption', {}, 'Its first rows. A click on a head says what the column is.'),
        h('thead', {}, head),
        h(
          'tbody',
          {},
          ...rows.map(({ cells }) =>
            h('tr', {}, ...header.map((_, i) => h('td', {}, (cells[i] ?? '').trim()))),
          ),
        ),
      ),
    );
  }

  /** What the job file says of a column now. */
  private meaningOf(header: readonly string[], i: number, { mapping }: FileEntry): Meaning {
    const own = this.meanings.get(i);
    if (own !== undefined) return own;
    const text = normalHeader(header[i]!);
    const nth = header.slice(0, i + 1).filter((h2) => normalHeader(h2) === text).length;
    for (const { columns, values } of mapping?.rows ?? [])
      for (const [name, column] of columns)
        if (normalHeader(column.header) === text && (column.nth ?? 1) === nth)
          return {
            name,
            values: isReading(name)
              ? Object.fromEntries(
                  SAID.flatMap((key) => (values.has(key) ? [[key, values.get(key)!.text]] : [])),
                )
              : {},
          };
    if (mapping?.ignore.some((ignored) => normalHeader(ignored) === text) === true)
      return { name: LEFT_OUT, values: {} };
    return { name: OWN_NAME, values: {} };
  }

  private panel(header: readonly string[], entry: FileEntry): HTMLElement[] {
    const i = this.chosen;
    if (i === null || i >= header.length) return [];
    const meaning = this.meaningOf(header, i, entry);
    const select = h('select', {
      id: `meaning.${this.options.index}`,
      change: () => this.say(header, entry, i, { name: select.value, values: meaning.values }),
    });
    for (const name of [OWN_NAME, ...columnsOf[entry.kind], 'date', LEFT_OUT])
      select.append(
        h(
          'option',
          { value: name, selected: name === meaning.name },
          name === OWN_NAME ? 'what its head says' : name,
        ),
      );
    const fields = isReading(meaning.name)
      ? SAID.map((key) => {
          const id = `said.${this.options.index}.${key}`;
          const input = h('input', {
            id,
            list: `ids.${key}s`,
            value: meaning.values[key] ?? '',
            change: () =>
              this.say(header, entry, i, {
                name: meaning.name,
                values: { ...meaning.values, [key]: input.value.trim() },
              }),
          });
          return h(
            'div',
            { class: 'field' },
            h('label', { for: id }, `its ${key}, where no column says it`),
            input,
          );
        })
      : [];
    return [
      h(
        'fieldset',
        { class: 'column' },
        h('legend', {}, `Column ${header[i] === '' ? i + 1 : header[i]!}`),
        h('div', { class: 'field' }, h('label', { for: select.id }, 'is'), select),
        ...fields,
      ),
    ];
  }

  private say(header: readonly string[], entry: FileEntry, i: number, meaning: Meaning): void {
    // All columns are said anew from what is known of each, so that the entry is as if written at one go.
    header.forEach((_, k) => this.meanings.set(k, this.meaningOf(header, k, entry)));
    this.meanings.set(i, meaning);
    writeMapping(header, this.meanings, this.options);
    this.options.refresh();
    this.show();
  }

  private verdict(entry: FileEntry, frame: Frame, suggestion: MappingSuggestion | null): HTMLElement[] {
    const findings = new Findings();
    const sink: Sink = { readings: [], excluded: [], checks: [], setupsSeen: new Set() };
    const table = parseReadings(this.bytes, entry, frame, sink, findings);
    const errors = findings.list.filter(({ severity }) => severity !== 'warning');
    const read =
      table === null ? 'It cannot be read yet' : `${sink.readings.length} readings are read (${table.read})`;
    const parts: HTMLElement[] = [
      h(
        'p',
        { id: `read.${this.options.index}`, role: 'status' },
        `${read}${errors.length === 0 ? '.' : `; ${errors.length} problem${errors.length === 1 ? '' : 's'}:`}`,
      ),
    ];
    if (errors.length > 0)
      parts.push(
        h(
          'ul',
          {},
          ...errors
            .slice(0, MOST_SHOWN)
            .map((d) => h('li', {}, `${d.at?.row === undefined ? '' : `line ${d.at.row}: `}${describe(d)}`)),
        ),
      );
    if (suggestion !== null && errors.length > 0)
      parts.push(
        h(
          'button',
          {
            type: 'button',
            id: `propose.${this.options.index}`,
            click: () => {
              this.meanings.clear();
              const { document, index } = this.options;
              for (const key of ['columns', 'values', 'rows', 'ignore', 'ignoreRows', 'dates'])
                document.set(['readings', index, key], suggestion.entry[key] as Json | undefined);
              this.options.refresh();
              this.show();
            },
          },
          'Fill in what the heads tell',
        ),
      );
    if (suggestion !== null && suggestion.open.length > 0)
      parts.push(h('p', {}, `Still to be said: ${suggestion.open.join('; ')}.`));
    return parts;
  }
}

const meaningWords = ({ name, values }: Meaning): string =>
  [name, ...Object.entries(values).flatMap(([key, value]) => (value === '' ? [] : [`${key} ${value}`]))]
    .filter((t) => t !== '')
    .join(', ');

const likelyDelimiter = (text: string): string => {
  const top = text.slice(0, 10_000);
  const count = (mark: string) => top.split(mark).length;
  return [',', ';', '\t'].reduce((best, mark) => (count(mark) > count(best) ? mark : best));
};

/** The entry's `columns`, `rows` and `ignore`: readings that differ in what they belong to are rows of their own. */
function writeMapping(
  header: readonly string[],
  meanings: ReadonlyMap<number, Meaning>,
  { document, index }: SheetOptions,
): void {
  const columns: Record<string, Json> = {};
  const groups = new Map<string, { columns: Record<string, Json>; values: Record<string, Json> }>();
  const ignore: string[] = [];
  const named = (i: number): Json => {
    const same = header.flatMap((text, k) => (normalHeader(text) === normalHeader(header[i]!) ? [k] : []));
    return same.length > 1 ? { column: header[i]!, nth: same.indexOf(i) + 1 } : header[i]!;
  };
  for (const [i, { name, values }] of meanings) {
    if (name === LEFT_OUT) ignore.push(header[i]!);
    else if (name !== OWN_NAME && isReading(name)) {
      const said = Object.fromEntries(Object.entries(values).filter(([, value]) => value !== ''));
      const key = JSON.stringify(said);
      const group = groups.get(key) ?? { columns: {}, values: said };
      group.columns[name] = named(i);
      groups.set(key, group);
    } else if (name !== OWN_NAME) columns[name] = named(i);
  }
  const rows = [...groups.values()];
  const isOne = rows.length === 1 && Object.keys(rows[0]!.values).length === 0;
  if (isOne) Object.assign(columns, rows[0]!.columns);
  const at = (key: string) => ['readings', index, key] as const;
  document.set(at('columns'), Object.keys(columns).length === 0 ? undefined : columns);
  document.set(
    at('rows'),
    isOne || rows.length === 0
      ? undefined
      : rows.map((row) => ({
          columns: row.columns,
          ...(Object.keys(row.values).length > 0 && { values: row.values }),
        })),
  );
  document.set(at('ignore'), ignore.length === 0 ? undefined : [...new Set(ignore)]);
}

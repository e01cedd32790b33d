/** Fields for everything that the schema knows, made from the schema itself. */
import type { KeyPath } from '../../../survey/job/key-path.js';
import { h } from './dom.js';
import type { JobDocument, Json } from './document.js';
import { blank, branchOf, idOf, isObject, oneOf, resolved, words, type Schema } from './schema.js';

/** What a value is called in the list of branches of a union. */
const branchWords = (schema: Schema, path: KeyPath): string => {
  const last = path[path.length - 1];
  if (last === 'limit')
    return schema.type === 'number'
      ? 'a number'
      : schema.properties?.['steps'] === undefined
        ? 'grows with the length'
        : 'a table by length';
  if (last === 'tolerances') return schema.type === 'array' ? 'here' : 'in a file of their own';
  return schema.type === 'object' ? 'with more to be said' : schema.type === 'array' ? 'several' : 'one';
};

export interface FieldsOptions {
  readonly document: JobDocument;
  readonly root: Schema;
  /** What is above the fields of an entry (a picture), by its path; null: nothing. */
  readonly extra: (path: KeyPath) => Node | null;
  /** Tells what was done. */
  readonly say: (text: string) => void;
}

/** The lists of ids that a key names one of; main.ts fills them. */
const IDS: Readonly<Record<string, string>> = {
  ...{ rail: 'rails', against: 'rails', other: 'rails' },
  ...{ instrument: 'instruments', setup: 'setups', target: 'targets', monument: 'monuments' },
};
const offered = (path: KeyPath): Record<string, string> => {
  const list = IDS[String(path[path.length - 1])];
  return list === undefined ? {} : { list: idListOf(list) };
};
export const idLists = [...new Set(Object.values(IDS))];
export const idListOf = (list: string): string => `ids.${list}`;

/** The same element, with all that it is in opened. */
export function opened<E extends Element>(element: E | null): E | null {
  for (let at = element?.closest('details') ?? null; at; at = at.parentElement!.closest('details'))
    at.open = true;
  return element;
}

/** Entries of a list whose fields are all open at most. */
const MOST_OPEN = 1;
/** Values of an entry in its short form at most. */
const MOST_IN_SHORT = 6;

/** "rail A, limit 40, unit um" */
const inShort = (entry: { readonly [key: string]: Json }): string =>
  Object.entries(entry)
    .flatMap(([key, value]) =>
      typeof value === 'object' || key === 'id' ? [] : [`${words(key)} ${String(value)}`],
    )
    .slice(0, MOST_IN_SHORT)
    .join(', ') || 'Its fields';

/** What may be said as well, closed until it is wanted. */
export const folded = (entries: readonly (readonly [name: string, made: HTMLElement])[]): HTMLElement =>
  h(
    'details',
    { class: 'more' },
    h('summary', {}, `May be added: ${entries.map(([name]) => name).join(', ')}`),
    ...entries.map(([, made]) => made),
  );

export class Fields {
  constructor(private readonly options: FieldsOptions) {}

  /** All that is at `path`. */
  of(path: KeyPath, schema: Schema, isRequired: boolean): HTMLElement {
    const own = resolved(schema, this.options.root);
    if (own.anyOf !== undefined) return this.union(path, own, isRequired);
    if (own.type === 'object')
      return own.properties !== undefined
        ? this.object(path, own, isRequired)
        : typeof own.additionalProperties === 'object' &&
            isObject(resolved(own.additionalProperties, this.options.root))
          ? this.named(path, own, own.additionalProperties)
          : this.record(path, own);
    if (own.type === 'array') return this.list(path, own);
    return this.leaf(path, own, isRequired);
  }

  /** true: it is more than one field. */
  isGroup(schema: Schema): boolean {
    const { type } = resolved(schema, this.options.root);
    return type === 'object' || type === 'array';
  }

  private label(path: KeyPath): string {
    const last = path[path.length - 1]!;
    return typeof last === 'number' ? String(last + 1) : words(last);
  }

  private hint(path: KeyPath, { description }: Schema): HTMLElement[] {
    return description === undefined ? [] : [h('small', { id: `${idOf(path)}.hint` }, description)];
  }

  private object(path: KeyPath, schema: Schema, isRequired: boolean): HTMLElement {
    const { document } = this.options;
    const isThere = document.at(path) !== undefined;
    const isEntry = typeof path[path.length - 1] === 'number';
    const group = h('fieldset', { id: idOf(path) });
    const title = isEntry ? '' : this.label(path);
    if (title !== '') group.append(h('legend', {}, title), ...this.hint(path, schema));
    if (!isThere && !isRequired) {
      group.append(
        h(
          'button',
          { type: 'button', id: `add.${idOf(path)}`, click: () => this.add(path, schema, group) },
          `Add ${title}`,
        ),
      );
      return group;
    }
    const extra = this.options.extra(path);
    if (extra !== null) group.append(extra);
    const closed: [string, HTMLElement][] = [];
    for (const [key, inner] of Object.entries(schema.properties!)) {
      if (key === '$schema') continue;
      const isNeeded = schema.required?.includes(key) === true;
      const made = this.of([...path, key], inner, isNeeded);
      if (isNeeded || document.at([...path, key]) !== undefined) group.append(made);
      else closed.push([words(key), made]);
    }
    if (closed.length > 0) group.append(folded(closed));
    if (!isRequired && !isEntry)
      group.append(
        h(
          'button',
          {
            type: 'button',
            class: 'quiet',
            id: `remove.${idOf(path)}`,
            click: () => this.remove(path, schema, group, isRequired),
          },
          `Leave out ${title}`,
        ),
      );
    return group;
  }

  private add(path: KeyPath, schema: Schema, group: HTMLElement): void {
    this.options.document.set(path, blank(schema, this.options.root));
    const made = this.of(path, schema, false);
    group.replaceWith(made);
    (made.querySelector('input, select, textarea') as HTMLElement | null)?.focus();
  }

  private remove(path: KeyPath, schema: Schema, group: HTMLElement, isRequired: boolean): void {
    this.options.document.set(path, undefined);
    const made = this.of(path, schema, isRequired);
    group.replaceWith(made);
    made.querySelector('button')?.focus();
  }

  private list(path: KeyPath, schema: Schema): HTMLElement {
    const items = resolved(schema.items!, this.options.root);
    if (items.type !== 'object' && items.anyOf === undefined) return this.row(path, schema, items);
    const { document } = this.options;
    const group = h(
      'fieldset',
      { id: idOf(path), class: 'list' },
      h('legend', {}, this.label(path)),
      ...this.hint(path, schema),
    );
    const entries = document.at(path);
    const again = () => {
      const made = this.list(path, schema);
      group.replaceWith(made);
      return made;
    };
    (Array.isArray(entries) ? entries : []).forEach((entry, k) => {
      group.append(this.entry([...path, k], items, entry, again));
    });
    group.append(
      h(
        'button',
        {
          type: 'button',
          id: `add.${idOf(path)}`,
          click: () => {
            const count = Array.isArray(document.at(path)) ? (document.at(path) as Json[]).length : 0;
            document.set([...path, count], blank(items, this.options.root));
            const made = again();
            const field = made.querySelector<HTMLElement>(
              `[id="${idOf([...path, count])}"] input, [id="${idOf([...path, count])}"] select`,
            );
            opened(field)?.focus();
          },
        },
        `Add ${oneOf(String(path[path.length - 1]))}`,
      ),
    );
    return group;
  }

  private entry(path: KeyPath, items: Schema, entry: Json, again: () => HTMLElement): HTMLElement {
    const { document } = this.options;
    const place = path.slice(0, -1);
    const k = path[path.length - 1] as number;
    const said = typeof entry === 'object' && entry !== null && !Array.isArray(entry) ? entry : {};
    const title = String(said['id'] ?? said['file'] ?? said['what'] ?? k + 1);
    const move = (by: number) => {
      const list = document.at(place) as Json[];
      const [one] = list.splice(k, 1);
      list.splice(k + by, 0, one!);
      document.set([...place, k + by], one);
      (again().querySelector(`[id="up.${idOf([...place, k + by])}"]`) as HTMLElement | null)?.focus();
    };
    const count = (document.at(place) as Json[]).length;
    const fields = this.of(path, items, true);
    return h(
      'section',
      { class: 'entry', 'aria-label': title },
      h(
        'p',
        { class: 'head' },
        h('b', {}, title),
        h(
          'button',
          {
            type: 'button',
            class: 'quiet',
            id: `up.${idOf(path)}`,
            disabled: k === 0,
            'aria-label': `Move ${title} up`,
            click: () => move(-1),
          },
          '↑',
        ),
        h(
          'button',
          {
            type: 'button',
            class: 'quiet',
            disabled: k === count - 1,
            'aria-label': `Move ${title} down`,
            click: () => move(1),
          },
          '↓',
        ),
        h(
          'button',
          {
            type: 'button',
            class: 'quiet',
            id: `remove.${idOf(path)}`,
            'aria-label': `Take out ${title}`,
            click: () => {
              document.set(path, undefined);
              this.options.say(`${title} is taken out. Undo brings it back.`);
              (again().querySelector(`[id="add.${idOf(place)}"]`) as HTMLElement | null)?.focus();
            },
          },
          'Take out',
        ),
      ),
      count > MOST_OPEN ? h('details', { class: 'more' }, h('summary', {}, inShort(said)), fields) : fields,
    );
  }

  /** A list of numbers or words, in one field. */
  private row(path: KeyPath, schema: Schema, items: Schema): HTMLElement {
    const { document } = this.options;
    const value = document.at(path);
    const isNumbers = items.type === 'number' || items.type === 'integer';
    const shown = Array.isArray(value)
      ? value.map((v) => (typeof v === 'string' ? v : JSON.stringify(v))).join(isNumbers ? ', ' : '\n')
      : '';
    const area = h('textarea', {
      id: idOf(path),
      rows: isNumbers ? 2 : 3,
      'aria-describedby': `${idOf(path)}.hint`,
      change: () => {
        const parts = area.value.split(isNumbers ? /[,;\s]+/ : /\n/).filter((part) => part.trim() !== '');
        document.set(
          path,
          parts.length === 0 ? undefined : parts.map((part) => (isNumbers ? numberOf(part) : part)),
        );
      },
    });
    area.value = shown;
    return h(
      'div',
      { class: 'field' },
      h('label', { for: idOf(path) }, `${this.label(path)}${isNumbers ? '' : ' (one a line)'}`),
      area,
      ...this.hint(path, schema),
    );
  }

  /** Entries that are called by a name of the user's own. */
  private named(path: KeyPath, schema: Schema, entry: Schema): HTMLElement {
    const { document } = this.options;
    const value = document.at(path);
    const names =
      typeof value === 'object' && value !== null && !Array.isArray(value) ? Object.keys(value) : [];
    const group = h('fieldset', { id: idOf(path) });
    const renew = () => {
      const fresh = this.named(path, schema, entry);
      group.replaceWith(fresh);
      return fresh;
    };
    group.append(h('legend', {}, this.label(path)), ...this.hint(path, schema));
    for (const name of names) group.append(this.of([...path, name], entry, false));
    const input = h('input', {
      id: `name.${idOf(path)}`,
      type: 'text',
      'aria-label': `name of a further entry of ${this.label(path)}`,
    });
    const add = () => {
      const name = input.value.trim();
      if (name === '' || names.includes(name)) return;
      document.set([...path, name], {});
      renew().querySelector<HTMLInputElement>('input')?.focus();
    };
    group.append(
      h(
        'p',
        { class: 'add' },
        input,
        ' ',
        h('button', { type: 'button', id: `add.${idOf(path)}`, click: add }, `Add to ${this.label(path)}`),
      ),
    );
    return group;
  }

  private record(path: KeyPath, schema: Schema): HTMLElement {
    const { document } = this.options;
    const value = document.at(path);
    const entries = Object.entries(
      typeof value === 'object' && value !== null && !Array.isArray(value) ? value : {},
    );
    const area = h('textarea', {
      id: idOf(path),
      rows: Math.max(2, entries.length),
      'aria-describedby': `${idOf(path)}.hint`,
      change: () => {
        const pairs = area.value.split('\n').flatMap((line) => {
          const at = line.indexOf('=');
          return at < 0 ? [] : [[line.slice(0, at).trim(), line.slice(at + 1).trim()] as const];
        });
        document.set(path, pairs.length === 0 ? undefined : Object.fromEntries(pairs));
      },
    });
    area.value = entries.map(([key, v]) => `${key} = ${String(v)}`).join('\n');
    return h(
      'div',
      { class: 'field' },
      h('label', { for: idOf(path) }, `${this.label(path)} (word = our word, one a line)`),
      area,
      ...this.hint(path, schema),
    );
  }

  private union(path: KeyPath, schema: Schema, isRequired: boolean): HTMLElement {
    const { document, root } = this.options;
    const branches = schema.anyOf!.map((branch) => resolved(branch, root));
    const chosen = branchOf(branches, document.at(path));
    const box = h('div', { class: 'union', id: `union.${idOf(path)}` });
    const select = h('select', {
      id: `kind.${idOf(path)}`,
      'aria-label': `${this.label(path)}: how it is said`,
      change: () => {
        document.set(
          path,
          select.value === String(chosen) ? document.at(path) : blank(branches[Number(select.value)]!, root),
        );
        box.replaceWith(this.union(path, schema, isRequired));
        window.document.getElementById(`kind.${idOf(path)}`)?.focus();
      },
    });
    branches.forEach((branch, k) =>
      select.append(h('option', { value: k, selected: k === chosen }, branchWords(branch, path))),
    );
    const branch = {
      ...branches[chosen]!,
      ...(schema.description !== undefined && { description: schema.description }),
    };
    const isThere = document.at(path) !== undefined;
    box.append(
      h('p', { class: 'kind' }, `${this.label(path)}: `, select),
      this.of(path, branch, isRequired || isThere),
    );
    return box;
  }

  private leaf(path: KeyPath, schema: Schema, isRequired: boolean): HTMLElement {
    const { document } = this.options;
    const id = idOf(path);
    const value = document.at(path);
    const label = this.label(path);
    const common: Record<string, string> = { id };
    if (schema.description !== undefined) common['aria-describedby'] = `${id}.hint`;
    if (isRequired) common['aria-required'] = 'true';
    const field = (control: HTMLElement) =>
      h('div', { class: 'field' }, h('label', { for: id }, label), control, ...this.hint(path, schema));
    const put = (text: string, make: (text: string) => Json) =>
      document.set(path, text === '' ? undefined : make(text));
    const choices =
      schema.enum ??
      (schema.const !== undefined ? [schema.const] : schema.type === 'boolean' ? ['true', 'false'] : null);
    if (choices !== null) {
      const isKnown = value === undefined || choices.includes(String(value));
      const select = h('select', {
        ...common,
        change: () => put(select.value, (text) => (schema.type === 'boolean' ? text === 'true' : text)),
      });
      // What is in the file and is no choice stays, for the check to name.
      for (const choice of ['', ...choices, ...(isKnown ? [] : [String(value)])])
        select.append(
          h(
            'option',
            { value: choice, selected: choice === String(value ?? '') },
            choice === '' ? '–' : choice,
          ),
        );
      return field(select);
    }
    if (schema.type === 'number' || schema.type === 'integer') {
      const input = h('input', {
        ...common,
        inputmode: 'decimal',
        autocomplete: 'off',
        change: () => put(input.value.trim(), numberOf),
      });
      input.value = value === undefined ? '' : String(value);
      return field(input);
    }
    const text = value === undefined ? '' : String(value);
    const isLong =
      text.includes('\n') || path[path.length - 1] === 'note' || path[path.length - 1] === 'because';
    const input = isLong
      ? h('textarea', { ...common, rows: 3 })
      : h('input', {
          ...common,
          ...offered(path),
          type: schema.format === 'date' ? 'date' : 'text',
          autocomplete: 'off',
        });
    input.value = text;
    input.addEventListener('change', () => put(input.value, (t) => t));
    return field(input);
  }
}

/** What is no number stays as it was typed, for the check to name. */
function numberOf(text: string): Json {
  const plain = /^[+-]?\d+,\d+$/.test(text) ? text.replace(',', '.') : text;
  return /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/.test(plain) ? Number(plain) : text;
}

/** Tables whose rows belong to a phase, with a first column for the phase if there are two. */
import type { NamedPhase } from '../figures.js';
import { cell, head, plain, tableIfAny, type Column, type Columns, type Table } from '../table.js';
import { phaseText } from '../../words/names.js';
import type { Words } from '../../words/words.js';

interface PhaseTable<T> {
  readonly caption: string;
  readonly itemsOf: (phase: NamedPhase) => readonly T[];
  readonly columns: Columns<T>;
  readonly css: string;
  readonly notes?: readonly string[];
}

/** @returns null: no phase has a row. */
export function tableByPhase<T>(
  phases: readonly NamedPhase[],
  words: Words,
  { caption, itemsOf, columns, ...style }: PhaseTable<T>,
): Table | null {
  const items = phases.flatMap((named) => itemsOf(named).map((item) => ({ name: named.name, item })));
  const own = columns.map(
    (one): Column<(typeof items)[number]> | false => one && [one[0], ({ item }) => one[1](item)],
  );
  return tableIfAny<(typeof items)[number]>(
    caption,
    [
      phases.length > 1 && [
        head(words.say('head.phase')),
        ({ name }) => cell(phaseText(name, words), { css: 'short-text' }),
      ],
      ...own,
    ],
    plain(items),
    style,
  );
}

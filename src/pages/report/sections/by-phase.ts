/** Tables whose rows belong to a phase: a first column says which, where there are two. */
import type { NamedPhase } from '../figures.js';
import { cell, head, type Group, type HeadCell, type Row } from '../table.js';
import { phaseText } from '../../words/names.js';
import type { Words } from '../../words/words.js';

export interface PhaseRows {
  readonly head: readonly HeadCell[];
  /** Empty where no phase has a row. */
  readonly groups: readonly Group[];
}

export function byPhase(
  phases: readonly NamedPhase[],
  words: Words,
  rows: (phase: NamedPhase) => readonly Row[],
): PhaseRows {
  const several = phases.length > 1;
  const all = phases.flatMap((named) =>
    rows(named).map((row) =>
      several
        ? { ...row, cells: [cell(phaseText(named.name, words), { css: 'short-text' }), ...row.cells] }
        : row,
    ),
  );
  return {
    head: several ? [head(words.say('head.phase'))] : [],
    groups: all.length > 0 ? [{ title: '', rows: all }] : [],
  };
}

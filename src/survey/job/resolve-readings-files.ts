/** The `readings` list: what each file has, its instrument and its unit. */
import type { Findings, Place } from '../../base/diagnostics/diagnostic.js';
import { knownWords, lookUp, type Declared } from './declared.js';
import { phaseNames } from './job-schema.js';
import { valueAt } from './key-path.js';
import type { Draft, Item, ReadingsEntryInput } from './draft.js';
import type { Instrument, Mapping, ReadingsFile } from './job.js';
import { normalPath } from './job-paths.js';
import { unitWords } from './schema-findings.js';
import { resolveMapping } from './resolve-mapping.js';
import { familyOf, type LengthUnit } from '../../base/units/units.js';

/** A readings file, and the place where the job file names it. */
export interface FileEntry extends ReadingsFile {
  readonly at: Place;
}

/**
 * The entries that are good enough to read their files, in the order of the job file.
 *
 * Reports: FILE_REPEATED; KEY_MISSING for `instrument` and `unit` of slope and span files, and for `setups`
 * if there are offset readings; KEY_MISPLACED for a key that the kind does not have; UNIT_UNKNOWN for the wrong family;
 * ID_UNKNOWN and VALUE_WRONG for an instrument that does not read this kind; and what resolve-mapping.ts reports.
 */
export function resolveReadingsFiles(
  draft: Draft,
  instruments: Declared<Instrument>,
  readingUnit: LengthUnit,
  findings: Findings,
): FileEntry[] {
  const seen = new Set<string>();
  const entries: FileEntry[] = [];
  for (const item of draft.readings) {
    if (item.input === null) continue;
    if (isRepeat(item.input, item, seen, findings)) continue;
    const before = findings.list.length;
    const mapping = resolveMapping(item.input, item, findings);
    const isMapped = findings.list.length === before;
    const isPhase = checkPhase(draft, item.input, item, findings);
    if (checkEntry(item.input, item, instruments, findings) && isMapped && isPhase)
      entries.push(resolveEntry(item, item.input, mapping, readingUnit));
  }
  const offsets = draft.readings.find(
    (item) => item.input !== null && (item.input.kind ?? 'offset') === 'offset',
  );
  if (offsets !== undefined && !draft.source.has(['setups'])) {
    const wanted = 'where each instrument stood, because offset readings are taken from set-ups';
    findings.missing('setups', wanted, draft.source.at(['setups']));
  }
  return entries;
}

/** Phases that the job names itself, in its order, even if other parts of the job are faulty. */
export function namedPhases({ source }: Draft): string[] {
  const phases = valueAt(source.value, ['phases']);
  return typeof phases === 'object' && phases !== null ? Object.keys(phases) : [];
}

/** Reports: ID_UNKNOWN for a phase that the job does not name. */
function checkPhase(
  draft: Draft,
  { phase }: ReadingsEntryInput,
  item: Item<ReadingsEntryInput>,
  findings: Findings,
): boolean {
  const known = [...new Set([...phaseNames, ...namedPhases(draft)])];
  if (known.includes(phase)) return true;
  const data = { kind: 'phase', id: phase, known: knownWords(phase, known) };
  findings.error('ID_UNKNOWN', data, item.at('phase'));
  return false;
}

function resolveEntry(
  item: Item<ReadingsEntryInput>,
  input: ReadingsEntryInput,
  mapping: Mapping | null,
  readingUnit: LengthUnit,
): FileEntry {
  return {
    file: input.file,
    phase: input.phase,
    kind: input.kind ?? 'offset',
    instrument: input.instrument ?? null,
    unit: input.unit ?? readingUnit,
    unitStated: input.unit !== undefined,
    against: input.against ?? null,
    decimal: input.decimal ?? null,
    mapping,
    at: item.at('file'),
  };
}

/** true: the entry is good enough to read its file. A wrong path is found when the file is opened. */
function checkEntry(
  input: ReadingsEntryInput,
  item: Item<ReadingsEntryInput>,
  instruments: Declared<Instrument>,
  findings: Findings,
): boolean {
  const kind = input.kind ?? 'offset';
  const before = findings.list.length;
  const family = kind === 'slope' ? 'slope' : 'length';
  if (input.against !== undefined && kind !== 'slope') {
    findings.misplaced('against', 'not-slope', item.at('against'));
  }
  if (input.unit !== undefined && familyOf(input.unit) !== family) {
    const data = { found: JSON.stringify(input.unit), wanted: `${unitWords(family)} for ${kind} readings` };
    findings.error('UNIT_UNKNOWN', data, item.at('unit'));
  }
  if (kind === 'offset') {
    if (input.instrument !== undefined) {
      findings.misplaced('instrument', 'offset-file', item.at('instrument'));
    }
    return findings.list.length === before;
  }
  if (input.unit === undefined) {
    const wanted = `the unit of the ${kind} readings, ${unitWords(family)}`;
    findings.missing('unit', wanted, item.at('unit'));
  }
  checkInstrument(input, item, family, instruments, findings);
  return findings.list.length === before;
}

function checkInstrument(
  input: ReadingsEntryInput,
  item: Item<ReadingsEntryInput>,
  family: 'length' | 'slope',
  instruments: Declared<Instrument>,
  findings: Findings,
): void {
  if (input.instrument === undefined) {
    const wanted = `the id of the instrument that read the ${input.kind}`;
    findings.missing('instrument', wanted, item.at('instrument'));
    return;
  }
  const instrument = lookUp('instrument', instruments, input.instrument, item.at('instrument'), findings);
  if (instrument === null || instrument.measures === family) return;
  findings.wrong(
    `${instrument.id}, which reads ${instrument.measures}s`,
    `an instrument that reads ${family}s`,
    item.at('instrument'),
  );
}

/** Reports a second entry of the same file: for the same phase, or for another one and otherwise the same. */
function isRepeat(
  input: ReadingsEntryInput,
  item: Item<ReadingsEntryInput>,
  seen: Set<string>,
  findings: Findings,
): boolean {
  const { phase, file: path, ...rest } = input;
  const key = `${phase} ${normalPath(path)}`;
  const alike = JSON.stringify([normalPath(path), rest]);
  const repeat = seen.has(key) || seen.has(alike);
  const data = { path, phase: seen.has(key) ? phase : '' };
  if (repeat) findings.error('FILE_REPEATED', data, item.at('file'));
  seen.add(key).add(alike);
  return repeat;
}

/** Checks the surroundings of a usable job: files that nothing names or that are the same, rows left out without a reason. */
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { groupBy } from '../../base/lists.js';
import type { Diagnostic } from '../../base/diagnostics/diagnostic.js';
import { normalPath } from '../../survey/job/job-paths.js';
import type { Job } from '../../survey/job/job.js';
import { USUAL } from '../../survey/readings/sign-checks.js';
import { phaseWords } from '../../survey/readings/phase-words.js';
import { valueOf, type Readings } from '../../survey/readings/readings.js';
import type { InputFile } from '../../base/input/input-file.js';
import { leastOf } from '../../base/statistics/extent.js';

/** If this share of the readings of the smaller of two files is also in the other, it is a copy. */
const SAME_SHARE = 0.8;
const MIN_SAME = 5;

/**
 * Files whose readings count twice, or were copied from another phase: the same to the last byte, or, within a phase, with
 * the same readings in another order or spelling. Asks: FILES_IDENTICAL.
 */
export function repeatedFiles(job: Job, inputs: readonly InputFile[], readings: Readings): Diagnostic[] {
  const looks = looksByFile(readings);
  return job.readingsFiles.flatMap(({ file, phase }, i): Diagnostic[] => {
    const sha256 = inputs.find(({ path }) => path === file)?.sha256;
    const one = job.readingsFiles.slice(0, i).find((other) => {
      if (other.file === file) return false;
      if (sha256 !== undefined && inputs.find(({ path }) => path === other.file)?.sha256 === sha256)
        return true;
      return other.phase === phase && areCopies(looks.get(other.file), looks.get(file));
    });
    if (one === undefined) return [];
    const data = { one: one.file, other: file, phase: phaseWords(one.phase), otherPhase: phaseWords(phase) };
    return [{ code: 'FILES_IDENTICAL', severity: 'confirm', data, at: { file } }];
  });
}

/** The readings of each file, as texts that are equal if the same thing was read with the same value. */
function looksByFile({ phases }: Readings): Map<string, Set<string>> {
  const files = new Map<string, Set<string>>();
  for (const list of phases.values()) {
    for (const r of list) {
      // Digits beyond the twelfth come from the change of units.
      const value = valueOf(r).toPrecision(12);
      const of =
        r.kind === 'offset'
          ? [r.setup, r.point, r.target, r.axis]
          : r.kind === 'slope'
            ? [r.from, r.to, r.axis]
            : [r.rail, r.other, r.station];
      const look = JSON.stringify([of, r.pass, value]);
      const known = files.get(r.source.file);
      if (known === undefined) files.set(r.source.file, new Set([look]));
      else known.add(look);
    }
  }
  return files;
}

function areCopies(one: ReadonlySet<string> | undefined, other: ReadonlySet<string> | undefined): boolean {
  if (one === undefined || other === undefined) return false;
  const [small, large] = one.size <= other.size ? [one, other] : [other, one];
  const same = [...small].filter((look) => large.has(look)).length;
  return same >= MIN_SAME && same >= SAME_SHARE * small.size;
}

/** CSV files in `readings/` that no entry names. Warns: FILE_UNNAMED. */
export const unnamedFiles = async (folder: string, job: Job): Promise<Diagnostic[]> =>
  (
    await unnamedPaths(
      folder,
      job.readingsFiles.map(({ file }) => file),
    )
  ).map((path) => ({ code: 'FILE_UNNAMED', severity: 'warning', data: { path }, at: { file: path } }));

/** Paths of CSV files in `readings/` other than those, sorted. */
export async function unnamedPaths(folder: string, files: readonly string[]): Promise<string[]> {
  const named = new Set(files.map(normalPath));
  const entries = await readdir(join(folder, 'readings'), { recursive: true }).catch(() => [] as string[]);
  return entries
    .map((name) => `readings/${name.replaceAll('\\', '/')}`)
    .filter((path) => /\.(?:csv|txt|tsv)$/i.test(path) && !named.has(normalPath(path)))
    .sort();
}

/**
 * Set-ups with readings in an axis for which job.json states no side, and no sign check shows it. Warns: SIGN_ASSUMED, once for all set-ups
 * with the same axes.
 */
export function assumedSigns({ setups }: Job, { phases, signChecks = [] }: Readings): Diagnostic[] {
  const read = new Set(
    [...phases.values()].flat().flatMap((r) => (r.kind === 'offset' ? [`${r.setup} ${r.axis}`] : [])),
  );
  const unknown = setups.flatMap(({ id, signAssumed }) => {
    const own = signAssumed.filter(
      (axis) => read.has(`${id} ${axis}`) && !signChecks.some((c) => c.setup === id && c.axis === axis),
    );
    const plus = own.map((axis) => `"${axis}": "${USUAL[axis]}"`).join(', ');
    return own.length === 0 ? [] : [{ id, plus: `"plus": { ${plus} }` }];
  });
  return [...groupBy(unknown, ({ plus }) => plus)].map(([plus, list]) => ({
    code: 'SIGN_ASSUMED',
    severity: 'warning',
    data: { setups: list.map(({ id }) => id).join(', '), plus },
    at: { file: 'job.json' },
  }));
}

/** Warns: LEFT_OUT_WITHOUT_NOTE, once per file. */
export function leftOutWithoutNote({ excluded }: Readings): Diagnostic[] {
  const rows = excluded.filter(({ note }) => note.trim() === '');
  const files = [...new Set(rows.map(({ source }) => source.file))];
  return files.map((file): Diagnostic => {
    const own = rows.filter(({ source }) => source.file === file);
    const row = leastOf(own.map(({ source }) => source.row));
    return {
      code: 'LEFT_OUT_WITHOUT_NOTE',
      severity: 'warning',
      data: { count: own.length },
      at: { file, row },
    };
  });
}

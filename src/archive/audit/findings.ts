/** Gathers what an audit finds of one report. */
import { sha256 } from '../../pages/deliverables/manifest.js';
import type { Issue, Results } from '../../results/results-schema.js';
import type { AuditDifference, AuditFinding, NotCompared, Proof, StatementName } from './statements.js';

export interface Findings {
  differs(statement: StatementName, what: string): void;
  /** Something was not compared. */
  leaves(statement: StatementName, what: string, why: string): void;
  /** Parts of a proven statement that were left out, by name. */
  names(parts: readonly NotCompared[]): void;
  /** A statement that need not be proven, although it is not. */
  waives(statement: StatementName): void;
  /** What speaks for the last statement, in words. */
  vouches(words: string): void;
  signed(): void;
  finding(
    results: Pick<Results, 'job' | 'issue' | 'software' | 'whatIf'> | null,
    manifest?: Uint8Array,
  ): AuditFinding;
}

export function findingOf(report: string): Findings {
  const differences: AuditDifference[] = [];
  const left: (NotCompared & { readonly statement: StatementName | null })[] = [];
  const waived = new Set<StatementName>();
  const known = new Set<string>();
  const vouchers: string[] = [];
  let isSigned = false;
  const proofOf = (name: StatementName): Proof =>
    differences.some(({ statement }) => statement === name)
      ? 'differs'
      : left.some(({ statement }) => statement === name)
        ? 'not-compared'
        : 'proven';
  return {
    differs: (statement, what) => {
      const key = `${statement} ${what}`;
      if (!known.has(key)) differences.push({ statement, what });
      known.add(key);
    },
    leaves: (statement, what, why) => void left.push({ statement, what, why }),
    names: (parts) => void left.push(...parts.map((part) => ({ ...part, statement: null }))),
    waives: (statement) => void waived.add(statement),
    vouches: (words) => void vouchers.push(words),
    signed: () => void (isSigned = true),
    finding: (results, manifest) => ({
      report,
      job: results?.job ?? null,
      figures: proofOf('figures'),
      pages: proofOf('pages'),
      vouched: proofOf('vouched'),
      issue: (results?.issue as Issue | undefined) ?? null,
      whatIf: results?.whatIf?.tolerances ?? null,
      madeBy:
        results === null
          ? 'an unknown version'
          : `${results.software.version}, method ${results.software.method}`,
      version: results?.software.version ?? '',
      manifestHash: manifest === undefined ? null : sha256(manifest),
      isSigned,
      vouchers,
      differences,
      notCompared: left.map(({ what, why }) => ({ what, why })),
      waived: [...waived],
      pictures: [],
    }),
  };
}

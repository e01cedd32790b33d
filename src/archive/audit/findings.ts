/** Collects the findings about one report. */
import { sha256 } from '../../pages/deliverables/manifest.js';
import type { Issue, Results } from '../../results/results-schema.js';
import type { AuditDifference, AuditFinding, NotCompared, Proof, StatementName } from './statements.js';

export class Findings {
  readonly #report: string;
  readonly #differences = new Map<string, AuditDifference>();
  readonly #left: (NotCompared & { readonly statement: StatementName | null })[] = [];
  readonly #waived = new Set<StatementName>();
  readonly #vouchers: string[] = [];

  /** @param report Folder or PDF. */
  constructor(report: string) {
    this.#report = report;
  }

  differs(statement: StatementName, what: string): void {
    this.#differences.set(`${statement} ${what}`, { statement, what });
  }

  /** Adds that something was not compared. @param statement null: a part of a proven statement that was left out. */
  leaves(statement: StatementName | null, what: string, why: string): void {
    this.#left.push({ statement, what, why });
  }

  /** Adds that a statement does not have to be proven. */
  waives(statement: StatementName): void {
    this.#waived.add(statement);
  }

  /** Adds a reason for the third statement, in words. */
  vouches(words: string): void {
    this.#vouchers.push(words);
  }

  #proofOf(name: StatementName): Proof {
    const isOf = ({ statement }: { readonly statement: StatementName | null }) => statement === name;
    if ([...this.#differences.values()].some(isOf)) return 'differs';
    return this.#left.some(isOf) ? 'not-compared' : 'proven';
  }

  finding(
    results: Pick<Results, 'job' | 'issue' | 'software' | 'whatIf'> | null,
    manifest?: Uint8Array,
  ): AuditFinding {
    return {
      report: this.#report,
      job: results?.job ?? null,
      figures: this.#proofOf('figures'),
      pages: this.#proofOf('pages'),
      vouched: this.#proofOf('vouched'),
      issue: (results?.issue as Issue | undefined) ?? null,
      whatIf: results?.whatIf?.tolerances ?? null,
      madeBy:
        results === null
          ? 'an unknown version'
          : `${results.software.version}, method ${results.software.method}`,
      manifestHash: manifest === undefined ? null : sha256(manifest),
      vouchers: this.#vouchers,
      differences: [...this.#differences.values()],
      notCompared: this.#left.map(({ what, why }) => ({ what, why })),
      waived: [...this.#waived],
      pictures: [],
    };
  }
}

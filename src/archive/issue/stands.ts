/** Conditions for a report before a line is added to the log. */
import { createPublicKey } from 'node:crypto';
import { audit } from '../audit/audit.js';
import { differs } from '../audit/statements.js';
import type { IssuedReport } from '../issued-report.js';
import { checkSignature } from '../signature/check-signature.js';
import { checkEnvelope, MANIFEST_TYPE, SIGNATURE_FILE, type SigningKey } from '../signing.js';
import type { Printer } from '../../pages/report/pdf.js';
import type { Issue } from '../../results/results-schema.js';
import { NotIssued } from './not-issued.js';
import type { OfficeCertificate } from './pdf-signature.js';

/** @param job The job folder, if the report does not contain its inputs. @throws {NotIssued} with the findings of the audit. */
export async function assertStands(
  folder: string,
  job: string | null,
  openPrinter: () => Promise<Printer>,
  words: string,
): Promise<void> {
  const finding = await audit(folder, { job, tolerances: null, print: openPrinter, trust: null });
  if (differs(finding)) throw new NotIssued(words, finding);
  if (finding.figures !== 'proven' || finding.pages !== 'proven')
    throw new NotIssued(finding.notCompared.map(({ what, why }) => `${what}: ${why}`).join('; '));
}

/**
 * A report that was written but not entered into the log must be signed as now requested: with the same key and certificate,
 * or with none.
 *
 * @throws {NotIssued}
 */
export async function assertSignedAsAsked(
  { files, pdf }: Pick<IssuedReport, 'files' | 'pdf'>,
  issue: Issue,
  { key, certificate }: { readonly key: SigningKey | null; readonly certificate: OfficeCertificate | null },
): Promise<void> {
  const troubles: string[] = [];
  const signature = files.get(SIGNATURE_FILE);
  if (key === null && signature !== undefined) troubles.push('its manifest is signed: name the key (--key)');
  else if (key !== null && signature === undefined) troubles.push('its manifest is not signed with the key');
  else if (key !== null) {
    const own = { name: 'the key', publicKey: createPublicKey(key.privateKey), keyid: key.keyid };
    const state = checkEnvelope(signature!, MANIFEST_TYPE, files.get('manifest.json')!, [own]);
    if (state.state !== 'good') troubles.push('its manifest is not signed with the key');
  }
  if (certificate === null && issue.certificate !== undefined)
    troubles.push(
      `its page says that ${issue.certificate.subject} signed it: name the certificate (--certificate, --certificate-key)`,
    );
  else if (certificate !== null && issue.certificate === undefined)
    troubles.push('its PDF is not signed with the certificate');
  else if (pdf !== null) {
    const trusted = certificate && [{ name: certificate.subject, der: certificate.chain[0]! }];
    const whole = files.get('report.pdf')!;
    const facts = await checkSignature({ whole, printed: pdf.printed }, issue, trusted);
    // Whether the service is trusted is decided by an auditor.
    troubles.push(
      ...facts.filter(({ of, state }) => of !== 'time-stamp' && state === 'wrong').map(({ words }) => words),
    );
  }
  if (troubles.length > 0)
    throw new NotIssued(
      `it is not signed as it would be if it were issued now, so it is not entered into the log: ${troubles.join('; ')}`,
    );
}

/** Who vouches for a report: the signatures of its PDF and of its manifest, by keys and certificates that the auditor trusts. */
import type { IssuedReport } from '../issued-report.js';
import { checkSignature } from '../signature/check-signature.js';
import { checkEnvelope, MANIFEST_TYPE, SIGNATURE_FILE, type Trust } from '../signing.js';
import type { Issue } from '../../results/results-schema.js';
import { WHO } from './statements.js';
import type { Findings } from './findings.js';

/** Words for a file without a signature. */
export const NOBODY = 'nobody: whoever can write this folder can write all of it anew';

/** @param trust null: not requested. */
export async function checkVouched(
  issued: IssuedReport,
  issue: Issue | undefined,
  trust: Trust | null,
  found: Findings,
): Promise<void> {
  const onPdf = await signatureOnPdf(issued, issue, trust, found);
  const onManifest = signatureOnManifest(issued, trust, found);
  if (onPdf || onManifest) return;
  if (trust === null || issue === undefined || issued.manifest === null) {
    found.leaves('vouched', WHO, NOBODY);
    if (trust === null) found.waives('vouched');
  } else found.differs('vouched', 'it is not signed');
}

/** @returns true: there is a signature, or there should be one. */
async function signatureOnPdf(
  { files, pdf }: IssuedReport,
  issue: Issue | undefined,
  trust: Trust | null,
  found: Findings,
): Promise<boolean> {
  const whole = files.get('report.pdf');
  const stated = issue?.certificate;
  if (whole !== undefined && pdf !== null) {
    const facts = await checkSignature({ whole, printed: pdf.printed }, issue, trust?.certificates ?? null);
    for (const { of, state, words } of facts) {
      const said = `report.pdf: ${words}`;
      if (state === 'wrong' && of === 'file' && pdf.onTop > 0) found.differs('pages', said);
      if (state === 'wrong' && stated !== undefined) found.differs('vouched', said);
      else if (state === 'not-asked') found.leaves('vouched', WHO, words);
      else if (state !== 'wrong') found.vouches(words);
    }
  } else if (stated !== undefined)
    found.differs(
      'vouched',
      `${stated.subject} is said to have signed report.pdf, which is not there as waysheet writes it`,
    );
  return stated !== undefined;
}

/** @returns true: there is a signature. */
function signatureOnManifest(
  { manifest, files }: IssuedReport,
  trust: Trust | null,
  found: Findings,
): boolean {
  const signature = files.get(SIGNATURE_FILE);
  if (signature === undefined) return false;
  // Only issued reports are signed.
  if (manifest?.issue === undefined)
    found.differs('vouched', `${SIGNATURE_FILE} is the signature of an issued report, and this is a draft`);
  const signed = files.get('manifest.json') ?? new Uint8Array();
  const state = checkEnvelope(signature, MANIFEST_TYPE, signed, trust?.keys ?? []);
  if (state.state === 'bad') found.differs('vouched', `the signature is bad: ${state.why}`);
  else if (state.state === 'good') found.vouches(`manifest.json is signed by ${state.by}`);
  else if (trust === null || trust.keys.length === 0)
    found.leaves(
      'vouched',
      WHO,
      `manifest.json is signed with the key ${state.keyid.slice(0, 16)}…; whose it is was not asked (--trust DIR, with the public key in it)`,
    );
  else
    found.differs(
      'vouched',
      `signed by a key that is not among the trusted ones (${state.keyid.slice(0, 16)}…)`,
    );
  return true;
}

/** Who signed a report's manifest, by the keys that an auditor trusts. */
import type { IssuedReport } from '../issued-report.js';
import { checkEnvelope, MANIFEST_TYPE, SIGNATURE_FILE, type TrustedKey } from '../signing.js';

export interface Signed {
  /** In words; '' where nothing was asked. */
  readonly words: string;
  readonly isTrouble: boolean;
}

/** @param trusted null: nobody asked. */
export function checkSigned(
  { manifest, files }: Pick<IssuedReport, 'manifest' | 'files'>,
  trusted: readonly TrustedKey[] | null,
): Signed {
  const signature = files.get(SIGNATURE_FILE);
  if (trusted === null)
    return {
      words: signature === undefined ? '' : 'signed, by whom was not asked (--trust DIR)',
      isTrouble: false,
    };
  if (manifest === null)
    return { words: 'the signature lies in the folder, not in the PDF: it was not checked', isTrouble: true };
  // Only what is issued is signed.
  if (signature === undefined)
    return manifest.issue === undefined
      ? { words: 'a draft, not signed', isTrouble: false }
      : { words: 'it is not signed', isTrouble: true };
  const found = checkEnvelope(signature, MANIFEST_TYPE, files.get('manifest.json')!, trusted);
  if (found.state === 'good') return { words: `signed by ${found.by}`, isTrouble: false };
  return found.state === 'bad'
    ? { words: `the signature is bad: ${found.why}`, isTrouble: true }
    : {
        words: `signed by a key that is not among the trusted ones (${found.keyid.slice(0, 16)}…)`,
        isTrouble: true,
      };
}

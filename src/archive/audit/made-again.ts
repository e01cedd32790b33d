/** Files of an issued report against those that the same inputs make now, one to one. */
import type { IssuedReport } from '../issued-report.js';
import { originOf } from '../../pages/deliverables/content-key.js';
import { sha256, type Manifest } from '../../pages/deliverables/manifest.js';
import { SIGNATURE_FILE } from '../signing.js';
import type { Made } from '../../pipeline.js';

/** In words, each file that is not, byte for byte, what the same inputs make. What is printed is compared by its pages. */
export function filesMadeOtherwise(issued: IssuedReport['files'], made: Made['files']): string[] {
  const found: string[] = [];
  for (const [path, now] of made) {
    if (path === 'manifest.json' || path.endsWith('.pdf')) continue;
    const stood = issued.get(path);
    if (stood === undefined) found.push(`${path} is missing, which these inputs make`);
    else if (!Buffer.from(stood).equals(now))
      found.push(`${path} is not what these inputs make now, byte for byte`);
  }
  // What is printed may not have been printed again.
  const printed = new Set(['report.pdf', ...(made.has('corrections.html') ? ['corrections.pdf'] : [])]);
  if (issued.has('report.pdf'))
    for (const path of printed)
      if (!issued.has(path)) found.push(`${path} is missing, which these inputs make`);
  for (const path of issued.keys())
    if (!made.has(path) && !printed.has(path) && path !== 'manifest.json' && path !== SIGNATURE_FILE)
      found.push(`${path} is nothing that these inputs make`);
  return found;
}

/** In words, what the manifest says otherwise than the one that belongs to these inputs. */
export function manifestOtherwise(manifest: Manifest, made: Made['files']): string[] {
  const own = JSON.parse(new TextDecoder().decode(made.get('manifest.json'))) as Manifest;
  const found: string[] = [];
  for (const key of ['job', 'verdict', 'software', 'templates', 'digests', 'whatIf', 'issue'] as const)
    if (JSON.stringify(manifest[key]) !== JSON.stringify(own[key]))
      found.push(`manifest.json says otherwise of ${key} than these inputs do`);
  const plain = ({ inputs }: Manifest) =>
    JSON.stringify(inputs.map(({ path, bytes, sha256: hash }) => [path, bytes, hash]));
  const origin = originNow(manifest);
  if (manifest.key !== undefined && origin !== null && manifest.key !== origin)
    found.push('manifest.json says otherwise of key than these inputs do');
  if (plain(manifest) !== plain(own)) found.push('manifest.json lists other inputs than those of the report');
  return found;
}

/** The key that belongs to these inputs; null: it hangs on a browser of the machine where it was printed. */
function originNow({ browser, inputs }: Manifest): string | null {
  if (browser === null) return originOf(inputs, false).key;
  return browser.startsWith('packed ') ? originOf(inputs, true, {}).key : null;
}

/** In words, attachments of the PDF that are no input and not its results, two of one name, and inputs that lack. */
export function attachmentsOtherwise(
  { attachments, files, manifest }: IssuedReport,
  inputs: readonly { readonly path: string; readonly sha256: string }[],
): string[] {
  if (attachments.length === 0) return [];
  const found: string[] = [];
  const results = files.get('results.json');
  const wanted = new Set([
    ...inputs.map(({ sha256: hash }) => hash),
    ...(results === undefined ? [] : [sha256(results)]),
  ]);
  const names = new Set<string>();
  const hashes = new Set<string>();
  const carried = new Set<string>();
  for (const { name, sha256: hash } of attachments) {
    carried.add(`${name} ${hash}`);
    if (names.has(name)) found.push(`report.pdf carries two files called ${name}`);
    else if (name === 'results.json' && !wanted.has(hash))
      found.push('report.pdf carries another results.json than lies beside it');
    else if (!wanted.has(hash))
      found.push(`report.pdf carries ${name}, which is none of the files that the report was made from`);
    names.add(name);
    hashes.add(hash);
  }
  if (results !== undefined && !names.has('results.json'))
    found.push('report.pdf does not carry its results.json');
  for (const { path, attachedAs, sha256: hash } of manifest?.inputs ?? []) {
    if (attachedAs === null) {
      if (hashes.has(hash)) found.push(`report.pdf carries ${path}, which the manifest says it does not`);
    } else if (!hashes.has(hash))
      found.push(`report.pdf does not carry ${path}, which the manifest says it does`);
    else if (!carried.has(`${attachedAs} ${hash}`))
      found.push(
        `report.pdf carries ${path} under another name than ${attachedAs}, as the manifest calls it`,
      );
  }
  return found;
}

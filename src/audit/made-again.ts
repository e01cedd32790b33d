/** Files of an issued report against those that the same inputs make now, one to one. */
import type { IssuedReport } from '../archive/issued-report.js';
import { sha256, type Manifest } from '../archive/manifest.js';
import { SIGNATURE_FILE } from '../archive/signing.js';
import type { Made } from '../pipeline.js';

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
  for (const path of issued.keys())
    if (!made.has(path) && !path.endsWith('.pdf') && path !== 'manifest.json' && path !== SIGNATURE_FILE)
      found.push(`${path} is nothing that these inputs make`);
  return found;
}

/** In words, what the manifest says otherwise than the one that belongs to these inputs. */
export function manifestOtherwise(manifest: Manifest, made: Made['files']): string[] {
  const own = JSON.parse(new TextDecoder().decode(made.get('manifest.json'))) as Manifest;
  const found: string[] = [];
  for (const key of ['job', 'verdict', 'software', 'digests', 'whatIf', 'issue'] as const)
    if (JSON.stringify(manifest[key]) !== JSON.stringify(own[key]))
      found.push(`manifest.json says otherwise of ${key} than these inputs do`);
  const plain = ({ inputs }: Manifest) =>
    JSON.stringify(inputs.map(({ path, bytes, sha256: hash }) => [path, bytes, hash]));
  if (plain(manifest) !== plain(own)) found.push('manifest.json lists other inputs than those of the report');
  return found;
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
  for (const { name, bytes } of attachments) {
    const hash = sha256(bytes);
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
  for (const { path, attachedAs, sha256: hash } of manifest?.inputs ?? [])
    if (attachedAs !== null && !hashes.has(hash))
      found.push(`report.pdf does not carry ${path}, which the manifest says it does`);
  return found;
}

/** What the pages of the register are made from, as a key that tells whether they must be made again. Does not load what makes them. */
import { VERSION } from '../../base/version.js';
import { templatesHash } from '../../pages/deliverables/content-key.js';
import { sha256 } from '../../pages/deliverables/manifest.js';
import { offlinePageSource, type OfflinePageSource } from '../offline-page-source.js';

let source: OfflinePageSource | undefined;

export const pageSource = (): OfflinePageSource =>
  (source ??= offlinePageSource('register', ['register.css']));

let ownKey: string | undefined;

/** One key for all that the pages are made from. @param json The text of register.json. */
export function pageKey(json: string): string {
  const { template, style, script } = pageSource();
  ownKey ??= sha256(Buffer.from([VERSION, template, style, script, templatesHash()].join('\0')));
  return sha256(Buffer.from(`${ownKey}\0${json}`));
}

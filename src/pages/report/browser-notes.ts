/** What the printing side has to say, in words. */
import type { BrowserNote } from './browser/trouble.js';

export function describeNote({ code, data }: BrowserNote): string {
  switch (code) {
    case 'BROWSER_UNSANDBOXED':
      return data['why'] === 'root'
        ? 'note: the browser that prints runs without its own sandbox, because it cannot have one as root; scripts and network are off all the same'
        : 'note: the browser that prints could not start its own sandbox and runs without it; scripts and network are off all the same';
    case 'BROWSER_SKIPPED':
      return `note: ${data['browser']} did not start (${data['why']}); another browser is used`;
    case 'PRINT_REQUEST_BLOCKED':
      return `note: the report asked for ${data['url']}, which was not fetched`;
    case 'PRINT_OTHER_FONT':
      return `note: some text is set in ${data['font']}, because the bundled font lacks its characters`;
  }
}

/** Breaks text into lines between words. */

/**
 * @param width Characters per line; Infinity: the text is not broken. Longer words are not broken.
 * @returns One line or more; lines after the first are indented by two spaces.
 */
export function wrapped(text: string, width: number): string[] {
  if (text.length <= width) return [text];
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    if (line.trim() !== '' && line.length + 1 + word.length > width) {
      lines.push(line);
      line = `  ${word}`;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  return [...lines, line];
}

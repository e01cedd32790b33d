/** Text broken into lines between words. */

/**
 * @param width Characters on a line; Infinity: not broken. Words that are longer stay whole.
 * @returns One line or more; those after the first are indented by two blanks.
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

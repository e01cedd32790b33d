/** Just enough XML to hold a picture to it: strict about what a strict reader is strict about. */

export interface Tag {
  readonly name: string;
  readonly attributes: ReadonlyMap<string, string>;
  /** Text directly inside. */
  text: string;
}

const tagPattern = /<(\/?)([A-Za-z][\w:-]*)((?:\s+[\w:-]+="[^"<]*")*)\s*(\/?)>/y;

/** @throws {Error} where the text is not well-formed XML. */
export function readSvg(svg: string): Tag[] {
  const tags: Tag[] = [];
  const open: Tag[] = [];
  let at = 0;
  while (at < svg.length) {
    if (svg[at] !== '<') {
      const end = svg.indexOf('<', at);
      const text = svg.slice(at, end === -1 ? svg.length : end);
      const parent = open[open.length - 1];
      if (parent === undefined && text.trim() !== '') throw new Error(`text outside: ${text.slice(0, 40)}`);
      checkText(text);
      if (parent !== undefined) parent.text += text;
      at += text.length;
      continue;
    }
    tagPattern.lastIndex = at;
    const match = tagPattern.exec(svg);
    if (match === null) throw new Error(`no tag: ${svg.slice(at, at + 80)}`);
    const [whole, closing, name, attributeText, alone] = match as unknown as [
      string,
      string,
      string,
      string,
      string,
    ];
    if (closing === '/') {
      const last = open.pop();
      if (last?.name !== name) throw new Error(`</${name}> closes <${last?.name}>`);
    } else {
      const tag: Tag = { name, attributes: attributesOf(attributeText), text: '' };
      tags.push(tag);
      if (alone !== '/') open.push(tag);
    }
    at += whole.length;
  }
  if (open.length > 0) throw new Error(`<${open[open.length - 1]!.name}> is not closed`);
  return tags;
}

function attributesOf(text: string): Map<string, string> {
  const attributes = new Map<string, string>();
  for (const [, name, value] of text.matchAll(/([\w:-]+)="([^"]*)"/g)) {
    if (attributes.has(name!)) throw new Error(`${name} twice`);
    checkText(value!);
    attributes.set(name!, value!);
  }
  return attributes;
}

function checkText(text: string): void {
  if (/&(?!(?:amp|lt|gt|quot|#x?[\dA-Fa-f]+);)/.test(text))
    throw new Error(`a bare & in ${text.slice(0, 60)}`);
  for (const character of text) {
    const code = character.codePointAt(0)!;
    const isLegal =
      code === 9 ||
      code === 10 ||
      code === 13 ||
      (code >= 0x20 && code < 0xd800) ||
      (code > 0xdfff && code < 0xfffe) ||
      code > 0xffff;
    if (!isLegal) throw new Error(`U+${code.toString(16)} is not allowed in XML`);
  }
}

/** Elements in one line each. Text is set as text, so nothing that a job holds can become markup. */

type Child = Node | string;
type Attributes = Readonly<Record<string, string | number | boolean | ((event: Event) => void)>>;

function fill(element: Element, attributes: Attributes, children: readonly Child[]): void {
  for (const [name, value] of Object.entries(attributes)) {
    if (typeof value === 'function') element.addEventListener(name, value);
    else if (typeof value === 'boolean') element.toggleAttribute(name, value);
    else element.setAttribute(name, String(value));
  }
  element.append(...children);
}

export function h<K extends keyof HTMLElementTagNameMap>(
  tag: K,
  attributes: Attributes = {},
  ...children: Child[]
): HTMLElementTagNameMap[K] {
  const element = document.createElement(tag);
  fill(element, attributes, children);
  return element;
}

export function svg<K extends keyof SVGElementTagNameMap>(
  tag: K,
  attributes: Attributes = {},
  ...children: Child[]
): SVGElementTagNameMap[K] {
  const element = document.createElementNS('http://www.w3.org/2000/svg', tag);
  fill(element, attributes, children);
  return element;
}

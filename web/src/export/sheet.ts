// A drawing of the page as a sheet of its own: name above, cautions and the mark of invented data
// below. It holds all it needs, so that it looks the same in a letter as on the page.

export interface Sheet {
  name: string;
  /** One line more, such as what the drawing is of; may be empty. */
  about: string;
  cautions: readonly string[];
  /** Said where data are invented; null where they are not. */
  invented: string | null;
}

/** What a form is drawn with, and what of it need not be said. */
const form_properties: Record<string, string> = {
  fill: '',
  'fill-opacity': '1',
  'fill-rule': 'nonzero',
  stroke: 'none',
  'stroke-width': '1px',
  'stroke-opacity': '1',
  'stroke-dasharray': 'none',
  'stroke-linecap': 'butt',
  'stroke-linejoin': 'miter',
  opacity: '1',
  'paint-order': 'normal',
  visibility: 'visible',
};
const text_properties: Record<string, string> = {
  ...form_properties,
  'font-family': '',
  'font-size': '',
  'font-weight': '400',
  'font-style': 'normal',
  'font-variant-numeric': 'normal',
  'letter-spacing': 'normal',
  'text-anchor': 'start',
  'dominant-baseline': 'auto',
  'text-decoration-line': 'none',
};
/** These draw nothing themselves; what lies in them says of itself how it is drawn. */
const group_properties: Record<string, string> = { opacity: '1' };

function propertiesOf(element: Element): Record<string, string> {
  switch (element.tagName.toLowerCase()) {
    case 'text':
    case 'tspan':
      return text_properties;
    case 'svg':
    case 'g':
    case 'defs':
    case 'pattern':
    case 'clippath':
      return group_properties;
    default:
      return form_properties;
  }
}

/** Fonts that stand in where the first is not installed. */
export const sheet_fonts = "Inter, 'Liberation Sans', Arial, sans-serif";

const margin = 24;
const line_height = 15;

/** Breaks words into lines of at most `most` characters; a longer word keeps a line of its own. */
export function brokenLines(text: string, most: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/\s+/).filter(Boolean)) {
    if (line !== '' && line.length + 1 + word.length > most) {
      lines.push(line);
      line = word;
    } else {
      line = line === '' ? word : `${line} ${word}`;
    }
  }
  return line === '' ? lines : [...lines, line];
}

export function escaped(text: string): string {
  return text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;');
}

/** The sheet around a drawing, which is the inside of an <svg> of that size in points of the page. */
export function sheetAround(
  drawing: string,
  size: { width: number; height: number; view_box: string },
  sheet: Sheet,
  colours: { ink: string; quiet: string; paper: string },
): string {
  const width = Math.max(size.width + 2 * margin, 480);
  const most = Math.floor((width - 2 * margin) / 5.6);
  const about = brokenLines(sheet.about, most);
  const below = [...(sheet.invented ? [sheet.invented] : []), sheet.cautions.join(' ')].flatMap(
    (text) => brokenLines(text, most),
  );
  const head = margin + 18 + about.length * line_height + 8;
  const height = head + size.height + 10 + below.length * line_height + margin;
  const text = (words: string, y: number, style: string) =>
    `<text x="${margin}" y="${y}" style="font-family:${escaped(sheet_fonts)};${style}">${escaped(words)}</text>`;
  const foot = head + size.height + 10 + line_height;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" role="img">`,
    `<title>${escaped(sheet.name)}</title>`,
    `<rect width="${width}" height="${height}" fill="${colours.paper}"/>`,
    text(sheet.name, margin + 14, `font-size:16px;font-weight:600;fill:${colours.ink}`),
    ...about.map((line, i) =>
      text(line, margin + 14 + (i + 1) * line_height, `font-size:11px;fill:${colours.quiet}`),
    ),
    `<svg overflow="visible" x="${margin}" y="${head}" width="${size.width}" height="${size.height}" viewBox="${size.view_box}">${drawing}</svg>`,
    ...below.map((line, i) =>
      text(
        line,
        foot + i * line_height,
        `font-size:10px;fill:${sheet.invented && i === 0 ? colours.ink : colours.quiet}`,
      ),
    ),
    '</svg>',
  ].join('\n');
}

/** A copy of a drawing with what its style sheets say of it written into it. */
function withStyles(source: SVGElement): SVGElement {
  const copy = source.cloneNode(true) as SVGElement;
  const originals = [source, ...source.querySelectorAll('*')];
  const copies = [copy, ...copy.querySelectorAll('*')];
  copies.forEach((element, i) => {
    const computed = getComputedStyle(originals[i] as Element);
    const style = Object.entries(propertiesOf(element))
      .map(([name, usual]) => [name, computed.getPropertyValue(name), usual] as const)
      .filter(([, value, usual]) => value !== '' && value !== usual)
      .map(([name, value]) => `${name}:${value}`)
      .join(';');
    for (const { name } of [...element.attributes]) {
      // The page's own names mean nothing elsewhere, and what a style says now is said once.
      if (/^(on|aria-|class$|tabindex$|style$)/.test(name) || name in text_properties) {
        element.removeAttribute(name);
      }
    }
    if (style !== '') element.setAttribute('style', style);
  });
  const comments = document.createTreeWalker(copy, NodeFilter.SHOW_COMMENT);
  const found: Node[] = [];
  while (comments.nextNode()) found.push(comments.currentNode);
  found.forEach((comment) => comment.parentNode?.removeChild(comment));
  // What only answers to the pointer is no part of the drawing.
  copy.querySelectorAll('[data-not-drawn]').forEach((element) => element.remove());
  return copy;
}

/** Colours of the page as it is seen, light or dark; exported sheets are as the page shows them. */
function coloursOf(element: Element): { ink: string; quiet: string; paper: string } {
  const computed = getComputedStyle(element);
  let paper = 'rgb(255, 255, 255)';
  for (let at: Element | null = element; at; at = at.parentElement) {
    const colour = getComputedStyle(at).backgroundColor;
    if (colour !== '' && colour !== 'transparent' && !colour.endsWith(', 0)')) {
      paper = colour;
      break;
    }
  }
  return { ink: computed.color, quiet: computed.color, paper };
}

/** The drawing as a standalone SVG. */
export function sheetOf(source: SVGSVGElement, sheet: Sheet): string {
  const box = source.getBoundingClientRect();
  const copy = withStyles(source);
  const view_box =
    source.getAttribute('viewBox') ?? `0 0 ${Math.round(box.width)} ${Math.round(box.height)}`;
  const serializer = new XMLSerializer();
  const inside = [...copy.childNodes].map((node) => serializer.serializeToString(node)).join('');
  return sheetAround(
    inside,
    { width: Math.round(box.width), height: Math.round(box.height), view_box },
    sheet,
    coloursOf(source),
  );
}

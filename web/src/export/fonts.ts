// An image made of an SVG sees no fonts but those installed and those written into it.

async function asDataUrl(address: string): Promise<string | null> {
  try {
    const blob = await (await fetch(address)).blob();
    return await new Promise((resolve) => {
      const reader = new FileReader();
      reader.onload = () => resolve(reader.result as string);
      reader.onerror = () => resolve(null);
      reader.readAsDataURL(blob);
    });
  } catch {
    return null;
  }
}

/** The page's own font faces for Latin letters, with their data, as a style sheet; may be empty. */
export async function fontFaces(): Promise<string> {
  const rules: CSSFontFaceRule[] = [];
  for (const list of document.styleSheets) {
    try {
      rules.push(...[...list.cssRules].filter((rule) => rule instanceof CSSFontFaceRule));
    } catch {
      // A style sheet of another origin does not show its rules.
    }
  }
  const texts = await Promise.all(
    rules.map(async (rule) => {
      const range = rule.style.getPropertyValue('unicode-range');
      if (range !== '' && !/U\+0+-0*FF\b/i.test(range)) {
        return '';
      }
      const address = /url\(["']?([^"')]+)["']?\)/.exec(rule.style.getPropertyValue('src'))?.[1];
      if (!address || address.startsWith('data:')) {
        return address ? rule.cssText : '';
      }
      const url = await asDataUrl(new URL(address, rule.parentStyleSheet?.href ?? location.href).href);
      const family = rule.style.getPropertyValue('font-family');
      const weight = rule.style.getPropertyValue('font-weight') || 'normal';
      return url === null
        ? ''
        : `@font-face{font-family:${family};font-weight:${weight};src:url(${url})}`;
    }),
  );
  return texts.join('');
}

// Drawings and texts as files for the user, made without asking the server.

import { fontFaces } from './fonts';

/** Size of a picture of points in relation to those of the page. */
export const png_scale = 2;

export function fileName(name: string, ending: string): string {
  const stem = name
    .normalize('NFKD')
    .replace(/[\u0300-\u036f]/g, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '');
  return `${stem === '' ? 'drawing' : stem.slice(0, 80)}.${ending}`;
}

export function save(blob: Blob, name: string): void {
  const address = URL.createObjectURL(blob);
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  // The browser has taken hold of it by the time the link's own task is over.
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

export function svgBlob(svg: string): Blob {
  return new Blob(['<?xml version="1.0" encoding="UTF-8"?>\n', svg], { type: 'image/svg+xml' });
}

/** The sheet in points; null where the browser cannot draw it. */
export async function pngBlob(svg: string, scale = png_scale): Promise<Blob | null> {
  const faces = await fontFaces();
  const with_fonts = faces === '' ? svg : svg.replace('<title>', `<style>${faces}</style><title>`);
  const image = new Image();
  // A data address keeps the canvas clean; one made of a blob would taint it in some browsers.
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(with_fonts)}`;
  try {
    await image.decode();
  } catch {
    return null;
  }
  const canvas = document.createElement('canvas');
  canvas.width = Math.round(image.naturalWidth * scale);
  canvas.height = Math.round(image.naturalHeight * scale);
  const context = canvas.getContext('2d');
  if (!context) {
    return null;
  }
  context.drawImage(image, 0, 0, canvas.width, canvas.height);
  return new Promise((resolve) => canvas.toBlob(resolve, 'image/png'));
}

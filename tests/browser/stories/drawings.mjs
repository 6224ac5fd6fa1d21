// Drawings of the page as files: they stand on their own, with cautions and the mark of invented
// data.
import assert from 'node:assert/strict';
import { copyFileSync, mkdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { story } from '../story.mjs';
import { open, part } from '../user.mjs';

async function saved(page, button) {
  const coming = page.waitForEvent('download');
  await button.click();
  const download = await coming;
  return { name: download.suggestedFilename(), file: await download.path() };
}

await story('drawings', async ({ page, address }) => {
  await open(page, address);
  await part(page, 'Wire');
  await page.getByRole('button', { name: 'Simulate', exact: true }).click();
  await page.getByRole('heading', { name: 'Contact force' }).waitFor({ timeout: 90_000 });
  const pictures = process.env.PANUP_PICTURES;
  mkdirSync(pictures, { recursive: true });

  for (const [place, which] of [['.moving', 'moving-wire'], ['.charts', 'contact-force'], ['figure:has(h3:text("Uplift"))', 'uplift']]) {
    const figure = page.locator(place).first();
    const svg = await saved(page, figure.getByRole('button', { name: 'Save as SVG' }));
    assert.match(svg.name, /\.svg$/);
    const text = readFileSync(svg.file, 'utf8');
    copyFileSync(svg.file, path.join(pictures, `saved-${which}.svg`));
    assert.match(text, /does not replace/, `${which} bears no caution`);
    assert.match(text, /Invented data/, `${which} does not say that its data are invented`);
    assert.match(text, /Inter/, `${which} names no font`);
    assert.doesNotMatch(text, /var\(--/, `${which} leaves a style to a page that is not there`);
    assert.doesNotMatch(text, /https?:\/\/(?!www\.w3\.org)/, `${which} asks for something elsewhere`);
    // It is a document of its own: a browser draws it.
    const other = await page.context().newPage();
    await other.setContent(text.replace(/^<\?xml[^>]*>/, ''));
    const box = await other.locator('svg').first().boundingBox();
    assert.ok(box && box.width > 400 && box.height > 100);
    await other.close();

    const png = await saved(page, figure.getByRole('button', { name: 'Save as PNG' }));
    const bytes = readFileSync(png.file);
    copyFileSync(png.file, path.join(pictures, `saved-${which}.png`));
    assert.equal(bytes.subarray(1, 4).toString(), 'PNG');
    assert.equal(bytes.readUInt32BE(16), Math.round(box.width * 2), `${which} is not twice as fine`);
  }
});

// Drawings of the page as files: they stand on their own, with cautions and the mark of invented
// data.
import assert from 'node:assert/strict';
import { copyFileSync, mkdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { story } from '../story.mjs';
import { open, part } from '../user.mjs';

const pictures = process.env.PANUP_PICTURES;

async function saved(page, button) {
  const coming = page.waitForEvent('download');
  await button.click();
  const download = await coming;
  return { name: download.suggestedFilename(), file: await download.path() };
}

/** What a saved drawing must be, whichever it is. */
async function holds(page, figure, which) {
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
  assert.ok(box && box.width > 400 && box.height > 100, `${which} is empty`);
  assert.ok((await other.locator('svg svg').evaluate((one) => one.getBBox().width)) > 200, `${which} draws nothing`);
  await other.close();

  const png = await saved(page, figure.getByRole('button', { name: 'Save as PNG' }));
  const bytes = readFileSync(png.file);
  copyFileSync(png.file, path.join(pictures, `saved-${which}.png`));
  assert.equal(bytes.subarray(1, 4).toString(), 'PNG');
  assert.equal(bytes.readUInt32BE(16), Math.round(box.width * 2), `${which} is not twice as fine`);
}

await story('drawings', async ({ page, address }) => {
  mkdirSync(pictures, { recursive: true });
  await open(page, address);
  const plan = page.getByRole('region', { name: 'Drawings as files' }).locator('p');
  await holds(page, plan.filter({ hasText: /^Train/ }), 'train');
  await holds(page, plan.filter({ hasText: /^Along the route/ }), 'strip');

  await part(page, 'Wire');
  await page.getByRole('button', { name: 'Simulate', exact: true }).click();
  await page.getByRole('heading', { name: 'Contact force' }).waitFor({ timeout: 90_000 });
  await holds(page, page.locator('.moving'), 'moving-wire');
  await holds(page, page.locator('.charts'), 'contact-force');
  await holds(page, page.locator('figure').filter({ has: page.getByRole('heading', { name: /^Uplift/ }) }), 'uplift');
});

// The first view: there within a second on this machine, and light enough to be there as fast on a
// slow one. Both figures are the product's own aims.
import assert from 'node:assert/strict';
import { gzipSync } from 'node:zlib';
import { story } from '../story.mjs';

await story('first view', async ({ page, address, picture }) => {
  const scripts = new Map();
  page.on('response', async (response) => {
    if (response.request().resourceType() === 'script') scripts.set(response.url(), response.body());
  });
  // What counts is a browser that is awake; the first page of all wakes it.
  await page.goto('about:blank');
  const begun = performance.now();
  await page.goto(address);
  await page.getByRole('slider', { name: 'Chainage of the front of the train' }).waitFor();
  await page.getByRole('button', { name: /^Pantograph 1\.1/ }).first().waitFor();
  const took_ms = performance.now() - begun;
  console.log(`first view after ${took_ms.toFixed(0)} ms`);
  await picture(page, 'first-view');
  assert.ok(took_ms < 1000, `first view after ${took_ms.toFixed(0)} ms, aim: under 1000 ms`);
  const bodies = await Promise.all(scripts.values());
  const compressed = bodies.reduce((sum, body) => sum + gzipSync(body).length, 0);
  assert.ok(compressed > 0, 'no script was seen');
  console.log(`scripts: ${(compressed / 1000).toFixed(0)} kB compressed`);
  assert.ok(compressed < 1_000_000, `scripts of ${compressed} bytes compressed, aim: under 1 MB`);
});

// A pantograph is drawn along by keyboard and by mouse, and the speed follows: at first sight, then as permitted.
import assert from 'node:assert/strict';
import { story } from '../story.mjs';
import { choose, open, part } from '../user.mjs';

await story('drawn apart', async ({ page, address, picture }) => {
  await open(page, address);
  await choose(page, 'train', 'trains/t12-petrol-double.toml');
  await part(page, 'Wire');
  const apart = page.getByRole('region', { name: 'Pantographs drawn apart' });
  const handle = apart.getByRole('slider').first();
  const says = apart.locator('output');
  const stands = Number(await handle.getAttribute('aria-valuenow'));
  assert.ok(stands > 5, `a distance of ${stands} m`);
  assert.equal(await says.textContent(), '', 'nothing is computed before it is asked for');

  // By keyboard, a metre and ten.
  await handle.focus();
  await page.keyboard.press('PageDown');
  const nearer = Number(await handle.getAttribute('aria-valuenow'));
  assert.equal(nearer, Math.round(stands - 10));
  await page.waitForFunction((at) => document.querySelector('output.says, output[class*=says]')?.textContent?.startsWith(`${at} m: `), nearer);
  await apart.getByText(new RegExp(`^${nearer} m: (about )?\\d+ km/h`)).waitFor({ timeout: 60_000 });
  await apart.getByText(new RegExp(`^${nearer} m: \\d+ km/h permitted by the mechanics`)).waitFor({ timeout: 120_000 });

  // What is around it comes by itself.
  await page.waitForFunction(() => document.querySelectorAll('circle[class*=sight]').length > 5, null, { timeout: 120_000 });
  await picture(page, 'drawn-apart');

  // The front of the train is at the left, as in all drawings of it.
  assert.ok((await apart.locator('.stands').boundingBox()).x < (await handle.boundingBox()).x);
  // By mouse: the pantograph is where the hand is, and what stands there is told from either side at once.
  const box = await handle.locator('rect').boundingBox();
  assert.ok(box);
  const y = box.y + box.height / 2;
  await page.mouse.move(box.x + box.width / 2, y);
  await page.mouse.down();
  const took = [];
  for (let i = 1; i <= 12; ++i) {
    const before = await says.textContent();
    const began = Date.now();
    await page.mouse.move(box.x + box.width / 2 + 14 * i, y);
    await page.waitForFunction((text) => document.querySelector('output[class*=says]')?.textContent !== text, before);
    took.push(Date.now() - began);
  }
  await page.mouse.up();
  const dragged = Number(await handle.getAttribute('aria-valuenow'));
  assert.ok(dragged > nearer + 5, `${dragged} m after a drag from ${nearer} m`);
  assert.match((await says.textContent()) ?? '', new RegExp(`^${dragged} m: `));
  took.sort((a, b) => a - b);
  console.log(`the speed follows within ${took[6]} ms (median of 12 moves; the longest took ${took.at(-1)} ms)`);
  await apart.getByText(new RegExp(`^${dragged} m: \\d+ km/h permitted by the mechanics`)).waitFor({ timeout: 120_000 });

  await apart.getByRole('button', { name: /^Back to/ }).click();
  assert.equal(Number(await handle.getAttribute('aria-valuenow')), stands);

  // The distance can be taken into a case of one's own.
  await handle.focus();
  await page.keyboard.press('ArrowRight');
  const taken = Number(await handle.getAttribute('aria-valuenow'));
  await apart.getByRole('button', { name: 'Take this distance into a case of my own' }).click();
  assert.equal(Number(await page.getByLabel('Behind the one before').first().inputValue()), taken);
});

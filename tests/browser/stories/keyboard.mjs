// All of it by keyboard: the train in another order, a defect marked, along the route, a run
// started. No mouse is touched.
import assert from 'node:assert/strict';
import { story } from '../story.mjs';
import { here, open, settled } from '../user.mjs';

/** Goes on with Tab until something is in focus that is called so. */
async function tabTo(page, pattern, most = 160) {
  for (let i = 0; i < most; ++i) {
    await page.keyboard.press('Tab');
    const name = await page.evaluate(() => {
      const at = document.activeElement;
      return at ? `${at.getAttribute('aria-label') ?? ''} ${at.labels?.[0]?.textContent ?? ''} ${at.textContent ?? ''}`.trim() : '';
    });
    if (pattern.test(name)) {
      const seen = await page.evaluate(() => {
        const style = getComputedStyle(document.activeElement);
        return style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) > 0;
      });
      assert.ok(seen, `what is in focus is not seen: ${name}`);
      return;
    }
  }
  assert.fail(`Tab does not come to ${pattern}`);
}

await story('keyboard', async ({ page, address, picture }) => {
  await open(page, address);
  const before = await here(page);
  assert.deepEqual(before.raised, ['1.2']);

  // Turned round, the other one of the two is the rear one.
  await tabTo(page, /^vehicle 1/);
  await page.keyboard.press('t');
  assert.deepEqual((await here(page)).raised, ['1.1']);
  await page.keyboard.press('Control+z');
  assert.deepEqual((await here(page)).raised, ['1.2']);

  await tabTo(page, /^Pantograph 1\.2, up/);
  await page.keyboard.press('Enter');
  await page.getByRole('dialog').waitFor();
  await page.keyboard.press('ArrowDown');
  await settled(page);
  await picture(page, 'keyboard');
  assert.deepEqual((await here(page)).raised, ['1.1']);
  await page.keyboard.press('Escape');
  await page.getByRole('dialog').waitFor({ state: 'detached' });

  await tabTo(page, /^Chainage of the front/);
  const from = await page.getByRole('slider', { name: /Chainage/ }).inputValue();
  await page.keyboard.press('PageUp');
  assert.notEqual(await page.getByRole('slider', { name: /Chainage/ }).inputValue(), from);
  // The train runs to the left in its drawing: so does its place along the route, and the arrow keys with it.
  const place = async () => ({ km: Number(await page.getByRole('slider', { name: /Chainage/ }).inputValue()), x: (await page.locator('.strip .cursor').boundingBox()).x });
  const stood = await place();
  await page.keyboard.press('Shift+ArrowLeft');
  const ran = await place();
  assert.ok(ran.km > stood.km && ran.x < stood.x, `from km ${stood.km} at ${stood.x} px to km ${ran.km} at ${ran.x} px`);
  await page.keyboard.press('Shift+ArrowRight');
  assert.equal((await place()).x, stood.x);

  await page.keyboard.press('Control+Home');
  await page.evaluate(() => document.body.focus());
  await tabTo(page, /^Wire$/);
  await page.keyboard.press('Enter');
  await tabTo(page, /^Simulate$/);
  await page.keyboard.press('Enter');
  await page.getByRole('heading', { name: 'Contact force' }).waitFor({ timeout: 90_000 });
  await tabTo(page, /^One step on$/);
  const shape = await page.locator('.moving svg .contact').getAttribute('d');
  await page.keyboard.press('Enter');
  assert.notEqual(await page.locator('.moving svg .contact').getAttribute('d'), shape);
});

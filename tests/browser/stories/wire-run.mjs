// A run of the mechanics for the section under the pointer: found by itself, computed, shown.
import assert from 'node:assert/strict';
import { story } from '../story.mjs';
import { choose, open, part } from '../user.mjs';

await story('wire run', async ({ page, address, picture }) => {
  await open(page, address);
  await choose(page, 'train', 'trains/t12-petrol-double.toml');
  await part(page, 'Wire');
  const asked = page.waitForRequest((request) => request.method() === 'POST' && request.url().endsWith('/api/jobs'));
  await page.getByRole('button', { name: 'Simulate', exact: true }).click();
  const question = (await asked).postDataJSON();
  assert.equal(question.kind, 'simulate');
  assert.equal(question.pantographs.length, 2);
  assert.ok(question.pantographs[1].behind_first_m > question.pantographs[0].behind_first_m);

  await page.getByRole('heading', { name: 'Contact force' }).waitFor({ timeout: 90_000 });
  // The figures on view are those of the engine, and the page judges nothing itself.
  const table = page.getByRole('region', { name: 'Figures over the evaluated stretch' });
  const mean = Number(await table.getByRole('row', { name: /^mean contact force/ }).getByRole('cell').first().textContent());
  assert.ok(mean > 40 && mean < 200, `a mean contact force of ${mean} N`);
  await page.getByText(/criterion in force is met/).waitFor({ timeout: 90_000 });
  await page.getByText(/Invented data/).first().waitFor();
  // One speed is no permission for lower ones; the permitted speed is said as soon as it is known.
  const alone = page.locator('.run .alone');
  await alone.getByText('This speed alone was looked at; lower speeds may fail.').waitFor();
  await alone.getByText('Permitted speed not known yet.').waitFor();
  await page.getByRole('button', { name: 'Find the speed at this distance' }).click();
  await alone.getByText(/Permitted speed of this case by the mechanics: \d+ km\/h|Permitted by the mechanics up to \d+ km\/h/).waitFor({ timeout: 90_000 });

  // The train runs to the left, as in its drawing: the front pantograph is at the left, and the metres fall to the right.
  const heads = page.locator('.moving svg .name');
  assert.ok((await heads.nth(0).boundingBox()).x < (await heads.nth(1).boundingBox()).x);
  const metres = (await page.locator('.moving svg .metres text').allTextContents()).map((one) => Number(one.replace(' m', '')));
  const posts = await page.locator('.moving svg .metres text').evaluateAll((all) => all.map((one) => one.getBoundingClientRect().x));
  assert.ok(metres[0] < metres[1] && posts[0] > posts[1], `${metres} m at ${posts} px`);

  // The wire moves on by a step, and its picture with it.
  const wire = page.locator('.moving svg .contact');
  const shape = await wire.getAttribute('d');
  await page.getByRole('button', { name: 'One step on' }).click();
  assert.notEqual(await wire.getAttribute('d'), shape);
  // With little motion wanted, nothing moves by itself.
  const still = await wire.getAttribute('d');
  await page.waitForTimeout(1300);
  assert.equal(await wire.getAttribute('d'), still);
  await page.getByRole('button', { name: 'Play' }).click();
  await page.waitForTimeout(1300);
  assert.notEqual(await wire.getAttribute('d'), still);
  await page.getByRole('button', { name: 'Pause' }).click();

  // A stretch of it, closer.
  const from = page.locator('.charts').getByLabel('From');
  await from.fill('500');
  await from.press('Tab');
  await page.locator('.charts').getByRole('button', { name: 'Evaluated stretch' }).click();
  assert.notEqual(await from.inputValue(), '500');
  await picture(page, 'wire-run');
});

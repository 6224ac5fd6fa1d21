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

  // The envelope is chosen around the train's own point, which is marked in it.
  const envelope = page.getByRole('region', { name: 'The envelope' });
  const [second] = question.pantographs.slice(1);
  const field = async (name) => Number(await envelope.getByLabel(name, { exact: true }).inputValue());
  const range = { from: await field('Distance between one and the next, From'), to: await field('Distance between one and the next, to') };
  assert.ok(range.from < second.behind_first_m && second.behind_first_m < range.to, `${second.behind_first_m} m from ${range.from} to ${range.to} m`);
  assert.ok((await field('Speeds, From')) < question.speed_kmh && question.speed_kmh < (await field('Speeds, to')));
  await envelope.getByRole('button', { name: 'Compute the envelope' }).click();
  const mark = await envelope.locator('[data-own] circle').first().boundingBox();
  const area = await envelope.locator('figure > svg rect.empty').first().boundingBox();
  const share = (mark.x + mark.width / 2 - area.x) / area.width;
  assert.ok(share > 0.2 && share < 0.8, `the train's own point at ${share} of the width`);
  await envelope.getByRole('button', { name: 'Stop' }).click();
  await envelope.getByText('Stopped. What was computed until then is shown.').waitFor();
  await picture(page, 'envelope-own');
  // Another range, and back to the train.
  const far = envelope.getByLabel('Distance between one and the next, to', { exact: true });
  await far.fill('300');
  await far.press('Tab');
  await envelope.getByRole('button', { name: /^Around the train/ }).click();
  assert.equal(await field('Distance between one and the next, to'), range.to);

  // A stretch of it, closer.
  const from = page.locator('.charts').getByLabel('From');
  await from.fill('500');
  await from.press('Tab');
  await page.locator('.charts').getByRole('button', { name: 'Evaluated stretch' }).click();
  assert.notEqual(await from.inputValue(), '500');
  await picture(page, 'wire-run');
});

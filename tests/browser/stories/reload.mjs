// Work outlives a reload, and the program's end: the page keeps it, the server keeps nothing of it.
import assert from 'node:assert/strict';
import { story } from '../story.mjs';
import { buildDoubleHeaderWithPetrol, here, open, part } from '../user.mjs';

await story('reload', async (world) => {
  const { page, address } = world;
  // While it is opened, nobody is told that nothing is open.
  await page.addInitScript(() => {
    globalThis.told_empty = false;
    new MutationObserver(() => (globalThis.told_empty ||= /No train and no route/.test(document.body?.textContent ?? ''))).observe(document, { childList: true, subtree: true });
  });
  await open(page, address);
  assert.equal(await page.evaluate(() => globalThis.told_empty), false);
  assert.equal(await page.locator('.open label .tag').filter({ hasText: /^(new|unsaved)$/ }).count(), 0);
  await buildDoubleHeaderWithPetrol(page);
  // A train that the library does not have is new, and goes by its name.
  const standing = page.locator('label[for=head-train] .tag');
  assert.equal(await standing.textContent(), 'new');
  assert.equal(await page.locator('select.train option:checked').textContent(), 'New train');
  assert.match(await page.title(), /^\* · /);
  await page.getByRole('slider', { name: /Chainage/ }).press('PageUp');
  const before = await here(page);
  const at = await page.getByRole('slider', { name: /Chainage/ }).inputValue();

  await page.reload();
  await page.getByRole('slider', { name: /Chainage/ }).waitFor();
  assert.deepEqual(await here(page), before);
  assert.equal(await page.getByRole('slider', { name: /Chainage/ }).inputValue(), at);
  assert.equal(await page.evaluate(() => globalThis.told_empty), false);
  // What was done before the reload can be undone after it, and done again.
  await page.getByRole('button', { name: 'Undo' }).click();
  const undone = await here(page);
  assert.notDeepEqual(undone.raised, before.raised);
  await page.reload();
  await page.getByRole('slider', { name: /Chainage/ }).waitFor();
  assert.deepEqual(await here(page), undone);
  await page.getByRole('button', { name: 'Redo' }).click();
  assert.deepEqual(await here(page), before);

  // Saved it is neither new nor unsaved; changed again it is.
  await part(page, 'Files');
  await page.getByRole('button', { name: 'Save to the library' }).click();
  await page.getByText('Saved as trains/new-train.toml.').waitFor();
  await standing.waitFor({ state: 'detached' });
  assert.doesNotMatch(await page.title(), /^\*/);
  await part(page, 'Plan');

  // The server goes away and comes back: nothing is lost, and work goes on.
  world.expected.push(/Failed to load resource|ERR_CONNECTION_REFUSED/);
  await world.stop();
  const order = page.getByRole('list', { name: 'Order of the train, front first' }).last();
  await order.getByRole('button', { name: 'petrol in tank wagons' }).click();
  await page.getByRole('radio', { name: 'ordinary' }).check();
  await standing.getByText('unsaved').waitFor();
  const away = page.getByText('The program does not answer. Nothing is lost');
  await away.waitFor();
  await world.restart();
  // The page asks again by itself.
  await away.waitFor({ state: 'detached' });
  assert.notDeepEqual((await here(page)).raised, before.raised);
  await page.getByRole('button', { name: 'Undo' }).click();
  assert.deepEqual(await here(page), before);
  await page.reload();
  await page.getByRole('slider', { name: /Chainage/ }).waitFor();
  assert.deepEqual(await here(page), before);

  // A long computation goes on while the page is loaded anew, and is found again.
  await part(page, 'Wire');
  const envelope = page.getByRole('region', { name: 'The envelope' });
  await envelope.getByLabel('Contact line').selectOption('lines/nv-100.toml');
  await envelope.getByRole('button', { name: 'Compute the envelope' }).click();
  await page.waitForFunction(() => document.querySelectorAll('figure > svg rect[class*=passes]').length > 0, null, { timeout: 60_000 });
  await page.reload();
  await part(page, 'Wire');
  await page.waitForFunction(() => document.querySelectorAll('figure > svg rect[class*=passes]').length > 0, null, { timeout: 60_000 });
  await page.getByRole('region', { name: 'The envelope' }).getByRole('button', { name: 'Stop' }).click();
  await page.getByText('Stopped. What was computed until then is shown.').waitFor();

  // A program that was started anew knows no computation of the one before, and the page says so.
  await world.restart();
  await page.reload();
  await part(page, 'Wire');
  world.expected.push(/404/);
  await page.getByText('no longer knows this computation').waitFor();
});

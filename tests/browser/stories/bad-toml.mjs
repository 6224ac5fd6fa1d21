// A mistake in a file is shown at its line, in the program's words, and is gone when it is mended.
import assert from 'node:assert/strict';
import { story } from '../story.mjs';
import { open, part, settled } from '../user.mjs';

await story('bad toml', async (world) => {
  const { page, address, picture } = world;
  world.expected.push(/422/);
  await open(page, address);
  // In a long list a train is found by any of its words, and Enter takes it.
  const search = page.locator('header .field').first().getByRole('searchbox');
  await search.fill('tarnholt HEAVY');
  assert.deepEqual(await page.locator('select.train option').allTextContents().then((all) => all.filter((one) => /petrol/.test(one))), ['Heavy petrol to Tarnholt']);
  await search.press('Enter');
  await settled(page);
  assert.equal(await page.locator('select.train').inputValue(), 'trains/t12-petrol-double.toml');
  assert.equal(await search.inputValue(), '');
  await part(page, 'Files');
  const found = page.getByRole('region', { name: 'Open from the library' });
  await found.getByRole('searchbox').fill('t29 selmo');
  assert.deepEqual((await found.getByRole('listitem').getByRole('button').allTextContents()).filter((one) => !/^\s*$/.test(one)), ['Petrol to Port Selmo']);
  await found.getByRole('searchbox').fill('no such train');
  await found.getByText('nothing found').waitFor();
  await found.getByRole('searchbox').fill('');
  const text = page.getByRole('textbox', { name: 'trains/t12-petrol-double.toml' });
  const sound = await text.inputValue();
  const lines = sound.split('\n');
  const line = lines.findIndex((one) => one.startsWith('braking_ms2')) + 1;
  assert.ok(line > 0);
  await text.fill(lines.map((one, i) => (i === line - 1 ? 'brakeing_ms2 = 0.4' : one)).join('\n'));
  const mistakes = page.getByRole('list', { name: 'Mistakes in the input' });
  await mistakes.getByText(/brakeing_ms2/).first().waitFor();
  assert.match((await mistakes.textContent()) ?? '', new RegExp(`line ${line}\\b`));
  // The engine's suggestion is there, and the line can be gone to.
  assert.match((await mistakes.textContent()) ?? '', /braking_ms2/);
  await mistakes.getByRole('button', { name: `line ${line}` }).first().click();
  const marked = await text.evaluate((area) => area.value.slice(area.selectionStart, area.selectionEnd));
  assert.equal(marked, 'brakeing_ms2 = 0.4');
  await picture(page, 'bad-toml');
  await text.fill(sound);
  await settled(page);
  await mistakes.waitFor({ state: 'detached' });
});

// Two tabs work on two trains; neither writes over the other's. And a train that was changed in the
// library meanwhile is not written over unasked.
import assert from 'node:assert/strict';
import { appendFileSync } from 'node:fs';
import path from 'node:path';
import { story } from '../story.mjs';
import { choose, here, open, part, settled } from '../user.mjs';

await story('two tabs', async (world) => {
  const { page, address, library } = world;
  await open(page, address);
  await choose(page, 'train', 'trains/t12-petrol-double.toml');
  const first = await here(page);
  const other = await page.context().newPage();
  await open(other, address);
  await choose(other, 'train', 'trains/t11-limestone-double.toml');
  const second = await here(other);
  assert.notDeepEqual(first.raised, second.raised);
  await page.reload();
  await page.getByRole('slider', { name: /Chainage/ }).waitFor();
  assert.deepEqual(await here(page), first);
  await other.reload();
  await other.getByRole('slider', { name: /Chainage/ }).waitFor();
  assert.deepEqual(await here(other), second);

  await part(page, 'Files');
  await settled(page);
  appendFileSync(path.join(library, 'trains/t12-petrol-double.toml'), '# changed by somebody else\n');
  world.expected.push(/409/);
  const text = page.getByRole('textbox', { name: 'trains/t12-petrol-double.toml' });
  await text.press('Control+End');
  await text.pressSequentially('# mine\n');
  await settled(page);
  await page.getByRole('button', { name: 'Save to the library', exact: true }).click();
  await page.getByRole('alertdialog').waitFor();
  // Both are shown, and where they differ.
  const theirs = page.getByRole('list', { name: 'In the library now' });
  assert.match((await theirs.textContent()) ?? '', /≠ # changed by somebody else/);
  assert.match((await page.getByRole('list', { name: 'Yours' }).textContent()) ?? '', /≠ # mine/);
  await page.getByRole('button', { name: 'Write yours over it' }).click();
  await page.getByText('Saved as trains/t12-petrol-double.toml.').waitFor();
});

// A mistake in a file is shown at its line, in the program's words, and is gone when it is mended.
import assert from 'node:assert/strict';
import { story } from '../story.mjs';
import { choose, open, part, settled } from '../user.mjs';

await story('bad toml', async (world) => {
  const { page, address, picture } = world;
  world.expected.push(/422/);
  await open(page, address);
  await choose(page, 'train', 'trains/t12-petrol-double.toml');
  await part(page, 'Files');
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

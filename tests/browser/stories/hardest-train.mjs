// The demo's hardest train, three energy supply systems and a reversal, taken through the phase
// separation section that it passes with pantographs up.
import assert from 'node:assert/strict';
import { story } from '../story.mjs';
import { choose, here, open } from '../user.mjs';

await story('hardest train', async ({ page, address, picture }) => {
  await open(page, address);
  await choose(page, 'train', 'trains/t29-petrol-to-port-selmo.toml');
  await choose(page, 'route', 'routes/harl-port-selmo.toml');
  const departure = await here(page);
  assert.deepEqual(departure.raised, ['1.4', '2.4', '3.1']);
  await page.getByRole('button', { name: /Take the train through: Sollin/ }).click();
  const within = await here(page);
  assert.deepEqual(within.raised, ['1.2', '2.2', '3.2']);
  await page.getByText('phase west').first().waitFor();
  await page.setViewportSize({ width: 1280, height: 1180 });
  await page.evaluate(() => window.scrollTo(0, 0));
  await picture(page, 'hardest-train', { fullPage: false });
});

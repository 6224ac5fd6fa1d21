// A link holds train, route and view, and opens them elsewhere; what it holds goes to no server.
import assert from 'node:assert/strict';
import { story } from '../story.mjs';
import { buildDoubleHeaderWithPetrol, here, open, settled } from '../user.mjs';

await story('link', async (world) => {
  const { page, address } = world;
  await page.context().grantPermissions(['clipboard-read', 'clipboard-write']);
  await open(page, address);
  await buildDoubleHeaderWithPetrol(page);
  await page.getByRole('slider', { name: /Chainage/ }).press('PageUp');
  const before = await here(page);
  await page.getByRole('button', { name: 'Copy link' }).click();
  await page.getByText('Link copied').waitFor();
  const link = await page.evaluate(() => navigator.clipboard.readText());
  assert.ok(link.startsWith(`${address}#`));

  const elsewhere = await (await world.context()).newPage();
  await elsewhere.goto(link);
  await elsewhere.getByRole('slider', { name: /Chainage/ }).waitFor();
  await settled(elsewhere);
  assert.deepEqual(await here(elsewhere), before);
  assert.equal(
    await elsewhere.getByRole('slider', { name: /Chainage/ }).inputValue(),
    await page.getByRole('slider', { name: /Chainage/ }).inputValue(),
  );
  assert.ok(world.requests.every((url) => !url.includes(link.split('#')[1].slice(0, 40))));

  const damaged = await (await world.context()).newPage();
  await damaged.goto(`${link.slice(0, -20)}x`);
  await damaged.getByText('The link could not be read').waitFor();
});

// The first view: how long it takes is said, and has to stay far from what a user would call waiting;
// on a quiet machine it is there within a second, which is the aim. The weight of the scripts is
// held to its aim.
import assert from 'node:assert/strict';
import { gzipSync } from 'node:zlib';
import { story } from '../story.mjs';

await story('first view', async (world) => {
  const times_ms = [];
  let compressed = 0;
  // The quickest of three first visits: what else the machine does only makes them slower.
  for (let visit = 0; visit < 3; ++visit) {
    const page = await (await world.context()).newPage();
    const bodies = [];
    page.on('response', (response) => {
      if (response.request().resourceType() === 'script') bodies.push(response.body());
    });
    await page.goto('about:blank');
    const begun = performance.now();
    await page.goto(world.address);
    await page.getByRole('slider', { name: 'Chainage of the front of the train' }).waitFor();
    await page.locator('#train .board').getByRole('button', { name: /^Pantograph 1\.1/ }).waitFor();
    times_ms.push(performance.now() - begun);
    compressed = (await Promise.all(bodies)).reduce((sum, body) => sum + gzipSync(body).length, 0);
    if (visit === 0) await world.picture(page, 'first-view');
    await page.context().close();
  }
  const quickest_ms = Math.min(...times_ms);
  console.log(`first view after ${times_ms.map((time) => time.toFixed(0)).join(', ')} ms`);
  console.log(`scripts: ${(compressed / 1000).toFixed(0)} kB compressed`);
  assert.ok(quickest_ms < 5000, `first view after ${quickest_ms.toFixed(0)} ms on a machine at work; aim: 1000 ms on a quiet one`);
  assert.ok(compressed > 0, 'no script was seen');
  assert.ok(compressed < 1_000_000, `scripts of ${compressed} bytes compressed, aim: under 1 MB`);
});

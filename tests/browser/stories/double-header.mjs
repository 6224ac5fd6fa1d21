// From nothing to a card: a double header with petrol behind it. What is expected of the plan is
// common practice (no published source): before a dangerous load both locomotives have their front
// pantograph up; with the front one of the second defective, its other one.
import assert from 'node:assert/strict';
import { story } from '../story.mjs';
import { buildDoubleHeaderWithPetrol, here, open, part, pointAtPantograph, settled } from '../user.mjs';

await story('double header', async ({ page, address, picture }) => {
  await open(page, address);
  await buildDoubleHeaderWithPetrol(page);

  const before = await here(page);
  assert.deepEqual(before.raised, ['1.1', '2.1']);
  await picture(page, 'double-header');

  // The second locomotive, dragged by the mouse before the first, is the one that is picked: Delete takes
  // that one out, and nothing else.
  const board = page.locator('#train .board');
  const list = page.getByRole('list', { name: 'Order of the train, front first' }).last().getByRole('listitem');
  const order = async () => (await list.getByRole('button').allTextContents()).map((one) => one.replace(/^\s*\d*\s*/, '').trim());
  const [first, second, petrol] = await order();
  const middle = async (name) => {
    const box = await board.getByRole('button', { name, exact: true }).boundingBox();
    return [box.x + box.width / 2, box.y + box.height / 2];
  };
  const [from, to] = [await middle(`vehicle 2, ${second}`), await middle(`vehicle 1, ${first}`)];
  await page.mouse.move(...from);
  await page.mouse.down();
  await page.mouse.move(to[0] - 60, to[1], { steps: 6 });
  await page.mouse.up();
  await settled(page);
  assert.deepEqual(await order(), [second, first, petrol]);
  assert.equal(await board.locator('[aria-pressed=true]').getAttribute('aria-label'), `vehicle 1, ${second}`);
  await page.keyboard.press('Delete');
  await settled(page);
  assert.deepEqual(await order(), [first, petrol]);
  await page.keyboard.press('Control+z');
  await settled(page);
  assert.deepEqual(await order(), [second, first, petrol]);
  await page.keyboard.press('Control+z');
  assert.deepEqual(await here(page), before);
  assert.deepEqual(await order(), [first, second, petrol]);

  // A click sends the train once.
  const sent = [];
  const note = (request) => {
    if (/consist/.test(request.postData() ?? '')) sent.push(new URL(request.url()).pathname);
  };
  page.on('request', note);
  await pointAtPantograph(page, '2.1');
  await page.getByRole('radio', { name: /^defective/ }).check();
  await settled(page);
  page.off('request', note);
  assert.deepEqual(sent, ['/api/plan']);
  await page.getByRole('button', { name: 'Close', exact: true }).click();
  const after = await here(page);
  assert.deepEqual(after.raised, ['1.1', '2.2']);
  assert.ok(after.speed > before.speed, `farther apart, ${before.speed} and then ${after.speed} km/h`);
  await picture(page, 'double-header-one-defective');

  await page.getByRole('button', { name: 'Undo' }).click();
  assert.deepEqual(await here(page), before);
  await page.getByRole('button', { name: 'Redo' }).click();
  assert.deepEqual(await here(page), after);

  // What the operator orders goes before practice: the rear one of the first locomotive up, and no
  // other, for another head is at its limit of wear.
  await pointAtPantograph(page, '1.1');
  await page.getByRole('radio', { name: /^ordered down/ }).check();
  await page.getByRole('button', { name: 'Close', exact: true }).click();
  assert.deepEqual((await here(page)).raised, ['1.2', '2.2']);
  await pointAtPantograph(page, '1.1');
  await page.getByRole('radio', { name: /^free/ }).check();
  await page.getByRole('button', { name: 'Close', exact: true }).click();
  await pointAtPantograph(page, '1.2');
  await page.getByRole('radio', { name: /^ordered up/ }).check();
  await page.getByRole('button', { name: 'Close', exact: true }).click();
  assert.ok((await here(page)).raised.includes('1.2'));
  await picture(page, 'double-header-ordered');
  await page.getByRole('button', { name: 'Undo' }).click();
  await page.getByRole('button', { name: 'Undo' }).click();
  await page.getByRole('button', { name: 'Undo' }).click();
  assert.deepEqual(await here(page), after);

  // Why not both of the first locomotive, and none of the second? It would have to be hauled dead,
  // and the pantographs of one locomotive stand close together.
  const ask = page.getByRole('group', { name: 'Why not another?' });
  await ask.getByRole('button', { name: 'Pantograph 1.2' }).click();
  await ask.getByRole('button', { name: 'Pantograph 2.2' }).click();
  const reply = page.locator('.reply');
  await reply.getByText(/goes dead in tow/).waitFor();
  await reply.getByText('last resort').first().waitFor();
  const slower = Number(/([0-9]+) km\/h/.exec((await reply.locator('strong').first().textContent()) ?? '')?.[1]);
  assert.ok(slower < after.speed, `${slower} km/h`);
  await picture(page, 'double-header-why-not');
  await ask.getByRole('button', { name: 'As planned' }).click();

  await part(page, 'Files');
  await settled(page);
  const card = page.waitForResponse((response) => response.url().endsWith('/api/card'));
  const shown = page.context().waitForEvent('page', { timeout: 5000 }).catch(() => null);
  await page.getByRole('button', { name: 'Driver’s card (PDF)' }).click();
  const answer = await card;
  assert.equal(answer.status(), 200);
  assert.equal(answer.headers()['content-type'], 'application/pdf');
  await page.getByRole('link', { name: /Driver’s card/ }).first().waitFor();
  assert.match(await page.getByRole('link', { name: /^save as/ }).getAttribute('download'), /^Drivers-card_New-train_[\p{L}-]+_\d{4}-\d\d-\d\d\.pdf$/u);
  // The browser shows what it got and keeps it; asked once more, it is seen what that is.
  const again = await page.request.post(answer.url(), { data: answer.request().postDataJSON() });
  const bytes = await again.body();
  assert.equal(bytes.subarray(0, 5).toString(), '%PDF-');
  assert.ok(bytes.length > 5000, `a card of ${bytes.length} bytes`);
  await (await shown)?.close();
});

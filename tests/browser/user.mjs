// What a user does again and again, by what he sees: names of buttons and fields, in English unless
// said otherwise.
import assert from 'node:assert/strict';

/** Opens the page and waits until the library's first train is planned. */
export async function open(page, address) {
  await page.goto(address);
  await page.getByRole('slider', { name: /Chainage|Kilometer/ }).waitFor();
  await settled(page);
}

/** Waits until the plan on view belongs to what was last done. */
export async function settled(page) {
  await page.waitForFunction(() => {
    const answer = document.querySelector('header [role=status]')?.textContent ?? '';
    return answer !== '' && !/working it out|wird berechnet/.test(answer);
  });
  // A change is gathered for a moment before it is asked about.
  await page.waitForTimeout(80);
  await page.waitForFunction(
    () => !/working it out|wird berechnet/.test(document.querySelector('header [role=status]')?.textContent ?? ''),
  );
}

/** What is up where the train is, and how fast it may go there, as the page says it. */
export async function here(page) {
  await settled(page);
  const raised = await page.locator('.here .name').allTextContents();
  const speed = await page.locator('.here .speed strong').textContent();
  return { raised, speed: Number(speed) };
}

export const part = (page, name) => page.getByRole('navigation').getByRole('button', { name, exact: true }).click();

export async function choose(page, kind, path) {
  await page.locator(`select.${kind}`).selectOption(path);
  await settled(page);
}

/** A double header with petrol behind it, built from nothing. */
export async function buildDoubleHeaderWithPetrol(page) {
  await part(page, 'Files');
  await page.getByRole('button', { name: 'New train' }).click();
  await part(page, 'Plan');
  await settled(page);
  const order = page.getByRole('list', { name: 'Order of the train, front first' }).last();
  assert.equal(await order.getByRole('listitem').count(), 1);

  await page.getByRole('button', { name: 'Change the train' }).click();
  await page.getByLabel('Vehicle or wagons').selectOption({ label: 'Class K41 · 19.4 m' });
  await page.getByLabel('where', { exact: true }).selectOption('rear');
  await page.getByRole('button', { name: 'Put in', exact: true }).click();
  await settled(page);
  await page.getByLabel('Vehicle or wagons').selectOption({ label: 'a load of stated length' });
  await page.getByRole('button', { name: 'Put in', exact: true }).click();
  await settled(page);
  assert.equal(await order.getByRole('listitem').count(), 3);
  // What was put in is picked, so that it can be said what it is.
  await page.getByLabel('what it is').fill('petrol in tank wagons');
  await page.getByLabel('what it is').press('Tab');
  await page.getByRole('radio', { name: 'dangerous' }).check();
  await settled(page);
}

/** Opens the orders for a pantograph, in the drawing of the train. */
export const pointAtPantograph = (page, name) =>
  page.locator('#train .board').getByRole('button', { name: new RegExp(`^Pantograph ${name.replace('.', '\\.')}`) }).click();

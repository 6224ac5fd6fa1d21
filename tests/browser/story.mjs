// A story: the program serves a copy of the demo data, a browser opens its page, and something is
// done there as a user does it. Whatever the story, no request may leave the machine, and neither
// the page nor its security policy may complain.
import assert from 'node:assert/strict';
import { spawn } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import os from 'node:os';
import path from 'node:path';

function setting(name) {
  const value = process.env[name];
  assert.ok(value, `${name} is not set; ctest -L browser sets it`);
  return value;
}

/** The greater part of what takes longest is left out. */
export const sparing = process.env.PANUP_SPARING === '1';

export const packages = createRequire(path.join(setting('PANUP_PACKAGES'), 'package.json'));
const { chromium } = packages('playwright-core');
const pictures = setting('PANUP_PICTURES');

/** Starts the program and waits until it says where its page is. It keeps runs in the story's folder:
 *  what was computed in another story, or for the user of the machine, is computed anew. */
async function started(folder, port, more = []) {
  const program = spawn(setting('PANUP'), ['serve', '--port', String(port), '--library', path.join(folder, 'library'), '--format', 'json', ...more], {
    stdio: ['ignore', 'pipe', 'pipe'],
    env: { ...process.env, XDG_CACHE_HOME: path.join(folder, 'caches') },
  });
  let said = '';
  let complained = '';
  program.stderr.on('data', (piece) => (complained += piece));
  const address = await new Promise((resolve, reject) => {
    program.stdout.on('data', (piece) => {
      said += piece;
      if (said.includes('\n')) resolve(JSON.parse(said).address);
    });
    program.on('exit', (status) => reject(new Error(`panup serve ended with ${status}: ${complained}`)));
  });
  return {
    address,
    port: Number(new URL(address).port),
    async stop() {
      if (program.exitCode !== null || program.signalCode !== null) return;
      const ended = new Promise((resolve) => program.once('exit', resolve));
      program.kill('SIGINT');
      const sure = setTimeout(() => program.kill('SIGKILL'), 10_000);
      await ended;
      clearTimeout(sure);
    },
  };
}

/** These ask nobody: they lie in the page, or in the browser itself, such as its viewer of PDFs. */
const of_nobody = new Set(['data:', 'blob:', 'about:', 'chrome:', 'chrome-extension:']);

/** Everything a context asks for, whoever asks; what does not go to the page's own origin counts
 *  as leaving the machine. */
function watched(context, world) {
  context.on('request', (request) => {
    const { protocol, origin } = new URL(request.url());
    if (of_nobody.has(protocol)) return;
    world.requests.push(request.url());
    if (!world.origins.has(origin)) world.left.push(request.url());
  });
  context.on('page', (page) => {
    page.on('pageerror', (error) => world.complaints.push(`${error.stack ?? error}`));
    page.on('console', (message) => {
      if (message.type() === 'error' && !world.expected.some((pattern) => pattern.test(message.text()))) {
        world.complaints.push(message.text());
      }
    });
  });
}

/**
 * Tells a story. `tell` gets the world it happens in: `page`, `address`, `library` (a folder that
 * may be changed), `context(options)` for another user with another browser profile,
 * `restart(port)`, `picture(page, name)`, and `expected`, patterns of complaints that belong to it.
 * `options.serve`: more arguments of `panup serve`, or what gives them for the folder beside the library.
 */
export async function story(name, tell, options = {}) {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'panup-story-'));
  const library = path.join(folder, 'library');
  cpSync(setting('PANUP_DEMO'), library, { recursive: true });
  const world = { library, requests: [], left: [], complaints: [], expected: [], origins: new Set() };
  const more = typeof options.serve === 'function' ? options.serve(folder) : options.serve;
  let server;
  let browser;
  try {
    server = await started(folder, 0, more);
    world.address = server.address;
    world.origins.add(new URL(server.address).origin);
    // What a browser asks of its maker is not what the page asks; it is kept quiet all the same.
    browser = await chromium.launch({
      executablePath: setting('PANUP_CHROMIUM'),
      args: ['--no-sandbox', '--disable-background-networking', '--disable-component-update', '--no-first-run'],
    });
    world.context = async (others = {}) => {
      const context = await browser.newContext({
        viewport: { width: 1280, height: 800 },
        locale: 'en-GB',
        colorScheme: 'light',
        reducedMotion: 'reduce',
        ...options.context,
        ...others,
      });
      context.setDefaultTimeout(20_000);
      watched(context, world);
      return context;
    };
    world.restart = async () => {
      await server.stop();
      server = await started(folder, server.port, more);
    };
    world.stop = () => server.stop();
    world.picture = async (page, file, more = {}) => {
      mkdirSync(pictures, { recursive: true });
      await page.screenshot({ path: path.join(pictures, `${file}.png`), fullPage: true, ...more });
    };
    const context = await world.context();
    world.page = await context.newPage();
    try {
      await tell(world);
    } catch (error) {
      await world.picture(world.page, `failed-${name.replace(/[^a-z0-9]+/gi, '-')}`).catch(() => undefined);
      throw error;
    }
    assert.deepEqual(world.left, [], 'requests that left the machine');
    assert.ok(world.requests.length > 0, 'the story asked nothing of the server');
    assert.deepEqual(world.complaints, [], 'complaints of the page');
    console.log(`${name}: as told (${world.requests.length} requests, all to ${world.address})`);
  } finally {
    await browser?.close();
    await server?.stop();
    rmSync(folder, { recursive: true, force: true });
  }
}

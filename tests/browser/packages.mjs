// Puts the packages of the lock file into a folder of the build tree; does nothing where they are
// there already. Usage: node packages.mjs FOLDER
import { execFileSync } from 'node:child_process';
import { copyFileSync, existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const here = path.dirname(fileURLToPath(import.meta.url));
const folder = process.argv[2];
if (!folder) {
  console.error('packages.mjs: name the folder that the packages go to');
  process.exit(2);
}
const lock = path.join(here, 'package-lock.json');
const stamp = path.join(folder, 'node_modules', '.taken-from');
if (existsSync(stamp) && readFileSync(stamp, 'utf8') === readFileSync(lock, 'utf8')) {
  console.log('the packages are there');
  process.exit(0);
}
mkdirSync(folder, { recursive: true });
copyFileSync(path.join(here, 'package.json'), path.join(folder, 'package.json'));
copyFileSync(lock, path.join(folder, 'package-lock.json'));
execFileSync('npm', ['ci', '--no-audit', '--no-fund', '--ignore-scripts'], { cwd: folder, stdio: 'inherit' });
writeFileSync(stamp, readFileSync(lock, 'utf8'));

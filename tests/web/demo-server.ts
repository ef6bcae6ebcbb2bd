import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** A Wednesday morning in the demo shop's zone: cars stand in the bays, some are expected, one is being coated. */
export const DEMO_NOW = '2026-03-04T09:40:00+01:00';

const root = process.cwd();
const START_MS = 90_000;

export interface DemoServer {
  readonly base: string;
  /** Milliseconds between the machine's clock and the demo's. */
  readonly offsetMs: number;
  /** Of somebody signed in as the owner, who may do everything. */
  readonly cookie: string;
  stop(): Promise<void>;
}

/** Starts the compiled server on a free port, with a fresh demo shop in a temporary folder, at an hour of the demo's. */
export async function startDemoServer(now: string = DEMO_NOW): Promise<DemoServer> {
  const folder = await mkdtemp(join(tmpdir(), 'panelday-web-'));
  const offsetMs = Date.parse(now) - Date.now();
  const server = spawn(process.execPath, ['--import', join(root, 'tests/web/shifted-clock.mjs'), 'dist/main.js'], {
    cwd: root,
    env: {
      ...process.env,
      PORT: '0',
      LOG_LEVEL: 'error',
      DATABASE_URL: `file:${join(folder, 'panelday.db')}`,
      PANELDAY_CLOCK_OFFSET_MS: String(offsetMs),
    },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const stop = async () => {
    if (server.exitCode === null) {
      const ended = new Promise((resolve) => server.once('exit', resolve));
      server.kill('SIGTERM');
      await ended;
    }
    await rm(folder, { recursive: true, force: true });
  };
  try {
    const base = await addressOf(server);
    return { base, offsetMs, cookie: await signedIn(base), stop };
  } catch (error) {
    await stop();
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

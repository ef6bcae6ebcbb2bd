import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

export interface ServerProcess {
  /** Without a slash at its end. */
  readonly address: string;
  readonly databaseUrl: string;
  /** From spawning it to its word that it is ready. */
  readonly startMs: number;
  /** Resident megabytes of the whole process, all threads: now, and at the highest. Of Linux only; NaN elsewhere. */
  memory(): { readonly now: number; readonly peak: number };
  /** Processor time of all threads so far, in milliseconds, by tens. Of Linux only; NaN elsewhere. */
  processorMs(): number;
  stop(): Promise<void>;
}

const START_LIMIT_MS = 60_000;

/** What `npm start` tells Node. */
function nodeOptions(): string[] {
  const { scripts } = JSON.parse(readFileSync('package.json', 'utf8')) as { scripts: { start: string } };
  return scripts.start.split(' ').filter((word) => word.startsWith('--'));
}

/** Starts the compiled server (`dist/main.js`) on an empty SQLite database in a temporary folder and a free port. */
export async function startServer(planBudgetMs: number): Promise<ServerProcess> {
  const folder = await mkdtemp(join(tmpdir(), 'panelday-bench-'));
  const databaseUrl = `file:${join(folder, 'bench.db')}`;
  const began = performance.now();
  const child = spawn(process.execPath, [...nodeOptions(), join('dist', 'main.js')], {
    env: {
      ...process.env,
      PORT: '0',
      HOST: '127.0.0.1',
      DATABASE_URL: databaseUrl,
      DEMO_SHOP: 'off',
      REQUESTS_PER_MINUTE: '10000000',
      LOG_LEVEL: 'error',
      PLAN_BUDGET_MS: String(planBudgetMs),
    },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const ended = new Promise<void>((resolve) => child.once('exit', () => resolve()));
  const address = await new Promise<string>((resolve, reject) => {
    const late = setTimeout(() => reject(new Error('the server did not get ready')), START_LIMIT_MS);
    let said = '';
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      said += text;
      const found = /^panelday: API +(http\S+)\/v1\/shops$/m.exec(said);
      if (found === null) return;
      clearTimeout(late);
      resolve(found[1]!);
    });
    child.once('exit', (code) => {
      clearTimeout(late);
      reject(new Error(`the server ended with ${code}:\n${said}`));
    });
  });
  const startMs = performance.now() - began;
  const megabytes = (name: string) => {
    try {
      const status = readFileSync(`/proc/${child.pid}/status`, 'utf8');
      return Number(new RegExp(`^${name}:\\s+(\\d+) kB`, 'm').exec(status)?.[1]) / 1e3;
    } catch {
      return Number.NaN;
    }
  };
  return {
    address,
    databaseUrl,
    startMs,
    memory: () => ({ now: megabytes('VmRSS'), peak: megabytes('VmHWM') }),
    processorMs: () => {
      try {
        // Fields 14 and 15 of proc(5), counted after the command's name, in hundredths of a second.
        const fields = readFileSync(`/proc/${child.pid}/stat`, 'utf8').split(') ')[1]!.split(' ');
        return 10 * (Number(fields[11]) + Number(fields[12]));
      } catch {
        return Number.NaN;
      }
    },
    stop: async () => {
      child.kill('SIGTERM');
      await ended;
      await rm(folder, { recursive: true, force: true });
    },
  };
}

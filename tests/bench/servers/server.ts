import { type ChildProcess, spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';

export interface ServerOptions {
  readonly databaseUrl: string;
  /** Over what a bench's server is given anyway. */
  readonly env?: Readonly<Record<string, string>>;
  /** Of the compiled program: `main.js` serves, `worker.js` plans. */
  readonly entry?: 'main.js' | 'worker.js';
  /** File size limit in kilobytes, as a stand-in for a disk that is full. */
  readonly mostKilobytes?: number;
  /** Bound to the machine's first processor, all threads of it. Of Linux only. */
  readonly oneCore?: boolean;
}

/** One process of the compiled server. */
export interface Server {
  /** Without a slash at its end; empty for a process that serves nothing. */
  readonly address: string;
  readonly pid: number;
  /** From spawning it to its word that it is ready. */
  readonly startMs: number;
  /** What it said so far. */
  said(): string;
  /** Resident megabytes of the whole process, all threads: now, and at the highest. Of Linux only; NaN elsewhere. */
  memory(): { readonly now: number; readonly peak: number };
  /** Processor time of all threads so far, in milliseconds, by tens. Of Linux only; NaN elsewhere. */
  processorMs(): number;
  /** Asks it to end, and resolves with its exit code. */
  stop(): Promise<number | null>;
  /** Ends it as a power cut does. */
  kill(): Promise<void>;
}

const START_LIMIT_MS = 60_000;

/** What `npm start` tells Node. */
function nodeOptions(): string[] {
  const { scripts } = JSON.parse(readFileSync('package.json', 'utf8')) as { scripts: { start: string } };
  return scripts.start.split(' ').filter((word) => word.startsWith('--'));
}

/** Spawns the compiled program without waiting for it. */
export function spawnServer({
  databaseUrl,
  env = {},
  entry = 'main.js',
  mostKilobytes,
  oneCore = false,
}: ServerOptions): ChildProcess {
  const command = [...(oneCore ? ['taskset', '-c', '0'] : []), process.execPath, ...nodeOptions(), join('dist', entry)];
  const limited = mostKilobytes === undefined ? command : ['bash', '-c', LIMITED, String(mostKilobytes), ...command];
  return spawn(limited[0]!, limited.slice(1), {
    env: {
      ...process.env,
      PORT: '0',
      HOST: '127.0.0.1',
      DATABASE_URL: databaseUrl,
      DEMO_SHOP: 'off',
      REQUESTS_PER_MINUTE: '10000000',
      LOG_LEVEL: 'error',
      ...env,
    },
    stdio: ['ignore', 'pipe', process.env.BENCH_LOG === undefined ? 'ignore' : 'inherit'],
  });
}

/** Writing past the limit is refused (EFBIG), and does not end the process. */
const LIMITED = `trap '' XFSZ; ulimit -f "$0"; exec "$@"`;

/** Starts the compiled program and waits for its word that it is ready. @throws with what it said when it ends before */
export async function startServer(options: ServerOptions): Promise<Server> {
  const began = performance.now();
  const child = spawnServer(options);
  const ended = new Promise<number | null>((resolve) => child.once('exit', resolve));
  let said = '';
  child.stdout!.setEncoding('utf8').on('data', (text: string) => {
    said = (said + text).slice(-20_000);
  });
  const ready = options.entry === 'worker.js' ? /^panelday: ready to plan$/m : /^panelday: API +(http\S+)\/v1\/shops$/m;
  const address = await new Promise<string>((resolve, reject) => {
    const late = setTimeout(() => {
      child.kill('SIGKILL');
      reject(new Error(`the server did not get ready:\n${said}`));
    }, START_LIMIT_MS);
    child.stdout!.on('data', () => {
      const found = ready.exec(said);
      if (found === null) return;
      clearTimeout(late);
      resolve(found[1] ?? '');
    });
    child.once('exit', (code) => {
      clearTimeout(late);
      reject(new Error(`the server ended with ${code}:\n${said}`));
    });
  });
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
    pid: child.pid!,
    startMs: performance.now() - began,
    said: () => said,
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
      return ended;
    },
    kill: async () => {
      child.kill('SIGKILL');
      await ended;
    },
  };
}

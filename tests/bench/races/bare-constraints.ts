import { spawn } from 'node:child_process';
import { text } from 'node:stream/consumers';
import { fileURLToPath } from 'node:url';
import { faultsOfRows } from '../integrity/faults-of-rows.ts';

export interface BareRace {
  readonly attempts: number;
  readonly won: number;
  readonly refused: number;
  readonly faults: readonly string[];
}

/** Two processes that write past the application into one place, hour for hour against each other: what is left is the database. */
export async function raceBare(databaseUrl: string, shopId: string, rounds: number): Promise<BareRace> {
  const code = fileURLToPath(new URL('./bare-client.js', import.meta.url));
  const told = await Promise.all(
    ['a', 'b'].map(async (name) => {
      const args = [code, databaseUrl, shopId, 'yard2', name, String(rounds)];
      const child = spawn(process.execPath, args, { stdio: ['ignore', 'pipe', 'inherit'] });
      return JSON.parse(await text(child.stdout)) as { won: number; refused: number };
    }),
  );
  const sum = (of: 'won' | 'refused') => told.reduce((total, each) => total + each[of], 0);
  return { attempts: 2 * rounds, won: sum('won'), refused: sum('refused'), faults: await faultsOfRows(databaseUrl) };
}

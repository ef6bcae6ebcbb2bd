import { createClient } from '@libsql/client';
import pg from 'pg';
import { providerOf } from '../../../src/store/provider.ts';

// A process that takes one place again and again with nothing between it and the database: no check, no lock of the shop.
const [databaseUrl = '', shopId = '', placeId = '', name = '', rounds = '0'] = process.argv.slice(2);
const HOUR = 3_600_000;

let won = 0;
let refused = 0;
const insert = await inserter();
for (let round = 0; round < Number(rounds); round += 1) {
  // Both want the same hour of each round; who comes second lies half an hour over the first.
  const from = round * HOUR + (name === 'a' ? 0 : HOUR / 2);
  try {
    await insert([shopId, placeId, from, from + HOUR, `${name}-${round}`]);
    won += 1;
  } catch (error) {
    const { code, message } = error as { code?: string; message: string };
    if (code === '40P01') {
      // Two that check the constraint at once may wait for each other; the database sends one of them back to try again.
      round -= 1;
      continue;
    }
    if (code !== '23P01' && !message.includes('double booking')) throw error;
    refused += 1;
  }
}
process.stdout.write(JSON.stringify({ won, refused }), () => process.exit(0));

async function inserter(): Promise<(values: (string | number)[]) => Promise<unknown>> {
  const columns = 'INSERT INTO "Occupancy" ("shopId", "placeId", "startsAt", "endsAt", "owner")';
  if (providerOf(databaseUrl) === 'sqlite') {
    const client = createClient({ url: databaseUrl });
    await client.execute('PRAGMA busy_timeout = 20000');
    return (args) => client.execute({ sql: `${columns} VALUES (?, ?, ?, ?, ?)`, args });
  }
  const client = new pg.Client({ connectionString: databaseUrl });
  await client.connect();
  return (values) => client.query(`${columns} VALUES ($1, $2, $3, $4, $5)`, values);
}

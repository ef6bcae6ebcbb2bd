import { openDatabases } from '../servers/databases.ts';
import { type Server, startServer as startOn } from '../servers/server.ts';

export interface ServerProcess extends Omit<Server, 'stop'> {
  readonly databaseUrl: string;
  stop(): Promise<void>;
}

/** Starts the compiled server (`dist/main.js`) on an empty SQLite database in a temporary folder and a free port. */
export async function startServer(planBudgetMs: number): Promise<ServerProcess> {
  const databases = await openDatabases('sqlite');
  const databaseUrl = await databases.fresh();
  const server = await startOn({ databaseUrl, env: { PLAN_BUDGET_MS: String(planBudgetMs) } });
  return {
    ...server,
    databaseUrl,
    stop: async () => {
      await server.stop();
      await databases.close();
    },
  };
}

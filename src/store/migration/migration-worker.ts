import { parentPort, workerData } from 'node:worker_threads';
import { migrate } from './migrate.ts';

// What runs in the thread that `migrateApart` starts.
parentPort!.postMessage(await migrate(workerData as { databaseUrl: string }));

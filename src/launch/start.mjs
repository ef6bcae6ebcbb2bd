/** `npm start`: makes the clone ready, then runs the server in this same process, so that signals reach it. */
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { prepare, root, say } from './prepare.mjs';

try {
  prepare();
} catch (error) {
  say(error.message);
  process.exit(1);
}
process.chdir(root);
await import(pathToFileURL(join(root, 'dist', 'main.js')).href);

/** What the commands on the database share: a clone made ready, the settings, one file named, a sentence when it fails. */
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { parseArgs } from 'node:util';
import { prepare, root, say } from './prepare.mjs';

export { say };

/** Runs a command with the database of the settings and the file of the arguments, which is told from where npm was called. */
export async function atDatabase(name, work) {
  try {
    const { values, positionals } = parseArgs({
      options: { replace: { type: 'boolean', default: false } },
      allowPositionals: true,
    });
    if (positionals.length !== 1) throw new Error(`name one file: npm run ${name} -- FILE`);
    prepare();
    const load = (path) => import(pathToFileURL(join(root, 'dist', path)).href);
    const path = resolve(process.env.INIT_CWD ?? process.cwd(), positionals[0]);
    process.chdir(root);
    const { readConfiguration } = await load('configuration.js');
    await work({ databaseUrl: readConfiguration(process.env).DATABASE_URL, path, replace: values.replace, load });
  } catch (error) {
    process.stderr.write(`panelday: ${name} failed: ${error.message}\n`);
    process.exit(1);
  }
}

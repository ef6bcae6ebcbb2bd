/**
 * Generates the database clients of both providers into src/store/generated, unless the schemas and Prisma are what they
 * were. `--force` generates anyway.
 *
 * Prisma's command looks for its native schema engine and would download it. Generating does not use that engine, so the
 * variable below, naming a file that exists, keeps it from trying.
 */
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { PROVIDERS, readModels, schemaFile, schemaFor, staleSchemas } from './make-schemas.mjs';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const generated = join(root, 'src', 'store', 'generated');
const stampFile = join(generated, 'stamp');
const prismaPackage = createRequire(import.meta.url).resolve('prisma/package.json');

const stale = staleSchemas();
if (stale.length > 0) {
  process.stderr.write(`schema out of date with prisma/models.prisma: ${stale.join(', ')}; run node prisma/make-schemas.mjs\n`);
  process.exit(1);
}

const hash = createHash('sha256').update(JSON.parse(readFileSync(prismaPackage, 'utf8')).version);
for (const provider of PROVIDERS) hash.update(schemaFor(provider, readModels()));
const stamp = hash.digest('hex');
const upToDate = existsSync(stampFile) && readFileSync(stampFile, 'utf8') === stamp;

if (!upToDate || process.argv.includes('--force')) {
  rmSync(stampFile, { force: true });
  for (const provider of PROVIDERS) {
    const run = spawnSync(
      process.execPath,
      [join(dirname(prismaPackage), 'build', 'index.js'), 'generate', '--no-hints', '--schema', fileURLToPath(schemaFile(provider))],
      {
        cwd: root,
        encoding: 'utf8',
        env: { ...process.env, PRISMA_SCHEMA_ENGINE_BINARY: process.execPath, CHECKPOINT_DISABLE: '1', PRISMA_HIDE_UPDATE_MESSAGE: '1' },
      },
    );
    if (run.status !== 0) {
      process.stderr.write(`${run.stdout}${run.stderr}prisma generate failed for ${provider}\n`);
      process.exit(1);
    }
  }
  mkdirSync(generated, { recursive: true });
  writeFileSync(stampFile, stamp);
}

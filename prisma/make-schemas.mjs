/**
 * Writes prisma/sqlite/schema.prisma and prisma/postgresql/schema.prisma from prisma/models.prisma.
 * `node prisma/make-schemas.mjs` writes; with `--check` it only tells whether they are up to date (exit code 1 when not).
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';

export const PROVIDERS = ['sqlite', 'postgresql'];

const here = new URL('./', import.meta.url);

/**
 * The whole schema of a provider: generator, datasource, and the models both share. The small query compiler takes some 40 MB less of memory
 * than the fast one.
 */
export function schemaFor(provider, models) {
  return `// Made from prisma/models.prisma by prisma/make-schemas.mjs. Do not edit.

generator client {
  provider               = "prisma-client"
  output                 = "../../src/store/generated/${provider}"
  runtime                = "nodejs"
  moduleFormat           = "esm"
  generatedFileExtension = "ts"
  importFileExtension    = "ts"
  compilerBuild          = "small"
}

datasource db {
  provider = "${provider}"
}

${models}`;
}

export function schemaFile(provider) {
  return new URL(`${provider}/schema.prisma`, here);
}

export function readModels() {
  return readFileSync(new URL('models.prisma', here), 'utf8');
}

/** Providers whose schema file is not what the models say. */
export function staleSchemas() {
  const models = readModels();
  return PROVIDERS.filter((provider) => {
    try {
      return readFileSync(schemaFile(provider), 'utf8') !== schemaFor(provider, models);
    } catch {
      return true;
    }
  });
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  const stale = staleSchemas();
  if (process.argv.includes('--check')) {
    if (stale.length > 0) {
      process.stderr.write(`out of date: ${stale.join(', ')}; run node prisma/make-schemas.mjs\n`);
      process.exitCode = 1;
    }
  } else {
    const models = readModels();
    for (const provider of stale) writeFileSync(schemaFile(provider), schemaFor(provider, models));
  }
}

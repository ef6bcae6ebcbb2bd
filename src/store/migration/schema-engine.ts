import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import {
  bindMigrationAwareSqlAdapterFactory,
  type SqlMigrationAwareDriverAdapterFactory,
} from '@prisma/driver-adapter-utils';
import * as bindings from '@prisma/schema-engine-wasm/schema_engine_bg';

/** Node has it; the compiler's Node types do not tell. */
declare const WebAssembly: {
  instantiate(bytes: Uint8Array, imports: object): Promise<{ instance: { exports: Record<string, unknown> } }>;
};

export type SchemaEngine = bindings.SchemaEngine;

let loaded: Promise<void> | undefined;

/** Where the engine leaves its words before it panics; without it a panic is a riddle. */
const panicRegistry = {
  set_message(message: string): void {
    throw new Error(`schema engine: ${message}`);
  },
};

/** Node 20 cannot import WebAssembly as a module, so the bindings are joined to it by hand, once. */
async function load(): Promise<void> {
  const bytes = await readFile(
    createRequire(import.meta.url)
      .resolve('@prisma/schema-engine-wasm')
      .replace(/[^/\\]+$/, 'schema_engine_bg.wasm'),
  );
  const { instance } = await WebAssembly.instantiate(bytes, { './schema_engine_bg.js': bindings });
  Object.assign(globalThis, { PRISMA_WASM_PANIC_REGISTRY: panicRegistry });
  bindings.__wbg_set_wasm(instance.exports);
  (instance.exports.__wbindgen_start as (() => void) | undefined)?.();
}

/**
 * Prisma's schema engine over a driver adapter, compiled to WebAssembly: makes and applies migrations with nothing to
 * download. What it applies stands in the usual `_prisma_migrations` table. The caller frees it.
 */
export async function openSchemaEngine(
  schema: string,
  adapter: SqlMigrationAwareDriverAdapterFactory,
): Promise<SchemaEngine> {
  loaded ??= load();
  await loaded;
  return bindings.SchemaEngine.new(
    { datamodels: [['schema.prisma', schema]] },
    () => {},
    bindMigrationAwareSqlAdapterFactory(adapter),
  );
}

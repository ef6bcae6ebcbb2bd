import { rm } from 'node:fs/promises';
import type { TestProject } from 'vitest/node';
// @ts-expect-error plain JavaScript, so that it runs before anything is installed
import { prepare } from '../../src/launch/prepare.mjs';
import { findChromium, loadDemo } from './demo-server.ts';

declare module 'vitest' {
  interface ProvidedContext {
    /** A loaded demo shop to begin with and the browser to see it with; null where there is no browser. */
    web: { readonly folder: string; readonly chromium: string } | null;
  }
}

/** Loads a demo shop for the run, which each server then begins with a copy of. */
export default async function startWeb(project: TestProject): Promise<() => Promise<void>> {
  const chromium = findChromium();
  if (chromium === null) {
    const missing =
      'no Chromium for the tests of the screens: install the package "chromium" (apt-get install chromium)';
    if (process.env.CI) throw new Error(missing);
    console.warn(missing);
    project.provide('web', null);
    return async () => {};
  }
  prepare();
  const folder = await loadDemo();
  project.provide('web', { folder, chromium });
  return () => rm(folder, { recursive: true, force: true });
}

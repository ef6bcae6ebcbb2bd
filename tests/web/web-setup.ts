import type { TestProject } from 'vitest/node';
// @ts-expect-error plain JavaScript, so that it runs before anything is installed
import { prepare } from '../../src/launch/prepare.mjs';
import { findChromium, startDemoServer } from './demo-server.ts';

declare module 'vitest' {
  interface ProvidedContext {
    /** The demo shop's server and the browser to see it with; null where there is no browser. */
    web: {
      readonly base: string;
      readonly offsetMs: number;
      readonly cookie: string;
      readonly chromium: string;
    } | null;
  }
}

/** Starts the compiled server with a fresh demo shop for the run. */
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
  const server = await startDemoServer();
  project.provide('web', { base: server.base, offsetMs: server.offsetMs, cookie: server.cookie, chromium });
  return server.stop;
}

import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    // Generous: a small machine runs several files at once, and nothing here measures time.
    testTimeout: 30_000,
    hookTimeout: 60_000,
    projects: [
      {
        extends: true,
        test: { name: 'house', include: ['tests/**/*.test.ts'], exclude: ['tests/store/**', 'tests/web/**'] },
      },
      {
        // The only tests that need a PostgreSQL; it is started when one of them runs.
        extends: true,
        test: {
          name: 'store',
          include: ['tests/store/**/*.test.ts'],
          globalSetup: ['tests/store/postgres-server.ts'],
        },
      },
      {
        // The screens in a real browser, against the compiled server with a fresh demo shop.
        extends: true,
        test: {
          name: 'web',
          include: ['tests/web/**/*.test.ts'],
          globalSetup: ['tests/web/web-setup.ts'],
          fileParallelism: false,
          testTimeout: 90_000,
          // What is looked at again and again gets its time on a small machine that does other things too.
          expect: { poll: { timeout: 15_000 } },
        },
      },
    ],
  },
});

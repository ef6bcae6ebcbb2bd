import { resolve } from 'node:path';
import preact from '@preact/preset-vite';
import { defineConfig } from 'vite';

// Who builds the screens may have another value set, such as a test runner; the pages are the same all the same.
process.env.NODE_ENV = 'production';

const web = resolve(import.meta.dirname, 'src/web');

/** The three screens, each a page of its own, built to be served by the API's process. */
export default defineConfig({
  root: web,
  plugins: [preact()],
  build: {
    outDir: resolve(import.meta.dirname, 'dist/web'),
    emptyOutDir: true,
    target: 'es2022',
    rollupOptions: {
      input: {
        index: resolve(web, 'index.html'),
        desk: resolve(web, 'desk.html'),
        floor: resolve(web, 'floor.html'),
        owner: resolve(web, 'owner.html'),
      },
    },
  },
});

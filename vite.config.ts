import { readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import preact from '@preact/preset-vite';
import { defineConfig, type Plugin } from 'vite';

// Who builds the screens may have another value set, such as a test runner; the pages are the same all the same.
process.env.NODE_ENV = 'production';

const web = resolve(import.meta.dirname, 'src/web');
const pages = ['index', 'sign-in', 'desk', 'floor', 'owner', 'people', 'customer'];

/** What every page's head begins with, from one file. */
const sharedHead: Plugin = {
  name: 'shared-head',
  transformIndexHtml: {
    order: 'pre',
    handler: async (html) =>
      html.replace('<head>', `<head>\n${await readFile(resolve(web, 'page-head.html'), 'utf8')}`),
  },
};

/** The screens, each a page of its own, built to be served by the API's process. */
export default defineConfig({
  root: web,
  plugins: [preact(), sharedHead],
  build: {
    outDir: resolve(import.meta.dirname, 'dist/web'),
    emptyOutDir: true,
    target: 'es2022',
    rollupOptions: { input: Object.fromEntries(pages.map((page) => [page, resolve(web, `${page}.html`)])) },
  },
});

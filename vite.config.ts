import { readdir, readFile, stat, writeFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { promisify } from 'node:util';
import { brotliCompress, gzip } from 'node:zlib';
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

/** Files below so many bytes arrive no sooner for being compressed. */
const WORTH_COMPRESSING = 1_400;

/** Beside each file of text its compressed forms, so that nobody compresses while a tablet waits. */
const compressed: Plugin = {
  name: 'compressed',
  async writeBundle({ dir }) {
    for (const name of await readdir(dir!, { recursive: true })) {
      const file = resolve(dir!, name);
      if (!/\.(js|css|html|svg|webmanifest)$/.test(name) || (await stat(file)).size < WORTH_COMPRESSING) continue;
      const text = await readFile(file);
      await writeFile(`${file}.gz`, await promisify(gzip)(text));
      await writeFile(`${file}.br`, await promisify(brotliCompress)(text));
    }
  },
};

const SHARED =
  /src\/web\/(parts\/(?!window-dialog)|wire|time|words\.ts|words\/(booking|inspection))|node_modules\/preact/;

/** The screens, each a page of its own, built to be served by the API's process. */
export default defineConfig({
  root: web,
  plugins: [preact(), sharedHead, compressed],
  build: {
    outDir: resolve(import.meta.dirname, 'dist/web'),
    emptyOutDir: true,
    target: 'es2022',
    modulePreload: { polyfill: false },
    rolldownOptions: {
      input: Object.fromEntries(pages.map((page) => [page, resolve(web, `${page}.html`)])),
      // What every screen has beside its own is one file: a browser asks for six at a time over HTTP/1.1, and figures are among them.
      output: { codeSplitting: { groups: [{ name: 'shared', test: SHARED }] } },
    },
  },
});

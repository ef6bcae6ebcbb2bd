import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { h, type JSX } from 'preact';
import { renderToString } from 'preact-render-to-string';

/** Where no built screens are: a page with no look, as in tests. */
const BARE =
  '<!doctype html>\n<html lang="en"><head><meta charset="utf-8" /><meta name="robots" content="noindex, nofollow" />' +
  '<title></title></head><body><main></main></body></html>';

/** Sets a page's title and main part into the built `customer.html`. */
export type PageFrame = (title: string, main: JSX.Element) => string;

/** Reads the frame the pages stand in, once. `webRoot` is the folder with the built screens. */
export async function pageFrame(webRoot: string | undefined): Promise<PageFrame> {
  const frame = webRoot === undefined ? BARE : await readFile(join(webRoot, 'customer.html'), 'utf8').catch(() => BARE);
  const [beforeTitle, afterTitle] = cut(frame, /<title>[\s\S]*?<\/title>/);
  const [beforeMain, afterMain] = cut(afterTitle, /<main[\s\S]*?<\/main>/);
  return (title, main) =>
    beforeTitle + renderToString(h('title', null, title)) + beforeMain + renderToString(main) + afterMain;
}

function cut(text: string, at: RegExp): [string, string] {
  const found = at.exec(text);
  if (found === null) throw new Error(`customer.html has nothing like ${at.source}`);
  return [text.slice(0, found.index), text.slice(found.index + found[0].length)];
}

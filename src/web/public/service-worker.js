/* Keeps the pages themselves on the device, so that the floor opens without a connection. What the API says is never kept here:
   the floor keeps its own list, and a booking needs the server. */
const KEEP = 'panelday-shell';
const PAGES = ['/desk.html', '/floor.html', '/owner.html', '/index.html'];
const SIGNS = [
  '/mark.svg',
  '/manifest.webmanifest',
  '/icons/mark-192.png',
  '/icons/mark-512.png',
  '/icons/mark-mask-512.png',
];
/** A connection that does not answer for so long is none. */
const PATIENCE_MS = 4_000;

self.addEventListener('install', (event) => {
  // Not waited for: it answers only once the worker is active, which waits for the installation.
  void self.skipWaiting();
  event.waitUntil(keepShell());
});
self.addEventListener('activate', (event) => {
  event.waitUntil(self.clients.claim());
});
self.addEventListener('fetch', (event) => {
  const { pathname, origin } = new URL(event.request.url);
  if (event.request.method !== 'GET' || origin !== self.location.origin) return;
  if (pathname.startsWith('/assets/')) event.respondWith(keptFirst(event.request));
  else if (PAGES.includes(pathname) || SIGNS.includes(pathname) || pathname === '/')
    event.respondWith(freshFirst(event.request, pathname));
});

/** Each page with the scripts and styles it names. */
async function keepShell() {
  const cache = await caches.open(KEEP);
  for (const page of PAGES) {
    const reply = await fetch(page, { cache: 'reload' });
    const html = await reply.clone().text();
    await cache.put(page, asKept(reply));
    const assets = [...new Set(html.match(/\/assets\/[\w.-]+/g) ?? [])];
    // One that does not come now is kept when it is first asked for.
    await Promise.allSettled(assets.map((asset) => cache.add(asset)));
  }
  await Promise.allSettled(SIGNS.map((sign) => cache.add(sign)));
}

/** Without what the server says the page will ask first: that holds for its day, and where there is a connection. */
function asKept(page) {
  const headers = new Headers(page.headers);
  headers.delete('link');
  return new Response(page.body, { status: page.status, statusText: page.statusText, headers });
}

/** Names of assets carry their content's hash: what is kept is right. */
async function keptFirst(request) {
  const cache = await caches.open(KEEP);
  const kept = await cache.match(request);
  if (kept) return kept;
  const reply = await fetch(request);
  if (reply.ok) await cache.put(request, reply.clone());
  return reply;
}

/** A newer page when there is a connection; whatever the address asks for beside the page (`?shop=`), it is the same page. */
async function freshFirst(request, pathname) {
  const cache = await caches.open(KEEP);
  const page = pathname === '/' ? '/index.html' : pathname;
  try {
    const reply = await fetch(request, { signal: AbortSignal.timeout(PATIENCE_MS) });
    if (reply.ok) await cache.put(page, asKept(reply.clone()));
    return reply;
  } catch (error) {
    const kept = await cache.match(page);
    if (kept) return kept;
    throw error;
  }
}

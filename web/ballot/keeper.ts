/**
 * Service worker of the ballot, on https only: keeps the page and its script, so that a phone that reloads without a
 * network still opens its ballot. What the server says of the tasting is never kept here.
 */
const PLACE = 'dropwise ballot page';
const PAGE = '/ballot.html';

/** What this file uses of a service worker's surroundings. */
interface Keeper {
  addEventListener(type: 'install' | 'activate', hear: (event: Waiting) => void): void;
  addEventListener(type: 'fetch', hear: (event: Fetching) => void): void;
  skipWaiting(): Promise<void>;
  clients: { claim(): Promise<void> };
}
interface Waiting {
  waitUntil(until: Promise<unknown>): void;
}
interface Fetching {
  request: Request;
  respondWith(answer: Promise<Response>): void;
}

const keeper = self as unknown as Keeper;

/** The page with the one script it names. */
async function keepPage(): Promise<void> {
  const place = await caches.open(PLACE);
  const page = await fetch(PAGE, { cache: 'no-cache' });
  const script = /src="([^"]+\.js)"/.exec(await page.clone().text())?.[1];
  await place.put(PAGE, page);
  if (script) await place.add(script);
}

/** The network first; without it, what was kept. */
async function networkFirst(request: Request): Promise<Response> {
  try {
    const answer = await fetch(request);
    if (new URL(request.url).pathname === PAGE && answer.ok) void keepPage().catch(() => undefined);
    return answer;
  } catch (thrown) {
    const kept = await caches.match(request, { ignoreSearch: true });
    if (kept) return kept;
    throw thrown;
  }
}

/** Scripts have a digest in their name and never change. */
async function keptFirst(request: Request): Promise<Response> {
  return (await caches.match(request)) ?? fetch(request);
}

keeper.addEventListener('install', (event) => {
  event.waitUntil(keepPage().then(() => keeper.skipWaiting()));
});

keeper.addEventListener('activate', (event) => {
  event.waitUntil(keeper.clients.claim());
});

keeper.addEventListener('fetch', (event) => {
  const { pathname, origin } = new URL(event.request.url);
  if (event.request.method !== 'GET' || origin !== location.origin) return;
  if (pathname === PAGE) event.respondWith(networkFirst(event.request));
  else if (/^\/assets\/ballot-[\w-]+\.js$/.test(pathname)) event.respondWith(keptFirst(event.request));
});

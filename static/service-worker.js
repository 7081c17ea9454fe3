/**
 * Keeps one version of the app on the phone, whole, and answers from it with or without a signal.
 *
 * The server fills in the version and the list of its files. All of them lie under one address that belongs to
 * this version alone, so files of two versions cannot mix. A new version waits until the page says "take-over".
 */

const VERSION = '{{version}}';
const BASE = '{{base}}';
/** @type {string[]} */
const ASSETS = JSON.parse('{{assets}}');

const FAMILY = 'underchassis-';
const CACHE = FAMILY + VERSION;

/**
 * Addresses at the root that this worker answers, and the kept file that stands for each.
 * @type {Record<string, string>}
 */
const KEPT_AT_ROOT = { '/': 'shell.html', '/manifest.webmanifest': 'manifest.webmanifest' };

/**
 * Stores every file of this version; rejects when a single one cannot be had, so that no half version is ever used.
 * @returns {Promise<void>}
 */
async function install() {
  const cache = await caches.open(CACHE);
  try {
    await cache.addAll(ASSETS.map((name) => BASE + name));
  } catch (problem) {
    await caches.delete(CACHE);
    throw problem;
  }
}

/**
 * Removes our older versions, no one else's caches, and answers for the tabs that are already open.
 * @returns {Promise<void>}
 */
async function activate() {
  const names = await caches.keys();
  const old = names.filter((name) => name.startsWith(FAMILY) && name !== CACHE);
  await Promise.all(old.map((name) => caches.delete(name)));
  await self.clients.claim();
}

/**
 * Gives a kept file, or asks the server should the browser have lost it.
 * @param {string} address
 * @param {Request} request
 * @returns {Promise<Response>}
 */
async function fromCache(address, request) {
  const cache = await caches.open(CACHE);
  // The stored answers vary by encoding, which a request seen from here does not carry.
  return (await cache.match(address, { ignoreVary: true })) ?? fetch(request);
}

/**
 * Gives the server's page, or without a signal the page that says so. Pages are never stored: their form tokens
 * belong to one visit.
 * @param {Request} request
 * @returns {Promise<Response>}
 */
async function fromServer(request) {
  try {
    return await fetch(request);
  } catch {
    return fromCache(BASE + 'offline.html', request);
  }
}

/**
 * Decides who answers a request: the cache, the server, or the browser as if this worker were not there.
 * @param {FetchEvent} event
 */
function answer(event) {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== 'GET' || origin !== self.location.origin) return;
  if (pathname.startsWith(BASE)) {
    event.respondWith(fromCache(pathname, request));
  } else if (Object.hasOwn(KEPT_AT_ROOT, pathname)) {
    event.respondWith(fromCache(BASE + KEPT_AT_ROOT[pathname], request));
  } else if (request.mode === 'navigate') {
    event.respondWith(fromServer(request));
  }
}

/**
 * Takes over when the page asks for it, and tells its version.
 * @param {ExtendableMessageEvent} event
 */
function listen(event) {
  if (event.data?.type === 'take-over') self.skipWaiting();
  if (event.data?.type === 'version') event.ports[0]?.postMessage({ type: 'version', version: VERSION });
}

self.addEventListener('install', (event) => event.waitUntil(install()));
self.addEventListener('activate', (event) => event.waitUntil(activate()));
self.addEventListener('fetch', answer);
self.addEventListener('message', listen);

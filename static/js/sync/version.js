/**
 * Watches which version of the app is on this phone, and changes it only when the person says so.
 *
 * The page knows its own version from the shell (`data-version` on the root element); the worker tells its own.
 * Where the two differ after a change of worker, the page saves and loads itself anew.
 */

export const WORKER = '/service-worker.js';
const ONE_HOUR = 60 * 60 * 1000;

/**
 * @typedef {object} Watch
 * @property {(version: string) => void} onReady this version is kept whole: the app works without a signal
 * @property {() => void} onWaiting a newer version is kept whole and waits for the person's yes
 * @property {(why: 'insecure' | 'unsupported' | 'failed') => void} onUnavailable the app cannot be kept: the address
 *   is neither https nor localhost, the browser cannot, or it refused or could not fetch every file
 * @property {() => Promise<void>} settle resolves when everything entered in this tab is stored
 * @property {(problem: unknown) => void} onUnsaved settling failed, so this tab did not load itself anew
 */

/**
 * Registers the worker and tells, through the callbacks, what becomes of it from now on.
 * @param {Watch} watch
 * @returns {Promise<void>} resolves when the worker is registered, or cannot be; never rejects
 */
export async function watchVersion(watch) {
  const container = navigator.serviceWorker;
  if (!container) {
    watch.onUnavailable(window.isSecureContext ? 'unsupported' : 'insecure');
    return;
  }
  container.addEventListener('controllerchange', () => followWorker(watch));
  try {
    const registration = await container.register(WORKER, { scope: '/', updateViaCache: 'none' });
    announceReady(registration, watch);
    announceWaiting(registration, watch);
    lookForNews(registration);
  } catch {
    watch.onUnavailable('failed');
  }
}

/**
 * Saves what is pending, then lets the waiting version take over; each open tab saves and loads itself anew.
 * @param {() => Promise<void>} settle
 * @returns {Promise<void>} rejects when saving failed; then nothing was changed
 */
export async function takeOver(settle) {
  await settle();
  const registration = await navigator.serviceWorker.getRegistration();
  registration?.waiting?.postMessage({ type: 'take-over' });
}

/**
 * @param {ServiceWorkerRegistration} registration
 * @param {Watch} watch
 */
function announceReady(registration, watch) {
  const tell = async (/** @type {ServiceWorker} */ worker) => watch.onReady(await versionOf(worker));
  if (registration.active) {
    tell(registration.active);
    return;
  }
  // A first installation: it ends well or not at all.
  const worker = registration.installing ?? registration.waiting;
  worker?.addEventListener('statechange', () => {
    if (worker.state === 'activated') tell(worker);
    if (worker.state === 'redundant') watch.onUnavailable('failed');
  });
}

/**
 * @param {ServiceWorkerRegistration} registration
 * @param {Watch} watch
 */
function announceWaiting(registration, watch) {
  if (registration.waiting && registration.active) watch.onWaiting();
  registration.addEventListener('updatefound', () => {
    const worker = registration.installing;
    worker?.addEventListener('statechange', () => {
      // The very first version does not wait for anybody.
      if (worker.state === 'installed' && registration.active) watch.onWaiting();
    });
  });
}

/** @param {ServiceWorkerRegistration} registration */
function lookForNews(registration) {
  // Without a signal there is no news, which is the normal case and nothing to report.
  const look = () => registration.update().catch(() => undefined);
  document.addEventListener('visibilitychange', () => document.visibilityState === 'visible' && look());
  setInterval(look, ONE_HOUR);
  look();
}

let reloading = false;

/** @param {Watch} watch */
async function followWorker(watch) {
  const worker = navigator.serviceWorker.controller;
  const own = document.documentElement.dataset.version;
  // On a fresh installation the worker claims a page of its own version, and a page that the server makes has none:
  // nothing to load anew.
  if (!worker || !own || reloading || (await versionOf(worker)) === own) return;
  reloading = true;
  try {
    await watch.settle();
    location.reload();
  } catch (problem) {
    reloading = false;
    watch.onUnsaved(problem);
  }
}

/**
 * @param {ServiceWorker} worker
 * @returns {Promise<string>}
 */
function versionOf(worker) {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = (event) => resolve(event.data.version);
    worker.postMessage({ type: 'version' }, [port2]);
  });
}

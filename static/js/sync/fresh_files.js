/** Fetching the files of the app anew, for whoever has reason to mistrust those on the phone. */
import { WORKER } from './version.js';

/** What the names of the worker's caches begin with. */
const CACHES = 'underchassis-';

/**
 * Fetches the app's files afresh. Touches the worker and its caches only, never anything that was entered.
 * @returns {Promise<boolean>} false, with nothing removed, when the server cannot be reached; else the page reloads
 */
export async function refreshFiles() {
  try {
    // Without the server the kept files are the only ones there are.
    const news = await fetch(WORKER, { cache: 'no-store' });
    if (!news.ok) return false;
  } catch {
    return false;
  }
  const registration = await navigator.serviceWorker?.getRegistration();
  await registration?.unregister();
  const names = (await caches.keys()).filter((name) => name.startsWith(CACHES));
  await Promise.all(names.map((name) => caches.delete(name)));
  location.reload();
  return true;
}

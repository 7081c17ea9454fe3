/** The way from the demo sets to the demo's lot. */
import { openDemoLot } from '../store/demo_lot.js';
import { assetUrl } from '../store/packs.js';
import { photoChores } from '../store/photo_chores.js';

/** Opens the lot; its photos come behind, where this server has any, while nobody waits. */
export async function lookAtDemoLot() {
  location.hash = `#/lot/${await openDemoLot(assetUrl('demo_lot.json'))}`;
  if (document.documentElement.dataset.demo !== 'yes') return;
  photoChores(true).then(() => window.dispatchEvent(new Event('underchassis-changed')), () => undefined);
}

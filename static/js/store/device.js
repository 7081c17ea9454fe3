/** What this device is called where its findings are told from those of others. */
import { openDatabase } from './database.js';
import { deviceIn } from './recording.js';

/** @returns {Promise<{id: string, name: string}>} made when first asked for */
export async function thisDevice() {
  let device = { id: '', name: '' };
  await (await openDatabase()).within(async (transaction) => {
    device = await deviceIn(transaction);
    transaction.objectStore('meta').put({ key: 'device', value: device });
  });
  return device;
}

/** @param {string} name */
export async function nameDevice(name) {
  // A letter cut in half by the field's length would be no text for others.
  const whole = name.toWellFormed?.() ?? name;
  await (await openDatabase()).within(async (transaction) => {
    transaction.objectStore('meta').put({ key: 'device', value: { ...await deviceIn(transaction), name: whole } });
  });
}

/** Labels in a photo: by the browser's own reader where it has one, else by the server. */
import { labelOf } from './label_text.js';
import { labelsByServer, placesByServer } from './photo_server.js';

/** @type {Promise<any> | null} */
let asked = null;

/** The browser's reader, or null. */
function ownReader() {
  asked ??= (async () => {
    const formats = await globalThis.BarcodeDetector?.getSupportedFormats?.().catch(() => []) ?? [];
    return formats.includes('qr_code') ? new globalThis.BarcodeDetector({ formats: ['qr_code'] }) : null;
  })();
  return asked;
}

/**
 * The labels in a photo, each once.
 * @param {Blob} photo
 * @returns {Promise<string[]>} such as K7Q2-007; rejects with NoSignal or Refused (photo_server.js)
 */
export const labelsIn = async (photo) => await labelsReadHere(photo) ?? [...new Set(await labelsByServer(photo))];

/** The same without asking anybody. @param {Blob} photo @returns {Promise<string[] | null>} null where the browser has no reader */
export async function labelsReadHere(photo) {
  const places = await placesHere(photo);
  return places && [...new Set(places.map((place) => place.text))];
}

/**
 * Where the labels are in a photo: corners in pixels, as each label is read.
 * @param {Blob} photo
 * @returns {Promise<{text: string, corners: [number, number][]}[]>} rejects with NoSignal or Refused (photo_server.js)
 */
export const labelPlaces = async (photo) => await placesHere(photo) ?? placesByServer(photo);

async function placesHere(photo) {
  const reader = await ownReader();
  if (!reader) return null;
  const bitmap = await createImageBitmap(photo);
  try {
    return (await reader.detect(bitmap)).map(({ rawValue, cornerPoints }) => ({ text: labelOf(rawValue), corners: cornerPoints.map(({ x, y }) => [x, y]) })).filter((place) => place.text);
  } finally {
    bitmap.close();
  }
}

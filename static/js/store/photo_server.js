/** The two things that need a signal: photos in a form that the browser cannot read, and labels where it has no reader. */
import { language } from '../language.js';

/** Longest wait for an answer, in milliseconds, and how often a busy server is asked. */
const [LONGEST, TIMES] = [60_000, 8];

/** No answer, or none that tells anything. */
export class NoSignal extends Error {}

/** The server's refusal, in its words. */
export class Refused extends Error {}

/** The photo as an upright JPEG. @param {Blob} photo @returns {Promise<Blob>} rejects with NoSignal or Refused */
export const uprightByServer = async (photo) => (await ask('/photos/upright', photo)).blob();

/**
 * The labels in a photo, such as K7Q2-007.
 * @param {Blob} photo without metadata
 * @returns {Promise<string[]>} rejects with NoSignal or Refused
 */
export const labelsByServer = async (photo) => (await placesByServer(photo)).map((label) => label.text);

/** The same with their corners in pixels, as each label is read. @param {Blob} photo @returns {Promise<{text: string, corners: [number, number][]}[]>} */
export async function placesByServer(photo) {
  const { labels, readers, off } = await (await ask('/photos/labels', photo)).json();
  // A server without a reader has looked at nothing, and says what it lacks.
  if (readers.length === 0) throw new Refused(off);
  return labels;
}

async function ask(address, body, times = TIMES) {
  const answer = await fetch(address, { method: 'POST', body, headers: { 'Content-Type': body.type || 'application/octet-stream', 'Accept-Language': language() }, signal: AbortSignal.timeout(LONGEST) })
    .catch(() => {
      throw new NoSignal();
    });
  if (answer.ok) return answer;
  const later = Number(answer.headers.get('Retry-After'));
  if (answer.status === 503 && later > 0 && times > 1) {
    await new Promise((resolve) => setTimeout(resolve, 1000 * later));
    return ask(address, body, times - 1);
  }
  const { error } = await answer.json().catch(() => ({}));
  if (!error || answer.status === 503) throw new NoSignal();
  throw new Refused(`${error.message} ${error.hint ?? ''}`.trim());
}

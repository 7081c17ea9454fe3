/** Asks for what a seller's page holds. Nothing of this notebook goes along. */
import { _ } from '../language.js';

/** Longest wait for an answer, in milliseconds. */
const LONGEST = 20_000;

/** Whether a word of the address can name a page. @param {string} token */
export const isToken = (token) => /^[0-9a-f]{32}$/.test(token);

/** Address of a page on the server that this app came from. @param {string} token */
export const pageOf = (token) => `${location.origin}/d/${token}`;

/**
 * What a page holds, as the server says it.
 * @param {string} token
 * @returns {Promise<string>} rejects with one sentence for the person
 */
export async function askForPage(token) {
  const options = { credentials: /** @type {const} */ ('omit'), cache: /** @type {const} */ ('no-store'), signal: AbortSignal.timeout(LONGEST) };
  const answer = await fetch(`${pageOf(token)}.json`, options).catch(() => null);
  if (!answer) throw new Error(_('No signal, or the server does not answer. The link stays good: open it again where there is a signal.'));
  if (answer.status === 410) throw new Error(_('The seller took this page back, or its time ran out. Ask for it to be shared once more.'));
  if (answer.status === 404) throw new Error(_('There is no seller’s page behind this link. Scan the tag once more, or ask the seller for the link.'));
  if (!answer.ok) throw new Error(_('The server is busy. Open the link again in a minute.'));
  return answer.text().catch(() => {
    throw new Error(_('The signal broke off. Open the link again where it is better.'));
  });
}

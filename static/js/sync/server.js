/** Asks the server for the notebook that a key opens. The key goes in a header: addresses are logged and remembered. */
import { _, language } from '../language.js';

/** Longest wait for an answer, in milliseconds. */
const LONGEST = 60_000;

/** No answer, or one that says to come again. `seconds` is how long the server asks to wait; 0 when it does not. */
export class Unreachable extends Error {
  constructor(words = _('No signal, or the server does not answer.'), seconds = 0) {
    super(words);
    this.seconds = seconds;
  }
}

/** A refusal that trying again does not change, in the server's words. */
export class Refusal extends Error {
  /** @param {{code: string, message: string, hint?: string}} error @param {any} [more] what else the answer holds */
  constructor({ code, message, hint = '' }, more = {}) {
    super(`${message} ${hint}`.trim());
    this.code = code;
    this.more = more;
  }
}

/**
 * @param {string} key
 * @param {string} address under `/notebook`
 * @param {{method?: string, json?: any, body?: BodyInit, headers?: Record<string, string>}} [more]
 * @returns {Promise<Response>} rejects with Unreachable or Refusal
 */
export async function ask(key, address, { method = 'GET', json, body, headers = {} } = {}) {
  const said = json === undefined ? { body, headers } : { body: JSON.stringify(json), headers: { 'Content-Type': 'application/json' } };
  const answer = await fetch(`/notebook${address}`, {
    method, body: said.body, headers: { ...said.headers, Authorization: `Bearer ${key}`, 'Accept-Language': language() }, cache: 'no-store', signal: AbortSignal.timeout(LONGEST),
  }).catch(() => {
    throw new Unreachable();
  });
  if (answer.ok) return answer;
  const document_ = await answer.json().catch(() => ({}));
  const words = document_.error && `${document_.error.message} ${document_.error.hint ?? ''}`.trim();
  // Too much asked, busy, broken: the same request may go well later. A full notebook or server will not, by itself.
  if (answer.status === 429 || (answer.status >= 500 && answer.status !== 507)) throw new Unreachable(words, Number(answer.headers.get('Retry-After')) || 0);
  if (!document_.error) throw new Unreachable(_('Something between this device and the server answers in its place.'));
  throw new Refusal(document_.error, document_);
}

/** The exact plan of a lot, from the server: asked without a key or cookie, and nothing of it is kept there. */
import { _, language } from '../language.js';
import { NoSignal, Refused } from '../store/photo_server.js';

/** Said of an answer that no server of this app gives. */
const another = () => _('Something between this device and the server answers in its place. The plan made here stands.');
/** How often a busy server is asked. */
const TIMES = 8;

/** @typedef {{best: number, bound: number}} Progress the best worth so far, and what no plan can exceed
 *
 * @typedef {{gap: number | null, proven: boolean, alone: number}} Proof how far the plan may be from the best one, and what one's own sets and
 *   shelf would bring without the lot */

/**
 * @param {any} document what problemDocument gives
 * @param {number | null} hoursLimit
 * @param {{progress: (progress: Progress) => void, signal: AbortSignal}} more ending the signal ends the work on the server too
 * @returns {Promise<{choice: number[], proof: Proof}>} rejects with NoSignal, Refused or an AbortError
 */
export async function solveLot(document, hoursLimit, { progress, signal }) {
  const answer = await asked(JSON.stringify({ problem: document, hours_limit: hoursLimit }), signal, TIMES);
  for await (const line of linesOf(answer.body)) {
    const said = saidIn(line);
    if (said.error) throw refusal(said);
    if (said.choice && !waysFit(document, said.choice)) throw new Refused(_('The plan that the server sent does not fit this lot. The one made here stands.'));
    if (said.choice) return { choice: said.choice, proof: { gap: said.gap, proven: said.proven, alone: said.alone } };
    progress(said);
  }
  throw new NoSignal();
}

function saidIn(line) {
  try {
    return JSON.parse(line) ?? {};
  } catch {
    throw new Refused(another());
  }
}

/** Whether there is one way for each set, and one that it has. @param {any} document what problemDocument gives @param {any} choice */
export function waysFit({ sets }, choice) {
  return Array.isArray(choice) && choice.length === sets.length
    && choice.every((way, index) => Number.isInteger(way) && way >= 0 && way < 2 + sets[index].completes.length);
}

/** @returns {Promise<Response>} one that holds lines */
async function asked(body, signal, times) {
  const answer = await fetch('/lots/solve', { method: 'POST', body, headers: { 'Content-Type': 'application/json', 'Accept-Language': language() }, credentials: 'omit', signal }).catch(unreached);
  if (answer.ok) return answer;
  const later = Number(answer.headers.get('Retry-After'));
  if (answer.status !== 503 || !(later > 0) || times === 1) throw refusal(await answer.json().catch(() => ({})));
  // Others are being solved for.
  await new Promise((resolve) => setTimeout(resolve, 1000 * later));
  return asked(body, signal, times - 1);
}

/** A person's cancel stays what it is; all else means that nobody answered. */
function unreached(problem) {
  throw problem.name === 'AbortError' ? problem : new NoSignal();
}

function refusal({ error }) {
  return new Refused(error?.message ? `${error.message} ${error.hint ?? ''}`.trim() : another());
}

/** @param {ReadableStream<Uint8Array>} body */
async function* linesOf(body) {
  const reader = body.pipeThrough(new TextDecoderStream()).getReader();
  let rest = '';
  for (;;) {
    const { value, done } = await reader.read().catch(unreached);
    const lines = (rest + (value ?? '')).split('\n');
    rest = done ? '' : lines.pop();
    yield* lines.filter((line) => line.trim() !== '');
    if (done) return;
  }
}

/** How far the exact plan has come, with a button that ends it; what stands meanwhile stays on the screen. */
import { _ } from '../language.js';
import { NoSignal } from '../store/photo_server.js';
import { h, setText } from './element.js';

/** The wait before a meter shows, in milliseconds: most lots are done by then. */
const SHORT = 600;

export class LotSolving {
  /** @param {(plan: any) => void} solved called with the exact plan */
  constructor(solved) {
    this.solved = solved;
    /** What stands meanwhile, in words. */
    this.how = h('p', { class: 'fine', role: 'status' });
    this.said = h('p', { class: 'fine', role: 'status' });
    this.meter = /** @type {HTMLProgressElement} */ (h('progress', { max: 1, 'aria-label': _('How close to the best plan') }));
    this.cancel = h('button', { class: 'button', onclick: () => this.stop(_('Cancelled; this plan stands.')) }, _('Cancel'));
    this.again = h('button', { class: 'button quiet', hidden: true, onclick: () => this.begin(this.planning) }, _('Try now'));
    this.running = h('div', { class: 'lot-running', hidden: true }, this.meter, this.cancel);
    this.element = h('section', { class: 'lot-solving', 'aria-label': _('How it was planned') }, h('div', {}, this.how, this.said), this.again, this.running);
  }

  /** Asks for the exact plan of a lot, unless it stands already or is being looked for. @param {import('../store/lot_planning.js').LotPlanning} planning @param {any} plan */
  follow(planning, plan) {
    if (plan.exact) this.stop('');
    if (plan.exact || (this.control && this.planning.text === planning.text)) return undefined;
    window.addEventListener('online', () => this.element.isConnected && !this.control && this.begin(this.planning), { once: true });
    return this.begin(planning);
  }

  /** Asks for the exact plan; without a signal the quick one stands. @param {import('../store/lot_planning.js').LotPlanning} planning */
  async begin(planning) {
    this.stop('');
    this.planning = planning;
    this.again.hidden = true;
    const control = this.control = new AbortController();
    this.meter.removeAttribute('value');
    const late = setTimeout(() => this.showRunning(), SHORT);
    try {
      const plan = await planning.exact({ signal: control.signal, progress: (progress) => this.progress(progress) });
      // Cancelled, or another lot by now: its plan is for nobody.
      if (this.control !== control) return;
      this.end('', false);
      this.solved(plan);
    } catch (problem) {
      if (this.control === control) this.end(problem instanceof NoSignal ? _('The best one comes with a signal.') : problem.message, true);
    } finally {
      clearTimeout(late);
    }
  }

  showRunning() {
    this.running.hidden = false;
    setText(this.said, _('Looking for the best plan …'));
  }

  /** @param {{best: number, bound: number}} progress */
  progress({ best, bound }) {
    if (Number.isFinite(best) && Number.isFinite(bound) && bound > 0) this.meter.value = Math.max(0, Math.min(1, best / bound));
  }

  /** Ends what runs. @param {string} words */
  stop(words) {
    const { control } = this;
    if (!control) return;
    this.end(words, true);
    control.abort();
  }

  end(words, again) {
    this.control = null;
    this.running.hidden = true;
    this.again.hidden = !again;
    setText(this.said, words);
  }
}

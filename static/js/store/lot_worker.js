/** Makes a plan beside the page, so that no tap waits for it. Started by lot_planning.js. */
import { greedyChoice } from '../kernel/lot/greedy.js';

addEventListener('message', ({ data: { problem, hoursLimit } }) => {
  try {
    postMessage({ choice: greedyChoice(problem, hoursLimit) });
  } catch (problem_) {
    postMessage({ problem: String(problem_?.message ?? problem_) });
  }
});

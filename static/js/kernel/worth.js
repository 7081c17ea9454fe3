/**
 * Three ways to use a set, and what it is worth to this user (contract §4).
 * Twin of webapp/appraisal/worth.py.
 */
import { called, probability, taskEstimate } from './effort.js';
import { marketQuantile } from './price.js';

/** Mean and variance of the parts sold singly, less the hours of breaking. */
export function inParts(prepared, standing, findings) {
  const t = prepared.pack.sell_through * findings.rate;
  let mean = -findings.hour_rate * prepared.breakHoursMean;
  let variance = 0;
  for (const part of prepared.parts) {
    const check = prepared.checks[part.check];
    const chosen = standing.chosen[part.check];
    const state = chosen >= 0 ? check.options[chosen].state : check.state;
    const square = chosen >= 0 ? state * state : check.stateSquare;
    const share = t * state * part.salvageMean;
    mean += share;
    variance += t * t * square * (part.salvageVariance + part.salvageMean * part.salvageMean) - share * share;
  }
  return { mean, variance };
}

/** Normal quantile of the parts' worth, never below 0. */
export function partsQuantile({ mean, variance }, z) {
  return Math.max(0, mean + z * Math.sqrt(Math.max(0, variance)));
}

const NO_HOLES = new Map();

/** Expected materials and paid hours of the tasks called by mended options and mended holes. */
export function mending(prepared, standing, findings) {
  const view = prepared.aims.get(findings.aim);
  const holes = standing.drilled ? standing.drilled.mendedTasks : NO_HOLES;
  const calls = called(prepared, standing, view.mendCalls, holes);
  const cost = new Float64Array(prepared.tasks.length);
  let total = 0;
  for (let index = 0; index < cost.length; index += 1) {
    const { hours, materials } = taskEstimate(prepared.tasks[index], calls.items.get(index) ?? 0);
    cost[index] = materials[0] * findings.rate + findings.hour_rate * hours[0];
    total += probability(calls, index) * cost[index];
  }
  return { calls, cost, total };
}

/** The best of the three means; ways within 1e-9 of each other are told apart by their order. */
export function worth(asIs, restored, parts) {
  const value = Math.max(asIs, restored, parts);
  const near = value - 1e-9 * Math.max(1, Math.abs(value));
  return { value, way: asIs >= near ? 'as_is' : restored >= near ? 'restored' : 'parts' };
}

/** What the market would pay at a quantile: the larger of as it stands and in parts. */
export function fair(price, parts, z) {
  return Math.max(marketQuantile(price, z), partsQuantile(parts, z));
}

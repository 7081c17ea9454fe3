/**
 * The reference price from the family's prior and from comparable sales (contract §5).
 * Twin of webapp/appraisal/reference.py. Sources: Raiffa and Schlaifer 1961; Huber 1964.
 *
 * @typedef {{used: boolean, price: number, month: string | null, recency: number, huber: number, share: number}} Weighed
 * @typedef {{logMedian: number, variance: number, comparables: Weighed[]}} ReferencePrice
 */
const DAYS_A_YEAR = 365.25;
const A_DAY = 86_400_000;

/** The posterior of the reference price, in the pack's currency. @returns {ReferencePrice} */
export function referencePrice(pack, findings) {
  const { reference, model } = pack;
  const priorMean = Math.log(reference.median);
  const priorVariance = reference.log_sd * reference.log_sd;
  if (findings.comparables.length === 0) return { logMedian: priorMean, variance: priorVariance, comparables: [] };
  const read = findings.comparables.map((comparable) => observation(pack, findings, comparable));
  const seen = read.filter((one) => one !== null);
  const { mean, variance, huber } = posterior(priorMean, priorVariance,
    seen.map((one) => [one.logPrice, one.variance, one.recency]), reference.comparable_log_sd, model.huber);
  let at = 0;
  const comparables = read.map((one) => (one === null
    ? { used: false, price: 0, month: null, recency: 0, huber: 0, share: 0 }
    : weighed(one, huber[at++], variance)));
  return { logMedian: mean, variance, comparables };
}

/** @returns {Weighed} with its part of the posterior's precision */
function weighed({ logPrice, month, recency, variance }, huber, posteriorVariance) {
  const share = ((huber * recency) / variance) * posteriorVariance;
  return { used: true, price: Math.exp(logPrice), month, recency, huber, share };
}

/** Mean, variance and Huber weights of a normal mean after [value, variance, weight] observations. */
export function posterior(priorMean, priorVariance, seen, spread, tuning) {
  let huber = seen.map(() => 1);
  let [mean, precision] = updated(priorMean, priorVariance, seen, huber);
  for (let round = 0; round < 20; round += 1) {
    const before = mean;
    huber = seen.map(([value]) => {
      const z = Math.abs(value - before) / spread;
      return z <= tuning ? 1 : tuning / z;
    });
    [mean, precision] = updated(priorMean, priorVariance, seen, huber);
    if (Math.abs(mean - before) < 1e-10) break;
  }
  return { mean, variance: 1 / precision, huber };
}

function updated(priorMean, priorVariance, seen, huber) {
  let precision = 1 / priorVariance;
  let weighted = priorMean / priorVariance;
  seen.forEach(([value, variance, weight], index) => {
    precision += (huber[index] * weight) / variance;
    weighted += (huber[index] * weight * value) / variance;
  });
  return [weighted / precision, precision];
}

/** The comparable as an observation of ln R; null when its currency has no rate. */
function observation(pack, findings, comparable) {
  const { reference } = pack;
  const own = comparable.currency === reference.currency;
  const rate = own ? 1 : comparable.rate ?? (comparable.currency === findings.currency ? findings.rate : null);
  if (rate === null) return null;
  const years = (Date.parse(findings.today) - Date.parse(comparable.date)) / A_DAY / DAYS_A_YEAR;
  const [factor, month] = own ? indexed(pack.index, comparable.date, findings.today) : [1, null];
  let offset = comparable.log_offset ?? (Object.hasOwn(pack.state_offsets, comparable.state) ? pack.state_offsets[comparable.state] : 0);
  let variance = reference.comparable_log_sd * reference.comparable_log_sd;
  if (comparable.kind === 'asked') {
    offset += reference.asked[0];
    variance += reference.asked[1] * reference.asked[1];
  }
  const logPrice = Math.log((comparable.price / rate) * factor) - offset;
  return { logPrice, variance, recency: 2 ** (-years / reference.half_life_years), month };
}

/** @type {WeakMap<any, string[]>} one sale asks as the other does */
const sortedMonths = new WeakMap();

/**
 * What a sum of `then` is in today's money, and the month that stood for then. Each date goes by the latest
 * published month not after it; before the series nothing is indexed.
 * @returns {[number, string | null]}
 */
export function indexed(index, then, today) {
  const months = sortedMonths.get(index) ?? Object.keys(index).sort();
  sortedMonths.set(index, months);
  const at = months.findLast((month) => month <= then.slice(0, 7));
  const now = months.findLast((month) => month <= today.slice(0, 7));
  return at === undefined || now === undefined ? [1, null] : [index[now] / index[at], at];
}

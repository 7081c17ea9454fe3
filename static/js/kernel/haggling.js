/** What to point at when the price is talked about, and what all the rest adds up to. Twin of haggling.py. */

/** The points among the reasons; less than the table's share of the middle price is not brought up. */
export function haggling(prepared, rows, middle) {
  const { points: most, point_share: share } = prepared.pack.model;
  const found = rows.filter((row) => row.what !== 'not checked');
  const points = found.filter((row) => row.amount < 0 && -row.amount >= share * middle).slice(0, most);
  return {
    points: points.map(asPoint),
    others: sum(found.filter((row) => row.amount < 0 && !points.includes(row))),
    in_favour: sum(found.filter((row) => row.amount > 0)),
    not_checked: sum(rows.filter((row) => row.what === 'not checked')).amount,
  };
}

/** A finding and what it is worth. */
export const asPoint = ({ what, option, amount }) => ({ what, option, amount });

function sum(rows) {
  return { count: rows.length, amount: rows.reduce((total, row) => total + row.amount, 0) };
}

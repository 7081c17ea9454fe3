/** Small systems of linear equations and small symmetric matrices. Twin of webapp/photos/linear.py. */

/** @typedef {number[][]} Matrix */

/**
 * The solution of a square system by elimination with pivots; null when the matrix is singular.
 * @param {Matrix} matrix
 * @param {number[]} right
 * @returns {number[] | null}
 */
export function solved(matrix, right) {
  const size = right.length;
  const rows = matrix.map((row, i) => [...row, right[i]]);
  for (let column = 0; column < size; column += 1) {
    let pivot = column;
    for (let i = column + 1; i < size; i += 1) {
      if (Math.abs(rows[i][column]) > Math.abs(rows[pivot][column])) pivot = i;
    }
    if (Math.abs(rows[pivot][column]) < 1e-12) return null;
    [rows[column], rows[pivot]] = [rows[pivot], rows[column]];
    for (let i = column + 1; i < size; i += 1) {
      const factor = rows[i][column] / rows[column][column];
      for (let j = column; j <= size; j += 1) rows[i][j] -= factor * rows[column][j];
    }
  }
  const solution = Array(size).fill(0);
  for (let i = size - 1; i >= 0; i -= 1) {
    let rest = rows[i][size];
    for (let j = i + 1; j < size; j += 1) rest -= rows[i][j] * solution[j];
    solution[i] = rest / rows[i][i];
  }
  return solution;
}

/**
 * The weighted least-squares solution by the normal equations; null when they are singular.
 * @param {Matrix} equations
 * @param {number[]} right
 * @param {number[]} weights
 */
export function leastSquares(equations, right, weights) {
  const { normal, total } = normalEquations(equations, right, weights);
  return solved(normal, total);
}

/** The matrix and the right side of the normal equations. @param {Matrix} equations @param {number[]} right @param {number[]} weights */
export function normalEquations(equations, right, weights) {
  const size = equations[0].length;
  const normal = Array.from({ length: size }, () => Array(size).fill(0));
  const total = Array(size).fill(0);
  equations.forEach((row, k) => {
    for (let i = 0; i < size; i += 1) {
      total[i] += weights[k] * row[i] * right[k];
      for (let j = 0; j < size; j += 1) normal[i][j] += weights[k] * row[i] * row[j];
    }
  });
  return { normal, total };
}

/** The inverse of a 3 by 3 matrix by its adjugate; null when it is singular. @param {Matrix} m @returns {Matrix | null} */
export function inverse3(m) {
  const cofactors = [0, 1, 2].map((i) => [0, 1, 2].map((j) => (
    m[(j + 1) % 3][(i + 1) % 3] * m[(j + 2) % 3][(i + 2) % 3] - m[(j + 1) % 3][(i + 2) % 3] * m[(j + 2) % 3][(i + 1) % 3])));
  const determinant = m[0][0] * cofactors[0][0] + m[0][1] * cofactors[1][0] + m[0][2] * cofactors[2][0];
  if (determinant === 0 || !Number.isFinite(determinant)) return null;
  return cofactors.map((row) => row.map((value) => value / determinant));
}

/**
 * Eigenvalues of a symmetric 3 by 3 matrix, largest first, and their unit vectors as rows.
 * @param {Matrix} matrix
 * @returns {{values: number[], vectors: Matrix}}
 */
export function eigen3(matrix) {
  const a = matrix.map((row) => [...row]);
  const vectors = [[1, 0, 0], [0, 1, 0], [0, 0, 1]];
  for (let round = 0; round < 30; round += 1) {
    for (const [p, q] of [[0, 1], [0, 2], [1, 2]]) if (Math.abs(a[p][q]) > 1e-300) rotate(a, vectors, p, q);
  }
  const order = [0, 1, 2].sort((i, j) => a[j][j] - a[i][i]);
  return { values: order.map((i) => a[i][i]), vectors: order.map((i) => [vectors[0][i], vectors[1][i], vectors[2][i]]) };
}

function rotate(a, vectors, p, q) {
  const slope = (a[q][q] - a[p][p]) / (2 * a[p][q]);
  const tangent = (slope >= 0 ? 1 : -1) / (Math.abs(slope) + Math.sqrt(slope * slope + 1));
  const cosine = 1 / Math.sqrt(tangent * tangent + 1);
  const sine = tangent * cosine;
  const turned = (left, right) => [cosine * left - sine * right, sine * left + cosine * right];
  for (let k = 0; k < 3; k += 1) [a[k][p], a[k][q]] = turned(a[k][p], a[k][q]);
  for (let k = 0; k < 3; k += 1) [a[p][k], a[q][k]] = turned(a[p][k], a[q][k]);
  a[p][q] = 0;
  a[q][p] = 0;
  for (let k = 0; k < 3; k += 1) [vectors[k][p], vectors[k][q]] = turned(vectors[k][p], vectors[k][q]);
}

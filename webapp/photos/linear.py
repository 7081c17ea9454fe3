"""Small systems of linear equations and small symmetric matrices, as the geometry of photos needs them."""

import math

Matrix = list[list[float]]


def solved(matrix: Matrix, right: list[float]) -> list[float] | None:
    """The solution of a square system by elimination with pivots; None when the matrix is singular."""
    size = len(right)
    rows = [[*matrix[i], right[i]] for i in range(size)]
    for column in range(size):
        pivot = column
        for i in range(column + 1, size):
            if abs(rows[i][column]) > abs(rows[pivot][column]):
                pivot = i
        if abs(rows[pivot][column]) < 1e-12:
            return None
        rows[column], rows[pivot] = rows[pivot], rows[column]
        for i in range(column + 1, size):
            factor = rows[i][column] / rows[column][column]
            for j in range(column, size + 1):
                rows[i][j] -= factor * rows[column][j]
    solution = [0.0] * size
    for i in range(size - 1, -1, -1):
        rest = rows[i][size]
        for j in range(i + 1, size):
            rest -= rows[i][j] * solution[j]
        solution[i] = rest / rows[i][i]
    return solution


def least_squares(equations: Matrix, right: list[float], weights: list[float]) -> list[float] | None:
    """The weighted least-squares solution by the normal equations; None when they are singular."""
    normal, total = normal_equations(equations, right, weights)
    return solved(normal, total)


def normal_equations(
    equations: Matrix, right: list[float], weights: list[float]
) -> tuple[Matrix, list[float]]:
    """The matrix and the right side of the normal equations."""
    size = len(equations[0])
    normal = [[0.0] * size for _ in range(size)]
    total = [0.0] * size
    for row, value, weight in zip(equations, right, weights, strict=True):
        for i in range(size):
            total[i] += weight * row[i] * value
            for j in range(size):
                normal[i][j] += weight * row[i] * row[j]
    return normal, total


def inverse3(m: Matrix) -> Matrix | None:
    """The inverse of a 3 by 3 matrix by its adjugate; None when it is singular."""
    cofactors = [
        [
            m[(j + 1) % 3][(i + 1) % 3] * m[(j + 2) % 3][(i + 2) % 3]
            - m[(j + 1) % 3][(i + 2) % 3] * m[(j + 2) % 3][(i + 1) % 3]
            for j in range(3)
        ]
        for i in range(3)
    ]
    determinant = m[0][0] * cofactors[0][0] + m[0][1] * cofactors[1][0] + m[0][2] * cofactors[2][0]
    if determinant == 0.0 or not math.isfinite(determinant):
        return None
    return [[value / determinant for value in row] for row in cofactors]


def eigen3(matrix: Matrix) -> tuple[list[float], Matrix]:
    """Eigenvalues of a symmetric 3 by 3 matrix, largest first, and their unit vectors as rows.

    Source: the cyclic method of Jacobi (1846), as in Golub and Van Loan, Matrix Computations, section 8.5.
    """
    a = [list(row) for row in matrix]
    vectors = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]
    for _ in range(30):
        for p, q in ((0, 1), (0, 2), (1, 2)):
            if abs(a[p][q]) > 1e-300:
                _rotate(a, vectors, p, q)
    order = sorted(range(3), key=lambda i: -a[i][i])
    return [a[i][i] for i in order], [[vectors[0][i], vectors[1][i], vectors[2][i]] for i in order]


def _rotate(a: Matrix, vectors: Matrix, p: int, q: int) -> None:
    slope = (a[q][q] - a[p][p]) / (2.0 * a[p][q])
    tangent = (1.0 if slope >= 0.0 else -1.0) / (abs(slope) + math.sqrt(slope * slope + 1.0))
    cosine = 1.0 / math.sqrt(tangent * tangent + 1.0)
    sine = tangent * cosine
    for k in range(3):
        left, right = a[k][p], a[k][q]
        a[k][p], a[k][q] = cosine * left - sine * right, sine * left + cosine * right
    for k in range(3):
        upper, lower = a[p][k], a[q][k]
        a[p][k], a[q][k] = cosine * upper - sine * lower, sine * upper + cosine * lower
    a[p][q] = a[q][p] = 0.0
    for k in range(3):
        left, right = vectors[k][p], vectors[k][q]
        vectors[k][p], vectors[k][q] = cosine * left - sine * right, sine * left + cosine * right

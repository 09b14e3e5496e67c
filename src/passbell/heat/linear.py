"""Small symmetric systems by Cholesky, in plain lists."""

import math
from collections.abc import Sequence

Matrix = list[list[float]]


def cholesky(matrix: Sequence[Sequence[float]]) -> Matrix:
    """The lower triangle R with R Rᵀ = matrix, for a positive definite matrix."""
    n = len(matrix)
    lower = [[0.0] * n for _ in range(n)]
    for i in range(n):
        for j in range(i + 1):
            rest = matrix[i][j] - sum(
                a * b for a, b in zip(lower[i][:j], lower[j][:j], strict=True)
            )
            lower[i][j] = math.sqrt(rest) if i == j else rest / lower[j][j]
    return lower


def forward(lower: Matrix, right: Sequence[float]) -> list[float]:
    """X with R x = right."""
    x: list[float] = []
    for i, row in enumerate(lower):
        x.append((right[i] - sum(a * b for a, b in zip(row[:i], x, strict=True))) / row[i])
    return x


def backward(lower: Matrix, right: Sequence[float]) -> list[float]:
    """X with Rᵀ x = right."""
    n = len(lower)
    x = [0.0] * n
    for i in range(n - 1, -1, -1):
        rest = sum(lower[j][i] * x[j] for j in range(i + 1, n))
        x[i] = (right[i] - rest) / lower[i][i]
    return x


def solve(matrix: Sequence[Sequence[float]], right: Sequence[float]) -> list[float]:
    """X with matrix x = right, for a positive definite matrix."""
    lower = cholesky(matrix)
    return backward(lower, forward(lower, right))

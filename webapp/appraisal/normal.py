"""The standard normal law."""

import math


def normal_cdf(x: float) -> float:
    """Φ(x), good to 1e-15 (the library's erfc)."""
    return 0.5 * math.erfc(-x / math.sqrt(2))

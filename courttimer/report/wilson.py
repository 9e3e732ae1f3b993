"""How sure a shooting percentage is: the 95 % score interval of E. B. Wilson (J. Am. Stat. Assoc. 22, 1927; from memory)."""

from math import sqrt

Z = 1.959963984540054
"""The 97.5 % point of the normal distribution."""


def wilson(makes: int, attempts: int) -> tuple[float, float]:
    """Lowest and highest share, from 0 to 1, that fits with so many makes; (0, 1) when nothing was attempted."""
    if not attempts:
        return 0.0, 1.0
    share, square = makes / attempts, Z * Z / attempts
    middle = share + square / 2
    reach = sqrt(share * (1 - share) * square + square * square / 4)
    low, high = ((middle + side * reach) / (1 + square) for side in (-1, 1))
    return (low if makes else 0.0), (high if makes < attempts else 1.0)

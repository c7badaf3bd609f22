"""Random numbers in compiled loops.

A multiplicative generator whose products stay whole numbers of 64 bits: Park, S. K., Miller,
K. W., Stockmeyer, P. K. (1993), Communications of the ACM 36(7), 105-110.
"""

from packdown.packing.kernels.compiled import I1, Ints, Real, compiled

__all__ = ["MODULUS", "draw"]

MODULUS, FACTOR = 2**31 - 1, 48_271


@compiled(Real(I1))
def draw(seed: Ints) -> float:
    """Return a number from 0 up to 1, and go on to the next.

    Parameters
    ----------
    seed
        One number from 1 up to `MODULUS`, which decides all that follow; changed.
    """
    seed[0] = seed[0] * FACTOR % MODULUS
    return float(seed[0]) / MODULUS

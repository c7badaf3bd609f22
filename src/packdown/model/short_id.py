"""Short ids of containers: six characters that a label carries and a person can type."""

from collections.abc import Collection
from unicodedata import normalize

__all__ = ["ALPHABET", "LENGTH", "as_short_id", "meant", "short_id"]

ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
"""Base 32 without the letters I, L, O and U, after Crockford (from memory)."""
LENGTH = 6
"""Characters of a short id: 30 bits; in 1 of 24,000 collections of 300 containers two agree."""
_LOOKALIKES = str.maketrans({"I": "1", "L": "1", "O": "0", "-": None, " ": None})


def short_id(container_id: str) -> str:
    """Return the short id of a container.

    It depends on the container's id alone: a label printed from a plan agrees with the store into
    which the plan is stowed later, on any machine.

    Parameters
    ----------
    container_id
        Id of the container in the workspace.

    Returns
    -------
    str
        Six characters of `ALPHABET`.

    Examples
    --------
    >>> short_id("crate-1")
    'BE5K9T'
    """
    from hashlib import sha256  # noqa: PLC0415 - a search needs no hash, and must start fast

    digest = sha256(normalize("NFC", container_id).encode()).digest()
    bits = int.from_bytes(digest[:4], "big") >> 2
    return "".join(ALPHABET[bits >> shift & 31] for shift in range(25, -1, -5))


def as_short_id(typed: str) -> str | None:
    """Read a short id as people type it: in any case, with O for 0 and I or L for 1, with dashes.

    Returns
    -------
    str or None
        The short id, or None where the text cannot be one.

    Examples
    --------
    >>> as_short_id("7k3-m9o"), as_short_id("crate-12")
    ('7K3M90', None)
    """
    plain = typed.upper().translate(_LOOKALIKES)
    return plain if len(plain) == LENGTH and set(plain) <= set(ALPHABET) else None


def meant(name: str, container_ids: Collection[str]) -> str | None:
    """Return the container that is meant by an id or a short id, or None.

    Examples
    --------
    >>> meant("be5-k9t", ["crate-1", "crate-2"]), meant("crate-3", ["crate-1"])
    ('crate-1', None)
    """
    if name in container_ids:
        return name
    typed = as_short_id(name)
    return next((own for own in container_ids if short_id(own) == typed), None)

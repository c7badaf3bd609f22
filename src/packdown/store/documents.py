"""The plans that containers were filled by."""

import zlib

from packdown.store.connection import Rows

__all__ = ["plan_document"]

_DOCUMENT = """
SELECT p.document FROM plans p JOIN containers c ON c.plan_id = p.id WHERE c.id = :box
"""


def plan_document(rows: Rows, box: str) -> str | None:
    """Return the text of the plan that was last stowed in a container, if any was."""
    found = rows.rows(_DOCUMENT, box=box)
    return zlib.decompress(found[0][0]).decode() if found else None

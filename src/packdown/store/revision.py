"""The revisions of the tables, in the order in which they were made."""

__all__ = ["REVISION", "REVISIONS", "VERSION_TABLE"]

REVISIONS = ("0001", "0002")
"""Every revision; `migrations` holds one script for each."""
REVISION = REVISIONS[-1]
"""The revision that this version of the program reads and writes."""
VERSION_TABLE = "packdown_version"
"""Table in which a store says its revision."""

"""Archives of other programs (XLSX and 3MF are ZIP): refused where they could do harm.

A small archive can hold gigabytes of zeros, and a few lines of XML can expand to as much. What is
read here is checked before any other library sees it.
"""

import zipfile
import zlib
from pathlib import Path, PurePosixPath

__all__ = ["MAX_FILE_BYTES", "check_archive", "read_limited"]

MAX_FILE_BYTES = 128 * 2**20
MAX_MEMBERS = 2_000
_BOMB = "unpacks to more than is allowed; is it a zip bomb?"
_CHUNK = 2**20
_XML = (".xml", ".rels", ".model", ".vml")
_FORBIDDEN = (b"<!doctype", b"<!entity")


def read_limited(path: Path, most: int = MAX_FILE_BYTES) -> bytes:
    """Read a file that is not larger than a limit.

    Raises
    ------
    ValueError
        If it is larger or cannot be read; the message says why.
    """
    try:
        if not path.is_file():
            raise ValueError("is no file" if path.exists() else "is not there")
        with path.open("rb") as stream:
            data = stream.read(most + 1)
    except OSError as error:
        raise ValueError(f"cannot be read: {error.strerror or error}") from error
    if len(data) > most:
        raise ValueError(f"is larger than {most // 2**20} MiB")
    return data


def check_archive(archive: zipfile.ZipFile, most: int) -> None:
    """Check all members of an archive before any of them is used.

    Parameters
    ----------
    archive
        An open archive.
    most
        Bytes that all members may have together when they are unpacked.

    Raises
    ------
    ValueError
        If it has too many members or too large ones, if one has a name that leads out of the
        archive, or if one of XML has a DOCTYPE, with which it could define entities.
    """
    members = archive.infolist()
    if len(members) > MAX_MEMBERS:
        raise ValueError(f"holds more than {MAX_MEMBERS:,} files")
    names = [member.filename for member in members]
    if len(set(names)) < len(names):
        raise ValueError("holds two files of one name")
    if sum(member.file_size for member in members) > most:
        raise ValueError(_BOMB)
    total = 0
    for member in members:
        _check_name(member.filename)
        if member.flag_bits & 1:
            raise ValueError("is locked with a password; save it without one")
        total += _check_member(archive, member, most - total)


def _check_name(name: str) -> None:
    path = PurePosixPath(name.replace("\\", "/"))
    if path.is_absolute() or ".." in path.parts or ":" in name:
        raise ValueError(f"holds a file whose name leads out of it: {name[:60]!r}")


def _check_member(archive: zipfile.ZipFile, member: zipfile.ZipInfo, most: int) -> int:
    """Unpack a member piece by piece, count its bytes, and look for what XML must not have."""
    is_xml = member.filename.lower().endswith(_XML)
    size, tail = 0, b""
    try:
        with archive.open(member) as stream:
            while chunk := stream.read(_CHUNK):
                size += len(chunk)
                if size > most:
                    raise ValueError(_BOMB)
                if is_xml:
                    text = tail + chunk.replace(b"\0", b"").lower()
                    if any(word in text for word in _FORBIDDEN):
                        raise ValueError(f"defines entities in {member.filename[:60]!r}")
                    tail = text[-16:]
    except (zipfile.BadZipFile, zlib.error, NotImplementedError, EOFError, OSError) as error:
        raise ValueError(f"is a damaged archive: {error}") from error
    return size

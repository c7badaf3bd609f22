"""Ways to spoil a file: words and lines exchanged, lost, repeated or made odd."""

import re
from random import Random

__all__ = ["ODD", "spoilt"]

ODD = (
    b"true", b"-1", b"0", b"1e308", b"nan", b"-inf", b"0x7fff_ffff_ffff", b"9" * 4_500, b"[]",
    b"[[]]", b"{}", b'""', b'"?"', b'"0 mm"', b'"-1 mm"', b'"9999999 in"', b'"1/0 in"',
    b'"0.001 mm"', b'"10 m"', b'"none"', b"1979-05-27", b'"\\u0000"', b"'''", b"#", b",", b"=",
    b"]", b"[0, 0, 0]", b"[1e9, -1e9]", b'"upside-down"', b"90", b"1000", b"1_000_000_000", b"\xff",
    b"\xef\xbb\xbf", b"[" * 3_000, b'"on-left"', b'"1000 mm"', b'"1 mm"', b"[1000, 1]", b"[0, 0]",
    b":", b">", b"!", b"--", b"null", b'"9999999999999999999999 kg"', b"\r", b"\x00",
    b"\xe2\x80\xa8",
)  # fmt: skip
_WORD = re.compile(rb'"[^"\n]*"|-?\d+(?:\.\d+)?|[\w-]+|[^\w\s]')
_MOST = 20_000


def spoilt(data: bytes, chance: Random, other: bytes = b"") -> bytes:
    """Spoil a file in one to four ways; another file may lend words and lines."""
    for _ in range(chance.choice((1, 1, 1, 2, 4))):
        data = chance.choice(_WAYS)(data, chance, other)
    return data[:_MOST]


def _odd_word(data: bytes, chance: Random, other: bytes) -> bytes:
    """Put something odd, or another word, in place of a word."""
    words = list(_WORD.finditer(data))
    if not words:
        return data + chance.choice(ODD)
    spot = chance.choice(words)
    lent = _WORD.findall(other) or [b"0"]
    new = chance.choice((chance.choice(ODD), chance.choice(words)[0], chance.choice(lent)))
    return data[: spot.start()] + new + data[spot.end() :]


def _lines(data: bytes, chance: Random, other: bytes) -> bytes:
    """Lose, repeat or exchange lines."""
    lines = data.split(b"\n")
    here = chance.randrange(len(lines))
    there = chance.randrange(len(lines))
    lent = chance.choice(other.split(b"\n"))
    new = chance.choice((b"", lines[here] * 2, lines[there], lines[here] + lines[there], lent))
    return b"\n".join([*lines[:here], new, *lines[here + chance.randrange(2) :]])


def _stretch(data: bytes, chance: Random, _other: bytes) -> bytes:
    """Put random bytes in place of a stretch."""
    start = chance.randint(0, len(data))
    end = min(len(data), start + chance.choice((0, 1, 4, 30)))
    return data[:start] + chance.randbytes(chance.choice((0, 1, 3))) + data[end:]


def _many(data: bytes, chance: Random, _other: bytes) -> bytes:
    """Repeat a word many times."""
    words = list(_WORD.finditer(data))
    if not words:
        return data
    spot = chance.choice(words)
    return (
        data[: spot.end()] + (b" " + spot[0]) * chance.choice((5, 100, 1_000)) + data[spot.end() :]
    )


_WAYS = (_odd_word, _odd_word, _odd_word, _lines, _stretch, _many)

"""Short ids of containers."""

import doctest
import importlib

from hypothesis import given
from hypothesis import strategies as st

from packdown.model import as_short_id, short_id
from packdown.model.short_id import ALPHABET, LENGTH


def test_a_known_short_id() -> None:
    """Labels that are printed today agree with every later version."""
    # SHA-256 of "abc" begins ba7816bf (FIPS 180-4, its example B.1):
    # 10111 01001 11100 00001 01101 01111 (and 11) is Q 9 W 1 D F
    assert short_id("abc") == "Q9W1DF"


def test_the_alphabet_has_no_lookalikes() -> None:
    """No character is read as another."""
    assert len(set(ALPHABET)) == 32
    assert not set("ILOU") & set(ALPHABET)


@given(st.text())
def test_a_short_id_reads_as_itself(container: str) -> None:
    """Whatever the container is called, its short id is well formed and is read back."""
    code = short_id(container)
    assert len(code) == LENGTH
    assert as_short_id(code) == as_short_id(code.lower()) == code
    assert as_short_id(f"{code[:3]}-{code[3:]}") == code


def test_lookalikes_are_understood() -> None:
    """O, I and L are read as the digits they look like."""
    assert as_short_id("oil1l0") == "011110"
    assert as_short_id("crate-12") is None
    assert as_short_id("u00000") is None


def test_how_an_id_is_written_does_not_matter() -> None:
    """An accent may be one character or two."""
    assert short_id("caf\u00e9") == short_id("cafe\u0301")


def test_the_examples_of_the_docs() -> None:
    """What the documentation shows is what the functions return."""
    result = doctest.testmod(importlib.import_module("packdown.model.short_id"))
    assert result.attempted
    assert not result.failed

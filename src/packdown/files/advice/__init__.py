"""Advice on builds that can be read: what is not wrong, but hardly meant."""

from packdown.files.advice.advice import Advice, AdviceKind
from packdown.files.advice.reading import read_advice

__all__ = ["Advice", "AdviceKind", "read_advice"]

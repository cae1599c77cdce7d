"""A line to be printed: pieces of text, each with the tone it is said in."""

from __future__ import annotations

from typing import Literal, NamedTuple

from roundhand.cli.screen.letters import plain

Tone = Literal["", "title", "error", "warning", "advice", "faint"]


class Piece(NamedTuple):
    """Words in one tone. Any text may be given; what a terminal would obey is taken out of it in printing."""

    text: str
    tone: Tone = ""


Line = tuple[Piece, ...]
BLANK: Line = ()


def line(text: str, tone: Tone = "") -> Line:
    """A line in one tone."""
    return (Piece(text, tone),)


def bare(pieces: Line) -> str:
    """A line as plain text, safe to print.

    >>> bare((Piece("Fix", "error"), Piece("  Rnd 4  ")))
    'Fix  Rnd 4'
    """
    return plain("".join(piece.text for piece in pieces)).rstrip()

"""Which names a pattern's file may have in a folder, and the name it gets from a title."""

from __future__ import annotations

import re
import unicodedata
from pathlib import Path

_ENDINGS = (".txt", ".md")
_MOST_LETTERS = 60
_MOST_BYTES = 250
# Names that a system keeps for its own devices, whatever stands behind their first dot.
_DEVICES = re.compile(r"(?:con|prn|aux|nul|com\d|lpt\d)(?:\..*)?", re.IGNORECASE)


def file_stem(title: str) -> str:
    """The name of a file for a title: small letters and digits with hyphens between.

    >>> file_stem("Saltmarsh Cap!"), file_stem("Häubchen Nr. 2"), file_stem("../../etc/passwd"), file_stem("CON")
    ('saltmarsh-cap', 'häubchen-nr-2', 'etc-passwd', 'pattern-con')
    """
    letters = unicodedata.normalize("NFC", title).lower()
    stem = re.sub(r"[\W_]+", "-", letters)[:_MOST_LETTERS].strip("-")
    while len(stem.encode("utf-8")) > 2 * _MOST_LETTERS:
        stem = stem[:-1]
    if not stem:
        return "pattern"
    return f"pattern-{stem}" if stem == "readme" or _DEVICES.fullmatch(stem) else stem


def inside(folder: Path, name: str) -> Path | None:
    """The path of a text's name in a folder; None for a name that leads out of it, is hidden, or is no text's."""
    last = name.rsplit("/", 1)[-1].lower()
    if not last.endswith(_ENDINGS) or last.rsplit(".", 1)[0] == "readme":
        return None
    return place_in(folder, name)


def place_in(folder: Path, name: str) -> Path | None:
    """The path of a name in a folder, with slashes for the folders between; None for a name that leads out of it, is
    hidden, or that some system does not allow.

    >>> place_in(Path("/home"), "caps/../../etc"), place_in(Path("/home"), "caps/.hidden")
    (None, None)
    """
    parts = name.split("/")
    if not all(_is_good(part) for part in parts):
        return None
    path = folder.joinpath(*parts)
    try:
        # A link may lead anywhere; what it leads to must be in the folder as well.
        return path if path.resolve().is_relative_to(folder.resolve()) else None
    except (OSError, RuntimeError, ValueError):
        return None


def _is_good(part: str) -> bool:
    if not part or part.startswith((".", "_")) or part != part.strip() or part.endswith("."):
        return False
    if _DEVICES.fullmatch(part) or any(sign in '\\:*?"<>|' or not sign.isprintable() for sign in part):
        return False
    return len(part.encode("utf-8", "surrogatepass")) <= _MOST_BYTES

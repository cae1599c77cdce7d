"""What stands in the way of an answer and is no slip of the designer's: a wrong path, an unknown size, a picture."""

from __future__ import annotations

import unicodedata
from pathlib import Path


class UseError(Exception):
    """A call that cannot be answered. The message is one whole plain sentence, with a way on.

    >>> raise UseError("There is no file “cap.txt”; check the name.")
    Traceback (most recent call last):
    roundhand.workshop.use.UseError: There is no file “cap.txt”; check the name.
    """


def spoken(path: Path | str) -> str:
    """A path or name as it can stand in a sentence and in a JSON answer: always encodable, without control signs.

    >>> spoken("cap\\x1b[2J.txt")
    'cap�[2J.txt'
    """
    readable = str(path).encode("utf-8", "surrogateescape").decode("utf-8", "replace")
    return "".join("\N{REPLACEMENT CHARACTER}" if _unseen(sign) else sign for sign in readable)


def _unseen(sign: str) -> bool:
    return unicodedata.category(sign) in ("Cc", "Cf", "Zl", "Zp")

"""Files of words as they are written, and what is said of one that cannot be used."""

from __future__ import annotations

import re
import tomllib
from typing import Any


class TermsDataError(ValueError):
    """A file of words that cannot be used. `file` is its name, `line` the line from 1."""

    def __init__(self, reason: str, file: str, line: int) -> None:
        super().__init__(f"{file}, line {line}: {reason}")
        self.file = file
        self.line = line


class WordFile:
    """A file of words as it was written, with the line of each word in it.

    Raises TermsDataError for a text that is not TOML.
    """

    def __init__(self, name: str, text: str) -> None:
        self.name = name
        self.text = text
        try:
            self.data: dict[str, Any] = tomllib.loads(text)
        except tomllib.TOMLDecodeError as error:
            found = re.search(r"\(at line (\d+)", str(error))
            line = int(found[1]) if found else max(1, text.count("\n"))
            reason = str(error).partition(" (at ")[0]
            raise TermsDataError(f"this is not TOML: {reason}", name, line) from error

    def error(self, reason: str, key: str, spelling: str = "") -> TermsDataError:
        """The error at the line that gives the words of a key, a line with the spelling before others."""
        lines = list(enumerate(self.text.splitlines(), 1))
        own = [(number, line) for number, line in lines if re.match(rf'\s*"?{re.escape(key)}"?\s*=', line)]
        best = [number for number, line in own if f'"{spelling}"' in line] or [number for number, _ in own]
        return TermsDataError(reason, self.name, best[0] if best else 1)

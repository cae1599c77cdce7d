"""What shows that a page is in the words of an older book, and where these words may mean two stitches."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import msgspec

from roundhand.terms.files import WordFile


class Period(msgspec.Struct, frozen=True):
    """The time of a vocabulary, `years` from first to last.

    `names` are names of stitches that no vocabulary of today has; they show the time where one of the `marks` stands
    beside them. `alone` show it by themselves. `contested` gives for a word of the books what else it may mean.
    """

    years: tuple[int, int]
    names: frozenset[str]
    alone: frozenset[str]
    marks: frozenset[str]
    hints: frozenset[str]
    contested: Mapping[str, str]

    @staticmethod
    def of(files: Iterable[WordFile]) -> Period | None:
        """The period that the files of a vocabulary tell of, None for a vocabulary of today."""
        files = list(files)
        if "years" not in files[0].data:
            return None
        proves = [file.data.get("proves", {}) for file in files if file.name.startswith("older/")]

        def every(kind: str) -> frozenset[str]:
            return frozenset(word for table in proves for word in table.get(kind, ()))

        contested = {
            word: stitch for file in files for stitch, said in file.data.get("contested", {}).items() for word in said
        }
        first, last = files[0].data["years"]
        return Period((first, last), every("names"), every("alone"), every("marks"), every("hints"), contested)

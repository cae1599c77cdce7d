"""Numbers with one value for each size, as they stand in sentences that are no rows: `24 (26, 28) sts`."""

from __future__ import annotations

import re

from roundhand.measures import number_word

LISTED = r"\d{1,5}(?:\s*[(\[]\s*\d{1,5}(?:\s*[,;:]\s*\d{1,5})*\s*[)\]](?:\s*\d{1,5}(?!\s*[\d.]))?|(?:\s*/\s*\d{1,5})+)?"


def listed(words: str, sizes: int) -> tuple[int, ...] | None:
    """The value of every size; None where the words give neither one number nor as many as there are sizes.

    >>> listed("24 (26, 28)", 3), listed("24", 3), listed("83 (89) 95", 3), listed("twelve", 1)
    ((24, 26, 28), (24, 24, 24), (83, 89, 95), (12,))
    >>> listed("24 (26)", 3) is None
    True
    """
    values = [int(value) for value in re.findall(r"\d+", words)]
    if not values:
        word = number_word(words.strip().lower())
        return None if word is None else (word,) * sizes
    if len(values) == 1:
        return (values[0],) * sizes
    return tuple(values) if len(values) == sizes else None

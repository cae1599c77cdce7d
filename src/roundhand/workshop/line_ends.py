"""The line ends of a file kept while its text is worked on by something that knows one kind alone."""

from __future__ import annotations

import difflib
import re
from collections import Counter

_ENDED = re.compile(r"[^\r\n]*(?:\r\n|\r|\n)|[^\r\n]+")


def with_ends_of(text: str, old: str) -> str:
    """A text with the line ends that an older one has: a line that stays keeps its own, a new one gets the commonest.

    A text that has carriage returns of its own is left as it is.

    >>> with_ends_of("Cap\\nRnd 1\\nRnd 2\\n", "Cap\\r\\nRnd 1\\r\\n")
    'Cap\\r\\nRnd 1\\r\\nRnd 2\\r\\n'
    """
    if "\r" in text or "\r" not in old:
        return text
    before = [_parted(line) for line in _ENDED.findall(old)]
    kinds = Counter(end for _, end in before if end)
    usual = kinds.most_common(1)[0][0]
    if len(kinds) == 1:
        return text.replace("\n", usual)
    after = [_parted(line) for line in _ENDED.findall(text)]
    ends = [usual if end else "" for _, end in after]
    matcher = difflib.SequenceMatcher(None, [line for line, _ in before], [line for line, _ in after], autojunk=False)
    for start, begin, length in matcher.get_matching_blocks():
        for at in range(length):
            if ends[begin + at]:
                ends[begin + at] = before[start + at][1] or usual
    return "".join(line + end for (line, _), end in zip(after, ends, strict=True))


def _parted(line: str) -> tuple[str, str]:
    bare = line.rstrip("\r\n")
    return bare, line[len(bare) :]

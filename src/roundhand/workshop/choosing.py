"""Which queries a person asks for, and the handbook page of one: words checked against what there is."""

from __future__ import annotations

import difflib
from collections.abc import Sequence
from typing import Literal

import msgspec

from roundhand.checks import GROUPS, STYLE, Choice, Page, pages, words
from roundhand.workshop.use import UseError, spoken

# The word for all pages of the handbook.
ALL = "all"


class About(msgspec.Struct, frozen=True, kw_only=True):
    """The answer of `check --about`: pages of the handbook, and what is looked at in each group."""

    schema: Literal["roundhand.about/1"] = "roundhand.about/1"
    groups: dict[str, str]
    pages: tuple[Page, ...]


def choice_of(only: Sequence[str] = (), without: Sequence[str] = (), style: bool = False) -> Choice:
    """What to look for, by names of queries and of groups. Raises `UseError` for a word that is neither.

    >>> choice_of(only=["Colours"], without=["colour-never-ended"]).wants("colour-unknown")
    True
    >>> choice_of(only=["colors"]).wants("colour-unknown")
    True
    >>> choice_of(only=["count-difers"])
    Traceback (most recent call last):
    roundhand.workshop.use.UseError: There is no query or group “count-difers”; perhaps “count-differs” is meant.
    """
    return Choice(_known(only), _known(without), (STYLE,) if style else ())


def about(name: str) -> About:
    """The page of one query, the pages of one group, or with `all` every page, group by group.

    Raises `UseError` for a word that is none of these, with the nearest that are.

    >>> [page.name for page in about("count-differs").pages]
    ['count-differs']
    """
    wanted = _word(name)
    if wanted == ALL:
        found = [page for group in GROUPS for page in pages().values() if page.group == group]
    elif wanted in pages():
        found = [pages()[wanted]]
    else:
        (word,) = _known([name])
        found = [page for page in pages().values() if page.group == word or (word == STYLE and page.when_asked)]
    return About(groups={group: what for group, what in GROUPS.items() if _in(group, found)}, pages=tuple(found))


def _in(group: str, found: Sequence[Page]) -> bool:
    return any(page.group == group for page in found)


def _known(said: Sequence[str]) -> tuple[str, ...]:
    known = words()
    for word in said:
        if _word(word) not in known:
            raise UseError(_unknown(word, known))
    return tuple(_word(word) for word in said)


def _word(said: str) -> str:
    """A word as it is known here, however it is spelt and whether its parts are joined or not."""
    return "-".join(said.strip().lower().replace("_", " ").replace("-", " ").split()).replace("color", "colour")


def _unknown(word: str, known: Sequence[str]) -> str:
    near = difflib.get_close_matches(_word(word), known, n=1, cutoff=0.85)
    near = near or [one for one in known if _word(word) and _word(word) in one][:3]
    near = near or difflib.get_close_matches(_word(word), known, n=3, cutoff=0.6)
    if not near:
        return f"There is no query or group “{spoken(word)}”; “roundhand check --about all” lists them."
    listed = " or ".join(f"“{one}”" for one in near)
    return f"There is no query or group “{spoken(word)}”; perhaps {listed} is meant."

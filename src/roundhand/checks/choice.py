"""Which remarks a person wants to see: by their names, by their groups, with house style or without."""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from roundhand.checks.handbook import GROUPS, STYLE, pages
from roundhand.findings import Finding

# What says that nothing could be looked at is said whatever was asked for.
_ALWAYS = frozenset(("nothing-to-work", "text-not-decoded"))


class Choice(msgspec.Struct, frozen=True):
    """What is looked for. Words are names of remarks, names of groups, or `style` for all that speaks only when asked.

    `only`: nothing else, and what speaks only when asked if it is named here by its name or as `style`, or belongs to a
    group named here. `also`: what speaks only when asked, besides the rest. `without`: not this, whatever else is said.

    >>> Choice().wants("count-differs"), Choice(only=("colours",)).wants("count-differs")
    (True, False)
    >>> Choice(without=("counts",)).wants("count-differs")
    False
    """

    only: tuple[str, ...] = ()
    without: tuple[str, ...] = ()
    also: tuple[str, ...] = ()

    def wants(self, name: str) -> bool:
        """Whether a remark of this name is to be made."""
        words = words_for(name)
        if words & set(self.without):
            return False
        if self.only:
            return bool(words & {*self.only, *self.also})
        return STYLE not in words or bool(words & set(self.also))

    def looks_for(self, word: str) -> bool:
        """Whether remarks that a word means are looked for at all: everything is but house style that nobody wants."""
        meant = [page.name for page in pages().values() if word in words_for(page.name)]
        return not meant or any(not pages()[name].when_asked or self.wants(name) for name in meant)

    def of(self, findings: Iterable[Finding]) -> list[Finding]:
        """Those of the findings that are wanted. One that follows from a remark that is not among them stands for
        itself."""
        kept = [one for one in findings if one.name in _ALWAYS or self.wants(one.name)]
        names = {one.name for one in kept}
        return [
            msgspec.structs.replace(one, follows="") if one.follows and one.follows.split()[0] not in names else one
            for one in kept
        ]


def words_for(name: str) -> set[str]:
    """All words that mean a remark: its name, its group, and `style` where it speaks only when asked."""
    page = pages().get(name)
    if page is None:
        return {name}
    return {name, page.group, STYLE} if page.when_asked else {name, page.group}


def words() -> tuple[str, ...]:
    """All words that a choice can be made of: the groups, `style`, and the names of all remarks."""
    return (*GROUPS, STYLE, *pages())

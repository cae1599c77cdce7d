"""The handbook: a page for every remark, which is the docstring of its file, and the group that it belongs to.

A module of this room is a page of the handbook if it has a constant `GROUP`; what looks for the fault is its `check`. A
page without a `check` is of a remark that reading and counting make themselves. `WHEN_ASKED = True` marks house style
and matters of taste. All other modules serve the checks and are none.
"""

from __future__ import annotations

import pkgutil
import re
import textwrap
from collections.abc import Callable, Iterable
from functools import cache
from importlib import import_module
from types import ModuleType
from typing import TYPE_CHECKING

import msgspec

from roundhand import checks
from roundhand.findings import Finding

if TYPE_CHECKING:
    from roundhand.checks.edit import Sheet

    Check = Callable[[Sheet], Iterable[Finding]]

# The groups in the order of the handbook, each with what is looked at in it.
GROUPS = {
    "counts": "counts and repeats",
    "rows": "rows, their labels, sides and parity",
    "sizes": "sizes, and how they grow from one to the next",
    "turning": "turning chains and joins",
    "places": "where the hook goes",
    "shaping": "increases and decreases over many rows",
    "colours": "colours and where they change",
    "materials": "yarn, hook and tools",
    "gauge": "gauge and measurements",
    "yarn": "how much yarn is used",
    "words": "words, abbreviations and units",
    "seams": "seams and joins between pieces",
    "flatness": "what lies flat, cups or ruffles",
    "structure": "what a whole pattern holds",
    "reading": "what was read in one of several ways, and what is hard to read",
    "care": "care for whoever makes, wears or is given it",
}
# The one word for all pages that speak only when asked.
STYLE = "style"

_EXAMPLE = r"^{}:\n((?:    .*(?:\n|\Z)|\n)+)"


class Page(msgspec.Struct, frozen=True):
    """A page of the handbook: what is wrong, why it matters, and an example of it wrong and right. `when_asked` is true
    of house style and of matters of taste, which are looked at only for somebody who asks."""

    name: str
    group: str
    when_asked: bool
    what: str
    why: str
    bad: str
    good: str


@cache
def pages() -> dict[str, Page]:
    """All pages by their names, in alphabetical order.

    >>> pages()["count-differs"].group
    'counts'
    """
    return {name: _page(name, module) for name, module in _modules().items()}


@cache
def looking() -> dict[str, Check]:
    """What looks for the fault, for every page whose fault is looked for, in alphabetical order."""
    return {name: module.check for name, module in _modules().items() if hasattr(module, "check")}


@cache
def _modules() -> dict[str, ModuleType]:
    found = {}
    for info in sorted(pkgutil.iter_modules(checks.__path__), key=lambda one: one.name):
        module = import_module(f"{checks.__name__}.{info.name}")
        if hasattr(module, "GROUP"):
            found[info.name.replace("_", "-")] = module
    return found


def _page(name: str, module: ModuleType) -> Page:
    text = module.__doc__ or ""
    what, _, why = re.split(r"^(?:Bad|Good):$", text, maxsplit=1, flags=re.MULTILINE)[0].strip().partition("\n\n")
    return Page(
        name,
        module.GROUP,
        getattr(module, "WHEN_ASKED", False),
        " ".join(what.split()),
        "\n\n".join(" ".join(paragraph.split()) for paragraph in why.split("\n\n")),
        _example(text, "Bad"),
        _example(text, "Good"),
    )


def _example(text: str, kind: str) -> str:
    found = re.search(_EXAMPLE.format(kind), text, re.MULTILINE)
    return textwrap.dedent(found[1]).strip("\n") + "\n" if found is not None else ""

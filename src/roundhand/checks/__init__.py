"""The technical edit: what a careful human editor would pencil in the margin, one file a check.

A check is found by being there: a module of this room with a `GROUP` and a `check` function. Its docstring is the
handbook page.
"""

from roundhand.checks.choice import Choice, words, words_for
from roundhand.checks.edit import Edited, Sheet, edit, edited, names
from roundhand.checks.handbook import GROUPS, STYLE, Page, pages

__all__ = [
    "GROUPS",
    "STYLE",
    "Choice",
    "Edited",
    "Page",
    "Sheet",
    "edit",
    "edited",
    "names",
    "pages",
    "words",
    "words_for",
]

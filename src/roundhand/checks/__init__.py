"""The technical edit: what a careful human editor would pencil in the margin, one file a check.

A check is found by being there: a module of this room with a `check` function. Its docstring is the handbook page.
"""

from roundhand.checks.edit import Sheet, edit, names

__all__ = ["Sheet", "edit", "names"]

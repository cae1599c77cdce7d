"""Words to tree: a designer's text read to a pattern, with every reading of what can be read two ways.

Reading never fails. Whatever the text holds there is a pattern, with gaps where it made no sense and findings that
name the place.
"""

from roundhand.notation.kept import KeptLines
from roundhand.notation.limits import LIMITS
from roundhand.notation.read import read
from roundhand.notation.sizes import find_size

__all__ = ["LIMITS", "KeptLines", "find_size", "read"]

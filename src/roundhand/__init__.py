"""roundhand reads a crochet pattern as its designer writes it and works every row of every size.

From that one reading come the counts, the queries of a technical editor, and everything later rooms derive. Nothing is
imported here: a command pays only for the rooms it uses.

>>> import roundhand
>>> roundhand.__version__.count(".")
2
"""

__all__ = ["__version__"]

# A literal, because asking the installed metadata costs more time than the whole of `--version` may take; a test holds
# it equal to the number in pyproject.toml.
__version__ = "0.1.0"

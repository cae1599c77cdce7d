"""The file is not in UTF-8, or some of its letters are damaged.

A half that has become another sign is a wrong measurement, and nobody sees it on the screen.
"""

GROUP = "reading"

"""No line of the page is a row or a round.

Nothing can be counted then; a page whose rows have no labels is the usual cause.
"""

GROUP = "structure"

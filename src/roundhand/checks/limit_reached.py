"""A page asks for more than any work of hands has: rows, stitches, sizes, brackets within brackets.

It is nearly always a digit too many; what lies beyond the limit is not worked, so that the rest can be looked at.

Bad:
    Ch 31.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (30)
    Inc 1 st each end of every row until there are 50000 sts.

Good:
    Ch 31.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (30)
    Inc 1 st each end of every row until there are 50 sts.
"""

GROUP = "reading"

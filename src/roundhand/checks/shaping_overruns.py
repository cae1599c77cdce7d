"""Increases or decreases do not end on the count or in the rows that they are given.

A maker who counts rows and stitches cannot have both, and finds out at the last row.

Bad:
    Ch 31.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (30)
    Dec 1 st each end of every row until 19 sts rem.

Good:
    Ch 31.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (30)
    Dec 1 st each end of every row until 20 sts rem.
"""

GROUP = "shaping"

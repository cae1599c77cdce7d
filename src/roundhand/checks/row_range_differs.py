"""A range of rows runs backwards, or does not hold the rows that are to be worked in it.

A maker cannot tell how many rows there are, and a depth depends on it.

Bad:
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: Inc in each st around. (12)
    Rnds 3-1: Sc in each st around. (12)

Good:
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: Inc in each st around. (12)
    Rnds 3-10: Sc in each st around. (12)
"""

GROUP = "rows"

"""A list has a number of values that is neither one nor the number of the sizes.

A maker counts along the list to her size and takes the value of another.

Bad:
    Sizes: Small (Medium, Large)
    Rnd 1: 6 (7) sc in a magic ring. (6 (7, 8))

Good:
    Sizes: Small (Medium, Large)
    Rnd 1: 6 (7, 8) sc in a magic ring. (6 (7, 8))
"""

GROUP = "sizes"

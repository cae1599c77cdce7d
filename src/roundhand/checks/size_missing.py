"""A line is for sizes that the pattern does not have.

A maker of a size that is there does not know whether the line is for her.

Bad:
    Sizes: Small (Medium, Large)
    Rnd 1: 6 (7, 8) sc in a magic ring. (6 (7, 8))
    Sizes Child and Adult only: Rnd 2: Sc in each st around. (6 (7, 8))

Good:
    Sizes: Small (Medium, Large)
    Rnd 1: 6 (7, 8) sc in a magic ring. (6 (7, 8))
    Sizes Medium and Large only: Rnd 2: Sc in each st around. (- (7, 8))
"""

GROUP = "sizes"

"""A word of US terms stands in a pattern of UK terms, or the other way round.

One word means two stitches on the two sides of the ocean, and a maker works the other one.

Bad:
    Terms: US
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 htr in each st around. (12)

Good:
    Terms: US
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 hdc in each st around. (12)
"""

GROUP = "words"

"""Words send a maker to rows or to a section that is not there.

She leafs back, finds nothing, and has to guess what was to be worked again.

Bad:
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: Inc in each st around. (12)
    Rnds 3-4: Rep Rnds 6-7.

Good:
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: Inc in each st around. (12)
    Rnds 3-4: Rep Rnd 2.
"""

GROUP = "rows"

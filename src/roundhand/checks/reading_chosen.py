"""Words can be read in two ways, and the counts of the pattern tell which was meant.

A maker reads the row before she sees its count, and may have worked it the other way by then.

Bad:
    Rnd 1: 12 sc in a magic ring. (12)
    Rnd 2: *Sc in next st, 2 sc in next st; rep from * 5 times. (18)

Good:
    Rnd 1: 12 sc in a magic ring. (12)
    Rnd 2: *Sc in next st, 2 sc in next st; rep from * 5 times more. (18)
"""

GROUP = "reading"

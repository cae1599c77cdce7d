"""Words can be read in two ways, and nothing on the page tells which was meant.

Two makers work two different things, and each of them followed the pattern.

Bad:
    Rnd 1: 12 sc in a magic ring. (12)
    Rnd 2: *Sc in next st; rep from * 5 times, leave rem sts unworked.

Good:
    Rnd 1: 12 sc in a magic ring. (12)
    Rnd 2: *Sc in next st; rep from * 5 times more, leave rem sts unworked.
"""

GROUP = "reading"

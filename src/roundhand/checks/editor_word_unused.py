"""The editor's word leaves a query that is not there.

The row has been mended or has another number since; the word would hide the next slip that is made in its place.

Bad:
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: Inc in each st around. (12)
    Editor: leave count-differs in Rnd 2, the spaces are counted

Good:
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: Inc in each st around. (13)
    Editor: leave count-differs in Rnd 2, the spaces are counted
"""

GROUP = "words"

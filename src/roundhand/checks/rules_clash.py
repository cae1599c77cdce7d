"""Two rules say where the work stops, and no row keeps both.

A maker follows the one that she reads first, and her piece differs from the next one.

Bad:
    Yarn A: worsted, cream
    Yarn B: worsted, navy
    GAUGE
    16 sts and 20 rows = 4 in in single crochet
    SCARF
    With A, ch 31.
    Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn. (30)
    Work even in stripes of 2 rows B, 2 rows A until piece measures 8 in, ending with a WS row.
    Cut A.
    Fasten off B.

Good:
    Yarn A: worsted, cream
    Yarn B: worsted, navy
    GAUGE
    16 sts and 20 rows = 4 in in single crochet
    SCARF
    With A, ch 31.
    Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn. (30)
    Rows 2-41: Work even in stripes of 2 rows B, 2 rows A.
    Cut A.
    Fasten off B.
"""

GROUP = "gauge"

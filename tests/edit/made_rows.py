"""Rules for pages worked in rows."""

from __future__ import annotations

import random
from fractions import Fraction

from tests.edit.wording import STITCHES, TURNS, Page, Wording, capital, listed, ranged, some

_FIRST = {"sc": "2nd", "hdc": "3rd", "dc": "4th"}
_THROUGHOUT = "(does not count as a st here and throughout)"


def _base(page: Page, stitch: str, counts: list[int], words: Wording, lead: str = "Ch") -> None:
    """The chain and the first row, whose skipped chains do not count."""
    page.line(f"{lead} {listed([one + TURNS[stitch] for one in counts])}.")
    said = " (skipped ch do not count as a st)" if stitch != "sc" else ""
    first = f"{capital(stitch)} in {_FIRST[stitch]} ch from hook{said}"
    page.line(f"Row 1: {first} and in each ch across, turn. {words.count(counts)}")


def scarf(chance: random.Random) -> str:
    """A plain scarf in stripes, with its width and length."""
    words, number = Wording(chance), chance.choice((1, 2, 3, 4))
    stitch = chance.choice(("sc", "hdc", "dc"))
    narrow, short = chance.randint(18, 30), 2 * chance.randint(12, 20)
    counts = [narrow + 4 * at for at in range(number)]
    last = [short + 4 * at for at in range(number)]
    end = [one + 6 for one in last]
    gauge, tall = {"sc": (16, 18), "hdc": (14, 12), "dc": (14, 8)}[stitch]
    turn = TURNS[stitch]
    page = Page("Breakwater Scarf", number, "5", f"{gauge} sts and {tall} rows = 4 in in {STITCHES[stitch]}")
    page.fact("Finished width", [Fraction(one * 4, gauge) for one in counts])
    page.fact("Finished length", [Fraction((one + 1) * 4, tall) for one in end])
    page.yarn("A: worsted, 100 g = 200 yd, navy", "B: worsted, 100 g = 200 yd, white", needed=True)
    page.part("SCARF")
    _base(page, stitch, counts, words, "With A, ch")
    even = f"{stitch} in each st across, turn. {words.count(counts)}"
    change = f"Change to B in last st of Row {listed(last)}."
    page.line(f"{ranged([2] * number, last, 'Row')}: Ch {turn} {_THROUGHOUT}, {even} {change}")
    page.line(f"{ranged([one + 1 for one in last], end, 'Row')}: With B, ch {turn}, {even}")
    ridge = f"{stitch} in blo of each st across. {words.count(counts)}"
    page.line(f"Row {listed([one + 1 for one in end])}: Ch {turn}, {ridge}")
    page.line("Cut A and fasten off B.")
    return page.text()


def sleeve(chance: random.Random) -> str:
    """A sleeve in rows that grows at both edges, row by row as it is written."""
    words, number = Wording(chance), chance.choice((2, 3, 4))
    stitch = chance.choice(("sc", "hdc"))
    narrow = 2 * chance.randint(12, 18)
    counts = [narrow + 4 * at for at in range(number)]
    turn = TURNS[stitch]
    page = Page("Heron Sleeve", number, "4", f"17 sts and 14 rows = 4 in in {STITCHES[stitch]}")
    page.yarn("A: dk wool, heather")
    page.part("SLEEVE (make 2)")
    _base(page, stitch, counts, words)
    row = 1
    for at in range(chance.randint(3, 5)):
        plain = chance.randint(2, 4)
        note = f" {_THROUGHOUT}" if at == 0 else ""
        even = f"{stitch} in each st across, turn. {words.count(counts)}"
        page.line(f"Rows {row + 1}-{row + plain}: Ch {turn}{note}, {even}")
        row += plain + 1
        middle = f"{stitch} in next {listed([one - 2 for one in counts])} sts"
        middle = chance.choice((f"{stitch} in each st to last st", middle))
        counts = [one + 2 for one in counts]
        edges = f"2 {stitch} in first st, {middle}, 2 {stitch} in last st"
        page.line(f"Row {row}: Ch {turn}, {edges}, turn. {words.count(counts)}")
    last = [row + 4 + at for at in range(number)]
    even = f"{stitch} in each st across, turn. {words.count(counts)}"
    page.line(f"{ranged([row + 1] * number, last, 'Row')}: Ch {turn}, {even}")
    page.line(f"Row {listed([one + 1 for one in last])}: Ch 1, sc in each st across. {words.count(counts)}")
    page.line("Fasten off.")
    return page.text()


def mesh(chance: random.Random) -> str:
    """A stole in a mesh of stitches and spaces."""
    words, number = Wording(chance), chance.choice((1, 2, 3))
    narrow, short = chance.randint(12, 22), 2 * chance.randint(8, 14)
    squares = [narrow + 3 * at for at in range(number)]
    rows = [short + 2 * at for at in range(number)]
    opening, closing = words.marks
    said = f"{opening}{listed([one + 1 for one in squares])} dc, {listed(squares)} ch-1 sps{closing}"
    page = Page("Fishnet Stole", number, "3.5", "18 sts and 9 rows = 4 in in mesh")
    page.yarn("A: lace linen, sea green")
    page.part("STOLE")
    page.line(f"Ch {listed([2 * one + 4 for one in squares])}.")
    page.line(
        "Row 1: Dc in 6th ch from hook (skipped ch count as ch 1, dc and ch 1), *ch 1, skip next ch, dc in next ch; "
        f"rep from * across, turn. {said}"
    )
    page.line(
        f"{ranged([2] * number, rows, 'Row')}: Ch 4 (counts as dc and ch 1), skip first dc and next ch-1 sp, *dc in "
        f"next dc, ch 1, skip next ch-1 sp; rep from * to last st, dc in last st, turn. {said}"
    )
    edge = f"sc in each st and in each ch-1 sp across. {words.count([2 * one + 1 for one in squares])}"
    page.line(f"Row {listed([one + 1 for one in rows])}: Ch 1, {edge}")
    page.line("Fasten off.")
    return page.text()


def ripple(chance: random.Random) -> str:
    """A ripple in stripes."""
    words, number = Wording(chance), chance.choice((1, 2, 3))
    arm, fewest, short = chance.randint(3, 7), chance.randint(5, 8), 2 * chance.randint(6, 10)
    times = [fewest + 2 * at for at in range(number)]
    counts = [(2 * arm + 6) * one for one in times]
    last = [short + 4 * at for at in range(number)]
    end = [one + 4 for one in last]
    page = Page("Swell Blanket", number, "5.5", "14 sts and 16 rows = 4 in in single crochet")
    page.yarn("A: worsted, petrol", "B: worsted, cream")
    page.part("BLANKET")
    _base(page, "sc", counts, words, "With A, ch")
    slope = some("sc", arm)
    work = words.again(f"2 sc in next st, {slope}, (sc2tog) twice, {slope}, 2 sc in next st", times, "across")
    change = f"Change to B in last st of Row {listed(last)}."
    page.line(f"{ranged([2] * number, last, 'Row')}: Ch 1, {work}, turn. {words.count(counts)} {change}")
    page.line(f"{ranged([one + 1 for one in last], end, 'Row')}: With B, ch 1, {work}, turn. {words.count(counts)}")
    page.line(f"Row {listed([one + 1 for one in end])}: Ch 1, sc in each st across. {words.count(counts)}")
    page.line("Cut A and fasten off B.")
    return page.text()


def bag(chance: random.Random) -> str:
    """Two panels of the same stitches, sewn together."""
    words, number = Wording(chance), chance.choice((1, 2, 3))
    narrow, short = chance.randint(20, 28), chance.randint(20, 26)
    counts = [narrow + 4 * at for at in range(number)]
    rows = [short + 4 * at for at in range(number)]
    page = Page("Creel Bag", number, "4", "18 sts and 20 rows = 4 in in single crochet")
    page.yarn("A: dk cotton, ochre")
    for name in ("FRONT", "BACK"):
        page.part(name)
        _base(page, "sc", counts, words)
        page.line(f"{ranged([2] * number, rows, 'Row')}: Ch 1, sc in each st across, turn. {words.count(counts)}")
        page.line(f"Row {listed([one + 1 for one in rows])}: Ch 1, sc in blo of each st across. {words.count(counts)}")
        page.line("Fasten off.")
    page.part("FINISHING")
    page.line("Hold front and back together and sl st through both layers in each st across.")
    return page.text()


def shawl(chance: random.Random) -> str:
    """A three-cornered shawl that grows by two stitches a row."""
    words = Wording(chance)
    stitch = chance.choice(("hdc", "dc"))
    turn, count, rows = TURNS[stitch], chance.randint(3, 5), chance.randint(6, 12)
    page = Page("Gannet Shawl", 1, "4", f"18 sts and 12 rows = 4 in in {STITCHES[stitch]}")
    page.yarn("A: fingering wool, dusk")
    page.part("SHAWL")
    page.line("Make a magic ring.")
    page.line(f"Row 1: {count} {stitch} in ring, turn. {words.count([count])}")
    for at in range(2, rows + 1):
        note = f" {_THROUGHOUT}" if at == 2 else ""
        plain = at % 2 and count > 3
        middle = f"{stitch} in next {count - 2} sts" if plain else f"{stitch} in each st to last st"
        count += 2
        edges = f"2 {stitch} in first st, {middle}, 2 {stitch} in last st"
        page.line(f"Row {at}: Ch {turn}{note}, {edges}, turn. {words.count([count])}")
    page.line("Fasten off.")
    return page.text()


ROWS = (scarf, sleeve, mesh, ripple, bag, shawl)

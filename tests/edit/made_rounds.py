"""Rules for pages worked in rounds."""

from __future__ import annotations

import random
from fractions import Fraction

from tests.edit.wording import SIZES, STITCHES, TURNS, Page, Wording, capital, listed, ranged, some

_THROUGHOUT = "(does not count as a st here and throughout)"


def cap(chance: random.Random) -> str:
    """A cap from the crown down in joined rounds, with a last round of another yarn."""
    words, number = Wording(chance), chance.choice((2, 3, 4))
    stitch = chance.choice(("sc", "hdc", "dc"))
    wedges = {"sc": 7, "hdc": 8, "dc": 12}[stitch]
    ground = chance.randint(5, 7) if stitch != "dc" else chance.randint(4, 5)
    rounds = [ground + at for at in range(number)]
    counts = [wedges * one for one in rounds]
    gauge, tall = chance.choice(((12, 8), (14, 10), (16, 12)))
    last = [one + chance.randint(6, 9) for one in rounds[:1]]
    last = [one + last[0] - rounds[0] for one in rounds]
    turn = TURNS[stitch]
    page = Page("Driftwood Cap", number, "5", f"{gauge} sts and {tall} rnds = 4 in in {STITCHES[stitch]}")
    page.fact("Finished circumference", [Fraction(one * 4, gauge) for one in counts])
    page.fact("Length, crown to edge", [Fraction((one + 1) * 4, tall) for one in last])
    page.yarn("A: worsted, 100 g = 200 yd, slate", "B: worsted, 100 g = 200 yd, dune", needed=True)
    page.part("CROWN")
    page.line("With A, make a magic ring.")
    first = f"{wedges} {stitch} in ring, join with sl st in first {stitch}. {words.count([wedges])}"
    page.line(f"Rnd 1: Ch {turn} {_THROUGHOUT}, {first}")
    page.line(f"Rnd 2: Ch {turn}, 2 {stitch} in each st around, join. {words.count([2 * wedges])}")
    for at in range(3, rounds[-1] + 1):
        lead = "" if at <= ground else f"{SIZES[at - ground]} {'only' if at == rounds[-1] else 'and up'}: "
        work = words.again(f"{some(stitch, at - 2)}, {words.two(stitch)}", [wedges])
        page.line(f"{lead}Rnd {at}: Ch {turn}, {work}, join. {words.count([wedges * at])}")
    page.part("SIDES")
    plain = f"{stitch} in each st around, join. {words.count(counts)}"
    label = ranged([one + 1 for one in rounds], last, "Rnd")
    page.line(f"{label}: Ch {turn}, {plain} Change to B in last st of Rnd {listed(last)}.")
    page.line(f"Rnd {listed([one + 1 for one in last])}: With B, ch {turn}, {plain}")
    page.line("Cut A and fasten off B.")
    return page.text()


def cowl(chance: random.Random) -> str:
    """A cowl with a round of long stitches that go down into the rounds below."""
    words, number = Wording(chance), chance.choice((1, 2, 3, 4))
    plain = chance.randint(1, 4)
    fewest = chance.randint(7, 9)
    times = [fewest + at for at in range(number)]
    counts = [(2 * plain + 2) * one for one in times]
    gauge, tall = chance.choice(((14, 16), (16, 18), (18, 20)))
    deep, rest = chance.choice((2, 3)), chance.randint(5, 12)
    last = [5 + rest + 2 * at for at in range(number)]
    page = Page("Tideline Cowl", number, "5", f"{gauge} sts and {tall} rnds = 4 in in single crochet")
    page.fact("Finished circumference", [Fraction(one * 4, gauge) for one in counts])
    page.fact("Height", [Fraction((one + 1) * 4, tall) for one in last])
    page.yarn("A: worsted, 100 g = 200 yd, kelp", "B: worsted, 100 g = 200 yd, foam", needed=True)
    page.special(
        f"Long sc: insert hook in top of st {deep} rnds below, draw up a loop to the height of this rnd, yo, pull "
        "through 2 loops. Skip the st of the last rnd behind it."
    )
    page.part("COWL")
    page.line(f"With A, ch {listed(counts)}, join with sl st in first ch to form a ring.")
    page.line(f"Rnd 1: Ch 1 {_THROUGHOUT}, sc in each ch around, join with sl st in first sc. {words.count(counts)}")
    even = f"sc in each st around, join. {words.count(counts)}"
    page.line(f"Rnds 2-3: Ch 1, {even} Change to B in last st of Rnd 3.")
    work = words.again(f"{some('sc', plain)}, long sc in next st, {some('sc', plain + 1)}", times)
    page.line(f"Rnd 4: With B, ch 1, {work}, join. {words.count(counts)}")
    page.line(f"Rnd 5: Ch 1, {even} Change to A in last st of Rnd 5.")
    page.line(f"{ranged([6] * number, last, 'Rnd')}: With A, ch 1, {even}")
    end = f"sc in blo of each st around, join. {words.count(counts)}"
    page.line(f"Rnd {listed([one + 1 for one in last])}: Ch 1, {end}")
    page.line("Cut B and fasten off A.")
    return page.text()


def ball(chance: random.Random) -> str:
    """A ball in a spiral: out by sixes or sevens, straight, and in again."""
    words = Wording(chance)
    wedges, top, straight = chance.choice((6, 7)), chance.randint(4, 7), chance.randint(3, 8)
    page = Page("Pebble Ball", 1, "3.5", "20 sts and 20 rnds = 4 in in single crochet")
    page.yarn("A: dk cotton, grey")
    page.part("BALL")
    page.line("Make a magic ring. Work in a spiral, do not join.")
    page.line(f"Rnd 1: {wedges} sc in ring. {words.count([wedges])}")
    page.line(f"Rnd 2: 2 sc in each st around. {words.count([2 * wedges])}")
    for at in range(3, top + 1):
        work = words.again(f"{some('sc', at - 2)}, {words.two('sc')}", [wedges])
        page.line(f"Rnd {at}: {capital(work)}. {words.count([wedges * at])}")
    label = top + straight
    page.line(f"Rnds {top + 1}-{label}: Sc in each st around. {words.count([wedges * top])}")
    for at in range(top - 1, 0, -1):
        label += 1
        work = words.again(f"{some('sc', at - 1)}, sc2tog" if at > 1 else "sc2tog", [wedges])
        page.line(f"Rnd {label}: {capital(work)}. {words.count([wedges * at])}")
    page.line("Fasten off.")
    return page.text()


def square(chance: random.Random) -> str:
    """A square of groups of three with spaces in its corners."""
    rounds, words = chance.randint(3, 6), Wording(chance)
    page = Page("Harbour Square", 1, "5", "14 sts and 8 rnds = 4 in in double crochet")
    page.yarn("A: worsted, rust")
    page.part("SQUARE")
    page.line("Ch 4, join with sl st in first ch to form a ring.")
    page.line(
        "Rnd 1: Ch 3 (counts as dc here and throughout), 2 dc in ring, ch 2, (3 dc in ring, ch 2) 3 times, join with "
        f"sl st in top of ch-3. {words.count([12], ' dc, 4 ch-2 sps')}"
    )
    for at in range(2, rounds + 1):
        group = "ch 1, 3 dc in next ch-1 sp"
        side = "" if at == 2 else f"{group}, " if at == 3 else f"({group}) {at - 2} times, "
        corner = "(3 dc, ch 2, 3 dc) in next ch-2 sp"
        repeat = f"*ch 1, {corner}, {side}".removesuffix(", ") + "; rep from * 2 more times"
        page.line(
            f"Rnd {at}: Sl st in next 2 dc and in next ch-2 sp, ch 3, (2 dc, ch 2, 3 dc) in same sp, {side}{repeat}, "
            f"ch 1, join. {words.count([12 * at], ' dc')}"
        )
    page.line("Fasten off.")
    return page.text()


def basket(chance: random.Random) -> str:
    """A basket on an oval base, worked round both sides of a chain in a spiral."""
    words, number = Wording(chance), chance.choice((1, 2, 3))
    shortest = chance.randint(4, 11)
    plain = [shortest + 3 * at for at in range(number)]
    straight = chance.randint(6, 10)
    last = [straight + at for at in range(number)]
    oval = [2 * one + 16 for one in plain]
    page = Page("Rockpool Basket", number, "6", "12 sts and 14 rnds = 4 in in single crochet")
    page.yarn("A: chunky, sand")
    page.part("BASKET")
    page.line(f"Ch {listed([one + 3 for one in plain])}. Work in a spiral, do not join.")
    side = f"sc in next {listed(plain)}"
    page.line(
        f"Rnd 1: 2 sc in 2nd ch from hook, {side} ch, 4 sc in last ch, working along other side of chain, {side} ch, "
        f"2 sc in last ch. {words.count([2 * one + 8 for one in plain])}"
    )
    page.line(
        f"Rnd 2: 2 sc in each of next 2 sts, {side} sts, 2 sc in each of next 4 sts, {side} sts, 2 sc in each of next "
        f"2 sts. {words.count(oval)}"
    )
    page.line(f"{ranged([3] * number, last, 'Rnd')}: Sc in each st around. {words.count(oval)}")
    rim = words.again("sc in next st, ch 1, skip next st", [one // 2 for one in oval])
    page.line(
        f"Rnd {listed([one + 1 for one in last])}: {capital(rim)}. {words.count([one // 2 for one in oval], ' sc')}"
    )
    page.line("Fasten off.")
    return page.text()


ROUNDS = (cap, cowl, ball, square, basket)

"""The patterns that are measured: the two shipped caps, and patterns made to a size."""

from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
CAPS = {"Saltmarsh cap": "saltmarsh-cap.txt", "Kittiwake cap": "kittiwake-cap.txt"}


def cap_path(name: str) -> Path:
    """Where a shipped cap lies."""
    return ROOT / "patterns" / CAPS[name]


def cap(name: str) -> str:
    """The text of a shipped cap."""
    return cap_path(name).read_text(encoding="utf-8")


def fresh(text: str, number: int) -> str:
    """The same pattern as a text that differs from run to run, by blank lines at its end.

    >>> fresh("Rnd 1: 6 sc in ring. (6)", 2) == fresh("Rnd 1: 6 sc in ring. (6)", 3)
    False
    """
    return text + "\n" * (number + 2)


def written_lines(text: str) -> int:
    """How many lines of a text hold words.

    >>> written_lines("CROWN\\n\\nRnd 1: 6 sc in ring. (6)\\n")
    2
    """
    return sum(bool(line.strip()) for line in text.splitlines())


def many_caps(times: int) -> str:
    """One long text: the head of the Saltmarsh cap, and its sections again and again under numbered headings."""
    head, crown, work = cap("Saltmarsh cap").partition("CROWN\n")
    work = (crown + work).partition("FINISHING\n")[0]
    parts = [head]
    for number in range(1, times + 1):
        again = work
        for name in ("CROWN", "SIDES", "BAND"):
            again = again.replace(f"{name}\n", f"{name} {number}\n")
        parts.append(again)
    return "".join(parts)


_FIVE = (8, 9, 10, 11, 12)


def _list(values: tuple[int, ...]) -> str:
    return f"{values[0]} ({', '.join(str(value) for value in values[1:])})"


def hundred_rounds(rounds: int = 100) -> str:
    """A cap of five sizes with every round written out and counted: twelve of crown, the rest in four fabrics."""
    lines = [
        "Longshore Cap",
        "",
        "Sizes: XS (S, M, L, XL)",
        "Terms: US",
        "",
        "MATERIALS",
        "Yarn A: worsted, 100 g = 210 m, slate",
        "Yarn B: worsted, 100 g = 210 m, samphire",
        "Hook: 5 mm",
        "",
        "GAUGE",
        "14 sts and 10 rnds = 4 in in half double crochet",
        "",
        "CAP",
        "With A, make a magic ring.",
        f"Rnd 1: Ch 1 (does not count as a st here and throughout), {_list(_FIVE)} hdc in ring, "
        f"join with sl st in first hdc. ({_list(_FIVE)} sts)",
        f"Rnd 2: Ch 1, 2 hdc in each st around, join. ({_list(tuple(2 * start for start in _FIVE))} sts)",
    ]
    for number in range(3, 13):
        plain = f"hdc in next {number - 2} sts" if number > 3 else "hdc in next st"
        counts = _list(tuple(start * number for start in _FIVE))
        lines.append(f"Rnd {number}: Ch 1, *{plain}, 2 hdc in next st; rep from * around, join. ({counts} sts)")
    counts = _list(tuple(start * 12 for start in _FIVE))
    fabrics = (
        "Ch 1, sc in each st to last st, sc in last st changing to B, join.",
        "With B, ch 1, *sc in next 2 sts, spike sc in next st; rep from * around, changing to A in last st, join.",
        "With A, ch 1, (sc in next 3 sts, sc in blo of next st) {times} times, join.",
        "Ch 1, hdc in each st around, join.",
    )
    times = _list(tuple(start * 3 for start in _FIVE))
    for number in range(13, rounds + 1):
        words = fabrics[(number - 13) % 4].format(times=times)
        lines.append(f"Rnd {number}: {words} ({counts} sts)")
    lines += ["Cut B.", "Fasten off A."]
    text = "\n".join(lines) + "\n"
    # The spikes are explained, as a designer would.
    special = (
        "SPECIAL STITCHES\nSpike sc: insert hook in top of st 2 rnds below, draw up a loop, yo, pull through 2 loops.\n"
    )
    return text.replace("CAP\nWith", special + "\nCAP\nWith")


def different_rounds(rounds: int = 100) -> str:
    """The same cap with no two rounds alike: behind the crown each has stitches and numbers of its own."""
    first, loops = ("hdc", "sc", "dc"), ("sc in blo of next", "dc in flo of next", "hdc in next")
    lines = []
    for line in hundred_rounds(rounds).split("\n"):
        label, _, words = line.partition(": ")
        number = int(label.removeprefix("Rnd ")) - 13 if label.startswith("Rnd ") else -1
        if number >= 0:
            plain = number % 11 + 1
            one, other = first[number // 11 % 3], loops[number // 33 % 3]
            words = (
                f"Ch 1, *{one} in next {plain} sts, {other} {12 - plain} sts; rep from * around, join. "
                + words[words.rindex(". (") + 2 :]
            )
            line = f"{label}: {words}"
        lines.append(line)
    special = next(at for at, line in enumerate(lines) if line.startswith("SPECIAL"))
    # No spike is worked here, so none is explained.
    return "\n".join([*lines[:special], *lines[special + 3 :]])


def blanket(stitches: int = 1000, rows: int = 1000) -> str:
    """A blanket in single crochet, as many stitches wide as rows high unless told otherwise."""
    return (
        "Mudflat Blanket\n\nTerms: US\n\nBLANKET\n"
        f"Ch {stitches + 1}.\n"
        f"Row 1: Sc in 2nd ch from hook and in each ch across, turn. ({stitches} sc)\n"
        f"Rows 2-{rows}: Ch 1 (does not count as a st), sc in each st across, turn. ({stitches} sc)\n"
        "Fasten off.\n"
    )


def openwork_blanket(places: int = 1000, rows: int = 1000) -> str:
    """A blanket of single crochet and chain spaces in turn, every row worked into the spaces of the row below.

    The number of places must be even.
    """
    stitches = places // 2 + 1
    return (
        "Sandbar Blanket\n\nTerms: US\n\nBLANKET\n"
        f"Ch {places + 1}.\n"
        "Row 1: Sc in 2nd ch from hook, *ch 1, skip next ch, sc in next ch; rep from * to last ch, sc in last ch, "
        f"turn. ({stitches} sc)\n"
        f"Rows 2-{rows}: Ch 1 (does not count as a st), sc in first st, *ch 1, skip next st, sc in next ch-1 sp; "
        f"rep from * to last st, sc in last st, turn. ({stitches} sc)\n"
        "Fasten off.\n"
    )

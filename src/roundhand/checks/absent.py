"""What is said of a place that is not there: what is missing, how the rows below were worked, and a way on."""

from __future__ import annotations

import msgspec

from roundhand.checks.pencil import below_label, row_label
from roundhand.checks.troubles import Trouble
from roundhand.findings import Severity
from roundhand.measures import say_count
from roundhand.tally import Missing
from roundhand.terms import vocabulary

# The kind of place that is missing, by what the row found lacking.
_PLACES = {
    "row": "rows below",
    "named row": "by its row",
    "free loop": "free loop",
    "skipped": "skipped stitch",
    "third loop": "third loop",
    "space": "chain space",
    "space length": "chain space",
    "turning chain": "turning chain",
    "chain": "chain",
    "chain of": "chain",
    "stitch of": "of a group",
    "corner": "corner",
    "foundation": "other side of the chain",
    "row ends": "row end",
    "rows of": "row end",
}


def place_of(missing: Missing) -> str:
    """The kind of place that a row asks for and that is not there, as `notation.place_kinds` names it."""
    if missing.what == "named row" and not missing.wanted:
        return "other side of the chain"
    return _PLACES.get(missing.what, missing.what)


class Words(msgspec.Struct, frozen=True):
    """The sentences of a remark on a place, and how heavy it weighs."""

    headline: str
    because: str
    help: str
    severity: Severity = "error"


def words_on(trouble: Trouble, missing: Missing, language: str) -> Words:
    """The remark on a place that a row asks for and that is not there."""
    label = row_label(trouble.row, trouble.size)
    below = below_label(trouble)
    kind = "rnd" if trouble.row.kind == "round" else "row"
    wanted, there, told = missing.wanted, missing.there, missing.told
    if missing.what == "row":
        return Words(
            f"nothing {say_count(wanted, kind)} below",
            f"there {'is' if there == 1 else 'are'} {say_count(there, kind)} below {label}",
            f"{kind.title()} {wanted + 1} is the first that can hold it; or work it less deep",
        )
    if missing.what == "named row" and not wanted:
        return Words(
            "no foundation chain there",
            f"nothing below {label} was begun on a chain",
            "name the row whose loops are free",
        )
    if missing.what == "named row":
        return Words(
            f"no {kind.title()} {wanted} below {label}",
            f"the rows below it end with {below}, and none of them is {kind.title()} {wanted}",
            "name a row that is worked by then",
        )
    if missing.what == "free loop":
        return _free_loop(told, below)
    if missing.what == "skipped":
        british = vocabulary(language).side == "UK"
        skip = "miss" if british else "skip"
        return Words(
            f"no {'missed' if british else 'skipped'} st to work into",
            f"no row up to {label} {skip}{'es' if british else 's'} a st",
            f"{skip} the st where it is to stay free, or work into the next st",
        )
    if missing.what == "third loop":
        name = vocabulary(language).short(told) if told else "these sts"
        return Words(
            f"{name} has no third loop",
            f"{below} is worked in {name}; the third loop is the yarn over of a half double, which comes off last and "
            "stays behind the top (common practice)",
            f"name the back loop or the front loop, or work {below} in {vocabulary(language).short('half_double')}",
            "warning",
        )
    if missing.what == "space length":
        return Words(
            f"no ch-{wanted} sp there",
            f"{below} makes no chain of {wanted}; its longest is ch {there}",
            f"ch-{there} sp may be meant, or ch {wanted} in {below}",
            "warning",
        )
    if missing.what == "turning chain":
        return Words(
            f"no ch-{wanted} there",
            f"neither {label} nor {below} has a chain of {wanted}; the longest is ch {there}",
            f"ch-{there} may be meant, or ch {wanted} at the beginning",
            "warning",
        )
    if missing.what == "chain of":
        return Words(
            f"a chain of {there} has no ch number {wanted}",
            f"it is {there} ch long",
            f"name a ch from 1 to {there}, or make the chain {wanted} long",
        )
    if missing.what == "stitch of":
        return Words(
            f"a group of {there} has no st number {wanted}",
            f"the group worked into has {say_count(there, 'st')}",
            f"name a st from 1 to {there}",
        )
    if missing.what in _EDGES:
        return _edge(missing, label, below, kind, language)
    return Words(
        "no chain space there",
        "the row below has no more chain spaces from here on",
        "make the space in the row below, or work into a stitch",
    )


# What a row may go along or round, and what is not always there.
_EDGES = ("corner", "foundation", "row ends", "rows of")


def _edge(missing: Missing, label: str, below: str, kind: str, language: str) -> Words:
    """The remark on an edge or a corner that is not there."""
    if missing.what == "corner" and missing.there:
        return Words(
            "no corner left there",
            f"{below} has {say_count(missing.there, 'corner')}, and {label} has come past the last of them",
            "name the st that is meant, or work into one corner fewer",
        )
    if missing.what == "corner":
        return Words(
            "no corner there",
            f"{below} has no corner: no place of it holds 3 sts or a chain space among plain sts",
            f"make the corners in the {kind} below, or name the sts that are meant",
        )
    if missing.what == "foundation":
        return Words(
            "no foundation chain there",
            f"nothing below {label} was begun on a chain",
            "name the edge or the row that is meant",
        )
    if missing.what == "rows of":
        name = vocabulary(language).short(missing.told) or missing.told
        return Words(
            f"no {name} rows there",
            f"none of the rows along this edge is mostly {name}",
            "give the rate for the rows that are there",
            "warning",
        )
    return Words(
        "no row ends there",
        f"what lies below {label} is worked in rounds, which have no ends",
        "name the edge that is meant, or work the rows to and fro",
        "warning",
    )


def _free_loop(told: str, below: str) -> Words:
    loop, _, by = told.partition("|")
    named = f"{loop} loops" if loop else "loops"
    if not by:
        return Words(
            f"no {named} are free",
            f"up to {below} every row is worked into both loops of the one before",
            "work a row below into one loop only, so that the other stays free",
        )
    return Words(
        f"these {named} are not free",
        f"{by} was worked into them",
        f"work {by} into the other loop only, or name a row whose {named} are free",
    )

"""The length of the yarn and the weight that it is said to be do not belong together.

Length for mass is how makers find a yarn to stand in for yours. A figure lost or doubled sends them to the wrong
shelf, and what they need of it is reckoned wrong.

Bad:
    MATERIALS
    Yarn A: worsted, 100 g = 20 m, slate
    Hook: 5 mm
    CAP
    Rnd 1: With A, 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)

Good:
    MATERIALS
    Yarn A: worsted, 100 g = 200 m, slate
    Hook: 5 mm
    CAP
    Rnd 1: With A, 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.checks.weights import classes_of, put_up_band
from roundhand.findings import Finding

GROUP = "yarn"

# Fibres differ in weight, and publishers in their bands: only what is far outside is told.
_LOWER, _UPPER = 0.55, 1.8


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every yarn whose length for its mass is far from what is usual for its weight."""
    for yarn in sheet.pattern.yarns:
        classes = classes_of(yarn, yarn.span.of(sheet.text))
        if not classes or not yarn.mass_g or yarn.length is None:
            continue
        metres = float(yarn.length.to("m") / yarn.mass_g * 100)
        least, most = put_up_band(classes)
        if least * _LOWER <= metres <= most * _UPPER:
            continue
        weight = yarn.weight or classes[0].names[0]
        usual = f"{least:g} to {most:g} m" if least else f"up to {most:g} m"
        yield Finding(
            "length-unlike-weight",
            "warning",
            f"{yarn.label or 'the yarn'} has {metres:.0f} m in 100 g, which is {'much' if metres > most else 'little'} "
            f"for {weight}",
            yarn.span,
            because=f"of {weight} usually {usual} weigh 100 g, by one maker's guide; others' bands lie near it",
            help="look at the label of the ball once more",
            facts={"yarn": yarn.label, "m_per_100_g": round(metres, 1), "usual_least": least, "usual_most": most},
            label="so long?" if metres > most else "so short?",
        )

"""What a chart says of itself: title, how it is read, what is drawn and what is not."""

from __future__ import annotations

from roundhand.charts.region import Region
from roundhand.charts.scene import Scene
from roundhand.charts.setting import UNNAMED, Setting
from roundhand.charts.words import span_label
from roundhand.fabric import Fabric, RowMark

_HARD_SPACE = "\u00a0"
_ALIKE = "All stitches of a {} are alike."


def title(setting: Setting, region: Region | None) -> str:
    """The pattern, and the part and size that is drawn."""
    parts = list(dict.fromkeys(row.part for row in region.rows)) if region is not None else []
    place = " and ".join(", ".join(parts).rsplit(", ", 1)) or setting.piece
    if place.casefold() == setting.title.casefold():
        place = ""
    where = ", ".join(part for part in (place, setting.size) if part)
    return f"{setting.title or 'Pattern'}: {setting.colour_word} chart" + (f" of {where}" if where else "")


def heading(scene: Scene) -> str:
    """What stands under the title: the rows, how they are read, and what a maker must know of the drawing."""
    region = scene.region
    said = [f"{_rows_of(region).replace(' ', _HARD_SPACE)}, {region.width} stitches each."]
    if region.in_rounds:
        said.append("Read every round from right to left, beginning at the bottom.")
    else:
        said.append("Begin at the bottom; read every row in the direction of its arrow.")
    if region.repeat == 1:
        said.append(_ALIKE.format(scene.one))
    elif not scene.plan.whole and not scene.boxed:
        said.append(f"The first {scene.plan.columns} stitches are drawn.")
    if not scene.to_gauge:
        said.append("No gauge is stated, so the cells are not true to one.")
    said.append(_shown(scene))
    said.append(not_drawn(scene.fabric, region, hard=True))
    return " ".join(part for part in said if part)


def description(scene: Scene) -> str:
    """The chart for somebody who does not see it."""
    region, one = scene.region, scene.one
    yarns = [yarn_words(scene.setting, label) for label in scene.labels]
    many = len(region.rows)
    said = [f"{many} {one}{'s' if many > 1 else ''}, {_rows_of(region)}, of {region.width} stitches each"]
    said[0] += f", in {' and in '.join(yarns)}." if yarns else "."
    if region.in_rounds:
        said.append("Every round is read from right to left, the first one at the bottom, its number at the right.")
    elif scene.turned:
        said.append("Rows are read in turn from right to left and back, the first one at the bottom.")
    else:
        said.append("Every row is read from right to left, the first one at the bottom.")
    if region.repeat == 1:
        said.append(_ALIKE.format(one))
    elif scene.boxed:
        said.append(f"A box marks the repeat of {region.repeat} stitches, worked {region.times} times in a {one}.")
    if not scene.plan.whole:
        said.append(f"{scene.plan.columns} of the {region.width} stitches are drawn.")
    if not scene.letters_each:
        said.append("A letter stands once in every run of one yarn.")
    if not scene.to_gauge:
        said.append("The cells are not true to a gauge, since none is stated.")
    said.append(_shown(scene))
    said.append(not_drawn(scene.fabric, region))
    return " ".join(part for part in said if part)


def not_drawn(fabric: Fabric, region: Region, hard: bool = False) -> str:
    """Which rows stand in words alone, and why; empty where all are drawn. `hard` keeps labels on one line."""
    drawn = {row.source for row in region.rows}
    spans: list[list[RowMark]] = []
    for row in fabric.worked:
        if row.source in drawn or not row.count:
            continue
        if spans and spans[-1][-1].source == row.source - 1 and spans[-1][-1].part == row.part:
            spans[-1].append(row)
        else:
            spans.append([row])
    if not spans:
        return ""
    labels = [span_label(held[0].label, held[-1].label) for held in spans]
    if len({held[0].part for held in spans}) > 1:
        labels = [f"{label} of {held[0].part}" for label, held in zip(labels, spans, strict=True)]
    if hard:
        labels = [label.replace(" ", _HARD_SPACE) for label in labels]
    stands = "stand" if len(labels) > 1 or len(spans[0]) > 1 else "stands"
    shaped = any(row.count != region.width for held in spans for row in held)
    why = "the number of stitches changes" if shaped else "stitches do not stand straight on one another"
    return f"{', '.join(labels)} {stands} in words only, since {why} there."


def yarn_words(setting: Setting, label: str) -> str:
    """A yarn as a reader knows it: its label and what the pattern calls it."""
    if label == UNNAMED:
        return "the yarn in use"
    name = setting.yarns[label].name
    return f"{label}, {name}" if name else label


def left_out(scene: Scene, gap: int) -> str:
    """The rows that a gap leaves out, in words."""
    rows = scene.region.rows
    first, last = scene.plan.drawn[gap] + 1, scene.plan.drawn[gap + 1] - 1
    return f"{span_label(rows[first].label, rows[last].label)} are like these"


def _shown(scene: Scene) -> str:
    """What of the region is left out of the drawing."""
    rows, said = scene.region.rows, []
    for gap in sorted(scene.plan.gaps):
        if gap + 1 < len(scene.plan.drawn):
            said.append(f"{left_out(scene, gap)} and not drawn.")
    last = scene.plan.drawn[-1] + 1
    if last < len(rows):
        rest = span_label(rows[last].label, rows[-1].label)
        said.append(f"The drawing would be too large with {rest}, which stand in words.")
    return " ".join(said)


def _rows_of(region: Region) -> str:
    return span_label(region.rows[0].label, region.rows[-1].label)

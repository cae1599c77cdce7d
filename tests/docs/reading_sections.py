"""What the page on reading shows, in its order: sections, and in each the cases of the tables that it takes.

A case is named by its file and its heading, `07_repeats: 94 A bracket and a number`; how it is said and what comes of
it is not written here but worked out when the page is made.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Section:
    """A heading, a few words for the reader, and the cases that show it; each with its words of introduction."""

    title: str
    words: str
    cases: tuple[tuple[str, str], ...]


SECTIONS = (
    Section(
        "Labels and ranges",
        "Every row and round has a label. The colon, the full stop and the capitals are yours to choose; a range, a "
        "list of numbers, “the next 4 rounds” or a rule for all even rounds is written out row by row, in every "
        "size.",
        (
            ("01_labels_and_ranges: Two or three labels before one row", "Several rows at once"),
            ("01_labels: 3 A range that repeats one row", "A range that repeats a row"),
            ("01_labels: 12 Even rounds that are not written", "Rounds told once for all"),
            ("11_counts: 167 One stitch more between the increases", "Rounds told by how they grow"),
            ("11_counts: 162 A length, with a gauge that decides", "A length in place of a number, with a gauge"),
        ),
    ),
    Section(
        "Stitches and places",
        "A number before a stitch, behind it or behind its place; a loop, a post, a space, the other side of a "
        "chain. What stands below tells whether there are so many places.",
        (
            ("03_plain: 36 A number behind the stitch", "One in each"),
            ("04_increases: 49 Two in one", "An increase"),
            ("04_increases: 52 Two together", "A decrease"),
            ("05_groups: 68 A corner in a space", "A group in one place"),
            ("09_places: 131 The back loop", "A loop"),
            ("09_places: 133 Around a post", "A post"),
            ("06_spaces: 85 Two in a space", "A space"),
            ("02_starts: Round both sides of a chain", "Both sides of a chain"),
        ),
    ),
    Section(
        "Repeats",
        "A star, a bracket, or a number in front. Open repeats, “around”, “to end”, “to last 3 sts”, are worked as "
        "often as they fit, and what they leave over is told.",
        (
            ("07_repeats: 94 A bracket and a number", "So many times"),
            ("07_repeats: 95 So many more", "Once, and so many times more"),
            ("07_repeats: 99 To the last stitches", "As often as it fits"),
            ("07_repeats: 102 The last time stops at the mark", "Stopped at a mark the last time"),
        ),
    ),
    Section(
        "Sizes",
        "With a line `Sizes:` any number may be a list, one value for all or one for each. A dash is not for this "
        "size, a nought is none. A row or a block of rows can be for some sizes alone.",
        (
            ("10_sizes: Lists of sizes in every dress", "Lists"),
            ("10_sizes: 144 The European manner", "The European manner"),
            ("10_sizes: 150 Some sizes alone", "Some sizes alone"),
        ),
    ),
    Section(
        "Counts",
        "The number behind a row is compared with what is worked, in every size; it is never simply believed. Joins "
        "are not counted, nor chains unless you say so or your counts do so all the way.",
        (
            ("11_counts: 155 The total behind a row", "A total"),
            ("11_counts: 156 Stitches and spaces", "Stitches and spaces, each by itself"),
            ("08_turning: 117 A chain that counts throughout", "A chain at the start that counts"),
        ),
    ),
    Section(
        "Colours",
        "Yarns have the labels of your materials. A change is drawn on the last yarn over of the stitch before, and "
        "what rests, climbs, floats or is cut is followed for the yarn and for the ends.",
        (
            ("12_finishing: 171 A colour for a row", "A row in another colour"),
            ("12_colours: Two colours in one row", "Two colours in one row"),
            ("12_finishing: 171 A change on the last yarn over", "A change before the next row"),
            ("12_colours: Two strands of one yarn", "Two strands as one"),
        ),
    ),
    Section(
        "Pieces",
        "A heading over rows that begin with a chain or a ring begins a piece. Pieces can be made several times, or "
        "be told by another one.",
        (
            ("12_finishing: 185 Made so many times", "Made several times"),
            ("12_finishing: 174 Make the other half to correspond", "Worked as another"),
            ("12_finishing: 183 The rest is left", "Stitches left for later"),
        ),
    ),
)

# For every kind of evidence, in its order, a case that is settled by it, and how a designer would say it.
EVIDENCE = (
    (
        "notes",
        "What your page says",
        "A note, or words behind the phrase, end the matter.",
        "21_how_deep: A note says what the depths count",
    ),
    (
        "counts",
        "The count behind the row",
        "The reading by which the row comes to its count, in every size.",
        "07_repeats: 96 So many times, told by the count to be more",
    ),
    (
        "places",
        "The row below",
        "The reading that uses it up, with nothing lacking and nothing left.",
        "17_two_readings: The round below is used up by one reading alone",
    ),
    (
        "later counts",
        "The counts of later rows",
        "The reading after which more of the following rows come out.",
        "17_two_readings: Later rounds tell how often",
    ),
    (
        "habit",
        "Your own habit",
        "What your other rows meant by such words, wherever a count proved it.",
        "17_two_readings: A habit is kept where no count speaks",
    ),
    (
        "usage",
        "What is usual",
        "If nothing tells, the usual reading is taken, and you are asked.",
        "07_repeats: 96 So many times, and nothing that tells",
    ),
)

# Phrases that are read in two ways, by what stands round them.
TWO_WAYS = (
    "07_repeats: 96 So many times, told by the count to be more",
    "07_repeats: 96 So many times, told by the count to be all",
    "03_plain: 37 Two, told by the count to be an increase",
    "03_plain: 39 In each stitch, told by the count that the chains are meant too",
    "08_turning: 120 A silent chain of two, told by the count to be a stitch",
    "08_turning: 120 A silent chain of two, told by the count to be none",
    "02_starts: 18 From the third chain: a bare count takes the chain in",
    "17_two_readings: A repeat cut at the join",
)

# What cannot be worked: what is then said.
LACKING = (
    "19_pieces_and_mirrors: A piece that nobody has described",
    "11_counts: 162 A length without a gauge",
    "01_labels: 4 A range whose length does not agree",
)

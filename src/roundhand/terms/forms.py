"""Words that follow from a stitch's own: round the post, long, linked, four of them in a cluster.

A language says once how a form is called (`[forms]` in its file), and every stitch that has the form gets its words:

    "front_post_{}" = ["fp{}", "front post {}"]      fpdc, front post dc, front post double crochet
    "cluster_{n}_{}" = ["{n} - {} cl"]               4-dc cl, 5-tr cl

`{}` stands for the words of the plain stitch, `{n}` for the number. The first of a list is the short word.
"""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping, Sequence

# How many of one stitch the forms of a number have.
_NUMBERS = tuple(range(2, 10))

# A single word that is shorter is an abbreviation.
_SHORTEST_NAME = 6

Words = tuple[str, ...]


class Forms:
    """The forms of a language.

    >>> forms = Forms({"front_post_{}": ["fp{}", "front post {}"], "cluster_{n}_{}": ["{n} - {} cl"]})
    >>> list(forms.of("double", [("dc",)], {"front_post_double", "cluster_4_double"}))
    [('front_post_double', ('fpdc',)), ('front_post_double', ('front', 'post', 'dc')), \
('cluster_4_double', ('4', '-', 'dc', 'cl'))]
    """

    def __init__(self, templates: Mapping[str, Sequence[str]]) -> None:
        self._forms = [(id, [tuple(said.split(" ")) for said in spellings]) for id, spellings in templates.items()]

    def of(self, stitch: str, spellings: Sequence[Words], known: Container[str]) -> Iterator[tuple[str, Words]]:
        """The forms of a stitch that are known, each with every run of words that names it, the short one first."""
        for id, templates in self._forms:
            if "{n}" not in id:
                form = id.replace("{}", stitch)
                if form in known:
                    for template in templates:
                        for words in spellings:
                            yield form, _filled(template, "", words)
                continue
            # A number goes with the short word and with names in full: "4-dc cl", "4-double crochet cluster".
            usual = [words for at, words in enumerate(spellings) if at == 0 or _in_full(words)]
            for number in _NUMBERS:
                form = id.replace("{n}", str(number)).replace("{}", stitch)
                if form in known:
                    for template in templates:
                        for words in usual:
                            yield form, _filled(template, str(number), words)


def _in_full(words: Words) -> bool:
    """Whether words are a stitch's name in full, one of it: `double crochet`, `treble`, and neither `dcs` nor `tr`."""
    return (len(words) > 1 or len(words[0]) >= _SHORTEST_NAME) and words[-1][-1] != "s"


def _filled(template: Words, number: str, words: Words) -> Words:
    filled: list[str] = []
    for word in template:
        if word == "{}":
            filled += words
        elif word == "{n}":
            filled.append(number)
        elif word[-2:] == "{}":
            # Glued to the first word of the stitch: fpdc, lndc.
            filled += (word[:-2] + words[0], *words[1:])
        else:
            filled.append(word)
    return tuple(filled)

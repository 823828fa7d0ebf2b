"""The trade's words, in UK and US English, each with a line to say what it is, and where each is used first."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache

GLOSSARY: tuple[tuple[str, str], ...] = (
    ("section", "signature (US): folded sheets nested together"),
    ("folio", "a sheet folded once, a folded sheet: two leaves, four pages"),
    ("leaf, page", "a leaf has two pages, one on each side"),
    ("text block", "all leaves of the book together"),
    ("spine", "the side where the leaves are folded and sewn; spine edge: the edge of a board nearest to it"),
    ("head, tail", "top and bottom (foot) of the book"),
    ("fore-edge", "the edge of the leaves opposite the spine"),
    ("knock up", "tap an edge of the sheets on the table until all are level"),
    ("grey board", "binder's board (US)"),
    ("card", "card stock, cover stock (US)"),
    ("covering", "the paper or cloth on the outside of a board"),
    ("quarter, half covering", "cloth on the spine, for half on the corners too; paper on the rest of the boards"),
    ("spine cloth", "the cloth over the spine and a strip of each board"),
    ("side paper", "the paper on the part of a board that cloth leaves free"),
    ("turn-in", "what of the covering is folded over the board's edge"),
    ("mitre", "miter (US): the slanted cut that lets two turn-ins meet at a corner"),
    ("lining", "paper on the inside of a board. Not a paste-down: that is an endpaper's leaf stuck to the board"),
    ("square", "how far the board stands beyond the leaves"),
    ("joint", "spine edge of the leaves to the back edge of the board; also: hinge, gutter"),
    ("groove", "the furrow between a board and what lies beside it"),
    ("caliper", "the thickness of one sheet"),
    ("creep", "how far the inner leaves of a section stand out beyond the outer ones"),
    ("station", "a place where the needle goes through"),
    ("grain", "the way most fibres of a paper or board lie; it bends and folds most easily along it"),
    ("motif", "a picture or pattern in a paper; one-way: it has a top"),
    ("wrong side", "the side of a paper that will not be seen, where the adhesive goes"),
    ("backing paper", "the sheet that covers the adhesive of a tape until it is laid"),
    ("bone folder", "a smooth flat blade of bone or plastic, to crease and to rub down"),
    ("awl", "a pointed tool with a handle, to pierce holes"),
    ("cradle", "a trough with sloping sides that holds an open section while it is pierced"),
    ("valley fold", "a fold that opens towards you, like a valley"),
    ("spacer", "a piece that keeps two boards so far apart"),
    ("gauge", "a strip as wide as a distance that is marked or left again and again"),
    ("thread end", "the free piece of thread left to tie with"),
    ("kettle stitch", "the knot near head and tail that ties each section to the one before it"),
    ("change-over", "the place near head or tail where the thread goes on to the next section"),
    ("link", "take the needle round a stitch that is there already"),
    ("long stitch", "a stitch that lies along the spine, or goes past a station"),
    ("half hitch", "one turn round a stitch, drawn through itself"),
    ("reef knot", "square knot (US): left over right, then right over left"),
    ("weaver's knot", "a knot that joins a new thread to an old one"),
    ("sewing tape", "a strip of woven tape across the spine that the thread goes round"),
    ("super", "mull: thin open cloth glued over the spine, which holds the block in its case"),
    ("endpaper", "the folded sheet between text block and cover; endleaf (US)"),
    ("paste-down", "the leaf of an endpaper that is stuck to the board"),
    ("tip on", "glue by a narrow line along one edge"),
    ("waste sheet", "a clean sheet laid under or between, and thrown away when it is soiled"),
    ("case", "a cover that is made by itself, and then hung on the block"),
    ("wrapper", "a soft cover of one piece of card"),
    ("flap", "what of a wrapper is turned in at the fore-edge"),
    ("score", "press a line into card, so that it folds there"),
    ("concertina", "accordion (US)"),
    ("panel", "one flat piece between two folds of a concertina"),
    ("strip", "a length of paper with several panels"),
    ("tab", "a narrow piece at a strip's end, to glue the next strip to"),
    ("spine piece", "spine stiffener"),
    ("side-sewn", "stab sewn"),
    ("hinge", "the narrow place where a stiff cover bends"),
    ("waste board", "a board under the work that takes the point or the drill"),
)

FORMS = {
    "section": r"sections?",
    "folio": r"folios?",
    "leaf, page": r"leaf|leaves",
    "spine": r"spine(?! (?:cloth|piece))",
    "head, tail": r"heads?|tail",
    "knock up": r"knock(?:ed|s)?(?: it| them| the \w+| both| all)? up",
    "card": r"card",
    "quarter, half covering": r"(?:quarter|half) (?:covering|cloth)",
    "side paper": r"side papers?",
    "covering": r"coverings?",
    "mitre": r"mitre[sd]?",
    "lining": r"linings?",
    "square": r"squares(?! knot)",
    "joint": r"joints?",
    "groove": r"grooves?",
    "valley fold": r"valley",
    "gauge": r"gauges?",
    "link": r"links?|linking",
    "weaver's knot": r"weaver's knots?",
    "half hitch": r"half hitch(?:es)?",
    "tip on": r"tip(?:ped|s)?(?: it| them)? on|tip the",
    "paste-down": r"paste-?downs?",
    "strip": r"(?<=\d )strips?|(?<=one )strip|(?<=last )strip|panel strips?",
    "hinge": r"hinge(?! (?:strip|gap))s?",
    "score": r"scor(?:e|es|ed|ing)",
    "tab": r"tabs?",
    "case": r"case(?= )|cased",
    "side-sewn": r"side-sewn",
    "waste sheet": r"waste (?:sheets?|paper)",
}
"""How a word may stand in a sentence, where that is not the word itself or its plural."""


@cache
def _forms() -> re.Pattern[str]:
    """One expression for all words, a group for each: much quicker than one expression after the other."""
    forms = (FORMS.get(term, re.escape(term) + "(?:e?s)?") for term, _ in GLOSSARY)
    return re.compile(rf"\b(?:{'|'.join(f'({form})' for form in forms)})\b")


def words_in(text: str) -> tuple[tuple[str, str], ...]:
    """The words of the glossary that stand in a text, with what they mean, in the order in which they stand there.

    >>> [word for word, _ in words_in("Rub the linings down with the bone folder.")]
    ['lining', 'bone folder']
    """
    found = (match.lastindex for match in _forms().finditer(text.lower()))
    return tuple(GLOSSARY[number - 1] for number in dict.fromkeys(found) if number)


def first_uses(texts: Sequence[str]) -> tuple[tuple[tuple[str, str], ...], ...]:
    """For each text the words that no text before it has."""
    known: set[str] = set()
    new: list[tuple[tuple[str, str], ...]] = []
    for text in texts:
        fresh = tuple(entry for entry in words_in(text) if entry[0] not in known)
        known |= {term for term, _ in fresh}
        new.append(fresh)
    return tuple(new)

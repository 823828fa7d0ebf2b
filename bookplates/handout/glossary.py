"""The trade's words, in UK and US English, each with a line to say what it is, and where each is used first."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache, lru_cache

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
    ("book tape", "self-adhesive cloth tape for the spines of books, on backing paper"),
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
    ("half hitch", "take the thread round a stitch and out through the loop that makes, and draw it tight"),
    ("reef knot", "square knot (US): left over right, then right over left"),
    (
        "weaver's knot",
        "bend the new thread to a loop; bring the old end up through it, round behind it, and down again; draw tight",
    ),
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

FORMS: dict[str, tuple[str, ...]] = {
    "leaf, page": ("leaf", "leaves"),
    "head, tail": ("head", "heads", "tail"),
    "knock up": ("knock", "knocks", "knocked"),
    "card": ("card",),
    "quarter, half covering": ("quarter covering", "half covering", "quarter cloth", "half cloth"),
    "mitre": ("mitre", "mitres", "mitred"),
    "square": ("squares",),
    "valley fold": ("valley",),
    "link": ("link", "links", "linking"),
    "tip on": ("tip on", "tip it on", "tip them on", "tips on", "tipped on", "tip the endpapers"),
    "paste-down": ("paste-down", "paste-downs", "pastedown", "pastedowns"),
    "strip": ("# strip", "# strips", "one strip", "last strip", "panel strip", "panel strips"),
    "score": ("score", "scores", "scored", "scoring"),
    "case": ("case", "cased"),
    "waste sheet": ("waste sheet", "waste sheets", "waste paper"),
    "": ("hinge strip", "hinge strips", "hinge gap", "hinge gaps"),  # the names of pieces: no hinge is meant
}
"""How a word may stand in a sentence, # for a number, where that is not the word itself or its plural."""

TOKEN = re.compile(r"[a-z][\w'-]*|\d+|[^\w\s]")


@cache
def _forms() -> dict[str, list[tuple[list[str], tuple[str, str] | None]]]:
    """All forms word by word with their entries, under their first words, the longest first."""
    forms: dict[str, list[tuple[list[str], tuple[str, str] | None]]] = {}
    for entry in (*GLOSSARY, ("", "")):
        for form in FORMS.get(entry[0], (entry[0], f"{entry[0]}s", f"{entry[0]}es")):
            words = form.split()
            forms.setdefault(words[0], []).append((words, entry if entry[0] else None))
    for begun in forms.values():
        begun.sort(key=lambda form: -len(form[0]))
    return forms


@lru_cache(maxsize=256)
def words_in(text: str) -> tuple[tuple[str, str], ...]:
    """The words of the glossary that stand in a text, with what they mean, in the order in which they stand there.

    >>> [word for word, _ in words_in("Rub the linings down with the bone folder.")]
    ['lining', 'bone folder']
    """
    tokens = ["#" if token.isdigit() else token for token in TOKEN.findall(text.lower())]
    forms, found, at = _forms(), [], 0
    while at < len(tokens):
        form = next((form for form in forms.get(tokens[at], ()) if tokens[at : at + len(form[0])] == form[0]), None)
        at += len(form[0]) if form else 1
        found += [form[1]] if form and form[1] else []
    return tuple(dict.fromkeys(found))


def first_uses(texts: Sequence[str]) -> tuple[tuple[tuple[str, str], ...], ...]:
    """For each text the words that no text before it has."""
    known: set[str] = set()
    new: list[tuple[tuple[str, str], ...]] = []
    for text in texts:
        fresh = tuple(entry for entry in words_in(text) if entry[0] not in known)
        known |= {term for term, _ in fresh}
        new.append(fresh)
    return tuple(new)

"""The trade's words, in UK and US English, each with a line to say what it is."""

from __future__ import annotations

GLOSSARY: tuple[tuple[str, str], ...] = (
    ("section", "signature (US): folded sheets nested together"),
    ("folio", "a sheet folded once, a folded sheet: two leaves, four pages"),
    ("leaf, page", "a leaf has two pages, one on each side"),
    ("spine", "the side where the leaves are folded and sewn; spine edge: the edge of a board nearest to it"),
    ("head, tail", "top and bottom (foot) of the book"),
    ("fore-edge", "the edge of the leaves opposite the spine"),
    ("grey board", "binder's board (US)"),
    ("card", "card stock, cover stock (US)"),
    ("covering", "the paper or cloth on the outside of a board"),
    ("turn-in", "what of the covering is folded over the board's edge"),
    ("mitre", "miter (US): the slanted cut that lets two turn-ins meet at a corner"),
    ("lining", "paper on the inside of a board. Not a paste-down: that is an endpaper's leaf stuck to the board"),
    ("square", "how far the board stands beyond the leaves"),
    ("joint", "spine edge of the leaves to the back edge of the board; also: hinge, gutter"),
    ("caliper", "the thickness of one sheet"),
    ("creep", "how far the inner leaves of a section stand out beyond the outer ones"),
    ("station", "a place where the needle goes through"),
    ("grain", "the way most fibres of a paper or board lie; it bends and folds most easily along it"),
    ("motif", "a picture or pattern in a paper; one-way: it has a top"),
    ("wrong side", "the side of a paper that will not be seen, where the adhesive goes"),
    ("bone folder", "a smooth flat blade of bone or plastic, to crease and to rub down"),
    ("valley fold", "a fold that opens towards you, like a valley"),
    ("thread end", "the free piece of thread left to tie with"),
    ("concertina", "accordion (US)"),
    ("spine piece", "spine stiffener"),
    ("side-sewn", "stab sewn"),
)

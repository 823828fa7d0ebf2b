"""Whole specs of varied books, as their makers would write them, and the sizes they were made up with.

All are of our own invention. Each is made on the papers named beside it.
"""

from __future__ import annotations

# The example of the design, word for word where it goes with a taped cover
EXAMPLE = """\
title = "Orchard notebook"
maker = "Quince Street Bindery"       # optional
units = "in"                          # "mm" (default) or "in"

[text_block]
sheet = "Letter"                      # as bought
format = "quarto"
orientation = "upright"
grain = "long"
sheets = 10
sections = 1
opening = "left"
caliper = "0.1 mm"
fold = "sharp"
trim = "flush"

[measured]
width = "108 mm"
height = "139.7 mm"
thickness = "4 mm"

[cover]
style = "taped"
board = "2 mm"
square = "1/8 in"
joint = "1/4 in"
turn_in = "1 in"
mitre = "3 mm"
lining_margin = "3/8 in"

[tape]
width = "4 in"
inside = "full"
overlap = "1/2 in"

[sewing]
pattern = "chain"
spacing = "1/2 in"
end_margin = "1/2 in"
hole = "1 mm"
punch_at_once = 10
thread = "0.6 mm"
thread_end = "4 in"

[print]
paper = "Letter"
margin = "1/4 in"
bar_across = "100 mm"
bar_along = "100 mm"
"""

# The check book: a quarto of ten Letter sheets, twenty folded sheets in one section
ORCHARD = """\
title = "Orchard notebook"
maker = "Quince Street Bindery"
units = "in"

[text_block]
sheet = "Letter"
format = "quarto"
sheets = 10
caliper = "0.1 mm"

[cover]
style = "taped"
board = "2 mm"
square = "1/8 in"
joint = "1/4 in"
turn_in = "1 in"
mitre = "3 mm"

[tape]
width = "4 in"

[sewing]
pattern = "chain"
spacing = "1/2 in"
thread_end = "4 in"
"""

# Everything metric and nearly everything by default
TIDE_POOL = """\
title = "Tide pool journal"

[text_block]
sheet = "A4"
format = "quarto"
sheets = 6
caliper = 0.12

[cover]
style = "taped"
"""

# Opens on the other side; five holes, thin boards
ALLOTMENT = """\
title = "Allotment class: beans, peas & marrows"

[text_block]
leaf = "105 x 148 mm"
folios = 8
caliper = "0.1 mm"
opening = "right"

[cover]
style = "taped"
board = "1.5 mm"

[sewing]
pattern = "pamphlet"
count = 5
"""

# The tape is only turned over head and tail, an inner strip covers the gap
BEEHIVE = """\
title = "Beehive log"

[text_block]
leaf = "120 x 160 mm"
folios = 10

[cover]
style = "taped"

[tape]
width = "90 mm"
inside = "turn-in"
turn_in = "20 mm"
overlap = "15 mm"
"""

# A soft fold, and no two sides alike
LIGHTHOUSE = """\
title = "Lighthouse keeper's weather"

[text_block]
leaf = "110 x 150 mm"
folios = 9
caliper = "0.15 mm"
fold = "round"
trim = "2 mm"

[cover]
style = "taped"
board = "2.5 mm"
square = { head = "3 mm", tail = "4 mm", fore_edge = "5 mm" }
turn_in = { head = "18 mm", tail = "20 mm", fore_edge = "22 mm" }
mitre = "5 mm"
"""

# As small as a book may be: every size has to shrink with it
ACORN = """\
title = "Acorn book"

[text_block]
leaf = "25 x 40 mm"
folios = 4
caliper = "0.1 mm"

[cover]
style = "taped"
board = "1 mm"
square = "1.5 mm"
joint = "3 mm"
turn_in = "8 mm"
lining_margin = "3 mm"

[tape]
width = "22 mm"
overlap = "8 mm"

[sewing]
pattern = "pamphlet"
count = 3
end_margin = "5 mm"
thread_end = "60 mm"
"""

# Too large for a desk printer
ATLAS = """\
title = "Atlas of the orchard walls"

[text_block]
leaf = "210 x 297 mm"
folios = 8
caliper = "0.15 mm"

[cover]
style = "taped"
board = "3 mm"

[print]
paper = "A3"
"""

BOOKS = {
    "orchard": ORCHARD,
    "tide pool": TIDE_POOL,
    "allotment": ALLOTMENT,
    "beehive": BEEHIVE,
    "lighthouse": LIGHTHOUSE,
    "acorn": ACORN,
}
DESK_PAPERS = ("Letter", "A4")
PACKS = (*((book, paper) for book in BOOKS for paper in DESK_PAPERS), ("atlas", "A3"))


def spec_of(book: str, paper: str) -> bytes:
    """A book's spec with the paper it is printed on."""
    if book == "atlas":
        return ATLAS.encode()
    return f'{BOOKS[book]}\n[print]\npaper = "{paper}"\n'.encode()

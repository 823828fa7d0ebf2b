"""Published values that the tests hold the program against, each with its publication.

They are facts restated in our own words. Inches are exact fractions, 1 in = 25.4 mm exactly; every name says its unit.
Rows whose inputs are ours say so: the rule is the publication's, the sum is written out.
"""

from __future__ import annotations

from fractions import Fraction as F

Mm = tuple[float, float]
Inches = tuple[F, F]

# ISO 216, Writing paper and certain classes of printed matter: trimmed sizes (A series);
# the same in JIS P 0138:1998, Writing paper: finished sizes
PS1_A_MM: dict[str, Mm] = {
    "A0": (841, 1189), "A1": (594, 841), "A2": (420, 594), "A3": (297, 420), "A4": (210, 297), "A5": (148, 210),
    "A6": (105, 148), "A7": (74, 105), "A8": (52, 74), "A9": (37, 52), "A10": (26, 37),
}  # fmt: skip
# JIS P 0138:1998, Writing paper: finished sizes (B series)
PS2_JIS_B_MM: dict[str, Mm] = {
    "JIS B0": (1030, 1456), "JIS B1": (728, 1030), "JIS B2": (515, 728), "JIS B3": (364, 515), "JIS B4": (257, 364),
    "JIS B5": (182, 257), "JIS B6": (128, 182), "JIS B7": (91, 128), "JIS B8": (64, 91), "JIS B9": (45, 64),
    "JIS B10": (32, 45),
}  # fmt: skip
# ISO 216 (encyclopaedic account): ratio of the sides; long side of A(n+1) = short side of A(n)
PS4_RATIO = 1.4142
# ISO 216 and JIS P 0138:1998
PS5_ISO_B5_MM: Mm = (176, 250)
PS5_JIS_B5_MM: Mm = (182, 257)
# ANSI/ASME Y14.1, Drawing sheet size and format: inches, and the rounded mm it gives beside them
PS6_ANSI_IN: dict[str, Inches] = {
    "ANSI A": (F(17, 2), F(11)),
    "ANSI B": (F(11), F(17)),
    "ANSI C": (F(17), F(22)),
    "ANSI D": (F(22), F(34)),
    "ANSI E": (F(34), F(44)),
}
PS6_ANSI_ROUNDED_MM: dict[str, Mm] = {
    "ANSI A": (216, 279), "ANSI B": (279, 432), "ANSI C": (432, 559), "ANSI D": (559, 864), "ANSI E": (864, 1118),
}  # fmt: skip

# PrintWiki, "Grammage": g/m2 to one pound of the basic ream
PW1_FACTORS = {"bond": 3.760, "cover": 2.704, "tag": 1.627, "book": 1.480}
# Press maker's paper guide 701P28020, p. A-2: the same for six kinds, two decimals
PW3_FACTORS = {"bond": 3.76, "book": 1.48, "cover": 2.70, "index": 1.81, "tag": 1.63, "bristol": 2.19}
# Arithmetic from the exact definitions of the pound and the inch: 453.59237 / (500 x 0.00064516 x area in2)
PW5_FACTORS = {"bond": 3.7597, "book": 1.4801, "cover": 2.7041, "index": 1.8080, "tag": 1.6275, "bristol": 2.1928}
# Printing-house table: the same number of pounds is another paper, g/m2 ("about")
PW6_ABOUT_G_M2 = {"50 lb cover": 135.0, "50 lb text": 74.0}
# Paper merchant's table (guide values): bond and offset of one grammage, g/m2, and their caliper in inches and mm
PW7_EQUIVALENTS: tuple[tuple[str, str, float, float, float], ...] = (
    ("16 lb bond", "40 lb offset", 60.2, 0.0032, 0.081),
    ("20 lb bond", "50 lb offset", 75.2, 0.0038, 0.097),
    ("24 lb bond", "60 lb offset", 90.3, 0.0048, 0.12),
    ("28 lb bond", "70 lb offset", 105.35, 0.0058, 0.147),
)
# Paper maker's note: sheets to the inch = 1000 / caliper in mil
PW9_MIL, PW9_SHEETS_PER_INCH = 4.0, 250
# Book printer's table: caliper in inches, pages to the inch
PW10_PAGES_PER_INCH = {0.0032: 625, 0.0038: 526, 0.0048: 417, 0.0060: 333, 0.0061: 327}

# S. J. Vaughn, Printing and Bookbinding for Schools, 1912/1919, Project Gutenberg 70980:
# board as wide as the book, 1/4 to 3/8 in longer, so 1/8 to 3/16 in of square; the joint is as wide as the square
SQ1_BOARD_LONGER_IN: Inches = (F(1, 4), F(3, 8))
SQ1_SQUARE_IN: Inches = (F(1, 8), F(3, 16))
SQ2_JOINT_TO_SQUARE = F(1)
# F. O. Bean and J. C. Brodhead, Bookbinding for Beginners, 1914 and 2nd ed. 1918, Project Gutenberg 68844
SQ3_SQUARE_IN = F(1, 8)
# The same, Problem I: how far the cover of a sewn booklet stands beyond its pages
SQ10_SQUARE_IN: Inches = (F(1, 8), F(1, 4))
# University of Brighton, book-arts worksheets, hard cover for multi-section
SQ8_BOARD_NARROWER_MM, SQ8_BOARD_TALLER_MM, SQ8_SQUARE_MM, SQ8_JOINT_MM = 2.0, 6.0, 3.0, 5.0

# F. O. Bean and J. C. Brodhead, Bookbinding for Beginners, 1914 and 2nd ed. 1918, Problem VIII-A: side-laced covers
# extend so far beyond the pages (about)
SQ12_SQUARE_IN = F(1, 8)

# S. J. Vaughn, Printing and Bookbinding for Schools, 1912/1919, figs. 17 and 42A: boards apart = thickness + 2 joints;
# each board's back edge at half the thickness + one joint from the centre line
JT1_JOINTS_BETWEEN_BOARDS = 2
JT2_JOINTS_FROM_CENTRE = 1
# F. O. Bean and J. C. Brodhead, Bookbinding for Beginners, 2nd ed. 1918: boards set forward from the binding edge, about
JT5_JOINT_IN = F(1, 4)
# F. O. Bean and J. C. Brodhead, Bookbinding for Beginners, 1914 and 2nd ed. 1918, Problem VIII-A: width of the hinge
# strip of a side-laced cover, and how far from the main board it is re-laid
JT7_STRIP_IN: Inches = (F(3, 4), F(1))
JT7_APART_IN = F(1, 8)
# Buxton and Curran, no. 413: hinged note-book cover
JT8_STRIP_IN, JT8_GAP_IN = F(3, 4), F(1, 2)
# University of Brighton, book-arts worksheets: gap = 5 mm + board + 1 mm; spine piece = pages + both boards
JT12_JOINT_MM, JT12_MOVEMENT_MM = 5.0, 1.0
JT13_BOARDS_IN_SPINE_PIECE = 2

# S. J. Vaughn, Printing and Bookbinding for Schools, 1912/1919: turned over on every edge of leather, cloth or paper
TI1_TURN_IN_IN = F(3, 4)
# The same, fifth and seventh grade, half cloth: cloth longer than the boards; side paper wider than what it covers, of
# which so much lies over the cloth
TI2_CLOTH_LONGER_IN, TI3_SIDE_WIDER_IN, TI3_OVERLAP_IN = F(3, 2), F(7, 8), F(1, 8)
# P. Adam, Practical Bookbinding, 1903, ch. VI: covering larger all round; cloth strip wider and longer than the spine piece
TI5_LARGER_MM, TI6_WIDER_MM, TI6_LONGER_MM = (10.0, 15.0), 40.0, (20.0, 25.0)
# F. O. Bean and J. C. Brodhead, Bookbinding for Beginners, 1914 and 2nd ed. 1918, Problem XII: on each cover at
# least; outer strip over each end; inner strip shorter than the board (about)
TI10_ON_BOARD_AT_LEAST_IN, TI10_OVER_EACH_END_IN, TI10_INNER_SHORTER_IN = F(1), F(1, 2), F(1, 8)
# The same, Problem XII: board shows at least this much beyond the lining on every side
TI11_LINING_MARGIN_IN = F(1, 8)
# F. O. Bean and J. C. Brodhead, Bookbinding for Beginners, Problem VIII-A: what covers the hinge lies so far on the main
# board; the lining comes so near to its edges
TI12_LAP_IN, TI12_LINING_MARGIN_IN = F(1, 2), F(1, 8)
# S. J. Vaughn, Printing and Bookbinding for Schools, 1912/1919: mitre clearance, at least, in board thicknesses
TI20_CLEARANCE_IN_BOARDS = 1
# University of Brighton, book-arts worksheets, corner worksheet: 45 degree cut 3 mm off the corner of a 2 mm board
TI21_MITRE_MM, TI21_BOARD_MM = 3.0, 2.0

# F. O. Bean and J. C. Brodhead, the same, variations of the case: width of a corner, on the line that halves its right
# angle, to the width of the back cloth that shows on the board
TI23_CORNER_TO_CLOTH = F(1)
# The same, 1918: super on each fly-leaf, about
TI26_SUPER_ON_LEAF_IN = F(1)

# Indiana University Libraries, Book Repair Manual, "Pamphlet binding"
SW1_PAMPHLET_COUNTS = (3, 5, 7)
SW2_THREAD_TO_LENGTH = F(5, 2)
SW2_TAIL_IN: Inches = (F(4), F(5))
# Conservation Book Repair (Alaska State Library, 1995) and its author's later series on pamphlets
SW3_END_AT_MOST_IN, SW3_FIVE_FROM_IN = F(3, 4), F(7)
SW4_THREAD_TO_HEIGHT, SW4_EXTRA_IN = F(2), (F(4), F(6))
# Dorset History Centre, archive conservator's notes, 2020
SW5_THREAD_TO_SPINE, SW5_COUNT = F(3), 5

# Winchester (library or school manual): side-sewn books, the hole line at least so far from the spine edge, and the drill
ST3_INSET_MM, ST3_DRILL_MM = 10.0, 2.0
# Utah State University: single-sheet gutter holes, from the gutter edge
ST4_INSET_IN: Inches = (F(1, 4), F(1))
# Cambridge University Library: holes of a side-sewn book, Chinese and Japanese; Korean
ST7_CHINESE_AND_JAPANESE, ST7_KOREAN = 4, 5

# Printing-trade explanation of creep: caliper for 70 lb offset, and how far nested sheets stand out, in
CR1_CALIPER_IN = 0.005
CR1_STEPS_IN = (0.005, 0.010, 0.015)

# Worked examples: the rule is the publication's, named by the row above it or here; inputs ours unless it says so.

# E1: S. J. Vaughn, Printing and Bookbinding for Schools, 1912/1919. Boards 1/4 in longer than the book
E1_BOOK_IN: tuple[F, F, F] = (F(5), F(15, 2), F(3, 4))
E1_SQUARE_IN, E1_JOINT_IN, E1_BOARDS_APART_IN = F(1, 8), F(1, 8), F(1)  # 3/4 + 2 x 1/8 = 1
E1_BOARD_IN: Inches = (F(5), F(31, 4))  # 7 1/2 + 1/4 = 7 3/4
E1_COVERING_IN: Inches = (F(25, 2), F(37, 4))  # 2 x 5 + 1 + 2 x 3/4 = 12 1/2; 7 3/4 + 2 x 3/4 = 9 1/4
# E2: S. J. Vaughn, the same, fifth and seventh grade: half cloth
E2_BOOK_IN: tuple[F, F, F] = (F(5), F(15, 2), F(3, 4))
E2_JOINT_IN, E2_CLOTH_ON_BOARD_IN, E2_FROM_CENTRE_IN = F(3, 16), F(5, 4), F(9, 16)  # 3/8 + 3/16 = 9/16
E2_BOARD_IN: Inches = (F(5), F(63, 8))  # 7 1/2 + 3/8
E2_CLOTH_IN: Inches = (F(29, 8), F(75, 8))  # 3/4 + 2 x 3/16 + 2 x 1 1/4 = 3 5/8; 7 7/8 + 1 1/2 = 9 3/8
E2_SIDE_PAPER_IN: Inches = (F(37, 8), F(75, 8))  # 5 - 1 1/4 + 7/8 = 4 5/8
# E3: University of Brighton, book-arts worksheets, hard cover with a stiff spine piece
E3_PAGE_MM: Mm = (148, 210)
E3_BLOCK_MM, E3_BOARD_THICKNESS_MM, E3_GAP_MM = 15.0, 2.0, 8.0
E3_BOARD_MM: Mm = (146, 216)  # 148 - 2; 210 + 6
E3_SPINE_PIECE_MM: Mm = (19, 216)  # 15 + 2 x 2
E3_FLAT_CASE_MM: Mm = (327, 216)  # 146 + 8 + 19 + 8 + 146
# E4: University of Brighton, book-arts worksheets (the source's own numbers)
E4_JOINT_BOARD_MOVEMENT_MM, E4_GAP_MM = (5.0, 2.0, 1.0), 8.0
# E5: F. O. Bean and J. C. Brodhead, Bookbinding for Beginners, 1914 and 2nd ed. 1918, Problem II: flat board
E5_BOARD_IN: Inches = (F(4), F(6))
E5_COVERING_IN: Inches = (F(5), F(7))  # 1/2 in larger on each side
E5_LINING_LEAST_IN: Inches = (F(15, 4), F(23, 4))  # 1/8 in smaller on each side
E5_LINING_MOST_IN: Inches = (F(31, 8), F(47, 8))  # 1/16 in smaller on each side
# E6, E7: P. Adam, Practical Bookbinding, 1903, ch. VI: whole cloth 1 to 1 1/2 cm larger all round; half cloth strip
E6_LAID_OUT_MM: Mm = (280, 200)
E6_COVERING_MM: tuple[Mm, Mm] = ((300, 220), (310, 230))
E7_SPINE_PIECE_MM: Mm = (20, 200)
E7_STRIP_WIDTH_MM, E7_STRIP_LENGTHS_MM = 60.0, (220.0, 225.0)
# E8: Indiana University Libraries, Book Repair Manual; Conservation Book Repair (Alaska State Library, 1995);
# Dorset History Centre, archive conservator's notes, 2020
E8_HEIGHT_IN = F(17, 2)
E8_INDIANA_IN, E8_ALASKA_IN, E8_DORSET_IN = F(85, 4), (F(21), F(23)), F(51, 2)
# E9: F. O. Bean and J. C. Brodhead, Bookbinding for Beginners: three tapes, kettle stitches 1/2 in from each end
E9_FOLD_IN, E9_TAPE_IN, E9_OUTER_TAPE_IN, E9_KETTLE_IN = F(8), F(1, 2), F(5, 4), F(1, 2)
E9_HOLES_IN = (F(1, 2), F(1), F(3, 2), F(15, 4), F(17, 4), F(13, 2), F(7), F(15, 2))
# E10: F. O. Bean and J. C. Brodhead, the same: two holes at 1/5 to 1/6 of the hinge strip's length from its ends
E10_STRIP_IN: Inches = (F(1), F(6))
E10_FROM_ENDS_IN, E10_FROM_EDGE_IN = (F(1), F(6, 5)), F(1, 2)
# E11: printing-trade explanation of creep (the source's caliper): nested sheets, innermost beyond outermost, in
E11_CREEP_IN = {2: 0.005, 4: 0.015, 8: 0.035, 16: 0.075}
# E12: PrintWiki, "Grammage" (the source's numbers), g/m2
E12_WEIGHT, E12_G_M2 = "20 lb bond", 75.2
# E13: press maker's paper guide 701P28020, p. A-2 (the source's factors), g/m2
E13_WEIGHT, E13_G_M2 = "65 lb cover", 175.8
# E14: paper maker's note (the source's numbers)
E14_MIL, E14_SHEETS_PER_INCH = 4.0, 250
# E15: own geometry from S. J. Vaughn, 1912/1919 (turn-in, clearance) and University of Brighton, corner worksheet
E15_TURN_IN_MM, E15_MITRE_MM, E15_LEG_MM = 15.0, 3.0, 25.757  # 2 x 15 - 3 x 1.41421 = 25.757

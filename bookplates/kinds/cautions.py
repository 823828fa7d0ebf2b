"""Cautions, to stand beside the step where the danger is. Local rules and trained people always come first."""

from __future__ import annotations

KNIFE = (
    "Knife: a fresh blade, a metal safety rule, several light strokes, the other hand behind the blade; "
    "used blades go into a sharps tin. Your local rules and trained people come first."
)
KNIFE_AGAIN = (
    "Knife: light strokes along a metal safety rule, the other hand behind the blade. Local rules and trained people come first."
)
"""For small pieces, and for steps after the one that says it in full."""
CLASS_KNIFE = "Boards for a class are cut by an adult, or with a guillotine or shear by someone trained on it."
AWL = (
    "Awl: never push it towards a hand; work in a cradle or on foam; cork on the point whenever it is down. "
    "Your local rules and trained people come first."
)
AWL_CLAMPED = (
    "Awl: never push it towards a hand; keep your hands off the clamped work below it; cork on the point whenever it is down. "
    "Your local rules and trained people come first."
)
"""For work that is clamped on the table."""
AWL_AGAIN = "Awl: never towards a hand; cork on the point whenever it is down."
DRILL = "Drill: clamp the work on a waste board, goggles on, hair and sleeves tied back; someone trained on it does it."
NEEDLE = (
    "Needle: pull away from faces. Count needles out and in. Use pliers for a stuck one. "
    "Never wrap the thread round your fingers to pull it."
)
GLUE = "Adhesive: fresh air, no spray in a class; follow the maker's safety sheet and local rules; wash your hands."
GLUE_AGAIN = "Adhesive: fresh air; follow the maker's safety sheet; wash your hands."
WEIGHT = "Weights: keep them away from the edge of the table."
TAPE = "Tape: it grips at once; lay it where you can see both edges. Slit its backing paper only, away from your hand."

"""Words that flow down columns: what is above a heading, whether it begins a column or not."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import pytest

from bookplates.geometry import Size
from bookplates.plates.drawing import Label
from bookplates.plates.flow import Entry, columns, heading, pages, paragraph

PAGE = Size(200.0, 120.0)
WIDE = columns(PAGE)[1]


def levelled(chapters: Sequence[int]) -> list[list[Label]]:
    """The words of each column of a page from the top, with so many chapters, each with so many lines."""
    entries: list[Entry] = []
    for lines in chapters:
        entries += [*heading("Head", WIDE), *(line for _ in range(lines) for line in paragraph("words", WIDE))]
    (page,) = pages(entries, PAGE, level=True)
    labels = sorted((item for item in page if isinstance(item, Label)), key=lambda label: -label.at[1])
    return [[label for label in labels if label.at[0] == x] for x in sorted({label.at[0] for label in labels})]


# In some a chapter begins the second column until the columns are levelled, and then stands below another
@pytest.mark.parametrize("chapters", [[2, 3, 4], [14, 1, 8, 15], [7, 14, 2, 16], [16, 8, 3, 2, 3], [4, 9, 3, 5, 3]])
def test_every_heading_below_words_has_the_same_room_above_it(chapters: list[int]) -> None:
    found = levelled(chapters)
    rooms = [round(above.at[1] - head.at[1], 6) for column in found for above, head in pairwise(column) if head.text == "Head"]
    assert len(rooms) >= len(chapters) - 2
    assert len(set(rooms)) == 1


def test_columns_that_begin_with_a_heading_begin_equally_high() -> None:
    left, right = levelled([7, 6])
    assert left[0].text == right[0].text == "Head"
    assert left[0].at[1] == pytest.approx(right[0].at[1])

"""The timetable for whoever teaches: what to make ready, what each meeting does, with boxes to tick."""

from __future__ import annotations

from collections.abc import Iterator

from bookplates.book.record import Plan
from bookplates.handout.timetable import Meeting, Task, class_meetings, hours, timetable, total
from bookplates.papers.printing import PageSetup
from bookplates.plates.drawing import Drawing
from bookplates.plates.flow import Entry, heading, paragraph, shifted, whole_pages
from bookplates.plates.flow import cells as side_by_side
from bookplates.plates.flow import pages as flowing
from bookplates.plates.shopping_list import BOX, IN, box_to_tick, for_whom
from bookplates.workshop.table import Table

PLATE = "timetable"
SHARES = (0.07, 0.32, 0.13, 0.48)
"""Of the width: the step's number, its title, its minutes, and notes."""


def draw(plan: Plan, table: Table, setup: PageSetup) -> tuple[Drawing, ...]:
    """As many whole pages as it takes, one column as wide as the page."""
    page = setup.room.size
    return whole_pages(PLATE, flowing(_entries(plan, table, page.width), page, single=True), page)


def _entries(plan: Plan, table: Table, wide: float) -> Iterator[Entry]:
    meetings = timetable(plan, table)
    yield from heading("Timetable", wide)
    yield from paragraph(for_whom(plan, table), wide)
    yield from paragraph(_together(meetings), wide)
    for meeting in meetings:
        yield from heading(f"{meeting.title}: {hours(meeting.minutes)}", wide)
        yield from _cells(("step", "what is done", "minutes", "to know"), wide, bold=True)
        for task in meeting.tasks:
            yield from _cells(_told(task), wide)


def _together(meetings: tuple[Meeting, ...]) -> str:
    often = class_meetings(meetings)
    times = "once" if often == 1 else f"{often} times, on different days"
    return (
        f"The class meets {times}: {hours(total(meetings, ahead=False))} in all. Beforehand and between: "
        f"{hours(total(meetings, ahead=True))} for whoever prepares. The minutes are common practice: you know your class. "
        "Make one book yourself first: it shows what takes long, and its measured block gives the cover its true size."
    )


def _told(task: Task) -> tuple[str, str, str, str]:
    night = "Lies under a weight till another day." if task.overnight else ""
    return str(task.number or "–"), task.title, str(task.minutes), " ".join(filter(None, (task.note, night)))


def _cells(texts: tuple[str, ...], wide: float, *, bold: bool = False) -> Iterator[Entry]:
    """Texts in their shares of the width, a box to tick before each row that is no head."""
    for entry in side_by_side(texts, SHARES, wide - IN, bold=bold):
        box = () if bold else (box_to_tick(0.0, -BOX),)
        yield Entry((*box, *shifted(entry.items, IN, 0.0)), max(entry.height, BOX) + 0.5, with_next=entry.with_next)

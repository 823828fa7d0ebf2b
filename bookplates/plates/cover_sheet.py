"""What lies on top of a student's pages: whose they are, what book they make, and which pages there are.

And what lies on top of the teacher's: who is in the class. Nothing on either is at true scale.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from bookplates.book.record import Plan
from bookplates.geometry import Size
from bookplates.handout.facts import chapters
from bookplates.lengths import fits
from bookplates.letters import shortened, width
from bookplates.papers.printing import PageSetup
from bookplates.plates.drawing import Drawing, Item, Label, Stroke
from bookplates.plates.flow import Entry, action, cells, columns, heading, kept, pages, row, whole_pages
from bookplates.plates.marks import LEADING, NORMAL, TITLE, lines
from bookplates.plates.pad import ASCENT

PLATE = "cover sheet"
CLASS_LIST = "class list"

NAME_SIZES = ((16.0, 1), (14.0, 1), (12.0, 1), (10.0, 2), (8.0, 2), (6.5, 3), (5.0, 4), (4.0, 5))
"""Sizes of the letters of a name, mm, and how many lines it may take in them."""

WRITTEN_BY_HAND = 16.0
"""Room above the line for a name, mm."""

ABOVE_NAME, BELOW_NAME = 2.0, 5.0
CLASS_SIZE = 4.5

MOST_ROWS = 40
"""More pages than this are not listed one by one."""

SIZES = frozenset(
    {
        *("leaf", "leaves, pages", "folded sheets (folios)", "sections", "panels", "thickness", "board width", "board height"),
        *("open width", "open height", "tape width", "stations", "holes", "thread to cut, at least"),
    }
)
"""What of all the sizes tells one student's book from another's."""

PAGE_SHARES = (0.22, 0.78)
STUDENT_SHARES = (0.06, 0.6, 0.34)


@dataclass(frozen=True, slots=True)
class Whose:
    """A student, as the pages say it.

    Attributes:
        name: in letters that can be printed; None where it is left to be written.
        number: in the class, `of` how many.
        lesson: title of the class.
        date: when it meets, or empty.
    """

    name: str | None
    number: int
    of: int
    lesson: str
    date: str = ""

    @property
    def called(self) -> str:
        """What stands in the title block."""
        return self.name or f"student {self.number}"


@dataclass(frozen=True, slots=True)
class Listed:
    """Pages of a pack that show the same: which they are, in words, and what they show."""

    pages: str
    title: str


def draw(plan: Plan, whose: Whose, listed: Sequence[Listed], count: int, setup: PageSetup) -> tuple[Drawing, ...]:
    """The sheet, on more than one page only where the printer's paper is small.

    Args:
        plan: of the student's book.
        whose: the student.
        listed: what follows.
        count: how many pages the pack has, this one among them.
        setup: the page.
    """
    page = setup.room.size
    head, taken = _head(plan, whose, page)
    column = columns(page)[1]
    entries = (*_first(plan, listed, count, column), *_follows(listed, column), *_sizes(plan, column))
    return whole_pages(PLATE, _under(head, pages(entries, page, (taken,), level=True)), page)


def draw_list(plan: Plan, lesson: str, date: str, students: Sequence[tuple[str, str]], setup: PageSetup) -> tuple[Drawing, ...]:
    """Who is in the class, with room to tick off what was handed out: for the teacher.

    Args:
        plan: of the book.
        lesson: title of the class.
        date: when it meets, or empty.
        students: what each is called, and where the pages are: in this PDF, or in a file of their own.
        setup: the page.
    """
    page = setup.room.size
    head, taken = _of_class(lesson, date, page)
    column = columns(page)[1]
    found = tuple(_students(plan, lesson, students, column))
    return whole_pages(CLASS_LIST, _under(head, pages(found, page, (taken,))), page)


def _under(head: tuple[Item, ...], contents: Iterator[tuple[Item, ...]]) -> Iterator[tuple[Item, ...]]:
    """The head at the top of the first page."""
    for number, items in enumerate(contents):
        yield (*(() if number else head), *items)


def _head(plan: Plan, whose: Whose, page: Size) -> tuple[tuple[Item, ...], float]:
    """Class and date, the name, the student's number and the book; and the height they take, mm."""
    items, taken = _of_class(whose.lesson, whose.date, page)
    name, taken = _name(whose.name, page, taken + ABOVE_NAME)
    rule = page.height - taken
    line = Stroke(((0.0, rule), (page.width, rule)), "medium")
    book = () if whose.lesson == plan.title else (plan.title,)
    below, taken = _headed(" · ".join((f"student {whose.number} of {whose.of}", *book)), CLASS_SIZE, page, taken + 1.5)
    return (*items, *name, line, *below), taken + 1.0


def _of_class(lesson: str, date: str, page: Size) -> tuple[tuple[Item, ...], float]:
    title, taken = _headed(lesson, CLASS_SIZE, page, 0.0)
    when, taken = _headed(date, TITLE, page, taken) if date else ((), taken)
    return (*title, *when), taken + 1.0


def _headed(text: str, size: float, page: Size, taken: float) -> tuple[tuple[Item, ...], float]:
    """A bold line, or two where it is long; and what is taken of the page with it, mm."""
    wrapped = lines(text, size, page.width, True)
    if len(wrapped) > 2:
        wrapped = (wrapped[0], shortened(" ".join(wrapped[1:]), size, page.width, True))
    tops = [page.height - taken - n * LEADING * size for n in range(len(wrapped))]
    labels = (Label(t, (0.0, y - ASCENT * size), size, bold=True) for t, y in zip(wrapped, tops, strict=True))
    return tuple(labels), taken + len(wrapped) * LEADING * size


def _name(name: str | None, page: Size, taken: float) -> tuple[tuple[Item, ...], float]:
    """The name as large as the page's width takes it, or a line to write it on."""
    top = page.height - taken
    if name is None:
        line = Stroke(((16.0, top - WRITTEN_BY_HAND), (page.width, top - WRITTEN_BY_HAND)), "thin")
        caption = Label("name", (0.0, top - WRITTEN_BY_HAND), TITLE)
        return (caption, line), taken + WRITTEN_BY_HAND + BELOW_NAME
    size, wrapped = _fitted(name, page.width)
    tops = [top - n * LEADING * size for n in range(len(wrapped))]
    labels = (Label(text, (0.0, y - ASCENT * size), size, bold=True) for text, y in zip(wrapped, tops, strict=True))
    return tuple(labels), taken + len(wrapped) * LEADING * size + BELOW_NAME / 2


def _fitted(name: str, room: float) -> tuple[float, tuple[str, ...]]:
    """The largest letters in which the name takes no more lines than it may; the rest of a longer one is left out."""
    for size, most in NAME_SIZES:
        if most == 1 and not fits(width(name, size, True), room):
            continue
        wrapped = lines(name, size, room, True)
        if len(wrapped) <= most:
            return size, wrapped
    size, most = NAME_SIZES[-1]
    wrapped = lines(name, size, room, True)
    return size, (*wrapped[: most - 1], shortened(" ".join(wrapped[most - 1 :]), size, room, True))


def _sizes(plan: Plan, column: float) -> Iterator[Entry]:
    yield from heading("Your book", column)
    yield from kept(_key_sizes(plan, column))


def _key_sizes(plan: Plan, column: float) -> Iterator[Entry]:
    yield from row("cover", plan.cover.style, column)
    if plan.sewing.path.legs:
        yield from row("sewing", plan.sewing.called, column)
    for fact in (fact for chapter in chapters(plan) for fact in chapter.facts):
        if fact.name in SIZES:
            yield from row(fact.name, fact.value, column)


def _follows(listed: Sequence[Listed], column: float) -> Iterator[Entry]:
    """The pages that follow, in the order in which they lie."""
    yield from heading("What follows", column)
    yield from kept(_pages(listed, column))


def _pages(listed: Sequence[Listed], column: float) -> Iterator[Entry]:
    shown, rest = listed[:MOST_ROWS], listed[MOST_ROWS:]
    yield from cells(("page", "what it shows"), PAGE_SHARES, column, bold=True)
    for one in shown:
        yield from cells((one.pages, one.title), PAGE_SHARES, column)
    if rest:
        yield from cells(("more", f"and so on, to page {rest[-1].pages.rpartition('-')[2]}"), PAGE_SHARES, column)


def _first(plan: Plan, listed: Sequence[Listed], count: int, column: float) -> Iterator[Entry]:
    """What to do before anything is cut."""
    yield from heading("Before you begin", column)
    yield from kept(entry for sentence in _told(plan, listed, count) for entry in action("–", sentence, column))


def _told(plan: Plan, listed: Sequence[Listed], count: int) -> Iterator[str]:
    yield f"Put all pages in this order: there are {count}, this one is the first."
    yield "See that your name, or your number, stands at the foot of every page."
    yield "Lay a ruler on both 100 mm bars of the scale page. If one reads anything else, ask for a new print."
    steps = next((one.pages for one in listed if "steps" in one.title.split("; ")), "")
    if steps:
        yield f"Then begin with step 1: the steps are on page{'s' if '-' in steps else ''} {steps}."
    yield "Do not cut this page. Keep it on top until the book is done."
    if plan.layouts:
        yield "Write your number on the back of every piece as soon as it is cut."


def _students(plan: Plan, lesson: str, students: Sequence[tuple[str, str]], column: float) -> Iterator[Entry]:
    """A row for each student, with a box to tick."""
    if lesson != plan.title:
        yield from heading(plan.title, column)
    apart = any(where.endswith(".pdf") for _, where in students)
    yield from cells(("", "student", "file" if apart else "pages of the PDF"), STUDENT_SHARES, column, bold=True)
    for number, (name, where) in enumerate(students, 1):
        nameless = name == f"student {number}"
        for entry in cells(("", f"{number}  {'' if nameless else name}", where), STUDENT_SHARES, column):
            line, more = (_to_write_on(column), 3.0) if nameless else ((), 0.6)
            yield Entry((*entry.items, *_box(), *line), entry.height + more)


def _to_write_on(column: float) -> tuple[Item, ...]:
    """A line for the name of a student of whom only the number is known."""
    before, wide, _ = (share * column for share in STUDENT_SHARES)
    low = -ASCENT * NORMAL - 0.4
    return (Stroke(((before + 6.0, low), (before + wide - 3.0, low)), "thin"),)


def _box() -> tuple[Item, ...]:
    """A box to tick, at the left of a row."""
    low, side = -ASCENT * NORMAL, 2.2
    return (Stroke(((0.0, low), (side, low), (side, low + side), (0.0, low + side)), "thin", closed=True),)

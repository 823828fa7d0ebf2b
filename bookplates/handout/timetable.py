"""When which step is done: what a teacher makes ready beforehand, what the class does, and where something must dry.

Every number of minutes here is common practice, no source: a learner's pace, rounded up to five. A teacher knows better.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from bookplates.book.record import Plan
from bookplates.handout.steps import Step, steps
from bookplates.workshop.cutting.order import steps as cuts_of
from bookplates.workshop.table import Table

IN_CLASS = 1.5
"""How much longer a class takes over a step than one learner who is shown it: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Pace:
    """How long the work of a step takes, minutes.

    Attributes:
        learner: for one book, made by a learner.
        ahead: for one book, where a teacher does it beforehand for all in one go; None where it is done in class.
        note: what of it can be made ready although it is done in class, or who does it.
        of: what it belongs to: the "block", the "cover", or "both" once they come together.
    """

    learner: float
    ahead: float | None = None
    note: str = ""
    of: str = "both"


ADULT = "Adult only: knife, guillotine or shear."
PACES: dict[str, Pace] = {
    "check": Pace(5, 1, "Print the packs, and check the bars with a ruler."),
    "": Pace(10, 2, "Lay out paper, boards and tools for each place."),
    "fold": Pace(25, None, "Sheets can be cut to size beforehand; folding is for the class.", "block"),
    "cut strips": Pace(15, 5, ADULT, "block"),
    "fold strips": Pace(20, None, "", "block"),
    "join strips": Pace(15, None, "", "block"),
    "nest": Pace(10, None, "", "block"),
    "stack leaves": Pace(10, None, "", "block"),
    "clamp": Pace(5, 3, "Adult, or someone trained.", "block"),
    "drill": Pace(10, 6, "Adult, or someone trained.", "block"),
    "trim": Pace(10, 3, ADULT, "block"),
    "measure": Pace(5, None, "Measure one book, made ahead of all others: the covers can then be cut beforehand.", "block"),
    "pierce": Pace(15, None, "For young ones an adult pierces beforehand.", "block"),
    "gauges": Pace(15, 1, "One set serves a table.", "cover"),
    "spacers": Pace(10, 1, "One pair serves a table.", "cover"),
    "cut boards": Pace(20, 5, ADULT, "cover"),
    "glue covering": Pace(25, None, "The coverings can be cut to size beforehand.", "cover"),
    "turn-in strips": Pace(15, None, "The strips can be cut to size beforehand.", "cover"),
    "turn in": Pace(20, None, "", "cover"),
    "hinge boards": Pace(25, None, "The coverings can be cut to size beforehand.", "cover"),
    "hinge inside": Pace(15, None, "The inner strips can be cut to size beforehand.", "cover"),
    "line boards": Pace(20, None, "The linings can be cut to size beforehand.", "cover"),
    "lay out case": Pace(25, None, "The coverings can be cut to size beforehand.", "cover"),
    "cloth spine": Pace(25, None, "The spine cloth can be cut to size beforehand.", "cover"),
    "corners": Pace(20, None, "The corners can be cut beforehand.", "cover"),
    "side papers": Pace(25, None, "The side papers can be cut to size beforehand.", "cover"),
    "turn in case": Pace(20, None, "", "cover"),
    "score card": Pace(15, 5, "The card can be cut and scored beforehand.", "cover"),
    "fold wrapper": Pace(10, None, "", "cover"),
    "flaps": Pace(5, None, "", "cover"),
    "pierce boards": Pace(15, None, "For young ones an adult pierces beforehand.", "cover"),
    "set boards": Pace(15),
    "lay tape": Pace(15, None, "The tape can be cut to length beforehand."),
    "pierce cover": Pace(10, None, "For young ones an adult pierces beforehand."),
    "lay covers": Pace(5),
    "thread": Pace(10, None, "The thread can be cut to length beforehand."),
    "sew": Pace(10),
    "tip endpapers": Pace(10, None, "The endpapers can be cut and folded beforehand.", "block"),
    "glue spine": Pace(10),
    "super": Pace(10, None, "The super can be cut to size beforehand."),
    "case in": Pace(15),
    "paste ends": Pace(15),
    "press": Pace(5),
}
"""By the picture of the step: the stage of the work. Of sewing, what it takes beside its stitches."""

SINGLE = "The leaves can be cut to size beforehand."
"""What is said of leaves that are not folded."""

A_CUT = 0.5
"""Minutes for a cut by the cutting plan, the stop and the piling included."""
BY_STEPS = ("board", "text paper")
"""What the steps have a time of its own for."""

UNKNOWN = Pace(15)
A_STITCH = 0.75
"""Minutes a learner takes for a leg of the thread."""


@dataclass(frozen=True, slots=True)
class Task:
    """A step with its time.

    Attributes:
        number: of the step in the handout; None for what is no step of a student's.
        title: of the step.
        minutes: for all books beforehand, or of the class together.
        note: what can be made ready, or who does it.
        overnight: whether what is done has to lie under a weight till another day.
    """

    number: int | None
    title: str
    minutes: int
    note: str
    overnight: bool


@dataclass(frozen=True, slots=True)
class Meeting:
    """Tasks that are done together; `minutes` is their sum."""

    title: str
    tasks: tuple[Task, ...]
    ahead: bool

    @property
    def minutes(self) -> int:
        """How long they take together."""
        return sum(task.minutes for task in self.tasks)


def timetable(plan: Plan, table: Table) -> tuple[Meeting, ...]:
    """All steps, sorted into what is done beforehand, in each meeting, and between meetings."""
    found: dict[tuple[int, bool], list[Task]] = {}
    for meeting, ahead, task in _sorted(plan, table):
        found.setdefault((meeting, ahead), []).append(task)
    found.setdefault((1, True), []).extend(_cutting(table))
    last = max(meeting for meeting, _ in found)
    return tuple(
        Meeting(_title(meeting, last, ahead=ahead), tuple(found[meeting, ahead]), ahead)
        for meeting, ahead in sorted(found, key=lambda key: (key[0], not key[1]))
    )


def _title(meeting: int, last: int, *, ahead: bool) -> str:
    if ahead:
        return "Beforehand, by the teacher" if meeting == 1 else f"Before meeting {meeting}, by the teacher"
    return f"Meeting {meeting}" if last > 1 else "The meeting"


def _sorted(plan: Plan, table: Table) -> Iterator[tuple[int, bool, Task]]:
    """Each step with its meeting: after a night under a weight, what hangs on it waits for the next.

    What belongs to both the block and the cover waits for both; before any work on the cover, that is the block alone.
    """
    next_of = {"block": 1}
    for number, step in enumerate(steps(plan), 1):
        pace = PACES.get(step.picture, UNKNOWN)
        over = overnight(step)
        tracks = tuple(next_of) if pace.of == "both" else (pace.of,)
        meeting = max(next_of.get(track, 1) for track in tracks)
        task = Task(number, step.title, _minutes(plan, table, step, pace), _note(plan, step, pace), over)
        yield meeting, pace.ahead is not None, task
        next_of.update(dict.fromkeys(tracks, meeting + over))


def _note(plan: Plan, step: Step, pace: Pace) -> str:
    return SINGLE if step.picture == "fold" and plan.text_block.gathered == "single leaves" else pace.note


def _cutting(table: Table) -> Iterator[Task]:
    """Paper, cloth and card cut to size for the whole class by the cutting plans: a step of nobody's but the teacher's."""
    cut = [cuts for cuts in table.materials if cuts.sheets and cuts.material not in BY_STEPS]
    made = sum(way.times * len(cuts_of(way.tree, one.blade)) for cuts in cut for one in cuts.sheets for way in one.ways)
    if made and table.books > 1:
        names = ", ".join(cuts.material for cuts in cut)
        note = f"{names[:1].upper()}{names[1:]}. Or the class cuts them, as the steps say."
        yield Task(None, "Cut by the cutting plans", _up(A_CUT * made), note, overnight=False)


_NIGHT = re.compile(r"\bovernight\b|\bfor a day\b")


def overnight(step: Step) -> bool:
    """Whether what is done in a step lies till another day."""
    return any(_NIGHT.search(sentence) for sentence in step.sentences)


def _minutes(plan: Plan, table: Table, step: Step, pace: Pace) -> int:
    if pace.ahead is not None:
        return _up(pace.ahead * (table.books + table.spare))
    alone = pace.learner + (A_STITCH * len(plan.sewing.path.legs) if step.picture == "sew" else 0.0)
    if step.picture == "pierce":
        alone += 3 * (plan.text_block.sections - 1)
    return _up(alone * (IN_CLASS if table.books > 1 else 1.0))


def _up(minutes: float) -> int:
    """Up to the next five."""
    return math.ceil(minutes / 5 - 1e-9) * 5


def hours(minutes: int) -> str:
    """A time as people say it.

    >>> hours(45), hours(120), hours(135)
    ('45 min', '2 h', '2 h 15 min')
    """
    whole, rest = divmod(minutes, 60)
    return " ".join(filter(None, (f"{whole} h" if whole else "", f"{rest} min" if rest or not whole else "")))


def total(meetings: Iterable[Meeting], *, ahead: bool) -> int:
    """Minutes of all meetings, or of all that is done ahead of them."""
    return sum(meeting.minutes for meeting in meetings if meeting.ahead == ahead)


def class_meetings(meetings: Sequence[Meeting]) -> int:
    """How often the class meets."""
    return sum(not meeting.ahead for meeting in meetings)

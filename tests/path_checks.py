"""What holds of any sewing, whatever its pattern: `faults` lists, in words, what does not.

It reads nothing but legs and points, so that it can be put to a path drawn by hand as well as to a plan's.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from bookplates.kinds.seam import Seam
from bookplates.kinds.thread import OTHER, Leg, Place, ThreadPath

HAIR = 1e-6
"""Lengths shorter by no more than this are not too short, mm."""

STAYS = ("loop", "link", "hitch", "knot", "end")
"""What is done where the thread is."""


def faults(path: ThreadPath, seam: Seam, sections: int, *, boards: bool = False) -> list[str]:
    """What is wrong with a path, one sentence a fault; none where it can be sewn.

    Args:
        path: leg after leg.
        seam: its stations, or its holes where it goes through the side.
        sections: how many are sewn; 1 for a book sewn through its side.
        boards: whether a board before the first section and one after the last are sewn on.
    """
    if not path.legs:
        return ["there is no thread"]
    where = points(seam)
    used = range(sections + 2) if boards else range(1, sections + 1)
    on_boards = (0, sections + 1) if boards else ()
    return [
        *_joins(path),
        *(fault for n, leg in enumerate(path.legs) for fault in _of_leg(n, leg, where, on_boards)),
        *_nothing_between(path),
        *_links(path),
        *_places(path, seam, used, len(where)),
        *_ends(path, seam),
        *_steps(path),
    ]


def points(seam: Seam) -> tuple[tuple[float, float], ...]:
    """Where each station or hole lies: from the spine edge, and from the head, mm."""
    return tuple(seam.holes) or tuple((0.0, station) for station in seam.stations)


def _joins(path: ThreadPath) -> Iterator[str]:
    for n, (before, after) in enumerate(pairwise(path.legs), 1):
        if before.end != after.start:
            yield f"leg {n} starts at {after.start}, where leg {n - 1} did not end: {before.end}"


def _of_leg(n: int, leg: Leg, where: tuple[tuple[float, float], ...], boards: tuple[int, ...]) -> Iterator[str]:
    known = range(1, len(where) + 1)
    if leg.start.station not in known or leg.end.station not in known:
        yield f"leg {n} goes where there is no station: {leg}"
        return
    if leg.deed == "climb":
        shape = _is_climb(leg, boards)
    else:
        shape = {"pass": _is_pass, "run": _is_run, "wrap": _is_wrap, "link": _is_link}.get(leg.deed, _is_stay)(leg)
    if shape:
        yield f"leg {n}, a {leg.deed}, {shape}: {leg}"
    if leg.length < _straight(leg, where) - HAIR or (leg.length <= 0 and leg.deed != "end"):
        yield f"leg {n}, a {leg.deed}, is {leg.length} mm long, less than the straight way"
    if (leg.through > 0) != (leg.deed == "pass"):
        yield f"leg {n}, a {leg.deed}, goes through {leg.through} mm"
    if (leg.edge != "") != (leg.deed == "wrap"):
        yield f"leg {n}, a {leg.deed}, goes round {leg.edge or 'no edge'}"


def _is_pass(leg: Leg) -> str:
    stays = (leg.start.station, leg.start.section) == (leg.end.station, leg.end.section)
    return "" if stays and leg.end.side == OTHER[leg.start.side] else "does not change side at one hole"


def _is_run(leg: Leg) -> str:
    if (leg.start.side, leg.start.section) != (leg.end.side, leg.end.section):
        return "leaves its side or section"
    return "goes nowhere" if leg.start.station == leg.end.station else ""


def _is_climb(leg: Leg, boards: tuple[int, ...]) -> str:
    """Outside; a board's inside lies against the section, and the thread comes from there to the fold's outside, too."""
    if any(place.side != "outside" and place.section not in boards for place in (leg.start, leg.end)):
        return "is not outside"
    if leg.start.station != leg.end.station:
        return "leaves its station"
    return "stays at its section" if leg.start.section == leg.end.section else ""


def _is_wrap(leg: Leg) -> str:
    return _is_pass(leg)


def _is_link(leg: Leg) -> str:
    """Where it is; or on to another station, like a run, if it goes round another section's stitch on the way."""
    if leg.start == leg.end:
        return ""
    return _is_run(leg) or ("" if leg.linked not in (None, leg.start.section) else "goes on without another's stitch")


def _is_stay(leg: Leg) -> str:
    return "" if leg.deed in STAYS and leg.start == leg.end else "does not stay where it is"


def _straight(leg: Leg, where: tuple[tuple[float, float], ...]) -> float:
    """The least a leg can be, mm; 0 where the path does not say."""
    start, end = where[leg.start.station - 1], where[leg.end.station - 1]
    if leg.deed == "wrap":
        return {"spine": 2 * start[0], "head": 2 * start[1]}.get(leg.edge, 0.0)
    return leg.through if leg.deed == "pass" else math.dist(start, end)


def _nothing_between(path: ThreadPath) -> Iterator[str]:
    """A thread drawn straight back comes out again: so do a pass after a pass, and a run back along a run."""
    for n, (before, after) in enumerate(pairwise(path.legs), 1):
        if before.deed == after.deed == "pass":
            yield f"leg {n} passes straight back through hole {after.start.station}"
        if before.deed == after.deed == "run" and before.start == after.end:
            yield f"leg {n} runs back to station {after.end.station} with nothing to hold it"


def _links(path: ThreadPath) -> Iterator[str]:
    """A link goes round a stitch that is there, other than the stretch the needle has just come by.

    So does a hitch or a knot at another section. A link on the way to another station goes round a stitch between the two.
    """
    there: set[Place] = set()
    stretches: set[frozenset[Place]] = set()
    for n, (before, leg) in enumerate(zip((None, *path.legs), path.legs, strict=False)):
        section = leg.start.section if leg.linked is None else leg.linked
        ends = [Place(end.station, end.side, section) for end in (leg.start, leg.end)]
        around = leg.deed == "link" or leg.linked not in (None, leg.start.section)
        if around and not (ends[0] in there if leg.start == leg.end else frozenset(ends) in stretches):
            yield f"leg {n}, a {leg.deed}, goes round a stitch that is not there: {ends[0]}"
        if before:
            there |= {before.start, before.end}
            stretches.add(frozenset((before.start, before.end)))


def _places(path: ThreadPath, seam: Seam, sections: range, holes: int) -> Iterator[str]:
    """Every hole of every section is used, and no other; a fold has an inside and an outside, a side front and back."""
    sides = {"front", "back"} if seam.holes else {"inside", "outside"}
    reached = {place for leg in path.legs for place in (leg.start, leg.end)}
    if odd := {place.side for place in reached} - sides:
        yield f"the thread is on the {', '.join(sorted(odd))}"
    if beyond := {place.section for place in reached} - set(sections):
        yield f"the thread is at sections that are not there: {sorted(beyond)}"
    passes = path.passes
    for section in sections:
        for station in range(1, holes + 1):
            if not passes[section, station]:
                yield f"hole {station} of section {section} is not used"


def _ends(path: ThreadPath, seam: Seam) -> Iterator[str]:
    """Two free ends, each left where it can be tied.

    Either both lie on the same side of one section, at the same station or at two that follow each other, and are tied to
    each other. Or each is hitched: where it lies, to a stitch that starts or ends there on that side; or where the
    thread comes back to it, on that side at the same station, in its own section or the next.
    """
    if [n for n, leg in enumerate(path.legs) if leg.deed == "end"] != [0, len(path.legs) - 1]:
        yield "the first leg and the last are to be ends, and no other"
        return
    first, last = path.legs[0].start, path.legs[-1].end
    together = (first.side, first.section) == (last.side, last.section) and abs(first.station - last.station) <= 1
    if not together and not (_tied(path.legs, first) and _tied(path.legs[::-1], last)):
        yield f"the ends, at {first} and {last}, cannot be tied"
    if any(abs(leg.length - seam.thread_end) > HAIR for leg in (path.legs[0], path.legs[-1])):
        yield f"an end is not {seam.thread_end} mm long"


def _tied(legs: tuple[Leg, ...], end: Place) -> bool:
    """Whether a hitch holds the end that the first of these legs leaves."""
    stretches = (leg for leg in legs if leg.deed in ("run", "climb", "wrap"))
    where_it_lies = legs[1].deed == "hitch" and any(end in (leg.start, leg.end) for leg in stretches)
    hitches = (leg.start for n, leg in enumerate(legs) if leg.deed == "knot" or (n > 1 and leg.deed == "hitch"))
    beside = any(
        (place.station, place.side) == (end.station, end.side) and abs(place.section - end.section) <= 1 for place in hitches
    )
    return where_it_lies or beside


def _steps(path: ThreadPath) -> Iterator[str]:
    done = [step.legs_done for step in path.steps]
    if not all(before < after for before, after in pairwise([0, *done])):
        yield f"steps that sew nothing, or go back: {done}"
    if not done or done[-1] != len(path.legs):
        yield f"the steps end at leg {done[-1] if done else 0} of {len(path.legs)}"
    yield from _first_tied(path)
    yield from (f"step {n} says nothing" for n, step in enumerate(path.steps, 1) if not step.text.strip())


def _first_tied(path: ThreadPath) -> Iterator[str]:
    """A first end that is hitched where it lies is tied in one step, when the stitch it is tied round has been sewn."""
    ties = [step for step in path.steps if step.ties_first]
    hitched = [leg.deed for leg in path.legs[:2]] == ["end", "hitch"]
    if len(ties) != int(hitched):
        yield f"the first end is tied in {len(ties)} steps"
    for step in ties:
        first = path.legs[0].start
        if not any(first in (leg.start, leg.end) for leg in path.legs[: step.legs_done] if leg.deed == "run"):
            yield f"the first end is tied after leg {step.legs_done}, where there is no stitch yet"

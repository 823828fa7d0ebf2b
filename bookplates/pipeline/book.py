"""A book through the rooms: spec, plan, plates, pages, PDF, and what it measures."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from bookplates.errors import BadSpec, Problem, WrongUse

if TYPE_CHECKING:
    from bookplates.book.record import Plan
    from bookplates.pages.sheets import Pack
    from bookplates.plates.drawing import Drawing
    from bookplates.readback import Measured
    from bookplates.spec.model import Spec
    from bookplates.svg import SvgFile
    from bookplates.verify import Verified


@dataclass(frozen=True, slots=True)
class Wanted:
    """What of a book is asked for.

    Attributes:
        plates: names of plates with commas between, such as "punch guide, tape guide"; None for all.
        pages: of the pack, numbers and ranges, such as "2-4,7"; None for all.
        svg: whether each plate at true scale is wanted as SVG, too.
    """

    plates: str | None = None
    pages: str | None = None
    svg: bool = False


EVERYTHING = Wanted()


@dataclass(frozen=True, slots=True)
class Made:
    """A pack, and what it was checked against.

    Attributes:
        pdf: the bytes of the document.
        plan: what it shows.
        verified: what measuring it found.
        pages: how many pages it has.
        excerpt: which part of the whole pack it is, in words; empty where it is all of it.
        on_larger: which pages are printed on larger paper, and on which, in words; empty where none are.
        svg: the plates at true scale, where they were asked for.
        warnings: those of the plan, and of stock that it does not go on, or that is too little.
    """

    pdf: bytes
    plan: Plan
    verified: Verified
    pages: int
    excerpt: str = ""
    on_larger: str = ""
    svg: tuple[SvgFile, ...] = ()
    warnings: tuple[Problem, ...] = ()


def checked_spec(source: str | bytes, *, for_printing: bool, folder: Path | None = None, lettering: bool = True) -> Spec:
    """A spec without fault. Raises BadSpec with every problem that can be told."""
    from bookplates.book.plan import problems_beyond
    from bookplates.spec.read import read_spec

    text = source.encode(errors="surrogatepass") if isinstance(source, str) else source
    reading = read_spec(text, for_printing=for_printing, folder=folder, lettering=lettering)
    if reading.spec is not None and not reading.problems:
        return reading.spec
    beyond = problems_beyond(reading.spec, reading.lost) if reading.spec is not None else ()
    raise BadSpec(*dict.fromkeys([*reading.problems, *beyond]))


def plan(source: str | bytes, folder: Path | None = None) -> Plan:
    """Work a book out from the text of its spec.

    Args:
        source: TOML, as text or UTF-8 bytes.
        folder: where the spec stands, for the font that it may name; None where that is not known.

    Returns:
        Every size in mm, with the warnings. What is wrong with [print] is only warned of.

    Raises:
        BadSpec: with every problem found, each with its key.
    """
    from bookplates.book.plan import plan as work_out

    return work_out(checked_spec(source, for_printing=False, folder=folder))


def make_pack(source: str | bytes, wanted: Wanted = EVERYTHING, folder: Path | None = None) -> Made:
    """Make the templates of a book, and measure them.

    Args:
        source: the spec, TOML as text or UTF-8 bytes.
        wanted: which plates and pages, and whether as SVG, too.
        folder: where the spec stands, for the font that it may name; None where that is not known.

    Raises:
        BadSpec: with every problem found, each with its key.
        BadFile: the fonts are not installed.
        PaperTooSmall: a plate does not go on the printer's paper.
        WrongUse: a plate or page is asked for that there is not.
        Disagreement: the PDF does not measure as planned; there is then no pack.
    """
    from bookplates.book.plan import plan as work_out

    spec = checked_spec(source, for_printing=True, folder=folder)
    worked_out = work_out(spec)
    if spec.second is None:
        return _made(spec, worked_out, wanted)
    from bookplates.letters import second_font

    with second_font(spec.second):
        return _made(spec, worked_out, wanted)


def _made(spec: Spec, worked_out: Plan, wanted: Wanted) -> Made:
    """The pack of a book that can be made. What draws and measures is loaded only now: a refused spec needs none of it."""
    from bookplates.pages.frame import check_paper
    from bookplates.pages.place import make_pages
    from bookplates.pages.sheets import Pack
    from bookplates.papers.printing import TRUE_READING
    from bookplates.pdf import write_pdf
    from bookplates.pipeline.on_table import OnTable
    from bookplates.plates import draw_all
    from bookplates.readback import measure_pdf

    check_paper(spec.setup)  # first: plates are laid out for no less room than the bars need
    only, excerpt = _plates(spec, worked_out, wanted.plates)
    draw, copies = partial(draw_all, worked_out, only=only), spec.print.copies
    words = worked_out.title, worked_out.maker, worked_out.units
    there = OnTable(spec, worked_out)
    drawings = (*draw(spec.setup), *there.drawings(only))
    pages = make_pages(drawings, spec.setup, *words, copies=copies, large=spec.large_setup, draw=draw)
    pack = Pack(worked_out.title, worked_out.maker, pages, spec.source, excerpt=excerpt)
    part = _pages(pack, wanted.pages)
    pdf = write_pdf(pack)
    verified = as_planned(spec, worked_out, measure_pdf(pdf), only)
    if part is not pack:
        pdf = write_pdf(part)
        verified = as_planned(spec, worked_out, measure_pdf(pdf), only, excerpt=True)
    svg: tuple[SvgFile, ...] = ()
    if wanted.svg:  # no printer comes between a drawing and a knife
        svg = _svg(draw(replace(spec.setup, reading=TRUE_READING)) if spec.setup.corrected else drawings, worked_out.title)
    return Made(pdf, worked_out, verified, len(part.pages), part.excerpt, _on_larger(part, spec), svg, there.warnings)


def _plates(spec: Spec, worked_out: Plan, named: str | None) -> tuple[tuple[str, ...], str]:
    """The names of the plates that are wanted, and words for them where they are not all. Raises WrongUse."""
    from bookplates.plates import plates_of

    there = plates_of(worked_out, with_stock=spec.shops)
    if named is None:
        return there, ""
    from bookplates.plates.chosen import chosen

    only = chosen(named, worked_out, with_stock=spec.shops)
    return only, "" if only == there else f"only {', '.join(only)}"


def _pages(pack: Pack, numbers: str | None) -> Pack:
    """The pack itself, or the pages of it that are wanted, which keep their numbers. Raises WrongUse."""
    if numbers is None:
        return pack
    from bookplates.pages.excerpt import in_words, numbers_in

    there = len(pack.pages)
    found = numbers_in(numbers, there)
    if len(found) == there:
        return pack
    excerpt = "; ".join(filter(None, (pack.excerpt, in_words(found, there))))
    return replace(pack, pages=tuple(pack.pages[number - 1] for number in found), numbers=found, excerpt=excerpt)


def _on_larger(pack: Pack, spec: Spec) -> str:
    """Which pages are printed on the larger paper, such as "9-11, 13 on A3", or nothing."""
    if spec.large_setup is None:
        return ""
    from bookplates.pages.excerpt import ranges
    from bookplates.papers.sizes import called

    numbers = pack.numbers or range(1, len(pack.pages) + 1)
    found = [number for number, page in zip(numbers, pack.pages, strict=True) if page.size != spec.setup.paper]
    return f"{ranges(found)} on {called(spec.large_setup.paper)}" if found else ""


def as_planned(spec: Spec, worked_out: Plan, measured: Measured, only: Collection[str], *, excerpt: bool = False) -> Verified:
    """What was measured, held against those plates of the plan. Raises Disagreement."""
    from bookplates.plates import ONCE
    from bookplates.verify import compare

    layouts = [layout for layout in worked_out.layouts if layout.plate in only]
    times = [1 if layout.plate in ONCE else spec.print.copies for layout in layouts]
    return compare(layouts, measured, spec.setup.reading, times=times, excerpt=excerpt)


def _svg(drawings: Sequence[Drawing], title: str) -> tuple[SvgFile, ...]:
    """The plates as SVG. Raises WrongUse where they hold nothing at true scale."""
    from bookplates.svg import svg_files

    found = svg_files(drawings, title)
    if not found:
        raise WrongUse(Problem("--svg", "nothing on these plates is at true scale"))
    return found


def problems_of(source: str | bytes, folder: Path | None = None) -> tuple[Problem, ...]:
    """Everything that keeps a spec from being a book, [print] included; nothing where it is one."""
    from bookplates.book.plan import plan as work_out

    try:
        work_out(checked_spec(source, for_printing=True, folder=folder))
    except BadSpec as error:
        return error.problems
    return ()


def spec_schema() -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of a spec."""
    from bookplates.spec.schema import schema

    return schema()

"""The one place that knows the order of the rooms: spec, plan, plates, pages, PDF, and what it measures."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from bookplates.errors import BadSpec, Problem

if TYPE_CHECKING:
    from bookplates.book.record import Plan
    from bookplates.spec.model import Spec
    from bookplates.verify import Verified


@dataclass(frozen=True, slots=True)
class Made:
    """A pack, and what it was checked against.

    Attributes:
        pdf: the bytes of the document.
        plan: what it shows; carries the warnings.
        verified: what measuring it found.
        pages: how many pages it has.
    """

    pdf: bytes
    plan: Plan
    verified: Verified
    pages: int


def _spec(source: str | bytes, *, for_printing: bool) -> Spec:
    """A spec without fault. Raises BadSpec with every problem that can be told."""
    from bookplates.book.plan import problems_beyond
    from bookplates.spec.read import read_spec

    text = source.encode(errors="surrogatepass") if isinstance(source, str) else source
    reading = read_spec(text, for_printing=for_printing)
    if reading.spec is not None and not reading.problems:
        return reading.spec
    beyond = problems_beyond(reading.spec, reading.lost) if reading.spec is not None else ()
    raise BadSpec(*dict.fromkeys([*reading.problems, *beyond]))


def plan(source: str | bytes) -> Plan:
    """Work a book out from the text of its spec.

    Args:
        source: TOML, as text or UTF-8 bytes.

    Returns:
        Every size in mm, with the warnings. What is wrong with [print] is only warned of.

    Raises:
        BadSpec: with every problem found, each with its key.
    """
    from bookplates.book.plan import plan as work_out

    return work_out(_spec(source, for_printing=False))


def make_pack(source: str | bytes) -> Made:
    """Make the templates of a book, and measure them.

    Args:
        source: the spec, TOML as text or UTF-8 bytes.

    Raises:
        BadSpec: with every problem found, each with its key.
        BadFile: the fonts are not installed.
        PaperTooSmall: a plate does not go on the printer's paper.
        Disagreement: the PDF does not measure as planned; there is then no pack.
    """
    from bookplates.book.plan import plan as work_out

    spec = _spec(source, for_printing=True)
    return _made(spec, work_out(spec))


def _made(spec: Spec, worked_out: Plan) -> Made:
    """The pack of a book that can be made. What draws and measures is loaded only now: a refused spec needs none of it."""
    from bookplates.pages.frame import check_paper
    from bookplates.pages.place import make_pages
    from bookplates.pages.sheets import Pack
    from bookplates.pdf import write_pdf
    from bookplates.plates import draw_all
    from bookplates.verify import verify_pack

    check_paper(spec.setup)  # first: plates are laid out for no less room than the bars need
    drawings = draw_all(worked_out, spec.setup)
    pages = make_pages(drawings, spec.setup, worked_out.title, worked_out.maker, worked_out.units)
    pdf = write_pdf(Pack(worked_out.title, worked_out.maker, pages, spec.source))
    verified = verify_pack(worked_out.layouts, pdf, spec.setup.reading)
    return Made(pdf, worked_out, verified, len(pages))


def problems_of(source: str | bytes) -> tuple[Problem, ...]:
    """Everything that keeps a spec from being a book, [print] included; nothing where it is one."""
    from bookplates.book.plan import plan as work_out

    try:
        work_out(_spec(source, for_printing=True))
    except BadSpec as error:
        return error.problems
    return ()


def spec_schema() -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of a spec."""
    from bookplates.spec.schema import schema

    return schema()

"""Spec -> plan: every size of the book, or every reason why there is no such book."""

from __future__ import annotations

import math
from collections.abc import Iterator

from bookplates.book import text_block as texts
from bookplates.book.record import Default, Plan, Sewing, TextBlock
from bookplates.book.scale import scale_layout
from bookplates.errors import BadSpec, Finding, Problem, warn
from bookplates.geometry import Size, rectangle
from bookplates.kinds.block import Block
from bookplates.kinds.parts import Piece
from bookplates.kinds.seam import Seam
from bookplates.kinds.thread import ThreadPath
from bookplates.lengths import fits, in_mm
from bookplates.spec.model import USUAL_CALIPER, Spec

LEARNER = 1.25
"""A learner cuts a quarter more thread than is computed: common practice, no source."""


def plan(spec: Spec) -> Plan:
    """Work a book out.

    Raises:
        BadSpec: it cannot be made so; carries every reason.
    """
    found = findings(spec)
    refused = [finding.problem for finding in found if finding.refused]
    if refused:
        raise BadSpec(*refused)
    text = texts.text_block(spec)
    block, cover = texts.block_of(spec, text), spec.cover
    seam = spec.sewing.seam(block)
    sewing = _sewing(spec, block, seam)
    return Plan(
        title=spec.head.title,
        maker=spec.head.maker,
        units=spec.units,
        opening=block.opening,
        text_block=text,
        cover=cover.cover(block),
        pieces=(
            *(cover.text_pieces(block) or (_text_sheet(text, texts.leaf_of(spec.text_block).size),)),
            *cover.pieces(block, seam),
        ),
        layouts=(scale_layout(), *cover.layouts(block, seam), *cover.guides(block, seam)),
        sewing=sewing,
        tape=cover.tape_sizes(block, seam),
        provisional=(*texts.provisional(text), *cover.provisional(block), *cover.provisional_supports(block, seam)),
        defaults=tuple(Default(where, value) for where, value in _defaults(spec, block)),
        warnings=(*(finding.problem for finding in (*found, *crowded(sewing.path, seam))), *spec.notes, *spec.idle),
        work=cover.work(block, seam),
        laid_in=cover.laid_in(block, seam),
        sides=spec.sewing.sides,
    )


def findings(spec: Spec) -> list[Finding]:
    """What a binder would say of a book, refusals first looked for where nothing more can be worked out."""
    stopping = list(texts.impossible(spec))
    if stopping:
        return stopping
    text = texts.text_block(spec)
    block = texts.block_of(spec, text)
    of_sewing = list(spec.sewing.findings(block))
    seam = spec.sewing.seam(block)
    of_cover = spec.cover.findings(block, seam)
    answered = {finding.problem.where for finding in of_cover if finding.refused}  # what is sewn through knows better
    return [*texts.findings(spec, text), *of_cover, *(told for told in of_sewing if told.problem.where not in answered)]


WIDEST_HOLE = 5.0
"""The widest hole that can be written, mm."""

MOST_THREADS = 4
"""More threads than this do not pass one hole, unless it is that much wider than the thread: common practice, no source."""


def crowded(path: ThreadPath, seam: Seam) -> Iterator[Finding]:
    """Warn of a hole that takes more threads than it has room for, or not even one."""
    threads = max(path.passes.values(), default=0)
    needed = threads if threads > MOST_THREADS else min(threads, 1)
    wide = math.ceil(math.sqrt(needed) * seam.thread * 10 - 1e-6) / 10
    if not fits(math.sqrt(needed) * seam.thread, seam.hole):
        what = (
            f"{threads} threads of {in_mm(seam.thread)} do not pass" if needed > 1 else f"a thread of {in_mm(seam.thread)} fills"
        )
        hint = f"at least {in_mm(wide)}, or a thinner sewing.thread" if fits(wide, WIDEST_HOLE) else "a thinner sewing.thread"
        yield warn("sewing.hole", f"{what} one hole of {in_mm(seam.hole)}", hint)


def problems_beyond(spec: Spec, lost: frozenset[str]) -> tuple[Problem, ...]:
    """Refusals that hold although the tables in `lost` could not be read: those that do not hang on them."""
    hang_on = {"text_block": {"text_block"}, "sewing": {"text_block", "measured", "sewing"}}
    own = {"text_block", "measured", "cover", *type(spec.cover).tables}
    if "text_block" in lost:
        return ()
    return tuple(
        finding.problem
        for finding in findings(spec)
        if finding.refused and not lost & hang_on.get(finding.problem.where.split(".")[0], own)
    )


def _sewing(spec: Spec, block: Block, seam: Seam) -> Sewing:
    pattern = spec.sewing
    path = pattern.path(seam, block, spec.cover.sewn)
    return Sewing(
        pattern=pattern.pattern,
        called=pattern.called,
        stations=seam.stations,
        cover_stations=spec.cover.on_cover(seam.stations),
        holes=seam.holes,
        hole=seam.hole,
        thread=seam.thread,
        thread_end=seam.thread_end,
        thread_length=path.length,
        thread_to_cut=path.length * LEARNER,
        punching=pattern.lots(block),
        supports=seam.supports,
        path=path,
    )


def _text_sheet(text: TextBlock, leaf: Size) -> Piece:
    """The text paper: sheets as bought, or open folios where only the leaf is known, as it was before any trimming."""
    if text.sheet is not None and text.sheets is not None:
        return Piece("text sheet", "text paper", text.sheets, rectangle(0, 0, *text.sheet), text.grain)
    spread = Size(2 * leaf.width, leaf.height)
    return Piece("text sheet", "text paper", text.folios, rectangle(0, 0, *spread), text.grain)


def _defaults(spec: Spec, block: Block) -> list[tuple[str, str]]:
    """Keys that were not written, with what is used for them, in the order of the tables."""
    chosen = {**spec.cover.chosen(block), **spec.sewing.chosen(block)}
    if spec.print.paper is None:
        chosen["print.paper"] = spec.paper_name
    keys = spec.text_block
    if keys.caliper is None and keys.bulk is None:
        chosen["text_block.caliper"] = in_mm(USUAL_CALIPER)  # nobody measures paper in 1/32 in
    idle = (
        set(spec.cover.idle())
        | spec.sewing.idle()
        | ({"text_block.orientation", "text_block.grain"} if keys.leaf is not None else set())
    )
    fixed = [(where, value) for where, value in spec.unwritten() if where not in idle]
    tables = ("title", "maker", "units", "text_block", "cover", *type(spec.cover).tables, "sewing", "print")
    return sorted([*fixed, *chosen.items()], key=lambda pair: tables.index(pair[0].split(".")[0]))

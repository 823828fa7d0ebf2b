"""Spec -> plan: every size of the book, or every reason why there is no such book."""

from __future__ import annotations

import math

from bookplates.book import text_block as texts
from bookplates.book.record import Default, Plan, Sewing, TextBlock
from bookplates.book.scale import scale_layout
from bookplates.errors import BadSpec, Finding, Problem
from bookplates.geometry import Size, rectangle
from bookplates.kinds.block import Block
from bookplates.kinds.parts import Layout, Piece, hole, outline, rule
from bookplates.lengths import in_mm
from bookplates.spec.model import USUAL_CALIPER, Spec

FLANK = 40.0
"""Width of a punch guide either side of its fold, where the paper does not take a whole dummy folio, mm."""

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
    block = texts.block_of(spec, text)
    sewing = _sewing(spec, block)
    stations = sewing.cover_stations
    return Plan(
        title=spec.head.title,
        maker=spec.head.maker,
        units=spec.units,
        opening=block.opening,
        text_block=text,
        cover=spec.cover.cover(block),
        pieces=(_text_sheet(text), *spec.cover.pieces(block, stations)),
        layouts=(scale_layout(), *spec.cover.layouts(block, stations, spec.sewing.hole), _punch_guide(block, sewing)),
        sewing=sewing,
        tape=spec.cover.tape_sizes(block, stations),
        provisional=(*texts.provisional(text), *spec.cover.provisional(block)),
        defaults=tuple(Default(where, value) for where, value in _defaults(spec, block)),
        warnings=(*(finding.problem for finding in found), *spec.notes),
    )


def findings(spec: Spec) -> list[Finding]:
    """What a binder would say of a book, refusals first looked for where nothing more can be worked out."""
    stopping = list(texts.impossible(spec))
    if stopping:
        return stopping
    text = texts.text_block(spec)
    block = texts.block_of(spec, text)
    of_sewing = list(spec.sewing.findings(block))
    stations = spec.sewing.set_out(block)
    on_cover = spec.cover.on_cover(stations) or (block.height / 2,)
    return [*texts.findings(spec, text), *spec.cover.findings(block, on_cover), *of_sewing]


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


def _sewing(spec: Spec, block: Block) -> Sewing:
    pattern = spec.sewing
    stations = pattern.set_out(block)
    path = pattern.path(stations, block, spec.cover.sewn_through)
    at_once = pattern.punch_at_once
    return Sewing(
        pattern=pattern.pattern,
        called=pattern.called,
        stations=stations,
        cover_stations=spec.cover.on_cover(stations),
        holes=(),
        hole=pattern.hole,
        thread=pattern.thread,
        thread_end=pattern.thread_end,
        thread_length=path.length,
        thread_to_cut=path.length * LEARNER,
        punching=tuple(texts.shared_out(n, math.ceil(n / at_once)) for n in block.folios_per_section),
        path=path,
    )


def _punch_guide(block: Block, sewing: Sewing) -> Layout:
    """A whole dummy folio where the paper takes one; else as wide as is handy, never wider than the leaf."""
    flank = block.leaf_width if block.dummy_folio else min(block.leaf_width, FLANK)
    holes = (hole(f"station {n}", (0.0, block.height - s), sewing.hole) for n, s in enumerate(sewing.stations, 1))
    return Layout(
        "punch guide",
        "",
        (
            outline("punch guide", "cut", rectangle(-flank, 0, 2 * flank, block.height)),
            rule("fold", "fold", (0.0, 0.0), (0.0, block.height)),
            *holes,
        ),
    )


def _text_sheet(text: TextBlock) -> Piece:
    """The text paper: sheets as bought, or open folios where only the leaf is known."""
    if text.sheet is not None and text.sheets is not None:
        return Piece("text sheet", "text paper", text.sheets, rectangle(0, 0, *text.sheet), text.grain)
    spread = Size(2 * text.leaf_width, text.leaf_height)
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

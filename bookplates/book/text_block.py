"""The text block: folios shared out, creep, trim, thickness.

Nested folios push each other out. With k = 1 for a sharp fold (stack model, handbook CR1) and pi/2 for a
round one (own derivation), the innermost of n folios of caliper c stands k (n - 1) c out. Measured from the
outermost fold, the outermost leaf reaches W - (k - 1) (n - 1) c, the innermost W + (n - 1) c.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from bookplates.book.leaf import Leaf, halved
from bookplates.book.record import TextBlock
from bookplates.errors import Finding, refuse, warn
from bookplates.geometry import Size
from bookplates.kinds.block import Block, Fold, Gathering, Paper
from bookplates.kinds.limits import at_most
from bookplates.kinds.lots import shared_out
from bookplates.lengths import Units, close, fits, in_mm, said
from bookplates.papers.weights import caliper as caliper_of
from bookplates.spec.model import USUAL_CALIPER, Spec
from bookplates.spec.tables import HALVINGS
from bookplates.spec.tables import TextBlock as Keys

SPRINGY = 12
"""More folios than this in a section spring open: common practice, no source."""

MUCH_CREEP = 3.0
"""Creep over this is much, mm: common practice, no source."""

PRESS = "or press overnight and measure the block before boards are cut"

WORDS_ROUND = 8.0
"""What the words round a punch guide need of the page beside the guide itself, mm."""

LEAST_LEFT = 5.0
"""Less than this left of the innermost leaf is none, mm."""

LEAST_LEAF, MOST_LEAF = 20.0, 1000.0
LEAST_CALIPER, MOST_CALIPER = 0.02, 1.0


def fold_factor(fold: Fold) -> float:
    """How much a fold adds to creep: 1 where it is sharp, pi/2 where it goes round."""
    return 1.0 if fold == "sharp" else math.pi / 2


def caliper(keys: Keys) -> float:
    """Thickness of one sheet, mm: as written, or from its weight and bulk, or the usual."""
    if keys.caliper is not None:
        return keys.caliper
    grammage = keys.weight if keys.weight is not None else keys.grammage
    if grammage is None or keys.bulk is None:
        return USUAL_CALIPER
    return caliper_of(grammage, keys.bulk)


def leaf_of(keys: Keys) -> Leaf:
    """The leaf as written, or the sheet halved."""
    if keys.leaf is not None:
        return Leaf(keys.leaf, "head to tail", 1, spread_fits=True)
    assert keys.sheet is not None
    assert keys.format is not None
    return halved(keys.sheet, HALVINGS[keys.format], keys.orientation, keys.grain)


def folios_of(spec: Spec) -> int:
    """Folded sheets in all: as many as give the leaves that the cover style asks for, or else as written."""
    leaves = gathering(spec).leaves
    return (_folios_written(spec.text_block) or 0) if leaves is None else math.ceil(leaves / 2)


def _folios_written(keys: Keys) -> int | None:
    if keys.folios is not None:
        return keys.folios
    return None if keys.sheets is None else keys.sheets * leaf_of(keys).folios_per_sheet


def gathering(spec: Spec) -> Gathering:
    """How the cover style's leaves hang together."""
    keys = spec.text_block
    return spec.cover.gathering(Paper(leaf_of(keys).size, keys.sheet, keys.grain, _folios_written(keys)))


def text_block(spec: Spec) -> TextBlock:
    """Every fact of the text block; what was measured takes the place of what is computed."""
    keys, measured = spec.text_block, spec.measured
    leaf, thin, folios, gathered = leaf_of(keys), caliper(keys), folios_of(spec), gathering(spec)
    shares = shared_out(folios, keys.sections)
    nested = max(shares) if gathered.kind == "nested" else 1
    leaves = gathered.leaves or 2 * folios
    creep = fold_factor(keys.fold) * (nested - 1) * thin
    trim = _trimmed(keys, creep)
    swell = keys.sections * spec.sewing.swell if keys.sections > 1 else 0.0
    return TextBlock(
        leaf_width=leaf.size.width,
        leaf_height=measured.height or leaf.size.height,
        block_width=measured.width or leaf.size.width + (nested - 1) * thin - trim,
        folios=folios,
        leaves=leaves,
        pages=2 * leaves,
        sections=keys.sections,
        folios_per_section=shares,
        caliper=thin,
        section_thickness=(2 * max(shares) if gathered.kind == "nested" else leaves) * thin,
        thickness=measured.thickness or (leaves + gathered.endleaves) * thin + swell,
        creep=creep,
        fore_edge_trim=trim,
        grain=gathered.grain or leaf.grain,
        sheets=gathered.sheets or keys.sheets or (math.ceil(folios / leaf.folios_per_sheet) if keys.sheet else None),
        sheet=keys.sheet,
        format=keys.format,
        measured=tuple(key for key in ("width", "height", "thickness") if getattr(measured, key) is not None),
        gathered=gathered.kind,
        endleaves=gathered.endleaves,
        sheet_grain=keys.grain if keys.sheet is not None else None,
        cut_height=leaf.size.height,
    )


def _trimmed(keys: Keys, creep: float) -> float:
    """What comes off the innermost leaf, mm. Flush with the outermost leaf, that is the creep."""
    if keys.trim == "flush":
        return creep
    return 0.0 if keys.trim == "none" else float(keys.trim)


def provisional(text: TextBlock) -> tuple[str, ...]:
    """Names of its own sizes that are only as good as the caliper, as no ruler found them."""
    names = {"thickness": "thickness", "width": "block width"}
    return tuple(name for key, name in names.items() if key not in text.measured)


def block_of(spec: Spec, text: TextBlock) -> Block:
    """What cover and sewing may know of the text block."""
    room = spec.setup.room.grown(-WORDS_ROUND / 2).size
    spread = Size(2 * text.leaf_width, text.leaf_height)
    return Block(
        width=text.block_width,
        leaf_width=text.leaf_width,
        height=text.leaf_height,
        thickness=text.thickness,
        caliper=text.caliper,
        folios_per_section=text.folios_per_section,
        fold=spec.text_block.fold,
        opening=spec.text_block.opening,
        units=spec.units,
        measured=text.measured,
        dummy_folio=spread.goes_into(room) or spread.turned.goes_into(room),
        leaves=text.leaves,
        gathered=text.gathered,
        endleaves=text.endleaves,
        sheet=text.sheet,
        sheet_grain=spec.text_block.grain,
        cut_height=text.cut_height,
    )


def impossible(spec: Spec) -> Iterator[Finding]:
    """What makes it no text block at all."""
    keys, units = spec.text_block, spec.units
    leaf, folios, gathered = leaf_of(keys), folios_of(spec), gathering(spec).kind
    if not all(fits(LEAST_LEAF, side) and fits(side, MOST_LEAF) for side in leaf.size):
        allowed = f"{said(LEAST_LEAF, units)} to {said(MOST_LEAF, units)} a side; another sheet or format"
        yield refuse(
            "text_block.format", f"gives a leaf {said(leaf.size.width, units)} by {said(leaf.size.height, units)}", allowed
        )
    if not leaf.spread_fits and gathered in ("nested", "fore-edge folded"):
        other = "upright" if keys.orientation == "oblong" else "oblong"
        spread = f"{said(2 * leaf.size.width, units)} by {said(leaf.size.height, units)}"
        what = f"{keys.orientation} {keys.format} needs folios of {spread}, and the sheet (text_block.sheet) takes none"
        yield refuse("text_block.orientation", what, f"{other}, or a format of more leaves")
    if not (fits(LEAST_CALIPER, caliper(keys)) and fits(caliper(keys), MOST_CALIPER)):
        key = "weight" if keys.weight is not None else "grammage"
        what = f"with that bulk (text_block.bulk) gives a caliper of {caliper(keys):.3g} mm"
        yield refuse(f"text_block.{key}", what, f"{in_mm(LEAST_CALIPER)} to {in_mm(MOST_CALIPER)}")
    if folios > 5000:
        yield refuse("text_block.sheets", f"gives {folios:,} folded sheets (folios)", "5,000 at most")
    if keys.sections > folios:
        what = f"{keys.sections} sections out of {folios} folded sheets (text_block.sheets or folios) leave some empty"
        yield refuse("text_block.sections", what, f"{folios} at most")
    else:
        yield from _nothing_left(text_block(spec), units)


def _nothing_left(text: TextBlock, units: Units) -> Iterator[Finding]:
    """A trim that takes the block, or the innermost leaf, away."""
    left = min(text.leaf_width - text.fore_edge_trim, text.block_width)
    if not fits(LEAST_LEFT, left):
        most = text.leaf_width - LEAST_LEFT
        by_creep = close(text.fore_edge_trim, text.creep) and text.creep > 0
        ways = "fewer folded sheets in a section, or thinner paper" if by_creep else f"at most {at_most(most, units)}"
        what = f"{said(text.fore_edge_trim, units)} off the innermost leaf leaves nothing of it"
        yield refuse("text_block.trim", what, ways)


def findings(spec: Spec, text: TextBlock) -> Iterator[Finding]:
    """What a binder would say of the text block."""
    units, most = spec.units, max(text.folios_per_section)
    if text.grain == "across":
        folds = "folds: they crack, and the panels stand badly"
        where = folds if text.gathered == "panels" else "spine: the leaves will cockle, and open stiffly"
        yield warn(
            "text_block.grain",
            f"the grain runs across the {where}",
            "another format, orientation or paper, so that it runs head to tail",
        )
    if len(set(text.folios_per_section)) > 1:
        most_and_less = f"sections hold {most} or one less"
        what = f"{text.folios} folded sheets do not divide by {text.sections}: {most_and_less}"
        yield warn("text_block.sections", what, "put the thinner ones in the middle, or change the number")
    number = "text_block.folios" if spec.text_block.folios else "text_block.sheets"
    if text.gathered == "nested" and most > SPRINGY:
        what = f"{most} folded sheets in a section spring open"
        yield warn(number, what, f"{_less_springy(spec, text)}, {PRESS}")
    if not fits(text.creep, MUCH_CREEP):
        what = f"the innermost leaf stands {said(text.creep, units)} out"
        yield warn(number, what, f"fewer folded sheets in a section, thinner paper (text_block.caliper), {PRESS}")
    yield from _gathering_findings(spec, text, number)
    yield from _trim_findings(spec, text, units)
    yield from _measured_findings(spec, text, units)


def _less_springy(spec: Spec, text: TextBlock) -> str:
    """How many sections, or sheets, make sections that stay closed."""
    if text.sections > 1:
        return f"text_block.sections = {math.ceil(text.folios / SPRINGY)} or more ({SPRINGY} folded sheets a section)"
    each = leaf_of(spec.text_block).folios_per_sheet if spec.text_block.sheets else 1
    return f"{SPRINGY // each} or fewer" if each == 1 or each <= SPRINGY else f"{SPRINGY} folded sheets or fewer"


def _gathering_findings(spec: Spec, text: TextBlock, number: str) -> Iterator[Finding]:
    """Leaves that the cover style asks for, and folded sheets or sheets that do not give them."""
    written, sheets = _folios_written(spec.text_block), spec.text_block.sheets
    if written is not None and 2 * written != text.leaves:
        key = next(iter(type(spec.cover).stands_for), "style")
        what = f"asks for {text.leaves} leaves, and {written} folded sheets ({number}) give {2 * written}"
        yield warn(f"cover.{key}", what, f"the book is made with {text.leaves}; write one of the two only")
    elif sheets is not None and text.sheets is not None and sheets < text.sheets:
        what = f"{sheets} do not give {text.leaves} leaves as this style cuts them (cover.style): it takes {text.sheets}"
        yield warn("text_block.sheets", what, "have that many ready")


def _trim_findings(spec: Spec, text: TextBlock, units: Units) -> Iterator[Finding]:
    trim = spec.text_block.trim
    if text.fore_edge_trim > text.leaf_width / 10:
        yield warn(
            "text_block.trim",
            f"{said(text.fore_edge_trim, units)} off the innermost leaf is more than a tenth of it",
            "less trim, or where it only takes off the creep, fewer folded sheets in a section or thinner paper",
        )
    if trim == "none" and text.creep > 0.5:
        flush = text.block_width - text.creep
        square = spec.cover.cover(block_of(spec, text)).square_fore_edge
        left = square - text.creep
        leave = (
            f"leave a fore-edge square of {said(left, units)}" if left >= 0 else f"let leaves stand out by {said(-left, units)}"
        )
        yield warn(
            "text_block.trim",
            f"untrimmed, the innermost leaf reaches {said(text.block_width, units)}, and the boards are made for that; "
            f"boards made for a trimmed block, {said(flush, units)} wide, {leave} instead of {said(square, units)}",
            "decide before boards are cut",
        )


def _measured_findings(spec: Spec, text: TextBlock, units: Units) -> Iterator[Finding]:
    swell = text.sections * spec.sewing.swell if text.sections > 1 else 0.0
    computed = (text.leaves + text.endleaves) * text.caliper + swell
    found = spec.measured.thickness
    if found is not None and not computed * 0.75 <= found <= max(computed * 1.5, computed + 1.0):
        yield warn(
            "measured.thickness",
            f"{said(found, units)} is far from the computed {said(computed, units)}",
            "measure lightly pressed, or mend the caliper or bulk (text_block)",
        )
    nested = max(text.folios_per_section) if text.gathered == "nested" else 1
    width = text.leaf_width + (nested - 1) * text.caliper - text.fore_edge_trim
    if spec.measured.width is not None and abs(spec.measured.width - width) > width / 10:
        what = f"{said(spec.measured.width, units)} is far from the computed {said(width, units)}"
        yield warn("measured.width", what, "measure again, or mend text_block.trim")
    height = leaf_of(spec.text_block).size.height
    if spec.measured.height is not None and abs(spec.measured.height - height) > height / 10:
        yield warn(
            "measured.height",
            f"{said(spec.measured.height, units)} is far from the leaf's {said(height, units)}",
            "measure again",
        )

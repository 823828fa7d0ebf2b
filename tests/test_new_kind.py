"""A cover style and a sewing pattern that nobody has heard of, put into their tables: all the rest has to follow.

A folder of card, sewn through two holes: no boards, no tape, no template of its own. It is a trial, and no style of the trade.
"""

from __future__ import annotations

import json
import tomllib
from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Annotated, ClassVar, Literal

import pytest
from jsonschema import Draft202012Validator
from pydantic import Field

from bookplates.book.as_json import plan_as_json
from bookplates.errors import BadSpec, Finding, refuse
from bookplates.geometry import rectangle
from bookplates.handout.facts import chapters
from bookplates.handout.steps import steps
from bookplates.kinds.block import Block
from bookplates.kinds.cover import Cover
from bookplates.kinds.keys import Keys, Span
from bookplates.kinds.parts import Layout, Piece
from bookplates.kinds.patterns import PATTERNS, Pattern, Stitch
from bookplates.kinds.patterns.base import spread
from bookplates.kinds.patterns.stitching import Stitching, along_the_fold
from bookplates.kinds.seam import Seam, Sewn
from bookplates.kinds.step import Stage, Step
from bookplates.kinds.styles import STYLES, Style
from bookplates.kinds.thread import Place, ThreadPath
from bookplates.pipeline import make_pack, plan, problems_of, spec_schema

FOLDER = """\
title = "Seashell list"
[text_block]
leaf = "100 x 150 mm"
folios = 8
caliper = "0.1 mm"
[cover]
style = "folder"
card = "0.4 mm"
[pocket]
depth = "40 mm"
"""


class Pocket(Keys):
    """A table of the style's own."""

    depth: Annotated[float, Span(0, 100)] = Field(default=0.0, description="how deep")
    corner: Annotated[float, Span(0, 20)] = Field(default=5.0, description="how round")


class Folder(Style):
    """A folded card."""

    style: Literal["folder"] = "folder"
    card: Annotated[float, Span(0.1, 1)] = Field(default=0.3, description="thickness of the card")
    pocket: Pocket = Field(default=Pocket(), description="the table [pocket]")

    default_pattern: ClassVar[str] = "two-hole"
    takes: ClassVar[tuple[str, ...]] = ("two-hole",)
    tables: ClassVar[Mapping[str, type[Keys]]] = MappingProxyType({"pocket": Pocket})

    @property
    def sewn(self) -> Sewn:
        return Sewn(spine=self.card)

    def on_cover(self, stations: Sequence[float]) -> tuple[float, ...]:
        return tuple(stations)

    def cover(self, block: Block) -> Cover:
        squares = {"square_head": 0.0, "square_tail": 0.0, "square_fore_edge": 0.0}
        open_width = 2 * block.width + block.thickness
        return Cover(style=self.style, open_width=open_width, open_height=block.height, **squares)

    def pieces(self, block: Block, seam: Seam) -> tuple[Piece, ...]:
        card = rectangle(0, 0, self.cover(block).open_width, block.height)
        return (Piece("folder", "card", 1, card, "head to tail"),)

    def layouts(self, block: Block, seam: Seam) -> tuple[Layout, ...]:
        return ()

    def findings(self, block: Block, seam: Seam) -> tuple[Finding, ...]:
        return (refuse("pocket.depth", "is deeper than the folder", "less"),) if self.pocket.depth > block.width else ()

    def provisional(self, block: Block) -> tuple[str, ...]:
        return ("open width",)

    def work(self, block: Block, seam: Seam) -> tuple[Step | Stage, ...]:
        return "fold", "nest", Step("Fold the card", ("Fold it.",)), "pierce", "thread", "sew"


class TwoHole(Stitch):
    """Out above, in below, tied inside."""

    pattern: Literal["two-hole"] = "two-hole"

    called: ClassVar[str] = "two-hole stitch"
    goes_with: ClassVar[tuple[str, ...]] = ("taped",)

    def by_custom(self, block: Block) -> tuple[float, ...]:
        return spread(block.height, 2, self.end_margin)

    def custom(self, block: Block) -> Mapping[str, str]:
        return {"sewing.count": "2"}

    def path(self, seam: Seam, block: Block, sewn: Sewn) -> ThreadPath:
        sewing = Stitching(
            along_the_fold(seam.stations), lambda _: block.through_a_fold + sewn.spine, Place(1, "inside"), self.thread_end
        )
        sewing.pass_through()
        sewing.run_to(2)
        sewing.pass_through()
        return sewing.finish("Tie the two ends inside.")


@pytest.fixture(autouse=True)
def _in_the_tables(monkeypatch: pytest.MonkeyPatch) -> None:
    """The one line each that a new kind costs."""
    monkeypatch.setitem(STYLES, "folder", Folder)
    monkeypatch.setitem(PATTERNS, "two-hole", TwoHole)


def told(source: str) -> dict[str, str]:
    return {problem.where: f"{problem.what}; {problem.hint}" for problem in problems_of(source)}


def test_a_pack_is_made_and_measures_as_planned() -> None:
    made = make_pack(FOLDER)
    assert made.verified.parts > 0
    assert {layout.plate for layout in made.plan.layouts} == {"scale page", "punch guide"}


def test_the_plan_has_every_key_and_null_for_what_the_style_has_none_of() -> None:
    found, taped = (
        plan_as_json(plan(source)) for source in (FOLDER, FOLDER.partition("[cover]")[0] + '[cover]\nstyle = "taped"')
    )
    assert found.keys() == taped.keys()
    assert found["cover"].keys() == taped["cover"].keys()
    assert found["tape"] is None
    nulls = {key for key, value in found["cover"].items() if value is None}
    assert {"board_width", "board_height", "board_thickness", "boards_apart", "gap", "joint", "mitre"} <= nulls
    assert found["cover"]["open_width"] == pytest.approx(201.6)  # 2 x 100 + 16 x 0.1
    assert json.loads(json.dumps(found, allow_nan=False)) == found


def test_the_thread_passes_card_and_fold() -> None:
    # ends 2 x 85; passes 2 x (8 x 0.1 + 0.4); between 12.7 and 137.3 of 150: 124.6; together 170 + 2.4 + 124.6
    assert plan(FOLDER).sewing.thread_length == pytest.approx(297.0)


def test_the_sizes_leave_out_what_it_has_none_of() -> None:
    found = {chapter.title: [fact.name for fact in chapter.facts] for chapter in chapters(plan(FOLDER))}
    assert "Book tape" not in found
    assert found["Cover: folder"] == ["spine side", "spine width", "open width", "open height"]
    assert not any("turn-in" in name or "mitre" in name for names in found.values() for name in names)


def test_the_steps_speak_of_nothing_that_the_pack_lacks() -> None:
    said = " ".join(f"{step.title} {' '.join(step.sentences)}" for step in steps(plan(FOLDER)))
    assert "Tie the two ends inside." in said
    for word in ("board outline", "wrap outline", "lining", "mitre", "tape", "spacer", "gauge ", "groove", "spine of the cover"):
        assert word not in said, word


def test_what_was_taken_as_usual_is_listed_table_by_table() -> None:
    listed = [default.where for default in plan(FOLDER).defaults]
    assert listed.index("pocket.corner") < listed.index("sewing.pattern") < listed.index("print.paper")
    assert "pocket.depth" not in listed


def test_the_schema_takes_it_and_refuses_its_keys_misspelt() -> None:
    schema = Draft202012Validator(spec_schema())
    assert schema.is_valid(tomllib.loads(FOLDER))
    for key in ("card", "depth", "folder"):
        assert not schema.is_valid(tomllib.loads(FOLDER.replace(key, f"{key}x", 1)))


@pytest.mark.parametrize(
    ("written", "instead", "where", "says"),
    [
        ("card", "cart", "cover.cart", "the nearest is card"),
        ("depth", "dept", "pocket.dept", "the nearest is depth"),
        ('"40 mm"', '"101 mm"', "pocket.depth", "out of range"),
        ("100 x 150", "30 x 150", "pocket.depth", "deeper than the folder"),
        ("[pocket]", "mitre = 3\n[pocket]", "cover.mitre", "it goes with taped"),
        ("[pocket]", "[tape]\n[pocket]", "tape", "it goes with taped"),
        ("[pocket]", '[sewing]\npattern = "chain"\n[pocket]', "sewing.pattern", '"two-hole"'),
        ('"folder"', '"foldr"', "cover.style", '"concertina" or "folder"'),
    ],
)
def test_its_faults_are_told_like_any_others(written: str, instead: str, where: str, says: str) -> None:
    found = told(FOLDER.replace(written, instead, 1))
    assert set(found) == {where}
    assert says in found[where]


def test_its_table_and_its_pattern_are_told_of_beside_another_style() -> None:
    taped = FOLDER.replace('"folder"\ncard = "0.4 mm"', '"taped"')
    assert "it goes with folder" in told(taped)["pocket"]
    sewn = plan(taped.partition("[pocket]")[0] + '[sewing]\npattern = "two-hole"\n').sewing
    assert sewn.pattern == "two-hole"


def test_a_kind_that_leaves_an_answer_out_is_none() -> None:
    class Unsewn(Pattern):
        pattern: Literal["unsewn"] = "unsewn"

    with pytest.raises(TypeError, match="abstract"):
        Unsewn()


def test_it_is_gone_from_the_tables_without_its_line(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delitem(STYLES, "folder")
    with pytest.raises(BadSpec, match="there is no style 'folder'"):
        make_pack(FOLDER)

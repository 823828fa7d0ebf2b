"""What the commands share: reading a spec, writing a pack, and saying what is wrong."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, NamedTuple, NoReturn, TextIO

import typer

from bookplates.errors import BookplatesError, Disagreement, WrongUse, one_line

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from bookplates.errors import Problem
    from bookplates.pipeline import Made


def is_screen(stream: TextIO | None) -> bool:
    """Whether somebody looks at it."""
    return stream is not None and stream.isatty()


def check_outputs(target: str, svg: str | None) -> None:
    """Refuse names that nothing can be written to, before anything is worked out."""
    from bookplates.files import is_standard_output

    if "" in (target, svg):
        raise typer.BadParameter("the name is empty", param_hint="--svg" if target else "-o")
    if svg == "-":
        raise typer.BadParameter("several files do not go to standard output; name a folder", param_hint="--svg")
    if is_standard_output(target) and is_screen(sys.stdout):
        raise typer.BadParameter("the PDF would fill the screen; name a file, or send it on with > or |", param_hint="-o")


class ReadSpec(NamedTuple):
    """A spec, what it is called when something is wrong with it, the folder that it names a font from, and the pack it was in."""

    name: str
    spec: bytes
    folder: Path | None
    pack: bytes | None = None


def read_spec(name: str) -> ReadSpec:
    """A spec from a file, or the one attached to a pack; that one, and one from standard input, have no folder."""
    from pathlib import Path

    from bookplates.files import is_pdf, read_spec_or_pack

    try:
        data = read_spec_or_pack(name)
        return attached(name, data) if is_pdf(data) else ReadSpec(name, data, None if name == "-" else Path(name).parent)
    except BookplatesError as error:
        fail(error, name)


def attached(name: str, pack: bytes) -> ReadSpec:
    """The spec that a pack carries. Raises BadFile."""
    from bookplates.readback import attached_spec

    return ReadSpec(f"{name} (spec.toml)", attached_spec(pack), None, pack)


def write(made: Made, target: str, svg: str | None, spec: str) -> None:
    """Write the pack, and the SVGs beside it, all or nothing; and say what was written."""
    from bookplates.files import is_standard_output, write_together
    from bookplates.lengths import counted
    from bookplates.report import verified_line

    drawings = [(f"{svg.rstrip('/') or '/'}/{file.name}", file.data) for file in made.svg] if svg else []
    try:
        write_together([(target, made.pdf), *drawings], folder=svg, source=spec)
    except BookplatesError as error:
        fail(error)
    taken = is_standard_output(target)
    typer.echo(verified_line(made.verified, made.excerpt), err=taken)
    if svg:
        typer.echo(f"{one_line(svg)}: {counted(len(drawings), 'SVG file')}, one unit is 1 mm", err=taken)
    if not taken:
        larger = f" ({made.on_larger})" if made.on_larger else ""
        typer.echo(f"{one_line(target)}: {counted(made.pages, 'page')}{larger}, print at 100 %")


def pack_name(spec: str, *, excerpt: bool) -> str:
    """The name of the spec; an excerpt has one of its own, so that no whole pack is lost to it."""
    from pathlib import PurePath

    return "-" if spec == "-" else f"{PurePath(spec).stem or 'book'}{'-excerpt' if excerpt else ''}.pdf"


def echo_json(value: object) -> None:
    """Print JSON."""
    import json

    typer.echo(json.dumps(value, indent=2))  # in ASCII: the same on every terminal


def warn(warnings: Iterable[Problem], read: ReadSpec) -> None:
    """Print what a binder would warn of, one a line."""
    from bookplates.spec.placed import placed  # what looks for lines is loaded by it when there is one to be found

    for place, problem in placed(warnings, read.name, read.spec):
        typer.echo(one_line(f"{place}: warning: {problem}"), err=True)


def fail(error: BookplatesError, name: str = "", source: bytes | None = None) -> NoReturn:
    """Print every problem, one a line, and end: with 3 where the PDF is not as planned, 2 for wrong use, else with 1.

    Without a name the problems say themselves which file they are about.
    """
    from bookplates.spec.placed import placed

    if isinstance(error, WrongUse):
        raise typer.BadParameter(error.sentence, param_hint=error.problems[0].where)
    for place, problem in placed(error.problems, name, source):
        typer.echo(one_line(f"{place}: {problem}" if place else str(problem)), err=True)
    raise typer.Exit(3 if isinstance(error, Disagreement) else 1)

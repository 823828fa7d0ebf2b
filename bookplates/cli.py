"""The commands: read, call, print, set the exit code. Nothing else, and nothing heavy before it is needed."""

from __future__ import annotations

import gc
import io
import sys
from collections.abc import Iterable, Iterator
from functools import cached_property
from typing import TYPE_CHECKING, Annotated, NoReturn, TextIO

import typer

from bookplates import __version__
from bookplates.errors import BookplatesError, Disagreement, Problem, one_line

if TYPE_CHECKING:
    from bookplates.book.record import Plan

app = typer.Typer(
    name="bookplates",
    help="True-scale printable templates for books made by hand.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    context_settings={"help_option_names": ["-h", "--help"]},
    epilog="Example: bookplates new book.toml, then bookplates make book.toml",
)

Spec = Annotated[str, typer.Argument(metavar="SPEC", help="The book's description, a TOML file; - reads standard input.")]
Json = Annotated[bool, typer.Option("--json", help="Print JSON, lengths in mm.")]


def _show_version(asked: bool) -> None:
    if asked:
        typer.echo(f"bookplates {__version__}")
        raise typer.Exit


@app.callback()
def _main(
    version: Annotated[bool, typer.Option("--version", callback=_show_version, is_eager=True, help="Print the version.")] = False,
) -> None:
    pass


@app.command(epilog="Example: bookplates make orchard.toml -o orchard.pdf")
def make(
    spec: Spec,
    output: Annotated[
        str | None, typer.Option("-o", "--output", metavar="OUT.pdf", help="The pack; - writes to standard output.")
    ] = None,
) -> None:
    """Make the pack: a PDF of templates that prints at 100 %."""
    from bookplates.files import is_standard_output, write_bytes

    target = _pack_name(spec) if output is None else output
    _check_output(target)
    source = _read_spec(spec)
    from bookplates.pipeline import make_pack

    try:
        made = make_pack(source)
    except BookplatesError as error:
        _fail(error, spec, source)
    _warn(made.plan, spec, source)
    try:
        write_bytes(target, made.pdf, source=spec)
    except BookplatesError as error:
        _fail(error, target)
    taken = is_standard_output(target)
    typer.echo(made.verified.text, err=taken)
    if not taken:
        typer.echo(f"{one_line(target)}: {made.pages} pages, print at 100 %")


@app.command(epilog="Example: bookplates plan orchard.toml --json")
def plan(spec: Spec, json: Json = False) -> None:
    """Work the book out: every size, and what a binder would warn of."""
    source = _read_spec(spec)
    from bookplates.pipeline import plan as work_out

    try:
        worked_out = work_out(source)
    except BookplatesError as error:
        _fail(error, spec, source)
    _warn(worked_out, spec, source)
    if json:
        from bookplates.book.as_json import plan_as_json

        _echo_json(plan_as_json(worked_out))
    else:
        from bookplates.report import plan_table

        typer.echo(plan_table(worked_out))


@app.command(epilog="Example: bookplates measure orchard.pdf")
def measure(
    pdf: Annotated[str, typer.Argument(metavar="PDF", help="A pack; - reads standard input.")],
    json: Json = False,
) -> None:
    """Read a pack back: every part on its pages, with its size."""
    from bookplates.files import read_pdf
    from bookplates.readback import as_json, measure_pdf

    try:
        measured = measure_pdf(read_pdf(pdf))
    except BookplatesError as error:
        _fail(error, pdf)
    if json:
        _echo_json(as_json(measured))
    else:
        from bookplates.report import measured_table

        typer.echo(measured_table(measured))


@app.command(epilog="Example: bookplates new orchard.toml")
def new(
    path: Annotated[str, typer.Argument(metavar="PATH", help="The file to write; - writes to standard output.")] = "book.toml",
) -> None:
    """Write a spec to begin from, with a comment for every key. In a terminal it asks a few questions first."""
    from bookplates.files import check_new, is_standard_output, write_new
    from bookplates.spec.starter import starter

    try:
        check_new(path)  # before anything is asked
        write_new(path, starter(_answers()).encode())
    except BookplatesError as error:
        _fail(error, path)
    if not is_standard_output(path):
        typer.echo(f"{one_line(path)}: written; next, bookplates plan {one_line(path)}")


@app.command(epilog="Example: bookplates schema > book.schema.json")
def schema() -> None:
    """Print the JSON Schema of a spec."""
    from bookplates.pipeline import spec_schema

    _echo_json(spec_schema())


def _answers() -> dict[str, str]:
    """What the user says of the book; nothing where there is nobody to ask."""
    if not (_is_screen(sys.stdin) and _is_screen(sys.stdout)):
        return {}
    from bookplates.pipeline import problems_of
    from bookplates.spec.starter import ask

    return ask(typer.prompt, typer.echo, problems_of)


def _is_screen(stream: TextIO | None) -> bool:
    return stream is not None and stream.isatty()


def _check_output(target: str) -> None:
    from bookplates.files import is_standard_output

    if not target:
        raise typer.BadParameter("the name is empty", param_hint="-o")
    if is_standard_output(target) and _is_screen(sys.stdout):
        raise typer.BadParameter("the PDF would fill the screen; name a file, or send it on with > or |", param_hint="-o")


def _read_spec(name: str) -> bytes:
    from bookplates.files import read_bytes
    from bookplates.spec import MOST_BYTES

    try:
        return read_bytes(name, MOST_BYTES)
    except BookplatesError as error:
        _fail(error, name)


def _pack_name(spec: str) -> str:
    from pathlib import PurePath

    return "-" if spec == "-" else f"{PurePath(spec).stem or 'book'}.pdf"


def _echo_json(value: object) -> None:
    import json

    typer.echo(json.dumps(value, indent=2))  # in ASCII: the same on every terminal


def _warn(plan: Plan, name: str, source: bytes) -> None:
    for place, problem in _placed(plan.warnings, name, source):
        typer.echo(one_line(f"{place}: warning: {problem}"), err=True)


def _fail(error: BookplatesError, name: str, source: bytes | None = None) -> NoReturn:
    """Print every problem, one a line, and end: with 3 where the PDF is not as planned, else with 1."""
    for place, problem in _placed(error.problems, name, source):
        typer.echo(one_line(f"{place}: {problem}"), err=True)
    raise typer.Exit(3 if isinstance(error, Disagreement) else 1)


def _placed(problems: Iterable[Problem], name: str, source: bytes | None) -> Iterator[tuple[str, Problem]]:
    """Each problem with its file and, where it is about a spec, its line; in the order of the lines."""
    if source is None:
        yield from ((name, problem) for problem in problems)
        return
    lines = _Lines(source)
    placed = [(problem.line or lines.of(problem.where), problem) for problem in problems]
    for line, problem in sorted(placed, key=lambda pair: pair[0]):
        yield f"{name}:{line}", problem


class _Lines:
    """The lines of a spec's keys, looked up only when a key is asked for: what is no TOML is never searched."""

    def __init__(self, source: bytes) -> None:
        self._source = source

    @cached_property
    def _known(self) -> dict[tuple[str | int, ...], int]:
        from bookplates.spec.lines import lines_of_keys

        return lines_of_keys(self._source.decode("utf-8-sig", "replace"))

    def of(self, where: str) -> int:
        from bookplates.spec.lines import line_of

        return line_of(self._known, where) if where else 1


def run() -> None:
    """Run the command line. Nobody is shown a traceback."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")  # a title may have letters that the terminal lacks
    try:
        app()
    except OSError as error:  # files are dealt with where they are read and written
        from bookplates.files import let_go, reason

        let_go(sys.stdout)
        _end_with(f"standard output: cannot be written ({reason(error)})")
    except Exception as error:
        _end_with(f"bookplates: a mistake of its own ({type(error).__name__}: {error}); please report it")
    finally:
        gc.freeze()  # nothing is left to tidy up: searching all modules for it as the program ends takes a tenth of a run


def _end_with(line: str) -> NoReturn:
    typer.echo(one_line(line), err=True)
    sys.exit(1)

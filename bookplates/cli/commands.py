"""The commands: read, call, print, set the exit code. Nothing else, and nothing heavy before it is needed."""

from __future__ import annotations

import gc
import io
import sys
from collections.abc import Sequence
from typing import Annotated, NoReturn

import typer

from bookplates import __version__
from bookplates.cli import paper
from bookplates.cli.lesson import lesson
from bookplates.cli.talk import attached, check_outputs, echo_json, fail, is_screen, pack_name, read_spec, warn, write
from bookplates.errors import BadSpec, BookplatesError, one_line, reason

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

Spec = Annotated[
    str,
    typer.Argument(metavar="SPEC", help="The book's description, a TOML file, or a pack that holds it; - reads standard input."),
]
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
    svg: Annotated[
        str | None, typer.Option("--svg", metavar="FOLDER", help="Write each plate at true scale as SVG into this folder, too.")
    ] = None,
    plates: Annotated[
        str | None, typer.Option("--plates", metavar="NAMES", help='Make these plates only, such as "punch guide, tape guide".')
    ] = None,
    pages: Annotated[
        str | None,
        typer.Option("--pages", metavar="NUMBERS", help='Write these pages of the pack only, such as "2-4,7" or "5-".'),
    ] = None,
) -> None:
    """Make the pack: a PDF of templates that prints at 100 %."""
    target = pack_name(spec, excerpt=bool(plates or pages)) if output is None else output
    check_outputs(target, svg)
    read = read_spec(spec)
    from bookplates.pipeline import Wanted, make_pack

    try:
        made = make_pack(read.spec, Wanted(plates, pages, svg is not None), read.folder)
    except BookplatesError as error:
        fail(error, read.name, read.spec)
    warn(made.warnings, read)
    write(made, target, svg, spec)


@app.command(epilog="Example: bookplates plan orchard.toml --json")
def plan(spec: Spec, json: Json = False) -> None:
    """Work the book out: every size, and what a binder would warn of."""
    read = read_spec(spec)
    from bookplates.pipeline.bench import planned

    try:
        found = planned(read.spec, read.folder)
    except BookplatesError as error:
        fail(error, read.name, read.spec)
    warn(found.warnings, read)
    if json:
        echo_json(found.as_json())
    else:
        from bookplates.report import plan_table

        typer.echo(plan_table(found.plan, found.shopping))


app.command(epilog="Example: bookplates fit orchard.toml -o paper.pdf")(paper.fit)


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
        fail(error, pdf)
    if json:
        echo_json(as_json(measured))
    else:
        from bookplates.report import measured_table

        typer.echo(measured_table(measured))


@app.command(epilog="Example: bookplates verify orchard.pdf")
def verify(
    pdf: Annotated[str, typer.Argument(metavar="PDF", help="A pack; - reads standard input.")],
    spec: Annotated[
        str | None, typer.Option("--spec", metavar="SPEC", help="Hold it against this spec, not against the one attached to it.")
    ] = None,
) -> None:
    """Measure a pack that came back from elsewhere, and hold it against its spec."""
    if pdf == spec == "-":
        raise typer.BadParameter("standard input can be only one of the two files", param_hint="--spec")
    against = None if spec is None else read_spec(spec)
    from bookplates.files import read_pdf
    from bookplates.pipeline import verify as hold_against
    from bookplates.report import verified_line

    try:
        data = read_pdf(pdf)
        checked = hold_against(data, against.spec if against else None)
    except BadSpec as error:
        against = against or attached(pdf, data)
        fail(error, against.name, against.spec)
    except BookplatesError as error:
        fail(error, pdf)
    for problem in checked.warnings:
        typer.echo(one_line(f"{pdf}: warning: {problem}"), err=True)
    typer.echo(verified_line(checked.verified, checked.excerpt))


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
        fail(error)
    if not is_standard_output(path):
        typer.echo(f"{one_line(path)}: written; next, bookplates plan {one_line(path)}")


@app.command(epilog="Example: bookplates schema > book.schema.json")
def schema() -> None:
    """Print the JSON Schema of a spec."""
    from bookplates.pipeline import spec_schema

    echo_json(spec_schema())


app.command("class", epilog="Example: bookplates class orchard.toml --students names.csv")(lesson)


def _answers() -> dict[str, str]:
    """What the user says of the book; nothing where there is nobody to ask."""
    if not (is_screen(sys.stdin) and is_screen(sys.stdout)):
        return {}
    from bookplates.pipeline import problems_of
    from bookplates.spec.starter import ask

    return ask(typer.prompt, typer.echo, problems_of)


def run(told_to_end: Sequence[int] = ()) -> None:
    """Run the command line. Nobody is shown a traceback.

    Args:
        told_to_end: signals to stop that have come by now. A library may take the exit that one raises for a fault of
            the file it reads: that is no mistake to tell of.
    """
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")  # a title may have letters that the terminal lacks
    try:
        app()
    except OSError as error:  # files are dealt with where they are read and written
        from bookplates.files import let_go

        let_go(sys.stdout)
        _end_with(f"standard output: cannot be written ({reason(error)})")
    except Exception as error:
        if told_to_end:
            return
        _end_with(f"bookplates: a mistake of its own ({type(error).__name__}: {error}); please report it")
    finally:
        gc.freeze()  # nothing is left to tidy up: searching all modules for it as the program ends takes a tenth of a run


def _end_with(line: str) -> NoReturn:
    typer.echo(one_line(line), err=True)
    sys.exit(1)

"""Commands about the paper on the table: read, call, print, set the exit code."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from bookplates.cli.talk import check_outputs, echo_json, fail, read_spec, warn
from bookplates.errors import BadSpec, BookplatesError, one_line

if TYPE_CHECKING:
    from bookplates.pipeline.paper import Fitted


def fit(
    spec: Annotated[
        str,
        typer.Argument(
            metavar="SPEC", help="The book and its [[stock]]: a TOML file, or a pack that holds it; - reads standard input."
        ),
    ],
    largest: Annotated[bool, typer.Option("--largest", help="Say the largest book that the paper on hand makes.")] = False,
    output: Annotated[
        str | None,
        typer.Option(
            "-o", "--output", metavar="OUT.pdf", help="Write drawings, too, whatever the answer; - writes to standard output."
        ),
    ] = None,
    json: Annotated[bool, typer.Option("--json", help="Print JSON, lengths in mm.")] = False,
) -> None:
    """Say whether the paper on the table suffices, and what could be done where it does not: the exit code is then 1."""
    if output is not None:
        check_outputs(output, None)
    aside = output is not None and _takes_stdout(output)
    if json and aside:
        raise typer.BadParameter("standard output can be only one of the two", param_hint="--json")
    read = read_spec(spec)
    from bookplates.pipeline.paper import fit as hold_against

    try:
        found = hold_against(read.spec, read.folder, largest=largest, drawings=output is not None)
    except BookplatesError as error:
        fail(error, read.name, read.spec)
    warn((*found.answer.trial.plan.warnings, *found.answer.warnings), read)
    if output is not None:
        _write(found, output, spec)
    _print(found, json=json, aside=aside)
    if output is not None and not aside:
        _written(found, output, aside=json)
    if found.answer.faults:
        fail(BadSpec(*found.answer.faults), read.name, read.spec)


def _takes_stdout(output: str) -> bool:
    from bookplates.files import is_standard_output

    return is_standard_output(output)


def _write(found: Fitted, output: str, spec: str) -> None:
    from bookplates.files import write_together

    try:
        write_together([(output, found.pdf)], source=spec)
    except BookplatesError as error:
        fail(error)


def _written(found: Fitted, output: str, *, aside: bool) -> None:
    from bookplates.lengths import counted

    typer.echo(f"{one_line(output)}: {counted(found.pages, 'page')} of drawings, not to scale", err=aside)


def _print(found: Fitted, *, json: bool, aside: bool) -> None:
    """The answer on standard output, or on standard error where a PDF has that."""
    if json:
        from bookplates.workshop.fitting.fit_json import fit_as_json

        echo_json(fit_as_json(found.answer))
        return
    from bookplates.report.fit import fit_table

    typer.echo(fit_table(found.answer), err=aside)

"""`bookplates class`: the packs of a whole class."""

from __future__ import annotations

import sys
import time
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager
from typing import TYPE_CHECKING, Annotated, Any

import typer

from bookplates.cli.talk import fail, is_screen, read_spec
from bookplates.errors import BadFile, BookplatesError, one_line

if TYPE_CHECKING:
    from rich.progress import Progress

    from bookplates.cli.talk import ReadSpec
    from bookplates.errors import Problem
    from bookplates.pipeline.lesson import Given, Lesson
    from bookplates.pipeline.packs import Tally, Told

LONG = 1.5
"""Seconds after which work is long enough for its progress to be shown."""

FEW = 50
"""Different books whose sheets are shared out sooner than anybody asks what is going on."""

MOST_WORKERS = 64


def lesson(
    spec: Annotated[
        str, typer.Argument(metavar="SPEC", help="The book's description with its [class], a TOML file; - reads standard input.")
    ],
    *,
    output: Annotated[
        str | None, typer.Option("-o", "--output", metavar="OUT.pdf", help="The PDF; - writes to standard output.")
    ] = None,
    students: Annotated[
        str | None,
        typer.Option(
            "--students",
            metavar="FILE.csv",
            help="The students, in place of those in the spec: names, and keys in which books differ.",
        ),
    ] = None,
    separate: Annotated[
        str | None, typer.Option("--separate", metavar="FOLDER", help="Write a file for each student and one for the teacher.")
    ] = None,
    guides_only: Annotated[
        bool, typer.Option("--guides-only", help="Make only what is at true scale, for the students alone.")
    ] = False,
    workers: Annotated[
        int | None, typer.Option("--workers", metavar="N", min=1, max=MOST_WORKERS, help="How many processes make it.")
    ] = None,
) -> None:
    """Make the packs of a class: the teacher's pages, then each student's, in one PDF that prints at 100 %."""
    target = _checked(spec, output, students, separate)
    read = read_spec(spec)
    given = _given(students, spec, read.pack)
    from bookplates.pipeline.lesson import lesson as prepared
    from bookplates.pipeline.packs import Tally

    try:
        of = prepared(read.spec, given, read.folder, guides_only=guides_only)
        _check(of, target, separate, [spec, students or ""])
        with _waiting(of):
            warnings = of.warnings
        _warn(of, warnings, read)
        tally = Tally()
        with _progress() as told:
            _write(of, tally, target, separate, workers=workers, told=told)
    except BookplatesError as error:
        if isinstance(error, BadFile):  # names its file itself, or is about none
            fail(error)
        fail(error, read.name, read.spec)
    _say(tally, target, separate)


def _checked(spec: str, output: str | None, students: str | None, separate: str | None) -> str:
    """The name of the PDF; what cannot be asked for together is refused."""
    from pathlib import PurePath

    from bookplates.cli.talk import check_outputs

    if separate is not None and output is not None:
        raise typer.BadParameter("one PDF, or a file for each student with --separate", param_hint="-o")
    if separate in ("", "-"):
        raise typer.BadParameter("name a folder", param_hint="--separate")
    if students == "":
        raise typer.BadParameter("the name is empty", param_hint="--students")
    if spec == students == "-":
        raise typer.BadParameter("standard input can be only one of the two files", param_hint="--students")
    target = output if output is not None else "-" if spec == "-" else f"{PurePath(spec).stem or 'book'}-class.pdf"
    if separate is None:
        check_outputs(target, None)
    return target


def _given(students: str | None, spec: str, pack: bytes | None) -> Given | None:
    """The table of students, or the one attached to the PDF of a class whose spec is taken. It is checked later."""
    from bookplates.files import read_bytes
    from bookplates.pipeline.lesson import Given
    from bookplates.workshop.students.csv_file import LARGEST_CSV

    try:
        if students is not None:
            return Given(students, read_bytes(students, LARGEST_CSV))
        if pack is None:
            return None
        from bookplates.readback import attached_students

        found = attached_students(pack)
    except BookplatesError as error:
        fail(error, students or spec)
    return None if found is None else Given(f"{spec} (students.csv)", found)


def _check(of: Lesson, target: str, separate: str | None, sources: list[str]) -> None:
    """Refuse what cannot be written before the long work. Raises BadFile."""
    from pathlib import Path

    from bookplates.files import check_outputs_go

    if separate is None:
        check_outputs_go([target], sources)
    elif Path(separate).is_dir():
        check_outputs_go([_within(separate, name) for name in of.file_names], sources)


def _within(folder: str, name: str) -> str:
    return f"{folder.rstrip('/') or '/'}/{name}"


def _warn(of: Lesson, warnings: Sequence[Problem], read: ReadSpec) -> None:
    """Print what there is to warn of, one a line; what concerns the table of students names that."""
    from bookplates.spec.placed import placed

    table = of.given.name if of.given else ""
    own = [problem for problem in warnings if table and problem.where.startswith(f"{table}:")]
    for problem in own:
        where, _, _ = problem.where.partition(": ")
        typer.echo(one_line(f"{where}: warning: {str(problem).removeprefix(f'{where}: ')}"), err=True)
    for place, problem in placed([problem for problem in warnings if problem not in own], read.name, read.spec):
        typer.echo(one_line(f"{place}: warning: {problem}"), err=True)


def _write(of: Lesson, tally: Tally, target: str, separate: str | None, *, workers: int | None, told: Told) -> None:
    """Make the packs and write them, all or nothing."""
    from bookplates.files import write_together
    from bookplates.pipeline.packs import joined
    from bookplates.pipeline.packs import separate as made_separately

    if separate is None:
        with joined(of, tally, workers, told) as file:
            write_together([(target, file)])
        return
    with closing(made_separately(of, tally, workers, told)) as made:
        write_together(((_within(separate, name), data) for name, data in made), folder=separate)


def _say(tally: Tally, target: str, separate: str | None) -> None:
    """What was found, and what was written."""
    from bookplates.files import is_standard_output
    from bookplates.lengths import counted

    taken = separate is None and is_standard_output(target)
    typer.echo(tally.verified.text, err=taken)
    teachers = f", {tally.teachers:,} of them the teacher's" if tally.teachers else ""
    made = f"{counted(tally.students, 'student')}, {counted(tally.pages, 'page')}{teachers}, print at 100 %"
    if separate is not None:
        files = counted(tally.students + bool(tally.teachers), "file")
        typer.echo(f"{one_line(separate)}: {files}; {made}")
    elif not taken:
        typer.echo(f"{one_line(target)}: {made}")


@contextmanager
def _waiting(of: Lesson) -> Iterator[None]:
    """Shows on a terminal that something is going on while paper is shared out among many books that differ."""
    if not of.spec.stock or len(of.lots) <= FEW or not is_screen(sys.stderr):
        yield
        return
    with _on_screen() as shown:
        shown.add_task("cutting plans", total=None)
        yield


def _on_screen() -> Progress:
    """On standard error; it leaves nothing there."""
    from rich.console import Console  # slow
    from rich.progress import Progress

    return Progress(console=Console(stderr=True), transient=True)


@contextmanager
def _progress() -> Iterator[Told]:
    """Shows on a terminal how far long work has come, and leaves nothing there when it is done."""
    if not is_screen(sys.stderr):
        yield lambda _, __: None
        return
    bar = _Bar()
    try:
        yield bar.told
    finally:
        bar.stop()


class _Bar:
    """A bar that begins to show only when the work turns out to be long."""

    def __init__(self) -> None:
        self._began = time.monotonic()
        self._shown: Progress | None = None
        self._task: Any = None

    def told(self, done: int, of: int) -> None:
        """So many of so many students are done."""
        if self._shown is None and done < of and time.monotonic() - self._began > LONG:
            self._shown = _on_screen()
            self._task = self._shown.add_task("students", total=of)
            self._shown.start()
        if self._shown is not None:
            self._shown.update(self._task, completed=done)

    def stop(self) -> None:
        """Take it away."""
        if self._shown is not None:
            self._shown.stop()

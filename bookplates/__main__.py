"""``python -m bookplates``, and the installed command."""

from __future__ import annotations

import os
import signal
import sys
from contextlib import suppress
from types import FrameType

SAID: dict[int, bytes] = {signal.SIGINT: b"bookplates: interrupted\n", signal.SIGTERM: b"bookplates: told to end\n"}


def main() -> None:
    """Run the command line. A signal to stop ends it with 128 and the signal's number: 130 for an interrupt.

    This is arranged before anything slow is loaded, so that an early interrupt shows no traceback either.
    """
    heard: list[int] = []

    def end(number: int, _: FrameType | None) -> None:
        with suppress(ValueError):
            signal.signal(number, signal.SIG_IGN)  # a second one must not disturb the cleaning up
        heard.append(number)
        with suppress(OSError):
            os.write(2, SAID[number])  # not through a stream, which may be the one that is written to just now
        sys.exit(128 + number)

    for number in SAID:
        if signal.getsignal(number) is not signal.SIG_IGN:
            signal.signal(number, end)
    from bookplates.cli import run

    run(heard)
    if heard:  # a library swallowed the exit
        sys.exit(128 + heard[0])


if __name__ == "__main__":
    main()

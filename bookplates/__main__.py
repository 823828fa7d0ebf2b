"""``python -m bookplates``, and the installed command."""

from __future__ import annotations

import _thread
import os
import signal
import sys
import time
from contextlib import suppress
from types import FrameType

SAID: dict[int, bytes] = {signal.SIGINT: b"bookplates: interrupted\n", signal.SIGTERM: b"bookplates: told to end\n"}


def main() -> None:
    """Run the command line. A signal to stop ends it with 128 and the signal's number: 130 for an interrupt.

    This is arranged before anything slow is loaded, so that an early interrupt shows no traceback either.
    """
    heard: list[int] = []
    say = sys.unraisablehook

    def end(number: int, _: FrameType | None) -> None:
        for each in SAID:
            signal.signal(each, signal.SIG_IGN)  # a second one must not disturb the cleaning up
        if not heard:
            heard.append(number)
            with suppress(OSError):
                os.write(2, SAID[number])  # not through a stream, which may be the one that is written to just now
        sys.exit(128 + heard[0])

    def not_passed_on(raised: sys.UnraisableHookArgs) -> None:
        """The exit was raised where Python passes nothing on, as while it drops the lock of an import: once more, then."""
        if heard and isinstance(raised.exc_value, SystemExit):
            signal.signal(heard[0], end)
            with suppress(RuntimeError):  # Python closes down and begins no thread: it is ending anyway
                _thread.start_new_thread(signal_soon, (heard[0], _thread.get_ident()))
        else:
            say(raised)

    for number in SAID:
        if signal.getsignal(number) is not signal.SIG_IGN:
            signal.signal(number, end)
    sys.unraisablehook = not_passed_on
    from bookplates.cli import run

    run(heard)
    if heard:  # a library swallowed the exit
        sys.exit(128 + heard[0])


def signal_soon(number: int, thread: int) -> None:
    """Signal a thread, the main one, when it has gone on a little."""
    time.sleep(0.001)
    if hasattr(signal, "pthread_kill"):
        signal.pthread_kill(thread, number)  # wakes it also where it waits for input
    else:
        _thread.interrupt_main(signal.Signals(number))


if __name__ == "__main__":
    main()

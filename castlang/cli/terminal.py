"""What a person sees while a command runs: text, bold or not, and progress when it takes long."""

import os
import sys
import threading
from types import TracebackType
from typing import TextIO

AFTER = 1.0
"""Seconds after which progress is shown."""


def bold(stream: TextIO) -> bool:
    """Whether a stream may show bold: a terminal, and NO_COLOR is not set (no-color.org)."""
    return stream.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"


def width(stream: TextIO) -> int:
    """How wide a table may be: COLUMNS where it is set, for a pipe too (POSIX, Base Definitions, 8.3); else
    the terminal's columns; 100 where there is none."""
    told = os.environ.get("COLUMNS", "")
    if told.isdecimal() and int(told) > 0:
        return int(told)
    try:
        return os.get_terminal_size(stream.fileno()).columns
    except (OSError, ValueError, AttributeError):
        return 100


class Progress:
    """Shows on standard error which stage runs, when the work takes longer than a second on a terminal."""

    def __init__(self, stream: TextIO | None = None) -> None:
        self._stream = stream or sys.stderr
        self._stage = ""
        self._shown = False
        self._lock = threading.Lock()
        self._timer: threading.Timer | None = None
        self._closed = False

    def __enter__(self) -> "Progress":
        if self._stream.isatty():
            self._timer = threading.Timer(AFTER, self._show)
            self._timer.daemon = True
            self._timer.start()
        return self

    def __call__(self, stage: str) -> None:
        with self._lock:
            self._stage = stage
            if self._shown:
                self._write()

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self._timer is not None:
            self._timer.cancel()
        with self._lock:
            self._closed = True
            if self._shown:
                self._stream.write("\r" + " " * 40 + "\r")
                self._stream.flush()

    def _show(self) -> None:
        with self._lock:
            if not self._closed:
                self._shown = True
                self._write()

    def _write(self) -> None:
        self._stream.write(f"\r{self._stage} ...".ljust(40))
        self._stream.flush()

"""One run of the sound process, served by threads so that its program never waits for it."""

import contextlib
import os
import subprocess
import sys
import threading
from collections import deque
from collections.abc import Callable, Sequence
from queue import SimpleQueue

_MODULE = "passbell.sound.child"


class Link:
    """A running sound process and the pipes to it.

    Every call but `close` and `wait` returns at once, whatever the process does. It is started in
    a thread of its own.

    Args:
        arguments: handed to the process.
        before: called in that thread before the start.
    """

    def __init__(
        self, arguments: Sequence[str], before: Callable[[], object] | None = None
    ) -> None:
        self._command = [sys.executable, "-P", "-m", _MODULE, *arguments]
        self._before = before
        self._out: SimpleQueue[str | None] = SimpleQueue()
        self._in: deque[str] = deque()
        self._process: subprocess.Popen[bytes] | None = None
        self._unwanted = False
        self._ended = threading.Event()
        self._written = threading.Event()
        threading.Thread(target=self._serve, name="sound", daemon=True).start()

    @property
    def gone(self) -> bool:
        """Whether the process has ended, or could not be started, and all it said is read."""
        return self._ended.is_set() and not self._in

    @property
    def pid(self) -> int | None:
        """The number of the process, None before it runs."""
        return self._process.pid if self._process else None

    def send(self, line: str) -> None:
        """Hand it one line; a process that is gone never gets it."""
        self._out.put(line)

    def read(self) -> list[str]:
        """The lines that came since the last call."""
        return [self._in.popleft() for _ in range(len(self._in))]

    def kill(self) -> None:
        """End the process at once, also one that hangs or that is only just being started."""
        self._unwanted = True
        if self._process:
            self._process.kill()

    def close(self, seconds: float) -> None:
        """Close its input once everything sent is written; it then rings on alone.

        Waits for that for so long at most: what is still unwritten when the program ends is lost.
        """
        self._out.put(None)
        self._written.wait(seconds)

    def wait(self, seconds: float) -> bool:
        """Wait for its end for so long at most; whether it ended."""
        return self._ended.wait(seconds)

    def _serve(self) -> None:
        try:
            if self._before:
                self._before()
            self._run(self._start())
        except OSError as error:
            self._in.append(f"news unstarted {error}")
        finally:
            self._out.put(None)
            self._written.set()
            self._ended.set()

    def _start(self) -> subprocess.Popen[bytes]:
        # PYTHONMALLOC: simpleaudio frees memory without the interpreter lock, which kills
        # Python 3.12 and later unless that memory comes from plain malloc.
        return subprocess.Popen(  # noqa: S603 - our own module
            self._command,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,  # the sound library writes there, over the screen
            start_new_session=True,  # Ctrl+C and a closing window are not meant for it
            creationflags=getattr(subprocess, "CREATE_NO_WINDOW", 0),
            env={**os.environ, "PYTHONMALLOC": "malloc"},
        )

    def _run(self, process: subprocess.Popen[bytes]) -> None:
        self._process = process
        if self._unwanted:
            process.kill()
        writer = threading.Thread(target=self._write, args=(process,), daemon=True)
        writer.start()
        assert process.stdout
        with process.stdout as answers:
            for line in answers:
                self._in.append(line.decode("utf-8", "replace").rstrip("\n"))
        process.wait()
        self._out.put(None)
        writer.join()

    def _write(self, process: subprocess.Popen[bytes]) -> None:
        assert process.stdin
        with contextlib.suppress(OSError), process.stdin as commands:
            while (line := self._out.get()) is not None:
                commands.write(f"{line}\n".encode())
                commands.flush()
        self._written.set()

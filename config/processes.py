"""Programs that live and die together: the first one to end ends the others."""

from __future__ import annotations

import os
import signal
import subprocess  # nosec B404 - starting programs is what this file is for
import time
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from types import FrameType

PATIENCE_SECONDS = 15.0
TICK_SECONDS = 0.1
STOPPING = (signal.SIGINT, signal.SIGTERM, signal.SIGHUP)


@dataclass
class Together:
    """Runs programs and answers with the exit code of the first that ended; 0 where somebody stopped it."""

    programs: Mapping[str, Sequence[str]]
    environment: Mapping[str, str] = field(default_factory=dict)
    patience: float = PATIENCE_SECONDS
    asked_to_stop: bool = field(default=False, init=False)
    running: dict[str, subprocess.Popen[bytes]] = field(default_factory=dict, init=False)

    def run(self) -> int:
        """Start all and return once all have ended."""
        before = {sign: signal.signal(sign, self._stop_was_asked) for sign in STOPPING}
        try:
            for name, command in self.programs.items():
                self._start(name, command)
            return self._wait()
        finally:
            self._stop_all()
            for sign, handler in before.items():
                signal.signal(sign, handler)

    def _start(self, name: str, command: Sequence[str]) -> None:
        # a session of its own: Ctrl-C reaches this process alone, which then stops them in order
        self.running[name] = subprocess.Popen(  # noqa: S603  # nosec B603 - our own commands
            command, env={**os.environ, **self.environment}, start_new_session=True
        )

    def _wait(self) -> int:
        while not self.asked_to_stop:
            for process in self.running.values():
                code = process.poll()
                if code is not None:
                    # killed by a signal: the shell's way of saying so
                    return code if code >= 0 else 128 - code
            time.sleep(TICK_SECONDS)
        return 0

    def _stop_all(self) -> None:
        for process in self.running.values():
            if process.poll() is None:
                process.terminate()
        last_moment = time.monotonic() + self.patience
        for process in self.running.values():
            with suppress(subprocess.TimeoutExpired):
                process.wait(max(last_moment - time.monotonic(), 0))
            # what the program itself left running, it first where it did not listen
            with suppress(ProcessLookupError):
                os.killpg(process.pid, signal.SIGKILL)
            process.wait()

    def _stop_was_asked(self, number: int, frame: FrameType | None) -> None:
        self.asked_to_stop = True

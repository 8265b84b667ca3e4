"""One command serves web and worker; they start together and stop together."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

import pytest

from config.processes import Together

PATIENCE = 120


def wait_until(holds, *, seconds: float = PATIENCE):
    last_moment = time.monotonic() + seconds
    while time.monotonic() < last_moment:
        found = holds()
        if found:
            return found
        time.sleep(0.1)
    raise AssertionError(f"not within {seconds} s")


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


@contextmanager
def served(folder: Path, *, port: int) -> Iterator[subprocess.Popen]:
    """Run `manage.py run` on an empty folder of its own."""
    environment = {
        "PATH": os.environ["PATH"],
        "VAR_FOLDER": str(folder),
        "PORT": str(port),
        "WITHOUT_DEMO": "1",
    }
    process = subprocess.Popen(
        [sys.executable, "manage.py", "run"],
        env=environment,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )
    try:
        yield process
    finally:
        if process.poll() is None:
            process.send_signal(signal.SIGTERM)
            process.wait(PATIENCE)


def answers(port: int) -> bool:
    try:
        with urllib.request.urlopen(f"http://127.0.0.1:{port}/readyz", timeout=2) as answer:
            return answer.status == 200
    except OSError:
        return False


def children(process: subprocess.Popen) -> dict[str, int]:
    """Return the two programs of a run by name, as the system lists them."""
    found = {}
    for listed in Path("/proc").glob("[0-9]*"):
        with suppress(OSError):  # it may end while it is read
            parent = (listed / "stat").read_text().rpartition(")")[2].split()[1]
            if parent == str(process.pid):
                command = (listed / "cmdline").read_bytes()
                found["web" if b"gunicorn" in command else "worker"] = int(listed.name)
    return found


def is_alive(number: int) -> bool:
    try:
        os.kill(number, 0)
    except ProcessLookupError:
        return False
    return True


lists_programs = pytest.mark.skipif(
    not Path("/proc/self").exists(), reason="/proc is not mounted: nobody lists the programs that run"
)


@lists_programs
@pytest.mark.parametrize("sign", [signal.SIGINT, signal.SIGTERM])
def test_one_command_serves_and_a_signal_stops_both_programs(tmp_path, sign):
    port = free_port()

    with served(tmp_path, port=port) as process:
        wait_until(lambda: answers(port))
        both = wait_until(lambda: len(children(process)) == 2 and children(process))
        process.send_signal(sign)
        told, _ = process.communicate(timeout=PATIENCE)

    assert process.returncode == 0
    assert f"Lapwise is at http://127.0.0.1:{port}" in told
    assert "Lapwise has stopped." in told
    assert not any(is_alive(number) for number in both.values())
    assert oct((tmp_path / "secret-key").stat().st_mode & 0o777) == "0o600"


@lists_programs
@pytest.mark.parametrize("name", ["web", "worker"])
def test_when_one_program_dies_the_other_is_stopped_and_the_code_says_so(tmp_path, name):
    port = free_port()

    with served(tmp_path, port=port) as process:
        wait_until(lambda: answers(port))
        both = wait_until(lambda: len(children(process)) == 2 and children(process))
        os.kill(both[name], signal.SIGKILL)
        process.communicate(timeout=PATIENCE)

    assert process.returncode == 128 + signal.SIGKILL
    wait_until(lambda: not any(is_alive(number) for number in both.values()))
    assert not answers(port)


def test_taken_port_is_said_with_another_to_try(tmp_path):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]

        with served(tmp_path, port=port) as process:
            told, _ = process.communicate(timeout=PATIENCE)

    assert process.returncode == 1
    assert f"PORT={port + 1} make run" in told
    assert "Traceback" not in told


@pytest.mark.parametrize("port", ["http", "0", "65536", "-1"])
def test_port_that_is_none_is_wrong_usage(tmp_path, port):
    with served(tmp_path, port=port) as process:
        told, _ = process.communicate(timeout=PATIENCE)

    assert process.returncode == 2
    assert f"PORT is {port}" in told


def test_first_program_to_end_decides_the_exit_code():
    code = Together(programs={"a": ["sleep", "60"], "b": ["sh", "-c", "exit 7"]}).run()

    assert code == 7


def test_program_that_does_not_listen_is_killed_with_what_it_started():
    deaf = ["sh", "-c", "trap '' TERM; sleep 300 & wait; wait"]
    together = Together(programs={"deaf": deaf, "brief": ["sh", "-c", "sleep 0.5; exit 3"]}, patience=0.5)

    code = together.run()

    assert code == 3
    assert together.running["deaf"].returncode == -signal.SIGKILL

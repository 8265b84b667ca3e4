"""Kinds of work that only tests ask for; a real worker loads them with `--include`."""

from __future__ import annotations

import time

from projects import jobs


@jobs.kind("test note")
def note(run: jobs.Run) -> jobs.Result:
    """Write down what was asked."""
    return jobs.Document(name="note.txt", content=str(run.arguments).encode(), content_type="text/plain")


@jobs.kind("test slow")
def slow(run: jobs.Run) -> jobs.Result:
    """Take the asked number of steps of a tenth of a second."""
    steps = run.arguments["steps"]
    for step in range(steps):
        run.tell(100 * step // steps, f"step {step + 1} of {steps}")
        time.sleep(0.1)
    return jobs.Document(name="slow.txt", content=b"slow " * 1000, content_type="text/plain")


@jobs.kind("test silent")
def silent(run: jobs.Run) -> jobs.Result:
    """Take long without saying anything."""
    time.sleep(run.arguments["seconds"])
    return {"slept": run.arguments["seconds"]}

"""The hatch of each layer as strokes that follow it round its bends. Pure."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from openings.drawing.shapes import Point

# a stroke between the back (0) and the face (1) of a band, and how far it runs on along the band meanwhile
Stroke = tuple[tuple[float, float], tuple[float, float]]
Band = Callable[[float, float], Point]


def hatch(name: str, band: Band, *, length: float) -> tuple[tuple[Point, ...], ...]:
    """Return the strokes of hatch `name` on a band of `length` drawing units.

    `band` gives the point at a place along the band and a share of its thickness: 0 back, 1 face.
    """
    return tuple(
        tuple(band(along, through) for along, through in stroke)
        for stroke in STROKES[name](length)
        if all(0 <= along <= length for along, _ in stroke)
    )


def _slanted(*, step: float, run: float) -> Callable[[float], Iterator[Stroke]]:
    def strokes(length: float) -> Iterator[Stroke]:
        for start in _places(length, step):
            yield (start, 0.0), (start + run, 1.0)

    return strokes


def _crossed(length: float) -> Iterator[Stroke]:
    yield from _slanted(step=9, run=7)(length)
    for start in _places(length, 9):
        yield (start, 1.0), (start + 7, 0.0)


def _woven(length: float) -> Iterator[Stroke]:
    for start in _places(length, 10):
        yield (start, 0.25), (start + 5, 0.75)
        yield (start + 5, 0.75), (start + 10, 0.25)


def _dotted(length: float) -> Iterator[Stroke]:
    for number, start in enumerate(_places(length, 4)):
        through = 0.3 if number % 2 else 0.7
        yield (start, through), (start + 1, through)


def _nothing(_: float) -> Iterator[Stroke]:
    return iter(())


def _places(length: float, step: float) -> Iterator[float]:
    return (2 + number * step for number in range(int(length / step) + 1))


STROKES: Mapping[str, Callable[[float], Iterator[Stroke]]] = {
    "rising": _slanted(step=5, run=-6),
    "falling": _slanted(step=5, run=6),
    "steep": _slanted(step=7, run=14),
    "level": _slanted(step=4, run=0),
    "crossed": _crossed,
    "cells": _crossed,
    "weave": _woven,
    "dots": _dotted,
    "solid": _nothing,
    "bare": _nothing,
}

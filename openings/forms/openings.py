"""The form of one opening: read by the window schedule's own reader, so both refuse in the same words."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping

from django import forms

from openings.methods.load import load_methods
from openings.schedule.read import read_schedule
from openings.takeoff.opening import OpeningInput
from openings.takeoff.specification import Specification
from projects.forms.plain import PlainForm, version_field
from projects.quantities.length import Length
from projects.quantities.text import format_length

LENGTHS = (
    "unit_width",
    "unit_height",
    "ro_width",
    "ro_height",
    "sill_height",
    "offset",
    "wall_depth",
    "fastener_corner",
    "fastener_max",
)
CHOICES = ("method", "fin", "corners", "over_fin", "pan", "head_fasteners")
_SET_ELSEWHERE = "As specified"


def _length(label: str, hint: str) -> forms.CharField:
    return forms.CharField(
        label=label,
        max_length=64,
        required=False,
        help_text=hint,
        widget=forms.TextInput(attrs={"autocomplete": "off", "inputmode": "text", "size": 14}),
    )


def _choice(label: str, *values: str) -> forms.ChoiceField:
    options = [("", _SET_ELSEWHERE), *((value, value) for value in values)]
    return forms.ChoiceField(label=label, choices=options, required=False)


class OpeningForm(PlainForm):
    """One opening. What is left empty is as the specification says."""

    mark = forms.CharField(label="Mark", max_length=64, help_text="Its tag in the schedule, once in a house.")
    elevation = forms.CharField(label="Elevation", max_length=64, help_text="The face, such as Front.")
    unit_width = _length("Unit width", "The frame's own width: 36, 35 1/2, 3'-0\" or 914 mm.")
    unit_height = _length("Unit height", "The frame's own height.")
    ro_width = _length("RO width", "The framed hole. Empty: the unit and the clearance.")
    ro_height = _length("RO height", "The framed hole. Empty: the unit and the clearance.")
    offset = _length("From the left end", "From the elevation's left end to the RO.")
    sill_height = _length("Sill height", "Of the RO, above finished grade.")
    method = forms.ChoiceField(label="Method", required=False)
    fin = _choice("Nail fin", "fixed", "folding")
    corners = _choice("Fin corners", "welded", "open")
    over_fin = _choice("Over the fins", "none", "membrane", "sealed")
    pan = _choice("Pan", "membrane", "stretch", "rigid", "none")
    wall_depth = _length("Wall depth", "Depth of the rough sill: stud, sheathing and exterior foam.")
    mulls = forms.CharField(label="Mull joints", max_length=3, required=False)
    weight_lb = forms.CharField(label="Weight in pounds", max_length=12, required=False)
    glass = forms.CharField(
        label="Glass", max_length=16, required=False, help_text="Such as 2x3mm, where no weight is known."
    )
    fastener_corner = _length("Maker's corner distance", "From the frame's corner to the first fastener.")
    fastener_max = _length("Maker's largest spacing", "It overrules our own target and maximum.")
    head_fasteners = _choice("Head fasteners", "yes", "no", "loose")
    flags = forms.CharField(
        label="Flags", max_length=200, required=False, help_text="Split by semicolons: tempered; egress."
    )
    note = forms.CharField(
        label="Note", max_length=500, required=False, widget=forms.Textarea(attrs={"rows": 2})
    )
    version = version_field()

    specification: Specification

    def __init__(self, *args: object, **kwargs: object) -> None:
        """Offer the methods that there are files for."""
        super().__init__(*args, **kwargs)
        named = [(method.code, f"{method.code}: {method.label}") for method in load_methods().values()]
        self.fields["method"].choices = [("", _SET_ELSEWHERE), *named]  # type: ignore[attr-defined]

    @classmethod
    def under(cls, specification: Specification) -> type[OpeningForm]:
        """Return the form for openings of a house under `specification`."""
        return type("OpeningForm", (cls,), {"specification": specification})

    def clean(self) -> dict[str, object]:
        """Return the cleaned fields with `value`, the opening that they state."""
        cleaned: dict[str, object] = super().clean() or {}
        if self.errors:
            return cleaned
        texts = {name: str(cleaned[name]) for name in self.fields if name != "version"}
        reading = read_schedule(_as_schedule(texts), filename="form.csv", specification=self.specification)
        for problem in reading.problems:
            field = problem.column if problem.column in self.fields else None
            self.add_error(field, f"{problem.problem} {problem.remedy}")
        if reading.openings:
            cleaned["value"] = reading.openings[0]
        elif not reading.problems:  # a mark such as TOTAL reads as no opening at all
            self.add_error("mark", f"{texts['mark']} can't be a mark. Choose another.")
        return cleaned


def entry_of(value: OpeningInput) -> dict[str, object]:
    """Return what the form shows for an opening."""
    entry: dict[str, object] = {name: _shown(getattr(value, name)) for name in LENGTHS}
    entry |= {name: getattr(value, name) or "" for name in CHOICES}
    glass = value.glass
    return entry | {
        "mark": value.mark,
        "elevation": value.elevation,
        "mulls": str(value.mulls or ""),
        "weight_lb": "" if value.weight is None else f"{round(value.weight.in_pounds, 6):.10g}",
        "glass": "" if glass is None else f"{glass.panes}x{glass.thickness.in_mm:.10g}mm",
        "flags": "; ".join(value.flags),
        "note": value.note,
    }


def _shown(length: Length | None) -> str:
    return "" if length is None else format_length(length)


def _as_schedule(texts: Mapping[str, str]) -> bytes:
    """Return the entry as a window schedule of one row."""
    out = io.StringIO()
    rows = csv.writer(out, lineterminator="\n")
    rows.writerow(texts)
    rows.writerow([text.replace("\r\n", "\n").strip() for text in texts.values()])
    return out.getvalue().encode()

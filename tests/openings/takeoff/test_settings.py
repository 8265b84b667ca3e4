"""Settings by name and text: each one's default, range, refusals and form."""

from __future__ import annotations

from dataclasses import fields
from fractions import Fraction

import pytest

from openings.takeoff.settings import SETTINGS, UnknownSetting, apply_settings, as_json
from openings.takeoff.specification import DEFAULT, Specification
from projects.errors import BadValue
from projects.quantities.volume import Volume
from tests.openings.takeoff.cases import inch, spec

# The published table of defaults.
PUBLISHED = {
    "method": "B1",
    "over_fin": None,
    "head_strip": True,
    "fin": "fixed",
    "corners": "welded",
    "pan": "membrane",
    "wall_depth": 5.9375,
    "clearance": 0.5,
    "call_size_is": "unit",
    "sill_strip_width": 9,
    "jamb_strip_width": 9,
    "head_strip_width": 9,
    "jamb_wrap": 0,
    "head_extra": 0,
    "stock_widths": [4, 6, 9, 12],
    "pan_upturn": 6,
    "pan_turn_down": 3,
    "pan_back_dam": 0.75,
    "roll_length": 900,
    "strip_trim": 0,
    "shims": True,
    "drip_cap": False,
    "tape_width": 3,
    "hinge_bead": 0.25,
    "back_bead": 0.5,
    "face_bead": 0.5,
    "bead_offset": 0,
    "weep_gap": 3,
    "sealant_waste": 0.15,
    "cartridge_floz": 10.1,
    "fastener_corner": 3,
    "fastener_target": 12,
    "fastener_min": 9,
    "fastener_max": 18,
    "head_fasteners": "yes",
    "sheathing": 0.4375,
    "foam_thickness": 0,
    "screw_lengths": [1.5, 2, 2.5, 3],
    "air_seal": "foam",
    "air_seal_depth": 1.5,
    "air_seal_sill_depth": 0.75,
    "frame_share": 0.30,
}


def test_defaults_are_the_published_ones() -> None:
    shown = as_json(DEFAULT)

    assert set(shown) == set(PUBLISHED)
    for name, value in PUBLISHED.items():
        assert shown[name] == (pytest.approx(value) if isinstance(value, float) else value), name


def test_every_field_of_the_specification_has_its_row() -> None:
    rows = {setting.field or name for name, setting in SETTINGS.items()}

    assert rows == {field.name for field in fields(Specification)}


def test_every_setting_has_grade_source_label_and_help() -> None:
    for setting in SETTINGS.values():
        assert setting.grade in ("P", "M", "C", "D", "E")
        assert setting.source and setting.label  # noqa: PT018
        assert setting.help.endswith(".")


@pytest.mark.parametrize("name", SETTINGS)
def test_shown_text_of_a_setting_reads_back(name: str) -> None:
    setting = SETTINGS[name]
    text = setting.text(DEFAULT)

    if text:
        assert setting.parse(text) == setting.value(DEFAULT)
    assert setting.default == as_json(DEFAULT)[name]


def test_strip_width_sets_all_three_and_a_named_one_wins() -> None:
    changed = spec(head_strip_width="12", strip_width="6")

    assert (changed.sill_strip_width, changed.jamb_strip_width) == (inch(6), inch(6))
    assert changed.head_strip_width == inch(12)


def test_roll_length_takes_feet_or_bare_inches() -> None:
    assert spec(roll_length="50 ft").roll_length == inch(600)
    assert spec(roll_length="50'").roll_length == inch(600)
    assert spec(roll_length="600").roll_length == inch(600)


def test_lists_are_sorted_and_without_repeats() -> None:
    assert spec(stock_widths="12, 9,6, 9").stock_widths == (inch(6), inch(9), inch(12))
    assert spec(screw_lengths="1 5/8,3").screw_lengths == (inch("1.625"), inch(3))


def test_cartridge_is_in_fluid_ounces() -> None:
    assert spec(cartridge_floz="20").cartridge == Volume.fluid_ounces(20)


@pytest.mark.parametrize("text", ["no", "No", "NO"])
def test_yes_and_no_are_read_in_any_case(text: str) -> None:
    assert spec(head_strip=text).head_strip is False


def test_choices_are_read_in_any_case() -> None:
    assert spec(method="a1", pan="Stretch", air_seal="Rod_and_Bead") == spec(
        method="A1", pan="stretch", air_seal="rod and bead"
    )


def test_shares_are_shares() -> None:
    assert spec(sealant_waste="0.10").sealant_waste == Fraction(1, 10)
    assert spec(frame_share="0").frame_share == 0


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("sealant_waste", "10"),
        ("sealant_waste", "10%"),
        ("sealant_waste", "-0.1"),
        ("sealant_waste", "nan"),
        ("frame_share", "30"),
        ("back_bead", "0"),
        ("back_bead", "-1/2"),
        ("back_bead", "2"),
        ("fastener_target", "0"),
        ("sill_strip_width", "0"),
        ("strip_width", "wide"),
        ("roll_length", ""),
        ("roll_length", "75 feets"),
        ("stock_widths", "4,,9"),
        ("stock_widths", "none"),
        ("stock_widths", "0"),
        ("screw_lengths", ""),
        ("cartridge_floz", "0"),
        ("cartridge_floz", "300 ml"),
        ("head_strip", "maybe"),
        ("head_strip", "true"),
        ("pan", "copper"),
        ("fin", "none"),
        ("method", "C"),
        ("over_fin", ""),
        ("head_fasteners", "tight"),
        ("wall_depth", "3-6"),
        ("clearance", "1e3"),
    ],
)
def test_value_that_cannot_be_is_refused_by_name(name: str, text: str) -> None:
    with pytest.raises(BadValue) as refused:
        apply_settings(DEFAULT, {name: text})

    assert not isinstance(refused.value, UnknownSetting)
    assert refused.value.problem.split(":")[0] == name
    assert refused.value.remedy


def test_unknown_setting_names_those_there_are() -> None:
    with pytest.raises(UnknownSetting) as refused:
        apply_settings(DEFAULT, {"strip_widths": "9"})

    assert "strip_width" in refused.value.remedy


def test_settings_leave_the_specification_they_start_from() -> None:
    spec(strip_width="6", pan="none")

    assert as_json(DEFAULT)["pan"] == "membrane"
    assert as_json(DEFAULT)["sill_strip_width"] == 9

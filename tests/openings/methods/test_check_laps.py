from __future__ import annotations

import json
from io import StringIO

import pytest
from django.core.management import CommandError, call_command

B1_SEALED = (
    "wrb, sill strip, pan, pan corner, jamb strip, hinge bead, back bead, unit, fasteners, corner patch, "
    "face bead, head strip, head flap, flap tape, inside seal"
)


def ask(*options):
    """Return the document and the exit code."""
    out, code = StringIO(), 0
    try:
        call_command("check_laps", *options, "--json", stdout=out)
    except SystemExit as leaving:
        code = leaving.code
    return json.loads(out.getvalue()), code


def test_a_whole_legal_order_has_nothing_to_say():
    document, code = ask(
        "--method", "B1", "--over-fin", "sealed", "--fin", "folding", "--corners", "open",
        "--order", B1_SEALED,
    )  # fmt: skip

    assert code == 0
    assert document == {
        "legal": True, "complete": True, "reverse_laps": [], "wrong_order": [], "missing": [],
        "drainage_blocked": False, "problems": [], "notices": [],
    }  # fmt: skip


def test_an_illegal_order_is_an_answer_with_its_reasons():
    document, code = ask("--method", "B1", "--order", "jamb strip, sill strip, unit, back bead")

    assert code == 0
    assert document["legal"] is False
    assert document["reverse_laps"] == [
        {
            "over": "jamb strip",
            "under": "sill strip",
            "why": "Water running down the jamb strip must land on the sill strip, not behind it.",
        }
    ]
    assert document["wrong_order"] == [
        {
            "first": "back bead",
            "then": "unit",
            "why": "The back bead is squeezed out by the fin: it must be there before the unit is set.",
        }
    ]


def test_a_named_drip_cap_is_judged_without_being_asked_for():
    document, _ = ask("--method", "A", "--order", "head strip, drip cap")

    assert [(lap["over"], lap["under"]) for lap in document["reverse_laps"]] == [("head strip", "drip cap")]
    assert document["notices"] == []


def test_without_a_head_strip_the_flap_is_judged_against_the_unit():
    document, _ = ask("--method", "A1", "--head-strip", "no", "--order", "head flap, head strip, unit")

    assert [(lap["over"], lap["under"]) for lap in document["reverse_laps"]] == [("head flap", "unit")]
    assert document["notices"] == ["head strip: the choices do not have it, so its laps were not judged."]


@pytest.mark.parametrize("order", ["sill strip, gutter", "pan, sill strip, pan", " , "])
def test_an_unknown_or_repeated_layer_is_refused_with_the_list(order):
    document, code = ask("--method", "B1", "--order", order)

    assert code == 1
    assert set(document) == {"problems", "notices"}
    assert "wrb, sill strip, pan, pan corner, jamb strip," in document["problems"][0]["remedy"]
    assert "sill cover" in document["problems"][0]["remedy"]


@pytest.mark.parametrize(
    ("options", "value"),
    [
        (("--method", "C"), "C"),
        (("--method", "A1", "--over-fin", "sealed"), "sealed"),
        (("--method", "B", "--pan", "tray"), "tray"),
        (("--method", "B", "--head-strip", "maybe"), "maybe"),
        (("--method", "B", "--fin", "none"), "none"),
        (("--method", "B", "--corners", "mitred"), "mitred"),
    ],
)
def test_a_choice_that_nobody_knows_is_refused_by_name(options, value):
    document, code = ask(*options, "--order", "unit")

    assert code == 1
    assert document["problems"][0]["value"] == value


def test_an_unknown_option_is_wrong_usage():
    with pytest.raises((CommandError, SystemExit)):
        ask("--method", "B1", "--order", "unit", "--colour", "red")


def test_capitals_and_spaces_do_not_matter():
    document, code = ask(
        "--method", "b1", "--pan", "None", "--head-strip", "NO", "--order", " Sill  Strip,PAN ,"
    )

    assert code == 0
    assert document["legal"] is True
    assert "pan" not in document["missing"]
    assert "head strip" not in document["missing"]


def test_a_person_reads_what_leaks_and_why():
    out = StringIO()

    call_command("check_laps", "--method", "B1", "--order", "head flap, head strip, sill cover", stdout=out)

    assert "Not legal: this leaks." in out.getvalue()
    assert "Reverse lap: head flap must lie over head strip." in out.getvalue()
    assert "Drainage blocked" in out.getvalue()

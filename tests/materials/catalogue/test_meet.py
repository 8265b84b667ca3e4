"""What a takeoff's demand comes to in materials and packs."""

from __future__ import annotations

import pytest

from materials.catalogue.load import load_catalogue
from materials.catalogue.material import Catalogue
from materials.catalogue.meet import MaterialNeed, meet_demand, primer_need
from openings.takeoff.compute import take_off_house
from openings.takeoff.demand import Need
from projects.errors import BadValue
from projects.quantities.length import Length
from projects.quantities.volume import Area, Volume
from tests.openings.takeoff.cases import inch, opening, spec

# One opening of method B1 with a pan, unit 36 x 60: the golden of method A with two flap tapes.
#   9 in: 54.5 + 54.5 + 77.5 + 77.5 = 264; 12 in: pan 48.5; back bead 186 in of 1/2; 20 screws; 2 pan corners


def needs(*openings: object, **texts: str) -> dict[str, MaterialNeed]:
    """Return what openings need by material key."""
    takeoff = take_off_house(list(openings) or [opening()], spec(**texts))  # type: ignore[arg-type]
    met = meet_demand(takeoff.demand, takeoff.specification, load_catalogue())
    assert not met.problems
    return {need.material.key: need for need in met.needs}


def test_each_part_is_met_by_its_material() -> None:
    found = needs()

    assert set(found) == {
        "membrane-9in", "membrane-12in", "wrb-tape-3in", "sealant",
        "screw-2in", "pan-corner", "foam", "shims",
    }  # fmt: skip
    assert Length(found["membrane-9in"].quantity) == inch(264)
    assert dict(found["membrane-9in"].pieces) == {inch("54.5").nm: 2, inch("77.5").nm: 2}
    assert Length(found["membrane-12in"].quantity) == inch("48.5")
    assert found["screw-2in"].quantity == 20
    assert found["pan-corner"].quantity == 2
    assert found["shims"].quantity == 18


def test_sealant_is_ordered_with_its_waste() -> None:
    # 186 x pi / 16 x 1.15 = 41.99916679 in3 (golden A)
    assert Volume(needs()["sealant"].quantity).in_cubic_inches == pytest.approx(41.99916679, abs=1e-6)
    assert needs()["sealant"].packs(load_catalogue().material("sealant").pack("cartridge-10.1oz")) == 3
    assert needs()["sealant"].packs(load_catalogue().material("sealant").pack("sausage-20oz")) == 2  # 1.16


def test_packs_are_rounded_up_once_for_all_openings() -> None:
    five = [opening(mark=f"W{number}") for number in range(5)]
    cartridge = load_catalogue().material("sealant").pack("cartridge-10.1oz")

    # 5 x 2.304 = 11.52 -> 12, not 5 x 3 = 15
    assert needs(*five)["sealant"].packs(cartridge) == 12


def test_strips_are_cut_whole_from_their_rolls() -> None:
    nine = load_catalogue().material("membrane-9in")
    rows = [opening(mark=f"W{number}") for number in range(5)]

    # 10 x 77.5 and 10 x 54.5 on 600: first fit takes 7 x 77.5 = 542.5 (54.5 more is 597), then 3 x 77.5
    # = 232.5 and 6 x 54.5 = 327 (559.5), then 3 x 54.5: three rolls
    assert needs(*rows)["membrane-9in"].packs(nine.pack("roll-50ft")) == 3
    assert needs(*rows)["membrane-9in"].packs(nine.pack("roll-75ft")) == 2


def test_trim_is_cut_with_each_strip() -> None:
    found = needs(strip_trim="1/2")

    assert Length(found["membrane-9in"].quantity) == inch(266)  # 4 x 1/2 more
    assert Length(found["wrb-tape-3in"].quantity).in_inches == pytest.approx(37.455844, abs=1e-6)


def test_stretch_pan_is_another_material_than_the_strips() -> None:
    found = needs(opening(pan="stretch"))

    assert "stretch-membrane-12in" in found
    assert "membrane-12in" not in found
    assert "pan-corner" not in found


def test_longer_screws_rods_and_caps_have_their_own_materials() -> None:
    found = needs(
        opening(pan="rigid", corners="open"), foam_thickness="1", drip_cap="yes", air_seal="rod and bead"
    )

    assert {"screw-3in", "backer-rod-0.375in", "drip-cap", "rigid-pan", "corner-patch"} <= set(found)
    assert found["drip-cap"].packs(load_catalogue().material("drip-cap").pack("stick-10ft")) == 1


def test_piece_longer_than_a_stick_is_refused() -> None:
    found = needs(opening(width=144), drip_cap="yes")

    with pytest.raises(BadValue, match="144 1/2"):
        found["drip-cap"].packs(load_catalogue().material("drip-cap").pack("stick-10ft"))


def test_what_nothing_meets_is_named() -> None:
    demand = {Need("strip", "jamb strip", inch(7).nm, inch(77).nm): 2, Need("fasteners", "fasteners", 0): 9}

    met = meet_demand(demand, spec(), load_catalogue())

    assert not met.needs
    assert [problem.problem for problem in met.problems] == [
        'The catalogue has nothing for jamb strip 7".',
        "The catalogue has nothing for fasteners.",
    ]


def test_primer_follows_the_strips_area() -> None:
    area = Area.of(inch(264), inch(9))

    need = primer_need(area, load_catalogue())

    assert need is not None
    # 2376 in2 x 0.0064 in = 15.2064 in3
    assert Volume(need.quantity).in_cubic_inches == pytest.approx(15.2064, abs=1e-6)
    assert primer_need(area, Catalogue({})) is None


def test_nothing_needed_is_nothing_bought() -> None:
    assert meet_demand({}, spec(), load_catalogue()).needs == ()

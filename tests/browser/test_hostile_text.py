"""What people type stays text: no script of theirs runs, on any page."""

from __future__ import annotations

from tests.access import hostile
from tests.browser import chromium, inspection, pages

# every hostile text calls this; a dialog would do as well
TRAP = f"window.{hostile.HIT} = () => {{ window.{hostile.HIT}_was_called = true; }};"


def test_no_script_that_people_type_runs_on_any_page(visit):
    album = pages.album(visit.demo)  # addresses first: no name is what it was afterwards
    written = hostile.write_everywhere(visit.demo.company)

    faults = [fault for role in visit.demo.people for fault in faults_seen_by(visit, role, album)]

    assert len(written) > 40
    assert not faults, "\n".join(faults)


def faults_seen_by(visit, role, album):
    """Return what ran, spoke up or was refused on the pages that `role` opens."""
    context = chromium.context(visit.browser, person=visit.demo.people[role])
    context.add_init_script(TRAP)
    page, faults = context.new_page(), []
    page.on("dialog", lambda dialog: faults.append(f"dialog: {dialog.message}"))
    watch = inspection.Watch().over(page)
    for place in [place for place in album if place.role == role]:
        visit.go(page, place.address)
        if page.evaluate(f"() => !!window.{hostile.HIT}_was_called"):
            faults.append(f"{place.name}: a script ran")
        faults += inspection.told(place.name, watch.taken())
    context.close()
    return faults

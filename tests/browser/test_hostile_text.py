"""What people type stays text: no script of theirs runs, on any page."""

from __future__ import annotations

from tests.access import hostile
from tests.browser import chromium, inspection, pages

# every hostile text calls this; a dialog would do as well
TRAP = f"window.{hostile.HIT} = () => {{ window.{hostile.HIT}_was_called = true; }};"


def test_no_script_that_people_type_runs_on_any_page(visit):
    written = hostile.write_everywhere(visit.demo.company)
    faults = []

    for role in ("manager", "owner", "foreman", "crew"):
        context = chromium.context(visit.browser, person=visit.demo.people[role])
        context.add_init_script(TRAP)
        page = context.new_page()
        page.on("dialog", lambda dialog: faults.append(f"dialog: {dialog.message}"))
        watch = inspection.Watch().over(page)
        for place in [place for place in pages.album(visit.demo) if place.role == role]:
            visit.go(page, place.address)
            if page.evaluate(f"() => !!window.{hostile.HIT}_was_called"):
                faults.append(f"{place.name}: a script ran")
            faults.extend(inspection.told(place.name, watch.heard))
            watch.heard.clear()
        context.close()

    assert len(written) > 40
    assert not faults, "\n".join(faults)

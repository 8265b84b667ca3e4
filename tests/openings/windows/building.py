"""What happens to windows, told by their marks."""

from __future__ import annotations

from dataclasses import replace
from itertools import count

from openings import services
from openings.convert import opening_input
from openings.models import Opening
from openings.windows.standing import Size
from projects.quantities.length import Length
from tests.factories.openings import windows_of

_forms = count(1)


def key() -> str:
    """Return the key of a form that was never sent before."""
    return f"window-form-{next(_forms)}"


def inches(width, height) -> Size:
    return Size(Length.inches(width), Length.inches(height))


def opening(house, mark) -> Opening:
    rows = Opening.objects.select_related("house__company", "house__project", "elevation", "company")
    return rows.get(house=house, mark=mark, removed_at=None)


def came(by, house, *marks, size=None, form=None):
    """Count these windows, all with one size on the label, else with the scheduled one."""
    shown = {each.opening.mark: each for each in windows_of(house)}
    sizes = {shown[mark].opening.pk: size or shown[mark].scheduled for mark in marks}
    return services.count_windows(by=by, house=house, sizes=sizes, key=form or key())


def accepted(by, house, *marks, form=None):
    pks = [opening(house, mark).pk for mark in marks]
    return services.accept_windows(by=by, house=house, openings=pks, key=form or key())


def damaged(by, house, mark, what="the glass is cracked", photos=(), form=None):
    return services.report_damage(
        by=by, opening=opening(house, mark), what=what, photos=photos, key=form or key()
    )


def sent_back(by, house, mark, why="the frame is bent"):
    return services.send_window_back(by=by, opening=opening(house, mark), why=why, key=key())


def states(house) -> dict[str, str]:
    """Return how each window of the house stands, by its mark."""
    return {each.opening.mark: each.standing.state.value for each in windows_of(house)}


def standing(house, mark):
    return next(each.standing for each in windows_of(house) if each.opening.mark == mark)


def widen(by, house, mark, width):
    """Let the schedule say another width."""
    row = opening(house, mark)
    value = replace(
        opening_input(row),
        unit_width=Length.inches(width),
        ro_width=Length.inches(width) + Length.inches(0.5),
    )
    services.edit_opening(by=by, opening=row, version=None, value=value)

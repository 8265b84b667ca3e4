"""How many rolls of one length some strips take, first-fit-decreasing. Pure."""

from __future__ import annotations

from collections.abc import Mapping

from projects.errors import BadValue
from projects.quantities.length import Length
from projects.quantities.text import format_length


def rolls_first_fit(strips: Mapping[int, int], *, roll: Length, trim: Length) -> int:
    """Return how many rolls the strips take: longest first, each from the first roll with room.

    `strips` counts them by length in nanometres; `trim` is added to each when cut. The answer is an upper
    bound: a cut plan may save a roll. Raises BadValue where a strip is longer than a roll.
    """
    rooms: list[int] = []
    done = 0
    shortest_nm = min(strips, default=0) + trim.nm
    for length_nm in sorted(strips, reverse=True):
        cut_nm, left = length_nm + trim.nm, strips[length_nm]
        if cut_nm > roll.nm:
            raise BadValue(
                problem=f"A piece {format_length(Length(cut_nm))} long can't be cut from a length of "
                f"{format_length(roll)}.",
                remedy="Choose a longer roll or stick: pieces are not spliced.",
                value=format_length(roll),
            )
        for place, room in enumerate(rooms):
            if room < cut_nm:
                continue
            taken = min(left, room // cut_nm)
            rooms[place] = room - taken * cut_nm
            left -= taken
            if not left:
                break
        if left:
            rooms.extend(_fresh_rolls(left, cut_nm=cut_nm, roll_nm=roll.nm))
        # where not even the shortest fits, nothing is looked for again
        useful = [room for room in rooms if room >= shortest_nm]
        done += len(rooms) - len(useful)
        rooms = useful
    return done + len(rooms)


def _fresh_rolls(count: int, *, cut_nm: int, roll_nm: int) -> list[int]:
    per_roll = roll_nm // cut_nm
    full, rest = divmod(count, per_roll)
    rooms = [roll_nm - per_roll * cut_nm] * full
    return [*rooms, roll_nm - rest * cut_nm] if rest else rooms

"""The words of every refusal, in one place: what happened and what to do, in one or two short sentences."""

from __future__ import annotations

from django.core.exceptions import ValidationError

from projects.errors import BadValue, UserError

WORDS: dict[str, str] = {
    "refused": "This can't be done as asked. Check the values and send it again.",
    "not_there": "There is nothing at this address. It may have moved; start from the list.",
    "not_allowed": "{whose}",
    "taken": "{what} {value} is already used. Choose another.",
    "stale_version": "{who} changed {what} at {when}. Compare below, then save again to keep your entry.",
    "archived": "{what} is archived. Restore it first.",
    "in_use": "{what} is in use. {remedy}",
    "photo_too_large": "{name} is larger than 15 MB. Take it at a smaller setting and send it again.",
    "window_not_so": "Window {mark} is {state}, so it can't be {action}. Look at the list, then try again.",
    "window_gone": "An opening of this list left the schedule meanwhile. Nothing was saved; reload the page.",
    "other_windows": "This form was already sent with other windows. Reload the page to see what stands.",
    "not_last": "More was written down about {mark} since. Take that back first.",
    "elsewhere_too": "{what} signs in for another company too. Use another address for this one.",
    "last_owner": "A company needs at least one owner. Make somebody else an owner first.",
    "bad_rows": "{count} rows were refused, so nothing was saved. Fix them, or choose to keep the good rows.",
    "nothing_to_import": "{file} has no good row, so nothing was saved. Fix the rows and send it again.",
    "already_decided": "{what} was decided already. Look at the house, or send the schedule again.",
    "pdf_unavailable": "PDFs can't be drawn: two libraries are missing. As root: apt-get install {packages}",
    "already_issued": "{who} issued order {number} at {when}. Nothing was ordered again.",
    "other_lines": "This form was already sent with other lines. Reload to see the order.",
    "changed_since": "Somebody changed it since, so nothing was taken back. Look at it, and set it by hand.",
    "draft_is_stale": "A house changed since this draft was made. Make the drafts again, then issue.",
    "issued_stays": "Issued orders can't be changed. Make a change order, or cancel the order.",
    "no_prices": "No supplier has a price yet. Load a price list first.",
    "not_issued": "This is still a draft. Issue it first, then come back here.",
    "order_moved": "{number} is {state}, so this can't be done any more. Reload the order to see what can.",
    "nothing_left": "Nothing of order {number} is needed any more. Cancel it instead of changing it.",
    "mail_is_away": "The mail server did not take the message. Try again; if it stays so, check EMAIL_URL.",
    "address_refused": "The mail server refused {address}. Correct it under Suppliers and prices, then send.",
    "not_enough": "Only {there} of {what} lie there. Count again, or take less.",
    "not_there_yet": "This roll is still to come. Receive it, then make the list anew.",
    "bad_pieces": "{what} can't be {pieces}. Give whole pieces, {least} or more.",
    "crew_clash": "{crew} is on {what} on {day} already. Take over from it, or choose another day.",
    "already_sent": "{crew} is on {what} on {day} already. Nothing changed.",
    "unplaced": "Openings without a face can't be assigned. Put them on an elevation first.",
    "nobody_in_crew": "{crew} has nobody in it yet. Add people to the crew first.",
    "nothing_assigned": "{crew} is not sent anywhere on {day}. Send it to an elevation first.",
    "day_changed": "The day changed while its sheet was made. Make the sheet anew.",
    "step_too_soon": "{mark}: {step} comes after {first}, which is not done. Mark that one first.",
    "reverse_lap": "{mark}: {step} lies over {first}, which is not done: a lap that leaks. Look first.",
    "step_rested_on": "{mark}: {later} came after it. Take that back first.",
    "step_gone": "{mark} has no such step any more. Make the sheet anew.",
    "other_steps": "This tap was already sent with other steps. Reload the sheet to see what stands.",
    "job_broke": "This could not be made: something broke on our side. Try again.",
    "job_disk_full": "The server's disk is full, so this could not be kept. Free some space, then try again.",
    "job_kept_stopping": "The work stopped three times. Try again; if it stops again, tell the office.",
}

NOT_AT_THE_DESK = "Staying signed in for 30 days is for the foreman and the crew."

# Title and words by HTTP status; 419 is not sent, it names the form whose session ended.
STATUS_WORDS: dict[int, tuple[str, str]] = {
    400: ("Not understood", "This request could not be read. Go back, reload the page and send it again."),
    403: ("Not yours to see", "Your role does not open this page. Ask the owner or the office for it."),
    404: ("Nothing here", "There is nothing at this address. It may be archived. Start from home."),
    405: ("Not from here", "This address takes a form, not a visit. Go back and use the button on the page."),
    409: ("Changed meanwhile", "Somebody else was first. Reload the page to see what is there now."),
    413: ("Too large", "This is larger than 20 MB or has too many fields. Split it and send the parts."),
    415: ("Wrong kind of file", "This kind of file can't be read here. Send a CSV or XLSX file."),
    419: ("Session ended", "Your session ended or the page is old. Sign in; your entry is kept."),
    422: ("Can't be done as asked", "Some values don't fit. Correct them and send the form again."),
    429: ("Too many tries", "Too many tries from here. Wait 15 minutes, then try again."),
    500: ("Our fault", "Something broke on our side; nothing was saved. Go back and try once more."),
    503: ("Out of reach", "The database can't be reached; nothing was saved. Try again in a minute."),
    507: (
        "Disk full or failing",
        "The server's disk is full or failing; nothing was saved. Free space or check it, then send again.",
    ),
}

LOST_WHILE_ANSWERING = (
    "The database went away while it answered. What you sent may be saved: look, and send it again if not."
)


def words(error: UserError) -> str:
    """Return what a person reads for `error`."""
    if isinstance(error, BadValue):
        return str(error)
    return WORDS[error.code].format(**error.parameters)


# Words at a form's field, by the validator's code; the first word is the field's label.
FIELD_WORDS: dict[str, str] = {
    "required": "{label} is empty. Fill it in.",
    "max_length": "{label} has %(show_value)d characters. Use up to %(limit_value)d.",
    "min_length": "{label} has %(show_value)d characters. Use at least %(limit_value)d.",
    "max_value": "{label} is above %(limit_value)s. Use that or less.",
    "min_value": "{label} is below %(limit_value)s. Use that or more.",
    "invalid_choice": "{label} is not in the list. Choose from the list.",
    "invalid": "{label} can't be read as typed. Compare it with the example beside the field.",
    "null_characters_not_allowed": "{label} has a sign that can't be kept. Type it again by hand.",
    "empty": "{label} is an empty file. Choose another.",
    "missing": "{label} did not arrive. Choose the file again.",
    "overflow": "{label} is out of range. Use a smaller number.",
    "max_digits": "{label} has too many digits. Use up to %(max)s.",
    "max_decimal_places": "{label} has too many decimals. Use up to %(max)s.",
    "max_whole_digits": "{label} is too large. Use up to %(max)s digits before the point.",
}

_PASSWORD_WORDS: dict[str, str] = {
    "password_too_short": "Use at least 12 characters; a few words are fine.",
    "password_too_long": "Use up to 128 characters.",
    "password_too_common": "It is on the list that guessers try first. Choose another.",
    "password_too_similar": "It is too close to your name or address. Choose another.",
    "password_entirely_numeric": "Add letters to it.",
}


def password_words(error: ValidationError) -> str:
    """Return what to change about a password that was refused."""
    told = [_PASSWORD_WORDS.get(one.code or "", "Choose another.") for one in error.error_list]
    return " ".join(dict.fromkeys(told))

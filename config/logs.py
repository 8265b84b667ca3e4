"""How a log line looks: one line per event, with the request it belongs to."""

from __future__ import annotations

import logging

from projects import request_id as ids

# A visitor's text must not start a line of its own.
LINE_BREAKS = str.maketrans({"\r": "\\r", "\n": "\\n", "\v": "\\v", "\f": "\\f", "\x85": " ", "\u2028": " "})


class RequestIdFilter(logging.Filter):
    """Adds the id of the request or task at hand."""

    def filter(self, record: logging.LogRecord) -> bool:
        """Return True: every record is kept."""
        record.request_id = ids.current() or "-"
        return True


class OneLine(logging.Formatter):
    """Keeps a message on its line; a traceback below it keeps its own."""

    def formatMessage(self, record: logging.LogRecord) -> str:  # noqa: N802
        """Return the line, with line breaks of the message written out."""
        return super().formatMessage(record).translate(LINE_BREAKS)

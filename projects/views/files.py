"""How a file is handed out."""

from __future__ import annotations

from django.http import HttpResponse

from projects.jobs import Document


def file_answer(document: Document) -> HttpResponse:
    """Return the answer that a browser keeps as a file of the document's name."""
    response = HttpResponse(document.content, content_type=document.content_type)
    response["Content-Disposition"] = f'attachment; filename="{document.name}"'
    return response

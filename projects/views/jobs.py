"""Background work as a person sees it: how far it is, its file, another try, stopping it."""

from __future__ import annotations

from django.http import FileResponse, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from projects import jobs
from projects.access import allowed, member, wants_part
from projects.errors import NotThere
from projects.models import Job
from projects.rights import Action, require
from projects.selectors import row_of

PDF = "application/pdf"


@require_safe
@allowed(Action.SEE_SHEETS)
def job(request: HttpRequest, pk: int) -> HttpResponse:
    """Show how far a job is: a page, or the part of one that keeps asking."""
    found = _job(request, pk)
    if not wants_part(request):
        return render(request, "projects/job.html", {"job": found})
    answer = render(request, "components/progress.html", {"job": found})
    if found.is_ready and not found.file_path:
        answer["HX-Refresh"] = "true"  # what it made stands on the page that asked
    return answer


@require_safe
@allowed(Action.SEE_SHEETS)
def job_file(request: HttpRequest, pk: int) -> FileResponse:
    """Hand out the file that a job made."""
    found = _job(request, pk)
    if not found.is_ready or not found.file_path:
        raise NotThere
    try:
        content = jobs.path_of(found).open("rb")
    except FileNotFoundError as error:
        raise NotThere from error
    return FileResponse(
        content,
        as_attachment=found.content_type != PDF,
        filename=found.file_name,
        content_type=found.content_type,
    )


@require_POST
@allowed(Action.SEE_SHEETS)
def retry(request: HttpRequest, pk: int) -> HttpResponse:
    """Put a failed job back in the queue."""
    again = jobs.retry(by=member(request), job=_job(request, pk))
    return _answer(request, again)


@require_POST
@allowed(Action.SEE_SHEETS)
def cancel(request: HttpRequest, pk: int) -> HttpResponse:
    """Stop a job; trying again is the way back."""
    return _answer(request, jobs.cancel(by=member(request), job=_job(request, pk)))


def _job(request: HttpRequest, pk: int) -> Job:
    by = member(request)
    found = row_of(Job, by.company, pk)
    if found.created_by_id != by.user_id:
        require(by, Action.SEE_JOBS)
    return found


def _answer(request: HttpRequest, job: Job) -> HttpResponse:
    if wants_part(request):
        return render(request, "components/progress.html", {"job": job})
    return redirect("job", job.pk)

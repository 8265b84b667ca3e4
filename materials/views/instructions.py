"""Makers' instruction sheets: listed, attached, handed out, withdrawn and put back."""

from __future__ import annotations

from django.http import FileResponse, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from materials import services
from materials.forms.instructions import SheetAgeForm, SheetForm
from materials.models import InstructionSheet, SheetAge
from materials.selectors import instructions as reading
from materials.views.stock import FORM
from projects import job_files
from projects.access import allowed, member
from projects.errors import NotThere
from projects.notices import say
from projects.rights import Action
from projects.selectors import row_of
from projects.views.editing import Editing


@require_safe
@allowed(Action.SEE_SHEETS)
def sheets(request: HttpRequest) -> HttpResponse:
    """List every sheet by material, and the materials that have none."""
    page = reading.sheets_page(member(request).company)
    return render(request, "materials/instructions.html", {"page": page})


@require_http_methods(FORM)
@allowed(Action.KEEP_INSTRUCTIONS)
def add(request: HttpRequest) -> HttpResponse:
    """Attach a sheet to a material."""
    by = member(request)

    def save(form: SheetForm) -> HttpResponse:
        cleaned = form.cleaned_data
        row = services.add_sheet(
            by=by,
            material=cleaned["material"],
            title=cleaned["title"],
            dated=cleaned["dated"],
            content=cleaned["file"].read(),
            exposure_days=cleaned["exposure_days"],
        )
        say(request, f"{row.title} is attached.")
        return redirect("instructions")

    initial = {"material": request.GET.get("material", "")}
    return Editing(request, "materials/instruction_form.html", SheetForm, save, initial).answer()


@require_http_methods(FORM)
@allowed(Action.KEEP_INSTRUCTIONS)
def age(request: HttpRequest) -> HttpResponse:
    """Say after how many months a sheet is old."""
    by = member(request)
    row = reading.sheet_age(by.company)

    def save(form: SheetAgeForm) -> HttpResponse:
        saved = services.set_sheet_age(by=by, months=form.cleaned_data["months"], version=form.seen_version)
        say(request, f"Sheets are called old after {saved.months} months.")
        return redirect("instructions")

    return Editing(
        request, "materials/sheet_age_form.html", SheetAgeForm, save, _age_entry(row), {}, _age_entry
    ).answer()


@require_safe
@allowed(Action.SEE_SHEETS)
def file(request: HttpRequest, pk: int) -> FileResponse:
    """Hand out a sheet's PDF, to be saved and never run in the page."""
    row = row_of(InstructionSheet, member(request).company, pk)
    try:
        content = job_files.place_of(row.file_path).open("rb")
    except FileNotFoundError as error:
        raise NotThere from error
    name = f"{row.material}-{row.dated.isoformat()}.pdf"
    return FileResponse(content, as_attachment=True, filename=name, content_type="application/pdf")


@require_POST
@allowed(Action.KEEP_INSTRUCTIONS)
def withdraw(request: HttpRequest, pk: int) -> HttpResponse:
    """Take a sheet out of force; the next page offers to put it back."""
    by = member(request)
    row = services.withdraw_sheet(by=by, sheet=row_of(InstructionSheet, by.company, pk))
    say(request, f"{row.title} is withdrawn.", undo=reverse("instruction-restore", args=[row.pk]))
    return redirect("instructions")


@require_POST
@allowed(Action.KEEP_INSTRUCTIONS)
def restore(request: HttpRequest, pk: int) -> HttpResponse:
    """Put a sheet back."""
    by = member(request)
    row = services.restore_sheet(by=by, sheet=row_of(InstructionSheet, by.company, pk))
    say(request, f"{row.title} is back.")
    return redirect("instructions")


def _age_entry(row: SheetAge) -> dict[str, object]:
    return {"months": row.months, "version": row.version if row.pk else ""}

"""The root of all addresses: one line per app, health for the machines, and the error pages."""

from __future__ import annotations

from django.urls import include, path

from config import health

urlpatterns = [
    path("healthz", health.alive, name="healthz"),
    path("readyz", health.ready, name="readyz"),
    path("", include("projects.urls")),
    path("", include("openings.urls")),
    path("", include("materials.urls")),
    path("", include("crews.urls")),
]

handler400 = "config.errors.bad_request"
handler403 = "config.errors.forbidden"
handler404 = "config.errors.not_found"
handler500 = "config.errors.failed"

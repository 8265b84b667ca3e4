"""Addresses of houses, openings, window schedules and specifications."""

from __future__ import annotations

from django.urls import path

from openings.views import houses, openings, schedules, specifications, windows

urlpatterns = [
    path("houses/<row:pk>/", houses.house, name="house"),
    path("houses/<row:pk>/copy/", houses.copy, name="house-copy"),
    path("houses/<row:pk>/openings/new/", openings.create, name="opening-create"),
    path("houses/<row:pk>/schedule/", schedules.send, name="schedule-send"),
    path("elevations/<row:pk>/", houses.elevation, name="elevation"),
    path("openings/<row:pk>/", openings.opening, name="opening"),
    path("openings/<row:pk>/edit/", openings.edit, name="opening-edit"),
    path("openings/<row:pk>/remove/", openings.remove, name="opening-remove"),
    path("openings/<row:pk>/restore/", openings.restore, name="opening-restore"),
    path("houses/<row:pk>/windows/", windows.windows, name="windows"),
    path("houses/<row:pk>/windows/count/", windows.count, name="windows-count"),
    path("houses/<row:pk>/windows/accept/", windows.accept, name="windows-accept"),
    path("openings/<row:pk>/window/", windows.window, name="window"),
    path("openings/<row:pk>/window/label/", windows.label, name="window-label"),
    path("openings/<row:pk>/window/damage/", windows.damage, name="window-damage"),
    path("openings/<row:pk>/window/send-back/", windows.send_back, name="window-send-back"),
    path("windows/damaged/", windows.damaged, name="windows-damaged"),
    path("windows/entries/<row:pk>/take-back/", windows.take_back, name="window-take-back"),
    path("windows/photos/<row:pk>/", windows.photo, name="window-photo"),
    path("schedules/<row:pk>/", schedules.preview, name="schedule"),
    path("schedules/<row:pk>/match/", schedules.match, name="schedule-match"),
    path("schedules/<row:pk>/take-over/", schedules.confirm, name="schedule-confirm"),
    path("schedules/<row:pk>/put-away/", schedules.put_away, name="schedule-put-away"),
    path("schedules/<row:pk>/refused-rows.csv", schedules.refused_rows, name="schedule-refused-rows"),
    path("specification/", specifications.company_wide, name="specification"),
    path("projects/<row:pk>/specification/", specifications.of_project, name="project-specification"),
]

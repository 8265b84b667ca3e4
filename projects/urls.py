"""Addresses of projects, houses, people and signing in."""

from __future__ import annotations

from django.urls import path, register_converter

from projects.converters import DayConverter, RowConverter
from projects.views import home, houses, jobs, people, signing_in

register_converter(RowConverter, "row")
register_converter(DayConverter, "day")

urlpatterns = [
    path("", home.home, name="home"),
    path("appearance/", home.appearance, name="appearance"),
    path("company/", people.company, name="company"),
    path("company/switch/", home.switch_company, name="company-switch"),
    path("houses/<row:pk>/edit/", houses.edit_house, name="house-edit"),
    path("houses/<row:pk>/archive/", houses.archive_house, name="house-archive"),
    path("houses/<row:pk>/restore/", houses.restore_house, name="house-restore"),
    path("jobs/<row:pk>/", jobs.job, name="job"),
    path("jobs/<row:pk>/cancel/", jobs.cancel, name="job-cancel"),
    path("jobs/<row:pk>/file/", jobs.job_file, name="job-file"),
    path("jobs/<row:pk>/retry/", jobs.retry, name="job-retry"),
    path("kept/", signing_in.kept_entry, name="kept-entry"),
    path("kept/drop/", signing_in.drop_kept_entry, name="kept-entry-drop"),
    path("own-phones/<row:pk>/end/", signing_in.end_device, name="device-end"),
    path("password/", signing_in.change_password, name="password"),
    path("password/<str:who>/<str:token>/", signing_in.choose_password, name="choose-password"),
    path("people/", people.people, name="people"),
    path("people/invite/", people.invite, name="person-invite"),
    path("people/<row:pk>/", people.person, name="person"),
    path("people/<row:pk>/end/", people.end_membership, name="person-end"),
    path("people/<row:pk>/link/", people.show_link, name="person-link"),
    path("people/<row:pk>/restore/", people.restore_membership, name="person-restore"),
    path("people/<row:pk>/sign-out/", people.end_sessions, name="person-sign-out"),
    path("projects/", houses.projects, name="projects"),
    path("projects/new/", houses.create_project, name="project-create"),
    path("projects/<row:pk>/", houses.project, name="project"),
    path("projects/<row:pk>/archive/", houses.archive_project, name="project-archive"),
    path("projects/<row:pk>/edit/", houses.edit_project, name="project-edit"),
    path("projects/<row:pk>/houses/new/", houses.create_house, name="house-create"),
    path("projects/<row:pk>/restore/", houses.restore_project, name="project-restore"),
    path("sign-in/", signing_in.sign_in, name="sign-in"),
    path("sign-out/", signing_in.sign_out, name="sign-out"),
]

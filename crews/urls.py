"""Addresses of crews, the week, weather, crew sheets and costs."""

from __future__ import annotations

from django.urls import path

from crews.views import costs, covering, crews, forecasts, sheets, week

urlpatterns = [
    path("assignments/<row:pk>/earlier/", week.earlier, name="assignment-earlier"),
    path("assignments/<row:pk>/move/<row:crew>/<day:day>/", week.move, name="assignment-move"),
    path("assignments/<row:pk>/withdraw/", week.withdraw, name="assignment-withdraw"),
    path("costs/", costs.costs, name="costs"),
    path("costs/costs.csv", costs.costs_as_file, {"form": "csv"}, name="costs-csv"),
    path("costs/costs.xlsx", costs.costs_as_file, {"form": "xlsx"}, name="costs-xlsx"),
    path("costs/look/", costs.home_look, name="home-look"),
    path("costs/month/", costs.home_costs, name="home-costs"),
    path("costs/rents/", crews.rentals, name="rentals"),
    path("crews/", crews.crew_list, name="crews"),
    path("crews/my-day/", sheets.home_sheet, name="home-sheet"),
    path("crews/new/", crews.create, name="crew-create"),
    path("crews/people/<row:pk>/", crews.edit_person, name="member-edit"),
    path("crews/people/<row:pk>/remove/", crews.remove_person, name="member-remove"),
    path("crews/people/<row:pk>/restore/", crews.restore_person, name="member-restore"),
    path("crews/people/<row:pk>/wage/", crews.wage, name="member-wage"),
    path("crews/today/", sheets.home_crews, name="home-crews"),
    path("crews/<row:pk>/", crews.crew, name="crew"),
    path("crews/<row:pk>/archive/", crews.archive, name="crew-archive"),
    path("crews/<row:pk>/edit/", crews.edit, name="crew-edit"),
    path("crews/<row:pk>/people/new/", crews.add_person, name="member-create"),
    path("crews/<row:pk>/restore/", crews.restore, name="crew-restore"),
    path("crews/<row:pk>/<day:day>/", sheets.sheet, name="sheet"),
    path("crews/<row:pk>/<day:day>/make/", sheets.make, name="sheet-make"),
    path("crews/<row:pk>/<day:day>/pdf/", sheets.pdf, name="sheet-pdf"),
    path("elevations/<row:pk>/crews/", week.elevation, name="elevation-crews"),
    path("elevations/<row:pk>/crews/<row:crew>/<day:day>/", week.assign, name="assign"),
    path("elevations/<row:pk>/covered/", covering.cover, name="face-cover"),
    path("elevations/<row:pk>/uncovered/", covering.uncover, name="face-uncover"),
    path("houses/<row:pk>/cover-by/", covering.of_house, name="house-cover"),
    path("houses/<row:pk>/costs/", costs.house, name="house-costs"),
    path("houses/<row:pk>/costs.csv", costs.house_as_file, {"form": "csv"}, name="house-costs-csv"),
    path("houses/<row:pk>/costs.xlsx", costs.house_as_file, {"form": "xlsx"}, name="house-costs-xlsx"),
    path("openings/<row:pk>/costs/", costs.opening, name="opening-costs"),
    path("weather/", forecasts.weather, name="weather"),
    path("weather/<day:day>/", forecasts.forecast, name="forecast"),
    path("week/", week.week, name="week"),
    path("week/cover-by/", covering.cover_list, name="cover-list"),
    path("week/cover-by/<row:pk>/paper/", covering.paper, name="cover-paper"),
    path("week/short/", week.home_week, name="home-week"),
    path("week/<day:day>/crew-days.ics", week.calendar, name="crew-days"),
    path("week/<day:day>/", week.week, name="week-of"),
]

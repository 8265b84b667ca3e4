"""Addresses of takeoff, needs, prices and orders."""

from __future__ import annotations

from django.urls import path

from materials.views import (
    cut_lists,
    deliveries,
    needs,
    orders,
    outgoing,
    price_lists,
    prices,
    stock,
    takeoff,
)

urlpatterns = [
    path("orders/", orders.orders, name="orders"),
    path("orders/next-week/", orders.home_orders, name="home-orders"),
    path("orders/week/<day:day>/", orders.week, name="order-week"),
    path("orders/week/<day:day>/drafts/", orders.make_drafts, name="order-week-drafts"),
    path("orders/<row:pk>/", orders.order, name="order"),
    path("orders/<row:pk>/issue/", orders.issue, name="order-issue"),
    path("orders/<row:pk>/discard/", orders.discard, name="order-discard"),
    path("orders/<row:pk>/pdf/", orders.pdf, name="order-pdf"),
    path("orders/<row:pk>/send/", orders.send, name="order-send"),
    path("orders/<row:pk>/order.csv", outgoing.file, {"form": "csv"}, name="order-csv"),
    path("orders/<row:pk>/order.xlsx", outgoing.file, {"form": "xlsx"}, name="order-xlsx"),
    path("orders/<row:pk>/order.xml", outgoing.file, {"form": "xml"}, name="order-xml"),
    path("orders/<row:pk>/receive/", deliveries.receive, name="order-receive"),
    path("orders/<row:pk>/difference/", orders.difference, name="order-difference"),
    path("cut-lists/day/<day:day>/", cut_lists.of_day, name="cut-list-day"),
    path("cut-lists/day/<day:day>/make/", cut_lists.make_for_day, name="cut-list-day-make"),
    path("cut-lists/<row:pk>/papers/", cut_lists.papers, name="cut-list-papers"),
    path("cut-lists/rolls/<row:pk>/", cut_lists.cut, name="cut-roll"),
    path("houses/<row:pk>/cut-list/", cut_lists.of_house, name="cut-list-house"),
    path("houses/<row:pk>/cut-list/make/", cut_lists.make_for_house, name="cut-list-house-make"),
    path("houses/<row:pk>/takeoff/", takeoff.house_takeoff, name="house-takeoff"),
    path("houses/<row:pk>/need-dates/", needs.need_dates, name="need-dates"),
    path("projects/<row:pk>/takeoff/", takeoff.project_takeoff, name="project-takeoff"),
    path("projects/<row:pk>/orders/", orders.project_orders, name="project-orders"),
    path("houses-to-finish/", needs.home_houses, name="home-houses"),
    path("stock/", stock.stock, name="stock"),
    path("stock/count/", stock.count, name="stock-count"),
    path("stock/new/", stock.add, name="stock-new"),
    path("stock/level/", stock.level, name="stock-level"),
    path("stock/lots/<row:pk>/", stock.lot, name="lot"),
    path("stock/lots/<row:pk>/take/", stock.take, name="lot-take"),
    path("prices/", prices.prices, name="prices"),
    path("prices/new/", prices.add, name="price-add"),
    path("prices/<row:pk>/list/", price_lists.send, name="price-list"),
    path("prices/<row:pk>/list/load/", price_lists.load, name="price-list-load"),
    path("prices/<row:pk>/list/today.csv", price_lists.today, name="price-list-today"),
    path("suppliers/<row:pk>/", prices.edit_supplier, name="supplier-edit"),
]
